"""The time line: marks by their time, texts that do not meet, the bar solid to its short end."""

import re
import xml.etree.ElementTree as ET

import pytest

from aquacalc.pages import time_line
from aquacalc.pages.time_line import Mark
from aquacalc.words import NO_BREAK_SPACE, Reader

SVG = "{http://www.w3.org/2000/svg}"
MARKS = [Mark(1.5, "second"), Mark(0.5, "first"), Mark(float("inf"), "never")]


def drawn(marks: list[Mark] = MARKS, bar: tuple[float, float] = (1.0, 2.0)) -> ET.Element:
    return ET.fromstring(time_line.svg(marks, bar, "said <so>", Reader()))


def texts(picture: ET.Element) -> list[str]:
    return [(one.text or "").replace(NO_BREAK_SPACE, " ") for one in picture.iter(f"{SVG}text")]


def test_marks_stand_in_the_order_of_their_times_and_what_never_happens_is_left_out():
    said = [one for one in texts(drawn()) if one in ("first", "second", "never")]
    assert said == ["first", "second"]


def test_the_bar_is_solid_to_its_short_end_and_hatched_to_the_long_one():
    solid, hatched = [one for one in drawn().iter(f"{SVG}rect") if one.get("height") == "14"]
    assert float(solid.get("x", "")) == time_line.MARGIN_SHARE * time_line.PAGE
    assert float(hatched.get("width", "")) == pytest.approx(float(solid.get("width", "")), abs=0.2)
    assert hatched.get("fill") == "url(#aq-hatched-720)"
    without = drawn(bar=(float("inf"), float("inf")))
    assert [one for one in without.iter(f"{SVG}rect") if one.get("height") == "14"] == []


def test_no_two_texts_of_marks_stand_on_one_line():
    marks = [Mark(hours, f"mark {hours}") for hours in (1.0, 1.01, 1.02, 1.03)]
    rows = [one.get("y") for one in drawn(marks).iter(f"{SVG}text") if (one.text or "").startswith("mark")]
    assert len(set(rows)) == len(marks)


@pytest.mark.parametrize("hours", [0.05, 0.4, 1.4, 9.0, 30.0, 200.0, 3000.0])
def test_few_ticks_and_each_inside_the_picture(hours: float):
    picture = drawn([Mark(hours, "x")], (hours, hours))
    ticks = [one for one in texts(picture) if one not in ("x",)]
    assert ticks[0] == "now"
    assert 2 <= len(ticks) <= 9
    assert len(set(ticks)) == len(ticks)


def test_it_says_itself_and_what_it_says_is_escaped():
    markup = time_line.svg(MARKS, (1.0, 2.0), 'a "b" <c>', Reader())
    assert re.search(r'aria-label="a &quot;b&quot; &lt;c&gt;"', markup)
