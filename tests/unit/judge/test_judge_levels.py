import math

import pytest

from aquacalc import tables
from aquacalc.advice.finding import Finding, ordered, spans
from aquacalc.judge import ammonia, lines, oxygen, share, temperature
from aquacalc.judge.levels import Level, worst


def species(key: str):
    return tables.load("species").row(key)


@pytest.mark.parametrize(
    ("key", "temperature_c", "level"),
    [
        # Rainbow trout: feed stop 2, stress 18, lethal 0 and 25.
        ("rainbow_trout", 1.0, "emergency"),
        ("rainbow_trout", 1.5, "watch"),
        ("rainbow_trout", 2.0, "fine"),
        ("rainbow_trout", 18.0, "fine"),
        ("rainbow_trout", 19.9, "watch"),
        ("rainbow_trout", 20.0, "watch"),
        ("rainbow_trout", 20.1, "act today"),
        ("rainbow_trout", 23.0, "emergency"),
        # Nile tilapia: feed stop 17, stress 33, lethal 12 and 40.
        ("nile_tilapia", 14.0, "emergency"),
        ("nile_tilapia", 14.1, "watch"),
        ("nile_tilapia", 17.0, "fine"),
        ("nile_tilapia", 35.1, "act today"),
        ("nile_tilapia", 38.0, "emergency"),
        ("nile_tilapia", math.nan, "not known"),
    ],
)
def test_temperature(key: str, temperature_c: float, level: Level):
    assert temperature.level(temperature_c, (species(key),)) == level


@pytest.mark.parametrize(
    ("oxygen_mg_l", "level"),
    [
        (5.5, "fine"),
        (5.4, "watch"),
        (4.25, "watch"),
        (4.2, "act today"),
        (3.0, "act today"),
        (2.9, "emergency"),
    ],
)
def test_oxygen_of_tilapia(oxygen_mg_l: float, level: Level):
    assert oxygen.level(oxygen_mg_l, (species("nile_tilapia"),)) == level


@pytest.mark.parametrize(
    ("parameter", "value", "key", "ratio", "level"),
    [
        ("unionised_ammonia", 0.02, "nile_tilapia", 0.0, "fine"),
        ("unionised_ammonia", 0.03, "nile_tilapia", 0.0, "watch"),
        ("unionised_ammonia", 0.06, "nile_tilapia", 0.0, "act today"),
        ("unionised_ammonia", 0.2, "nile_tilapia", 0.0, "emergency"),
        ("unionised_ammonia", 0.03, "rainbow_trout", 0.0, "act today"),
        # The class line is stricter than the line by temperature class: the stricter wins.
        ("tan", 0.3, "rainbow_trout", 0.0, "watch"),
        ("tan", 0.3, "nile_tilapia", 0.0, "fine"),
        ("tan", 2.5, "nile_tilapia", 0.0, "act today"),
        ("nitrite", 0.2, "nile_tilapia", 0.0, "fine"),
        ("nitrite", 0.5, "nile_tilapia", 20.0, "watch"),
        ("nitrite", 0.5, "nile_tilapia", 5.0, "act today"),
        ("nitrite", 1.9, "nile_tilapia", 20.0, "act today"),
        ("nitrite", 2.1, "nile_tilapia", 20.0, "emergency"),
        ("nitrite", 2.0, "nile_tilapia", 1.0, "emergency"),
        ("nitrite", 0.5, "rainbow_trout", 25.0, "watch"),
        ("nitrite", 0.5, "rainbow_trout", 10.0, "emergency"),
        ("nitrate", 3.0, "nile_tilapia", 0.0, "watch"),
        ("nitrate", 60.0, "nile_tilapia", 0.0, "fine"),
        ("nitrate", 60.0, "rainbow_trout", 0.0, "watch"),
        ("ph", 7.0, "koi", 0.0, "fine"),
        ("ph", 6.2, "koi", 0.0, "watch"),
        ("ph", 7.9, "koi", 0.0, "act today"),
        ("ph", 9.2, "koi", 0.0, "emergency"),
        ("alkalinity", 40.0, "koi", 0.0, "fine"),
        ("alkalinity", 0.0, "koi", 0.0, "emergency"),
        ("chlorine", 0.05, "koi", 0.0, "emergency"),
        ("ph", math.nan, "koi", 0.0, "not known"),
    ],
)
def test_water(parameter: str, value: float, key: str, ratio: float, level: Level):
    assert lines.level(parameter, value, (species(key),), ratio) == level


def test_ammonia_is_judged_by_its_unionised_part_and_by_the_whole():
    tilapia = (species("nile_tilapia"),)
    assert ammonia.level(0.8, 6.6, 26.0, tilapia) == "fine"
    assert ammonia.level(0.8, 8.0, 26.0, tilapia) == "watch"
    assert ammonia.level(1.5, 6.6, 26.0, tilapia) == "watch"
    assert ammonia.level(20.0, 6.0, 26.0, tilapia) == "emergency"
    assert ammonia.level(math.nan, 7.0, 26.0, tilapia) == "not known"
    assert ammonia.level(1.0, math.nan, 26.0, tilapia) == "not known"


@pytest.mark.parametrize(
    ("turnover_1_h", "level"),
    [(0.4, "act today"), (0.7, "watch"), (1.5, "fine"), (3.0, "fine"), (4.5, "watch")],
)
def test_turnover(turnover_1_h: float, level: Level):
    assert share.turnover_level(turnover_1_h) == level


def test_the_most_urgent_comes_first_then_what_kills_first():
    some = [
        Finding("finding-kit-none", "", "not known"),
        Finding("finding-sump-tight", "", "watch"),
        Finding("finding-nitrite-line-raised", "", "watch"),
        Finding("finding-temperature-hot", "", "act today"),
        Finding("finding-oxygen-thin", "", "watch"),
        Finding("finding-chlorine-float-valve", "", "act today"),
        Finding("finding-fish-not-eaten", "", "fine"),
        Finding("finding-temperature-deadly-hot", "", "emergency"),
        Finding("finding-oxygen-limit-over", "", "act today"),
    ]
    assert [one.key.removeprefix("finding-") for one in ordered(some)] == [
        "temperature-deadly-hot",
        "oxygen-limit-over",
        "chlorine-float-valve",
        "temperature-hot",
        "oxygen-thin",
        "nitrite-line-raised",
        "sump-tight",
        "kit-none",
        "fish-not-eaten",
    ]


def test_worst_of_nothing_is_fine():
    assert worst(()) == "fine"
    assert worst(("watch", "emergency", "fine")) == "emergency"
    # What is not known is worse than fine and never hides something worse.
    assert worst(("fine", "not known")) == "not known"
    assert worst(("not known", "watch")) == "watch"


def test_spans_break_where_the_state_changes():
    assert spans(["a", "a", None, "a", "b", "b"]) == (("a", (0, 1)), ("a", (3,)), ("b", (4, 5)))
    assert spans([None] * 12) == ()
