"""Charts hold the right rows, labels and axes, and can be drawn; colours can be told apart without colour."""

import itertools
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hand_made import balance, balance_with_backup, band, limit

from aquacalc import fish, words
from aquacalc.charts import axes, canvas, frames, month, picture, year
from aquacalc.charts.canvas import NARROW, WIDE, WIDTHS, width_px
from aquacalc.charts.picture import INK
from aquacalc.words import Reader

READER = Reader()
CATFISH = fish.species("channel_catfish")
SVG = "{http://www.w3.org/2000/svg}"


NAMES = ("balance", "limits_now", "before_after", "water_temperature")


@cache
def picture_of(name: str, width: float = WIDE, title: str = "The answer in words") -> str:
    return {
        "balance": lambda: year.balance(balance(), READER, title, width=width),
        "limits_now": lambda: month.limits_now(balance(), READER, title, width=width),
        "before_after": lambda: month.before_after(
            balance(), balance_with_backup(), READER, title, width=width
        ),
        "water_temperature": lambda: year.water_temperature(balance(), CATFISH, READER, title, width=width),
    }[name]()


def texts(drawn: str, ink: str = "") -> list[str]:
    """Texts of a picture, those under a halo once; of one colour, if it is given."""
    return [
        (element.text or "").replace(words.NO_BREAK_SPACE, " ")
        for element in ET.fromstring(drawn).iter(f"{SVG}text")
        if element.get("aria-hidden") is None and ink in (element.get("fill") or "")
    ]


def curves(drawn: str, ink: str) -> list[ET.Element]:
    """Lines through the months, of one colour."""
    found = (one for one in ET.fromstring(drawn).iter(f"{SVG}path") if one.get("transform") is None)
    return [one for one in found if one.get("stroke") == ink and float(one.get("stroke-width") or 0) > 1.0]


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", NAMES)
def test_each_picture_has_its_title_and_text_alternative_and_keeps_inside(name: str, width: float):
    root = ET.fromstring(picture_of(name, width))
    assert root.get("role") == "img"
    assert len(root.get("aria-label") or "") > 40
    assert " ".join(texts(picture_of(name, width))[:1]) == "The answer in words"
    left, top, wide, high = map(float, (root.get("viewBox") or "").split())
    assert wide == width
    for one in root.iter(f"{SVG}text"):
        if one.get("transform") is None:
            text, size = one.text or "", float(one.get("font-size") or 0)
            spare = {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor") or ""]
            begin = float(one.get("x") or 0) - spare * width_px(text, size)
            assert left - 1.0 <= begin, text
            assert begin + width_px(text, size) <= left + wide + 1.0, text
            assert top <= float(one.get("y") or 0) <= top + high, text


@pytest.mark.parametrize("width", WIDTHS)
def test_the_balance_draws_every_counted_limit_and_names_those_above_the_picture(width: float):
    drawn = year.balance(balance(), READER, "t", top_g_day=300.0, width=width)
    said = texts(drawn)
    for key in ("oxygen", "nitrification", "density", "power_cut", "solids", "plants"):
        assert said.count(words.limit(key, READER)) == 1
        assert curves(drawn, year.COLOUR[key])
    assert said.count("the fish want") == 1
    assert not curves(drawn, year.COLOUR["turnover"])
    assert words.limit("turnover", READER) in " ".join(said)


def test_musts_are_solid_and_betters_broken():
    drawn = picture_of("balance")
    for key in ("oxygen", "nitrification", "density", "power_cut", "solids", "plants"):
        dashes = {one.get("stroke-dasharray") for one in curves(drawn, year.COLOUR[key])}
        assert (dashes == {None}) == (key not in ("solids", "plants"))


def places(drawn: str, key: str) -> list[float]:
    """Heights of the marks of a limit, px from above."""
    ink = year.COLOUR[key]
    marks = [one for one in ET.fromstring(drawn).iter(f"{SVG}path") if one.get("transform")]
    return [
        float((one.get("transform") or "").split()[1].rstrip(")"))
        for one in marks
        if one.get("stroke") == ink
    ]


def test_months_without_an_answer_leave_a_gap():
    assert len(places(picture_of("balance"), "power_cut")) == 11
    assert len(places(picture_of("balance"), "oxygen")) == 12


def test_a_limit_that_does_not_count_is_not_drawn():
    assert not curves(year.balance(balance_with_backup(), READER, "t"), year.COLOUR["power_cut"])


def test_months_stand_in_the_order_of_the_plan():
    turned = replace(balance(), months=(7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5, 6))
    named = [one for one in texts(year.balance(turned, READER, "t")) if len(one) == 3 and one.isalpha()]
    assert named[:2] + named[-1:] == ["Jul", "Aug", "Jun"]
    letters = [one for one in texts(year.balance(turned, READER, "", width=NARROW)) if len(one) == 1]
    assert "".join(one for one in letters if one.isalpha()) == "JASONDJFMAMJ"


def test_the_axis_stays_where_it_is_told_to():
    less = replace(balance(), demand=replace(balance().demand, feed_g_day=band(np.full(12, 10.0))))
    pair = [year.balance(one, READER, "t", top_g_day=300.0) for one in (balance(), less)]
    assert places(pair[0], "oxygen") == places(pair[1], "oxygen")


def test_a_line_is_cut_where_it_leaves_the_picture():
    drawn = year.balance(balance(), READER, "t", top_g_day=100.0)
    ways = " ".join(one.get("d") or "" for one in curves(drawn, INK) if one.get("stroke-width") == "4")
    heights = [float(one) for one in re.findall(r"[\d.]+ (-?[\d.]+)", ways)]
    assert min(heights) == pytest.approx(year.TOP_PX, abs=0.01)


def test_names_of_lines_keep_their_distance():
    crowded = replace(
        balance(),
        limits=tuple(limit(key, True, np.full(12, 100.0 + n)) for n, key in enumerate(year.COLOUR)),
    )
    names = {words.limit(key, READER) for key in year.COLOUR}
    for width in WIDTHS:
        root = ET.fromstring(year.balance(crowded, READER, "t", top_g_day=200.0, width=width))
        found = sorted(float(one.get("y") or 0) for one in root.iter(f"{SVG}text") if one.text in names)
        assert len(found) == len(names)
        assert min(np.diff(found)) >= year.LINE_PX - 0.02


def test_spread_keeps_order_and_ends():
    moved = axes.spread([0.0, 0.1, 0.2, 9.9, 10.0], 1.0, 0.0, 10.0)
    assert moved == sorted(moved)
    assert moved[0] >= 0.0
    assert moved[-1] <= 10.0
    assert min(np.diff(moved)) >= 1.0 - 1e-9


def test_the_smallest_limit_stands_on_top_of_the_spans():
    spans = frames.spans_of(balance(), 7, READER)
    assert [one.key for one in spans][:2] == ["power_cut", "solids"]
    assert [one.middle for one in spans] == sorted(one.middle for one in spans)


@pytest.mark.parametrize("width", WIDTHS)
def test_before_and_after_says_what_changed(width: float):
    figures = texts(picture_of("before_after", width))
    assert "62 g/day to no limit" in figures
    assert "140 g/day, as before" in figures


def test_water_in_fahrenheit_for_a_us_reader():
    drawn = year.water_temperature(balance(), CATFISH, Reader(units="us"), "t")
    assert any("(°F)" in one for one in texts(drawn))
    assert "80" in texts(drawn)


def test_a_garden_without_appetite_can_still_be_drawn():
    idle = balance()
    idle = replace(
        idle, demand=replace(idle.demand, feed_g_day=band(np.zeros(12))), binding=None, better=None
    )
    for width in WIDTHS:
        for drawn in (
            year.balance(idle, READER, "t", width=width),
            month.limits_now(idle, READER, "t", width=width),
            month.before_after(idle, balance(), READER, "t", width=width),
        ):
            assert "nan" not in drawn


def test_names_are_written_as_text():
    drawn = canvas.Canvas(100.0, 20.0)
    drawn.text("<b>&", 0.0, 10.0)
    assert texts(drawn.svg('"<', "<i>")) == ["<i>", "<b>&"]


def test_both_ways_out_of_a_canvas_carry_the_same_texts_and_as_many_lines():
    drawn = canvas.Canvas(200.0, 100.0)
    drawn.line(np.array([0.0, 10.0, 20.0, 30.0]), np.array([5.0, np.nan, 5.0, 6.0]))
    drawn.rule(0.0, 0.0, 10.0, 10.0)
    drawn.rule(0.0, 0.0, 20.0, 10.0)
    drawn.mark(5.0, 5.0, "diamond")
    drawn.text("here", 10.0, 10.0)
    drawn.text("turned", 10.0, 10.0, angle=270.0)
    ours = drawn.svg("A picture")
    chart = picture.finish(drawn.layers(), "", [], "A picture", drawn.size)
    rows = [row for rows in chart.to_dict()["datasets"].values() for row in rows]
    assert {row["text"] for row in rows if "text" in row} == set(texts(ours))
    assert len({row["name"] for row in rows if "name" in row}) == ours.count('stroke-width="2"')
    assert sum("x2" in row for row in rows) == ours.count("M0 0L")
    assert sum("shape" in row for row in rows) == ours.count("translate(")
    chart.to_dict(validate=True)


def test_text_alternatives_name_month_and_amounts():
    text = year.describe_balance(balance(), READER)
    assert "August" in text
    assert "150 to 230" in text.replace(words.NO_BREAK_SPACE, " ")
    assert words.limit("oxygen", READER) in text
    assert "July" in month.describe_limits(balance(), READER)
    assert "before" in month.describe_change(balance(), balance_with_backup(), READER)
    assert CATFISH.name in year.describe_water(balance(), CATFISH, READER)


@pytest.mark.parametrize("name", NAMES)
def test_the_same_picture_is_written_the_same_and_needs_nothing_from_outside(name: str):
    again = picture_of.__wrapped__(name)
    assert again == picture_of(name)
    assert "http" not in again.replace("http://www.w3.org/2000/svg", "")


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
        "import rfc3987_syntax; from aquacalc.charts import canvas, picture;"
        "drawn = canvas.Canvas(100.0, 50.0); drawn.text('here', 10.0, 10.0);"
        "print('here' in picture.svg(picture.finish(drawn.layers(), '', [], '', drawn.size)))"
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
