"""Charts hold the right rows, labels and axes, and can be drawn; colours can be told apart without colour."""

import itertools
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hand_made import balance, balance_with_backup, band, limit

from aquacalc import fish, words
from aquacalc.charts import axes, frames, month, picture, year
from aquacalc.words import Reader

READER = Reader()
CATFISH = fish.species("channel_catfish")


def specs() -> dict[str, picture.Chart]:
    return {
        "balance": year.balance(balance(), READER, "The answer in words"),
        "limits_now": month.limits_now(balance(), READER, "The answer in words"),
        "before_after": month.before_after(balance(), balance_with_backup(), READER, "The answer in words"),
        "water_temperature": year.water_temperature(balance(), CATFISH, READER, "The answer in words"),
    }


def rows_with(spec: dict, field: str) -> list[dict]:
    return [row for rows in spec["datasets"].values() for row in rows if field in row]


@pytest.mark.parametrize("name", specs())
def test_each_chart_is_a_sound_spec_with_its_title_and_text_alternative(name: str):
    spec = specs()[name].to_dict(validate=True)
    assert spec["title"]["text"] == ["The answer in words"]
    assert len(spec["description"]) > 40
    assert spec["config"]["font"].startswith(picture.FONT)


def test_the_balance_draws_every_counted_limit_and_names_those_above_the_picture():
    spec = year.balance(balance(), READER, "t", top_g_day=300.0).to_dict()
    drawn = {row["name"] for row in rows_with(spec, "dash")}
    keys = ("oxygen", "nitrification", "density", "power_cut", "solids", "plants")
    assert drawn == {"the fish want", *(words.limit(key, READER) for key in keys)}
    assert words.limit("turnover", READER) in " ".join(spec["title"]["subtitle"])


def test_musts_are_solid_and_betters_broken():
    rows = rows_with(year.balance(balance(), READER, "t").to_dict(), "dash")
    solid = {row["name"] for row in rows if row["dash"] == [1, 0]}
    broken = {row["name"] for row in rows} - solid
    assert broken == {words.limit(key, READER) for key in ("solids", "plants")}


def test_months_without_an_answer_leave_a_gap_in_the_rows():
    rows = frames.limits_frame(balance(), READER)
    assert sorted(rows[rows["key"] == "power_cut"]["place"]) == list(range(1, 12))


def test_a_limit_that_does_not_count_is_not_drawn():
    assert "power_cut" not in set(frames.limits_frame(balance_with_backup(), READER)["key"])


def test_months_stand_in_the_order_of_the_plan():
    turned = replace(balance(), months=(7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6))
    spec = year.balance(turned, READER, "t").to_dict()
    expressions = re.findall(r'\["Jul", "Aug".*?"Jun"\]', str(spec).replace("\\", ""))
    assert expressions


def test_the_axis_stays_where_it_is_told_to():
    low = year.balance(balance(), READER, "t", top_g_day=300.0).to_dict()
    less = replace(balance(), demand=replace(balance().demand, feed_g_day=band(np.full(12, 10.0))))
    high = year.balance(less, READER, "t", top_g_day=300.0).to_dict()
    domains = [re.findall(r"'domain': \[0.0, 300.0\]", str(spec)) for spec in (low, high)]
    assert domains[0]
    assert len(domains[0]) == len(domains[1])


def test_names_of_lines_keep_their_distance():
    crowded = replace(
        balance(),
        limits=tuple(limit(key, True, np.full(12, 100.0 + n)) for n, key in enumerate(year.COLOUR)),
    )
    spec = year.balance(crowded, READER, "t", top_g_day=200.0).to_dict()
    places = sorted(row["label"] for row in rows_with(spec, "label"))
    # Each name stands in two layers, its leader and its text.
    steps = np.diff(sorted(set(places)))
    assert len(set(places)) == 8
    assert steps.min() * year.PLOT_HEIGHT / 200.0 >= year.LINE_PX - 1e-6


def test_spread_keeps_order_and_ends():
    moved = axes.spread([0.0, 0.1, 0.2, 9.9, 10.0], 1.0, 0.0, 10.0)
    assert moved == sorted(moved)
    assert moved[0] >= 0.0
    assert moved[-1] <= 10.0
    assert min(np.diff(moved)) >= 1.0 - 1e-9


def test_the_smallest_limit_stands_on_top_of_the_spans():
    frame = frames.spans_frame(balance(), 7, READER)
    assert list(frame["key"])[:2] == ["power_cut", "solids"]
    assert list(frame["middle"]) == sorted(frame["middle"])


def test_before_and_after_says_what_changed():
    spec = month.before_after(balance(), balance_with_backup(), READER, "t").to_dict()
    figures = {row["figure"].replace(words.NO_BREAK_SPACE, " ") for row in rows_with(spec, "figure")}
    assert "62 g/day to no limit" in figures
    assert "140 g/day, as before" in figures


def test_water_in_fahrenheit_for_a_us_reader():
    spec = year.water_temperature(balance(), CATFISH, Reader(units="us"), "t").to_dict()
    assert "(°F)" in str(spec)
    assert max(row["middle"] for row in rows_with(spec, "high")) == pytest.approx(26.5 * 1.8 + 32)


def test_a_garden_without_appetite_can_still_be_drawn():
    idle = balance()
    idle = replace(
        idle, demand=replace(idle.demand, feed_g_day=band(np.zeros(12))), binding=None, better=None
    )
    for chart in (
        year.balance(idle, READER, "t"),
        month.limits_now(idle, READER, "t"),
        month.before_after(idle, balance(), READER, "t"),
    ):
        chart.to_dict(validate=True)


def test_text_alternatives_name_month_and_amounts():
    text = year.describe_balance(balance(), READER)
    assert "August" in text
    assert "150 to 230" in text.replace(words.NO_BREAK_SPACE, " ")
    assert words.limit("oxygen", READER) in text
    assert "July" in month.describe_limits(balance(), READER)
    assert "before" in month.describe_change(balance(), balance_with_backup(), READER)
    assert CATFISH.name in year.describe_water(balance(), CATFISH, READER)


@pytest.mark.slow
def test_every_chart_becomes_a_picture_with_its_own_ids():
    ids: list[str] = []
    for chart in specs().values():
        drawn = picture.svg(chart)
        root = ET.fromstring(drawn)
        texts = " ".join(element.text or "" for element in root.iter("{http://www.w3.org/2000/svg}text"))
        assert "The answer in words" in texts
        assert "http" not in drawn.replace("http://www.w3.org/", "")
        ids += re.findall(r'\bid="([^"]+)"', drawn)
        for used in re.findall(r"url\(#([^)]+)\)", drawn):
            assert f'id="{used}"' in drawn
    assert len(ids) == len(set(ids))


def test_the_same_chart_gives_the_same_picture():
    chart = month.limits_now(balance(), READER, "t")
    assert picture.svg(chart) == picture.svg(chart)


@pytest.mark.parametrize("room", ["axes", "frames", "month", "picture", "year"])
def test_no_way_into_the_charts_passes_by_the_shortcut(room: str):
    import subprocess
    import sys

    code = f"import sys, aquacalc.charts.{room}; print('lark' in sys.modules or 'altair' not in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == ("True" if room in ("axes", "frames") else "False")


@pytest.mark.slow
def test_pictures_do_not_need_the_shortcut_past_the_grammar():
    import subprocess
    import sys

    code = (
        "import rfc3987_syntax; from hand_made import balance; from aquacalc import words;"
        "from aquacalc.charts import month, picture;"
        "print(len(picture.svg(month.limits_now(balance(), words.Reader(), 't'))) > 1000)"
    )
    root = str(Path(picture.__file__).parents[2])
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": f"{root}:{root}/tests", "PATH": ""},
    )
    assert done.stdout.strip() == "True"


# --- colours ---------------------------------------------------------------------------------------------

# Full loss of one kind of cone, on linear RGB: Machado, Oliveira, Fernandes 2009, from memory.
BLINDNESS = {
    "none": np.eye(3),
    "red": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "green": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "blue": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}


def linear(colour: str) -> np.ndarray:
    srgb = np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)]) / 255.0
    return np.where(srgb <= 0.04045, srgb / 12.92, ((srgb + 0.055) / 1.055) ** 2.4)


def lab(rgb: np.ndarray) -> np.ndarray:
    # CIE 1976 L*a*b* over sRGB primaries and D65 (IEC 61966-2-1).
    matrix = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    ratio = matrix @ np.clip(rgb, 0.0, 1.0) / (matrix @ np.ones(3))
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("colour", [picture.INK, *year.COLOUR.values()])
def test_text_in_each_colour_stands_out_from_white(colour: str):
    # Contrast ratio of WCAG 2.2, 1.4.3: at least 4.5 for text.
    luminance = float(np.array([0.2126, 0.7152, 0.0722]) @ linear(colour))
    assert 1.05 / (luminance + 0.05) >= 4.5


@pytest.mark.parametrize("kind", BLINDNESS)
def test_colours_differ_to_colour_blind_eyes(kind: str):
    seen = {key: lab(BLINDNESS[kind] @ linear(colour)) for key, colour in year.COLOUR.items()}
    for one, other in itertools.combinations(seen, 2):
        assert np.linalg.norm(seen[one] - seen[other]) > 15.0, (one, other)


def test_lines_differ_without_any_colour():
    looks = {key: (tuple(year.DASH.get(key, ())), year.SHAPE[key]) for key in year.COLOUR}
    assert len(set(looks.values())) == len(looks)
