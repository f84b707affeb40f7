"""Each finding of a season comes past its line and not before, on its days, said with its amounts."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

import numpy as np
import pytest
import seasons
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor
from hand_made_season import crop_batch
from numpy.typing import ArrayLike
from seasons_by_hand import (
    DAYS,
    FIRST,
    LAST,
    LETTUCE,
    MEMBERS,
    PERCH,
    drifting,
    garden,
    in_some,
    run,
    spell,
)

from aquacalc import crops, tables, words
from aquacalc.advice.finding import Finding
from aquacalc.advice.season import barrel
from aquacalc.advice.season.base import MAY_NEED
from aquacalc.advice.season.days import Look, Stretch, spells, stretches
from aquacalc.advice.season.findings import of_season
from aquacalc.advice.season.minerals import wanted_g_day
from aquacalc.advice.season.nitrate import slope_mg_l_week
from aquacalc.garden.model import Away, Garden, Product
from aquacalc.judge.levels import URGENCY, Level
from aquacalc.season.beds import NUTRIENTS
from aquacalc.words import PARTS, Reader

READERS = (Reader(), Reader(units="us"))
ORDINARY = {"finding-water-season-thirsty"}
"""What every season with plants and open water has; it is `fine`."""


def day(number: int) -> date:
    return FIRST + timedelta(days=number)


def fish(**changed: object) -> Callable[[Garden], Garden]:
    """The garden with its batch of fish changed."""
    return lambda before: replace(before, fish=(replace(before.fish[0], **changed),))


def part(name: str, **changed: object) -> Callable[[Garden], Garden]:
    return lambda before: replace(before, **{name: replace(getattr(before, name), **changed)})


def both(*changes: Callable[[Garden], Garden]) -> Callable[[Garden], Garden]:
    def change(before: Garden) -> Garden:
        for one in changes:
            before = one(before)
        return before

    return change


def with_bases(before: Garden) -> Garden:
    """The garden with a base that brings potassium, and one that brings calcium."""
    return replace(before, products=BAGS)


@dataclass(frozen=True)
class Case:
    """What differs from the calm season, and the finding that answers to it, with its first and last day."""

    key: str
    level: Level
    first: int
    last: int
    daily: Mapping[str, ArrayLike] = field(default_factory=dict)
    subject: str = ""
    of_garden: Callable[[Garden], Garden] = lambda before: before
    run: Mapping[str, object] = field(default_factory=dict)


PERCH_FIFTY_DAYS = {"count": spell(0.0, 10, DAYS - 1, 20.0), "weight_g": 200.0}
FED_G = {"count": 20.0, "weight_g": drifting(200.0, 350.0)}
GROWN = {"count": drifting(20.0, 8.0), "weight_g": 500.0, "taken": 0.2, "taken_kg": 0.1}
CROWDED = {"count": 20.0, "weight_g": spell(200.0, 40, DAYS - 1, 1100.0)}
NEARLY = {"count": 20.0, "weight_g": spell(200.0, 40, DAYS - 1, 900.0)}
SOME_CROWDED = {"count": 20.0, "weight_g": in_some(200.0, 40, DAYS - 1, 1100.0)}
TROUT = fish(species="rainbow_trout")
COLD_TROUT = {"water_c": 6.0, "nitrite_max_mg_l": 0.01, "oxygen_min_mg_l": 9.0}
RAIN_OF_JUNE = part("site", climate=replace(garden().site.climate, rain_mm=(30.0,) * 12))
ON_RAIN = both(part("top_up", source="rain"), RAIN_OF_JUNE, part("rain", roof_m2=5.0, barrel_l=200.0))
BY_TURNS = in_some(24.0, 10, 10, 39.0, tries=4)
BY_TURNS[4:8, 20] = 39.0
"""Each of two days is deadly in four of the ten tries, so that the middle of no day is."""
BAGS = (Product("Bag", "potassium_bicarbonate", 100.0), Product("Sack", "calcium_carbonate", 100.0))
EMPTY_BED = {**LETTUCE, "stands": spell(1.0, 20, DAYS - 1, 0.0)}

CASES = [
    # Silver perch: full feed at 5 mg/L, critical at 4.
    Case("finding-oxygen-season-low", "watch", 10, 20, {"oxygen_min_mg_l": spell(7.0, 10, 20, 4.7)}),
    Case("finding-oxygen-season-short", "act today", 10, 20, {"oxygen_min_mg_l": spell(7.0, 10, 20, 4.2)}),
    Case("finding-oxygen-season-critical", "emergency", 10, 10, {"oxygen_min_mg_l": spell(7.0, 10, 10, 3.5)}),
    Case(
        "finding-oxygen-season-may-be-short", "watch", 10, 20, {"oxygen_min_mg_l": in_some(7.0, 10, 20, 4.2)}
    ),
    # Class B in warm water: TAN 0.5 and 1, un-ionised 0.025 and 0.05.
    Case("finding-ammonia-season-some", "watch", 10, 20, {"tan_max_mg_l": spell(0.1, 10, 20, 0.7)}),
    Case("finding-ammonia-season-some", "watch", 10, 20, {"unionised_max_mg_l": spell(0.0, 10, 20, 0.03)}),
    Case("finding-ammonia-season-over", "act today", 10, 20, {"tan_max_mg_l": spell(0.1, 10, 20, 1.2)}),
    Case("finding-ammonia-season-over", "emergency", 10, 20, {"unionised_max_mg_l": spell(0.0, 10, 20, 0.2)}),
    Case("finding-ammonia-season-may-be-over", "watch", 10, 20, {"tan_max_mg_l": in_some(0.1, 10, 20, 1.2)}),
    Case(
        "finding-ammonia-season-after-stocking",
        "act today",
        20,
        30,
        {"tan_max_mg_l": spell(0.1, 20, 30, 1.2)},
        of_garden=fish(stocked=day(10)),
        run={"fish": (PERCH_FIFTY_DAYS,)},
    ),
    Case(
        "finding-ammonia-season-before-stocking",
        "act today",
        10,
        15,
        {"tan_max_mg_l": spell(1.2, 16, DAYS - 1, 0.1)},
        of_garden=fish(stocked=day(10)),
        run={"fish": (PERCH_FIFTY_DAYS,)},
    ),
    Case("finding-ration-season-less", "watch", 10, 20, {"ration": in_some(1.0, 10, 20, 0.5, tries=5)}),
    Case(
        "finding-ration-season-small",
        "watch",
        0,
        29,
        {"ration": spell(1.0, 0, 29, 0.5)},
        of_garden=fish(count=2000),
    ),
    # Warm: nitrite 0.3 and 1, with chloride enough against it.
    Case("finding-nitrite-season-some", "watch", 10, 20, {"nitrite_max_mg_l": spell(0.05, 10, 20, 0.5)}),
    Case("finding-nitrite-season-over", "act today", 10, 20, {"nitrite_max_mg_l": spell(0.05, 10, 20, 1.5)}),
    Case(
        "finding-nitrite-season-over",
        "emergency",
        10,
        20,
        {"nitrite_max_mg_l": spell(0.05, 10, 20, 1.5), "chloride_mg_l": 5.0},
    ),
    Case(
        "finding-nitrite-season-may-be-over",
        "watch",
        10,
        20,
        {"nitrite_max_mg_l": in_some(0.05, 10, 20, 1.5)},
    ),
    Case(
        "finding-nitrite-season-after-stocking",
        "act today",
        20,
        30,
        {"nitrite_max_mg_l": spell(0.05, 20, 30, 1.5)},
        of_garden=fish(stocked=day(10)),
        run={"fish": (PERCH_FIFTY_DAYS,)},
    ),
    Case(
        "finding-nitrite-season-before-stocking",
        "act today",
        10,
        15,
        {"nitrite_max_mg_l": spell(1.5, 16, DAYS - 1, 0.05)},
        of_garden=fish(stocked=day(10)),
        run={"fish": (PERCH_FIFTY_DAYS,)},
    ),
    # Cold water: 0.06 is past the 0.05 of the table; with 1 mg/L of chloride nothing stands against it.
    Case(
        "finding-nitrite-season-cold",
        "watch",
        10,
        20,
        COLD_TROUT | {"nitrite_max_mg_l": spell(0.01, 10, 20, 0.06), "chloride_mg_l": 1.0},
        of_garden=TROUT,
    ),
    # Silver perch: feed stop 12, stress above 31, lethal 2 and 37.
    Case("finding-temperature-season-warm", "watch", 10, 20, {"water_c": spell(24.0, 10, 20, 32.0)}, "Perch"),
    Case(
        "finding-temperature-season-hot", "act today", 10, 20, {"water_c": spell(24.0, 10, 20, 34.0)}, "Perch"
    ),
    Case(
        "finding-temperature-season-deadly-hot",
        "emergency",
        10,
        10,
        {"water_c": spell(24.0, 10, 10, 35.5)},
        "Perch",
    ),
    Case(
        "finding-temperature-season-may-be-hot",
        "watch",
        10,
        20,
        {"water_c": in_some(24.0, 10, 20, 34.0)},
        "Perch",
    ),
    Case("finding-temperature-season-cold", "watch", 10, 20, {"water_c": spell(24.0, 10, 20, 11.0)}, "Perch"),
    Case(
        "finding-temperature-season-deadly-cold",
        "emergency",
        10,
        20,
        {"water_c": spell(24.0, 10, 20, 2.5)},
        "Perch",
    ),
    Case(
        "finding-temperature-season-may-be-cold",
        "watch",
        10,
        20,
        {"water_c": in_some(24.0, 10, 20, 2.5)},
        "Perch",
    ),
    Case("finding-temperature-season-kills", "emergency", 10, 20, {"water_c": BY_TURNS}, "Perch"),
    Case(
        "finding-temperature-season-kills",
        "act today",
        10,
        10,
        {"water_c": in_some(24.0, 10, 10, 39.0, tries=3)},
        "Perch",
    ),
    Case(
        "finding-temperature-season-out-before-heat",
        "watch",
        39,
        39,
        {"water_c": in_some(24.0, 40, DAYS - 1, 34.0)},
        "Perch",
    ),
    Case(
        "finding-temperature-season-out-before-cold",
        "watch",
        39,
        39,
        {"water_c": in_some(24.0, 40, DAYS - 1, 2.5)},
        "Perch",
    ),
    Case(
        "finding-temperature-season-out-in-time",
        "fine",
        39,
        39,
        {"water_c": in_some(24.0, 40, DAYS - 1, 34.0)},
        "Perch",
        fish(until=day(30)),
        {"fish": ({"count": spell(20.0, 30, DAYS - 1, 0.0), "weight_g": 200.0},)},
    ),
    Case(
        "finding-temperature-season-last-stocking",
        "watch",
        10,
        40,
        {"water_c": spell(24.0, 40, DAYS - 1, 11.0)},
        "Perch",
        fish(stocked=day(10)),
        {"fish": (PERCH_FIFTY_DAYS,)},
    ),
    Case("finding-nitrate-season-rising", "watch", 0, 59, {"nitrate_mg_l": drifting(20.0, 40.0)}),
    Case("finding-nitrate-season-falling", "watch", 0, 59, {"nitrate_mg_l": drifting(40.0, 20.0)}),
    Case("finding-nitrate-season-low", "watch", 10, 20, {"nitrate_mg_l": spell(30.0, 10, 20, 4.0)}),
    Case("finding-nitrate-season-high", "watch", 10, 20, {"nitrate_mg_l": spell(30.0, 10, 20, 120.0)}),
    Case("finding-nitrate-season-high", "act today", 10, 20, {"nitrate_mg_l": spell(30.0, 10, 20, 260.0)}),
    Case(
        "finding-nitrate-season-may-be-high", "watch", 10, 20, {"nitrate_mg_l": in_some(30.0, 10, 20, 260.0)}
    ),
    Case(
        "finding-alkalinity-season-bases",
        "watch",
        30,
        59,
        {"base_eq": spell(0.0, 30, 40, 0.1), "base_first_eq": spell(0.0, 30, 40, 0.06)},
        of_garden=with_bases,
    ),
    Case(
        "finding-alkalinity-season-base",
        "watch",
        30,
        59,
        {"base_eq": spell(0.0, 30, 40, 0.1), "base_first_eq": spell(0.0, 30, 40, 0.1)},
        of_garden=both(with_bases, part("top_up", calcium_mg_l=120.0)),
    ),
    Case(
        "finding-alkalinity-season-may-need-base",
        "watch",
        30,
        59,
        {"base_eq": in_some(0.0, 30, 40, 0.1), "base_first_eq": in_some(0.0, 30, 40, 0.1)},
        of_garden=with_bases,
    ),
    # The ordinary garden names no base; pH is low from 6.4, 6.0, 5.5.
    Case("finding-alkalinity-season-no-base", "watch", 10, 20, {"ph": spell(7.0, 10, 20, 6.2)}),
    Case("finding-alkalinity-season-no-base", "act today", 10, 20, {"ph": spell(7.0, 10, 20, 5.8)}),
    Case("finding-alkalinity-season-no-base", "emergency", 10, 20, {"ph": spell(7.0, 10, 20, 5.3)}),
    Case("finding-alkalinity-season-may-lack-base", "watch", 10, 20, {"ph": in_some(7.0, 10, 20, 5.8)}),
    Case("finding-alkalinity-season-high", "watch", 10, 30, {"alkalinity_mg_l": spell(60.0, 10, 30, 85.0)}),
    Case("finding-potassium-season-short", "watch", 10, 30, {"potassium_mg_l": spell(60.0, 10, 30, 12.0)}),
    Case("finding-calcium-season-short", "watch", 10, 30, {"calcium_mg_l": spell(60.0, 10, 30, 12.0)}),
    Case("finding-magnesium-season-short", "watch", 10, 30, {"magnesium_mg_l": spell(15.0, 10, 30, 4.0)}),
    Case("finding-iron-season-short", "watch", 10, 30, {"iron_mg_l": spell(1.5, 10, 30, 0.2)}),
    Case("finding-potassium-season-bases", "fine", 0, 59, {"base_eq": 0.1, "base_potassium_g": 2.0}),
    Case(
        "finding-potassium-season-bases",
        "watch",
        0,
        59,
        {"base_eq": 0.1, "base_potassium_g": 2.0, "potassium_mg_l": drifting(60.0, 210.0)},
    ),
    *(
        Case(
            f"finding-growth-season-{nutrient}",
            "watch",
            10,
            20,
            run={"crops": ({**LETTUCE, "supply": spell(0.95, 10, 20, 0.6), "scarce": float(place)},)},
        )
        for place, nutrient in enumerate(NUTRIENTS)
    ),
    Case("finding-sodium-season-rising", "watch", 0, 59, {"sodium_mg_l": drifting(50.0, 60.0)}),
    Case("finding-water-season-thirsty", "fine", 30, 59, {"top_up_l": spell(14.0, 30, 59, 20.0)}),
    # 5 m2 give 4 L a day in June; 200 L last for 20 days of the missing 10.
    Case("finding-water-season-barrel-dry", "watch", 20, 59, of_garden=ON_RAIN),
    Case(
        "finding-water-season-barrel-may-be-dry",
        "watch",
        20,
        59,
        {"top_up_l": in_some(2.0, 0, 59, 14.0)},
        of_garden=ON_RAIN,
    ),
    Case("finding-water-season-rain-not-known", "not known", 0, 59, of_garden=part("top_up", source="rain")),
    Case("finding-density-season-over", "act today", 40, 59, {}, "Pool", run={"fish": (CROWDED,)}),
    Case("finding-density-season-near", "watch", 40, 59, {}, "Pool", run={"fish": (NEARLY,)}),
    Case("finding-density-season-may-be-over", "watch", 40, 59, {}, "Pool", run={"fish": (SOME_CROWDED,)}),
    Case("finding-fish-season-small", "watch", 0, 59, {}, "Perch", fish(eaten=True), {"fish": (FED_G,)}),
    Case("finding-fish-season-left", "watch", 59, 59, {}, "Perch", fish(eaten=True), {"fish": (GROWN,)}),
    Case(
        "finding-crop-season-not-ready",
        "watch",
        0,
        59,
        {},
        "North bed",
        run={"crops": ({**LETTUCE, "picked_kg": in_some(0.0, 50, 59, 0.5, tries=4)},)},
    ),
    Case(
        "finding-crop-season-starved",
        "watch",
        0,
        59,
        {"nitrate_mg_l": spell(3.0, 40, 59, 30.0)},
        "North bed",
        run={"crops": ({**LETTUCE, "picked_kg": 0.0},)},
    ),
    Case(
        "finding-crop-season-killed",
        "watch",
        40,
        59,
        {},
        "North bed",
        run={"crops": ({**LETTUCE, "picked_kg": 0.0, "heat_killed": spell(0.0, 40, 59, 1.0)},)},
    ),
    Case("finding-bed-season-empty", "watch", 20, 59, {}, "North bed", run={"crops": (EMPTY_BED,)}),
]


def found(case: Case) -> tuple[Finding, ...]:
    return of_season(run(**case.run, **case.daily), case.of_garden(garden()))  # type: ignore[arg-type]


def one_of(case: Case) -> Finding:
    return next(one for one in found(case) if (one.key, one.level) == (case.key, case.level))


def keys(some: tuple[Finding, ...]) -> set[str]:
    return {one.key for one in some}


def label(case: Case) -> str:
    return f"{case.key.removeprefix('finding-')}:{case.level}"


@pytest.mark.parametrize("case", CASES, ids=label)
def test_a_finding_fires_with_its_level_on_its_days(case: Case):
    fired = [(one.level, one.first, one.last, one.subject) for one in found(case) if one.key == case.key]
    assert fired == [(case.level, day(case.first), day(case.last), case.subject)]


def test_a_calm_season_has_nothing_to_act_on():
    calm = of_season(run(), garden())
    assert keys(calm) == ORDINARY
    assert {one.level for one in calm} == {"fine"}


@pytest.mark.parametrize("case", CASES, ids=label)
def test_the_findings_come_in_order_and_have_no_months(case: Case):
    some = found(case)
    urgency = [URGENCY.index(one.level) for one in some]
    assert urgency == sorted(urgency)
    assert {one.months for one in some} == {()}


# The catalogue


class Variables(Visitor):
    def __init__(self) -> None:
        self.found: set[str] = set()

    def visit_VariableReference(self, node: ftl.VariableReference) -> None:
        self.found.add(node.id.name)


def catalogue() -> dict[str, ftl.Message]:
    text = (tables.DATA / "words.en.ftl").read_text("utf-8")
    return {one.id.name: one for one in FluentParser().parse(text).body if isinstance(one, ftl.Message)}


CATALOGUE = catalogue()


def test_every_finding_of_a_season_in_the_catalogue_has_a_case():
    held = {key for key, message in CATALOGUE.items() if message.attributes and "-season-" in key}
    assert {case.key for case in CASES} == held


@pytest.mark.parametrize("case", CASES, ids=label)
def test_every_amount_of_a_finding_is_said_and_no_other_is_asked_for(case: Case):
    fired = one_of(case)
    asked = Variables()
    asked.visit(CATALOGUE[case.key])
    # What a table tells is not an amount of the finding.
    names = {name.removesuffix("_middle") for name in asked.found if not name.startswith("told-")}
    assert names - {"subject", "when"} == {amount.name for amount in fired.amounts}
    assert ("subject" in names) == bool(case.subject)
    for reader in READERS:
        spoken = words.finding(fired, reader)
        for text in (getattr(spoken, name) for name in PARTS):
            assert text
            assert not {"{", "???", "nan", "inf", "not known"} & set(text.split())


@pytest.mark.parametrize("case", CASES, ids=label)
def test_the_sources_of_a_finding_stand_in_the_list(case: Case):
    held = set(tables.load("sources").keys())
    for one in found(case):
        assert one.sources, one.key
        assert {tables.source_key(source) for source in one.sources} <= held, one.key


def test_a_base_is_said_as_a_test_with_a_portion_and_never_as_a_dose_by_date():
    for case in CASES:
        if case.key in ("finding-alkalinity-season-base", "finding-alkalinity-season-bases", MAY_NEED):
            spoken = words.finding(one_of(case), Reader())
            assert spoken.action.startswith("Test pH and alkalinity")
            assert "portion" in spoken.action
            assert "2027" not in spoken.action


def test_a_garden_with_a_base_is_not_told_that_it_names_none():
    acid = run(ph=5.8)
    assert "finding-alkalinity-season-no-base" in keys(of_season(acid, garden()))
    assert "finding-alkalinity-season-no-base" not in keys(of_season(acid, with_bases(garden())))


# The lines


@pytest.mark.parametrize(
    ("name", "within", "beyond", "topic"),
    [
        ("oxygen_min_mg_l", 5.0, 4.99, "oxygen"),
        ("tan_max_mg_l", 0.49, 0.5, "ammonia"),
        ("unionised_max_mg_l", 0.0249, 0.025, "ammonia"),
        ("nitrite_max_mg_l", 0.29, 0.33, "nitrite"),
        ("water_c", 31.0, 31.1, "temperature"),
        ("water_c", 12.0, 11.9, "temperature"),
        ("nitrate_mg_l", 5.1, 5.0, "nitrate"),
        ("nitrate_mg_l", 99.0, 100.0, "nitrate"),
        ("alkalinity_mg_l", 79.0, 80.0, "alkalinity"),
        ("potassium_mg_l", 20.0, 19.9, "potassium"),
        ("calcium_mg_l", 20.0, 19.9, "calcium"),
        ("magnesium_mg_l", 5.0, 4.9, "magnesium"),
        ("iron_mg_l", 0.3, 0.29, "iron"),
    ],
)
def test_a_finding_comes_at_its_line_and_not_before(name: str, within: float, beyond: float, topic: str):
    # Cooler water than usual would raise the lines of ammonia and nitrite; theirs stay at 24 C.
    def topics(value: float) -> set[str]:
        return {one.topic for one in of_season(run(**{name: value}), garden())}

    assert topic not in topics(within)
    assert topic in topics(beyond)


def test_drifts_under_what_a_kit_can_read_are_not_told():
    weeks = (DAYS - 1) / 7.0
    for change, told in ((0.9, False), (1.1, True)):
        some = of_season(run(nitrate_mg_l=drifting(30.0, 30.0 + change * weeks)), garden())
        assert ("finding-nitrate-season-rising" in keys(some)) == told
    assert slope_mg_l_week(np.linspace(0.0, 59.0, 60)) == pytest.approx(7.0)


def test_without_fish_the_water_is_not_judged_for_fish():
    bad = {"oxygen_min_mg_l": 2.0, "tan_max_mg_l": 5.0, "nitrite_max_mg_l": 5.0, "water_c": 36.0}
    nobody = run(fish=({"count": 0.0},), **bad)
    assert not {"oxygen", "ammonia", "nitrite", "temperature"} & {
        one.topic for one in of_season(nobody, garden())
    }
    assert {"oxygen", "ammonia", "nitrite", "temperature"} <= {
        one.topic for one in of_season(run(**bad), garden())
    }


def test_a_garden_without_fish_or_crops_is_looked_at_too():
    bare = replace(garden(), fish=(), crops=())
    assert keys(of_season(run(fish=(), batches=(), crops=(), bed_used_m2=0.0), bare)) == ORDINARY


def test_water_without_crops_has_no_crops_that_run_short():
    poor = {"nitrate_mg_l": 2.0, "potassium_mg_l": 1.0, "bed_used_m2": 0.0}
    assert not {"nitrate", "potassium"} & {one.topic for one in of_season(run(**poor), garden())}


def test_the_strictest_species_in_the_water_counts_and_only_while_it_is_there():
    trout = replace(garden().fish[0], name="Trout", species="rainbow_trout")
    two = replace(garden(), fish=(*garden().fish, trout))
    there = {"count": spell(0.0, 20, 30, 5.0), "weight_g": 100.0}
    some = [
        one
        for one in of_season(run(fish=(PERCH, there), oxygen_min_mg_l=6.5, water_c=14.0), two)
        if one.topic == "oxygen"
    ]
    assert [(one.first, one.last) for one in some] == [(day(20), day(30))]
    assert next(amount.value for amount in some[0].amounts if amount.name == "species") == "rainbow_trout"


def test_batches_that_are_alike_are_told_together():
    two = replace(garden(), fish=(garden().fish[0], replace(garden().fish[0], name="More perch")))
    some = of_season(run(fish=(PERCH, PERCH), water_c=11.0), two)
    assert [one.subject for one in some if one.topic == "temperature"] == ["Perch, More perch"]


def test_the_lines_of_ammonia_stand_in_cold_water_too_for_bacteria_hold_it_lower():
    cold = COLD_TROUT | {"tan_max_mg_l": 0.55}
    levels = {one.level for one in of_season(run(**cold), TROUT(garden())) if one.topic == "ammonia"}
    assert levels == {"act today"}


def test_chloride_enough_leaves_nothing_to_say_about_nitrite_that_no_bacteria_could_hold_lower():
    little = COLD_TROUT | {"nitrite_max_mg_l": 0.06}
    assert "nitrite" not in {one.topic for one in of_season(run(**little), TROUT(garden()))}


def test_a_year_that_is_too_cold_in_the_tenth_is_told_beside_the_days_without_feed():
    water = spell(24.0, 10, 40, 11.0)
    water[:2, 20:31] = 2.5
    some = of_season(run(water_c=water), garden())
    assert {"finding-temperature-season-cold", "finding-temperature-season-may-be-cold"} <= keys(some)


def test_fish_that_came_into_warm_water_are_not_sent_out_for_it():
    water = in_some(24.0, 0, 5, 34.0)
    assert "finding-temperature-season-out-before-heat" not in keys(of_season(run(water_c=water), garden()))


def test_the_last_day_for_taking_fish_out_says_until_when_the_plan_keeps_them():
    water = in_some(24.0, 40, DAYS - 1, 34.0)
    for until, said in ((None, LAST), (day(50), day(50))):
        some = of_season(run(water_c=water), fish(until=until)(garden()))
        told = next(one for one in some if one.key == "finding-temperature-season-out-before-heat")
        amounts = {amount.name: amount.value for amount in told.amounts}
        assert (amounts["last"], amounts["until"]) == (day(39).isoformat(), said.isoformat())


def test_a_stocking_is_no_reason_for_what_comes_long_after_it():
    late = spell(0.1, 53, DAYS - 1, 1.2)
    some = of_season(run(fish=(PERCH_FIFTY_DAYS,), tan_max_mg_l=late), fish(stocked=day(10))(garden()))
    assert "finding-ammonia-season-over" in keys(some)
    assert "finding-ammonia-season-after-stocking" not in keys(some)


def test_a_stocking_is_not_the_only_reason_of_what_lasts_for_months_after_it():
    days = 100
    lasting = spell(0.1, 20, 95, 1.2, days)
    lasting[:, 25] = 1.5
    perch = {"count": spell(0.0, 10, days - 1, 20.0, days), "weight_g": 200.0}
    some = of_season(run(fish=(perch,), days=days, tan_max_mg_l=lasting), fish(stocked=day(10))(garden()))
    assert "finding-ammonia-season-over" in keys(some)
    assert "finding-ammonia-season-after-stocking" not in keys(some)


def test_where_only_the_tenth_is_short_the_worst_day_is_the_tenths():
    lowest = in_some(7.0, 10, 20, 4.4)
    lowest[:2, 15] = 4.1
    lowest[5:, 12] = 6.0
    told = next(one for one in of_season(run(oxygen_min_mg_l=lowest), garden()) if one.topic == "oxygen")
    assert next(amount.value for amount in told.amounts if amount.name == "worst") == day(15).isoformat()


def test_what_hovers_about_a_line_is_one_span():
    nitrite = spell(0.05, 10, 40, 0.35)
    nitrite[:, 20:27] = 0.28
    some = [one for one in of_season(run(nitrite_max_mg_l=nitrite), garden()) if one.topic == "nitrite"]
    assert [(one.first, one.last) for one in some] == [(day(10), day(40))]
    nitrite[:, 20:27] = 0.1
    some = [one for one in of_season(run(nitrite_max_mg_l=nitrite), garden()) if one.topic == "nitrite"]
    assert [(one.first, one.last) for one in some] == [(day(10), day(19)), (day(27), day(40))]


@pytest.mark.parametrize(
    ("name", "topic", "usual", "past", "near"),
    [("oxygen_min_mg_l", "oxygen", 7.0, 4.7, 5.2), ("water_c", "temperature", 24.0, 11.5, 12.5)],
)
def test_oxygen_and_cold_that_hover_about_a_line_are_one_span(name, topic, usual, past, near):
    values = spell(usual, 10, 40, past)
    values[:, 20:27] = near
    some = [one for one in of_season(run(**{name: values}), garden()) if one.topic == topic]
    assert [(one.first, one.last) for one in some] == [(day(10), day(40))]
    values[:, 20:27] = usual
    some = [one for one in of_season(run(**{name: values}), garden()) if one.topic == topic]
    assert [(one.first, one.last) for one in some] == [(day(10), day(19)), (day(27), day(40))]


def test_an_early_stocking_has_its_weeks_of_feeding():
    days = 120
    water = spell(24.0, 110, days - 1, 11.0, days)
    early = fish(stocked=day(10))(garden())
    early = replace(early, season=replace(early.season, end=day(days - 1)))
    perch = {"count": spell(0.0, 10, days - 1, 20.0, days), "weight_g": 200.0}
    some = of_season(run(fish=(perch,), days=days, water_c=water), early)
    told = next(one for one in some if one.key == "finding-temperature-season-last-stocking")
    assert told.level == "fine"
    amounts = {amount.name: amount.value for amount in told.amounts}
    assert amounts["last"] == day(110 - 84).isoformat()
    assert amounts["fed"] == 100


def test_less_feed_counts_days_and_tries():
    less = in_some(1.0, 10, 20, 0.5, tries=3)
    told = next(
        one for one in of_season(run(ration=less), garden()) if one.key == "finding-ration-season-less"
    )
    assert {amount.name: amount.value for amount in told.amounts} == {"days": 11, "tries": 3, "share": 0.5}
    assert "finding-ration-season-less" not in keys(
        of_season(run(ration=in_some(1.0, 10, 20, 0.5, 1)), garden())
    )


def test_a_filter_that_is_large_enough_is_not_called_small():
    poor = of_season(run(ration=spell(1.0, 0, 29, 0.5)), garden())
    assert "finding-ration-season-small" not in keys(poor)


def test_grams_of_base_are_those_of_the_shelf_in_the_month_of_most():
    shelf = lambda before: replace(before, products=(Product("Bag", "potassium_bicarbonate", 50.0),))  # noqa: E731
    hard = both(shelf, part("top_up", calcium_mg_l=120.0))(garden())
    given = spell(0.0, 30, 59, 0.1)
    some = of_season(run(base_eq=given, base_first_eq=given), hard)
    told = next(one for one in some if one.key == "finding-alkalinity-season-base")
    amounts = {amount.name: amount.value for amount in told.amounts}
    assert amounts["worst"] == 7
    # 100.1 g a mol at half strength, one equivalent a mol: 0.1 eq on seven days, and on thirty.
    assert amounts["grams"] == pytest.approx(7 * 0.1 * 200.2, rel=1e-3)
    assert amounts["total"] == pytest.approx(30 * 0.1 * 200.2, rel=1e-3)


def test_crops_take_the_potassium_that_they_grow_with():
    # 2 m2 of leaf lettuce with half growth: half of its area's uptake a day.
    wanted = wanted_g_day(Look(run(), garden()), "potassium")
    assert wanted == pytest.approx(2.0 * 0.5 * crops.crop("lettuce_leaf").uptake_k_g_m2_d)


def test_plantings_of_one_crop_that_fail_are_one_finding_and_what_stands_on_is_not_judged():
    batches = [crop_batch("lettuce_leaf", day(first), 20) for first in (0, 25)]
    batches.append(crop_batch("lettuce_leaf", day(50), 20))
    nothing = {**LETTUCE, "picked_kg": 0.0}
    some = of_season(run(batches=batches, crops=(nothing,) * 3), garden())
    told = [one for one in some if one.key == "finding-crop-season-not-ready"]
    assert [(one.first, one.last) for one in told] == [(day(0), day(45))]
    assert next(amount.value for amount in told[0].amounts if amount.name == "plantings") == 2


def test_a_bed_may_stand_empty_in_an_absence_and_while_nothing_grows():
    away = lambda before: replace(before, away=(Away(day(15), day(50)),))  # noqa: E731
    assert "finding-bed-season-empty" not in keys(of_season(run(crops=(EMPTY_BED,)), away(garden())))
    before = garden()
    dark = replace(
        before.site, cover="indoors", climate=replace(before.site.climate, radiation_mj_m2_d=(0.0,) * 12)
    )
    told = keys(of_season(run(crops=(EMPTY_BED,)), replace(before, site=dark)))
    assert "finding-bed-season-empty" not in told


def test_density_counts_each_tank_by_itself_with_what_to_take_out():
    told = next(
        one for one in of_season(run(fish=(CROWDED,)), garden()) if one.key == "finding-density-season-over"
    )
    amounts = {amount.name: amount.value for amount in told.amounts}
    # 22 kg in 1 m3, and 20 are the line: two fish of 1.1 kg.
    assert amounts["density"] == pytest.approx(22.0)
    assert (amounts["kg"], amounts["count"]) == (pytest.approx(2.0), 2)
    assert "density" not in {one.topic for one in of_season(run(), garden())}


def test_what_rounding_leaves_of_nothing_is_nothing():
    some = of_season(run(nitrate_mg_l=drifting(40.0, 20.0), excreted_g=1e-15), garden())
    falling = next(one for one in some if one.key == "finding-nitrate-season-falling")
    assert "fish give off 0 g" in words.finding(falling, Reader()).why.replace("\u00a0", " ")


# Days


def test_spans_are_joined_over_three_days_and_single_days_are_dropped():
    some = np.zeros(30, dtype=bool)
    some[[2, 3, 7, 8, 13, 20, 21]] = True
    assert stretches(some) == (Stretch(2, 8), Stretch(20, 21))
    assert stretches(some, gap=4, least=1) == (Stretch(2, 13), Stretch(20, 21))
    near = np.zeros(30, dtype=bool)
    near[10:20] = True
    assert stretches(some, near=near) == (Stretch(2, 21),)
    assert stretches(np.zeros(5)) == ()


def row_of(text: str) -> list[Level]:
    letters: dict[str, Level] = {".": "fine", "w": "watch", "a": "act today", "e": "emergency"}
    return [letters[one] for one in text]


@pytest.mark.parametrize(
    ("middle", "tenth", "expected"),
    [
        (".........", ".........", []),
        (".ww......", ".........", [("watch", 1, 2, False)]),
        (".w.......", ".........", []),
        (".e.......", ".........", [("emergency", 1, 1, False)]),
        (".wwaaww..", ".........", [("act today", 3, 4, False)]),
        (".wwaww...", ".........", [("watch", 1, 5, False)]),
        (".wwaweww.", ".........", [("emergency", 5, 5, False)]),
        (".........", "..aaa....", [("watch", 2, 4, True)]),
        (".........", "..www....", []),
        ("..ww.....", "..aaa....", [("watch", 2, 3, False)]),
        ("..ww.....", "..eee....", [("watch", 2, 3, False), ("watch", 2, 4, True)]),
        ("..aa.....", "..eee....", [("act today", 2, 3, False)]),
    ],
)
def test_a_span_speaks_of_its_worst_level(middle: str, tenth: str, expected: list):
    some = spells(row_of(middle), row_of(tenth))
    assert [(one.level, one.stretch.first, one.stretch.last, one.may) for one in some] == expected


def test_two_spans_are_two_findings():
    lowest = spell(7.0, 10, 20, 4.2)
    lowest[:, 40:45] = 4.2
    some = [one for one in of_season(run(oxygen_min_mg_l=lowest), garden()) if one.topic == "oxygen"]
    assert [(one.first, one.last) for one in some] == [(day(10), day(20)), (day(40), day(44))]


# The barrel


def test_a_barrel_keeps_its_books():
    rain = np.random.default_rng(1).gamma(0.3, 20.0, DAYS)
    wanted = np.full((MEMBERS, DAYS), 9.0)
    kept = barrel.daily(rain, wanted, 100.0, 40.0)
    assert kept.left_l.min() >= 0.0
    assert kept.left_l.max() <= 100.0
    # What came in is drawn, left, or ran over; nothing runs over while it is not full.
    drawn = wanted - kept.missing_l
    before = np.concatenate([np.full((MEMBERS, 1), 40.0), kept.left_l[:, :-1]], axis=1)
    over = before + rain - drawn - kept.left_l
    assert over.min() >= -1e-9
    assert over[kept.left_l < 100.0] == pytest.approx(0.0, abs=1e-9)
    assert kept.missing_l[kept.left_l > 0.0] == pytest.approx(0.0, abs=1e-9)


def test_a_barrel_that_is_asked_for_nothing_stays_full_and_without_rain_runs_dry():
    nothing = np.zeros((2, 5))
    assert barrel.daily(np.zeros(5), nothing, 50.0, 50.0).missing_l.sum() == 0.0
    dry = barrel.daily(np.zeros(5), nothing + 20.0, 50.0, 50.0)
    assert dry.missing_l[0].tolist() == [0.0, 0.0, 10.0, 20.0, 20.0]


def test_a_roof_gives_four_fifths_of_its_rain():
    monthly = (31.0, 28.0, *(0.0,) * 10)
    litres = barrel.rain_l(monthly, 10.0, date(2027, 1, 30), 4)
    assert litres == pytest.approx([8.0] * 4)
    assert barrel.rain_l(monthly, 10.0, date(2027, 3, 1), 2).tolist() == [0.0, 0.0]


# The demo gardens


@pytest.mark.slow
@pytest.mark.parametrize("name", seasons.DEMOS)
def test_the_findings_of_a_demo_season_can_be_read(name: str):
    season, planted = seasons.season(name), seasons.garden(name)
    some = of_season(season, planted)
    assert len(some) < 45
    assert len({(one.key, one.subject, one.first) for one in some}) == len(some)
    for one in some:
        assert one.first is not None
        assert one.last is not None
        assert planted.season.start <= one.first <= one.last <= planted.season.end, one.key
        for reader in READERS:
            spoken = words.finding(one, reader)
            assert len(spoken.title) < 200, spoken.title
            assert not any(
                ugly in text for text in vars(spoken).values() for ugly in ("nan", "0.0000", "-0 ")
            )


def test_the_demo_gardens_have_the_troubles_that_they_were_made_for():
    def told(name: str) -> dict[str, Finding]:
        return {one.key: one for one in of_season(seasons.season(name), seasons.garden(name))}

    yard, greenhouse, southern = told("yard/before"), told("greenhouse"), told("southern")
    # A hot, hard, dry yard: oxygen low in summer though feed is held to it, no feed in winter, alkalinity and
    # sodium of the tap.
    assert {"finding-oxygen-season-low", "finding-temperature-season-cold"} <= yard.keys()
    assert {"finding-alkalinity-season-high", "finding-sodium-season-rising"} <= yard.keys()
    # Its winter kills in most of the tries, on days of their own, and the fish are told to be out before.
    assert yard["finding-temperature-season-kills"].level == "emergency"
    assert "finding-temperature-season-out-before-cold" in yard
    # Trout that have to be out before the warm weeks.
    out = {"finding-temperature-season-out-before-heat", "finding-temperature-season-out-in-time"}
    assert out & greenhouse.keys()
    # Rain that runs short in the dry summer.
    dry = southern["finding-water-season-barrel-dry"]
    assert dry.first is not None
    assert dry.last is not None
    assert dry.first <= date(2028, 1, 15) <= dry.last


@pytest.mark.parametrize(
    ("nitrite", "chloride", "level", "line"),
    [
        # Warm water: 0.3 to watch, 1 to act on, 2 an emergency, whatever the chloride.
        (0.5, 100.0, "watch", 0.3),
        (1.5, 100.0, "act today", 1.0),
        (6.0, 200.0, "emergency", 2.0),
        # Little chloride: act from a tenth of it, not under 0.3, an emergency from twice that, not under 1.
        (0.7, 6.0, "act today", 0.6),
        (1.5, 6.0, "emergency", 1.2),
        (0.5, 2.0, "act today", 0.3),
        (1.5, 2.0, "emergency", 1.0),
    ],
)
def test_a_finding_of_nitrite_names_the_line_that_it_passed(
    nitrite: float, chloride: float, level: str, line: float
):
    season = run(nitrite_max_mg_l=spell(0.05, 10, 30, nitrite), chloride_mg_l=chloride)
    (found,) = [one for one in of_season(season, garden()) if one.topic == "nitrite"]
    assert found.level == level
    told = {one.name: one.value for one in found.amounts}
    assert told["line"] == line
    # Twenty times the nitrite as N, by mass.
    assert told["wanted"] == pytest.approx(20.0 * nitrite)
