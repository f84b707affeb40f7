"""The map of un-ionised ammonia: lines where levels begin, one ink, the reading and its tries in place."""

import itertools
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from aquacalc import words
from aquacalc.advice.reading import cloud, given, judge
from aquacalc.charts import ammonia_map
from aquacalc.charts.ammonia_map import FOOT, LEFT, RIGHT, TOP, Map, Mark
from aquacalc.charts.canvas import NARROW
from aquacalc.judge import lines
from aquacalc.words import Reader

READER, US = Reader(), Reader(units="us")
MARKS = (
    Mark("base", 7.8, 26.0),
    Mark("strong air", 8.1, 26.0),
    Mark("5 C warmer", 7.6, 31.0),
    Mark("water change, as if pH 7.1", 7.1, 26.0),
    Mark("all of them", 8.0, 31.0),
)


def a_map(*typed: str, marks: tuple[Mark, ...] = MARKS) -> Map:
    found = judge.judge(given.read([*(typed or ("tan=2 N", "ph=7.6", "temp=26 C")), "fish=warm"]))
    tan = found.given.value("tan")
    return Map(
        tan,
        lines.levels_from("unionised_ammonia", found.given.species),
        found.ph,
        found.temperature_c,
        cloud.cloud_of(found),
        marks,
    )


def texts(of: Map, reader: Reader = READER) -> list[str]:
    written = ammonia_map.canvas(of, reader).written
    return [one.text.replace(words.NO_BREAK_SPACE, " ") for one in written if one.text]


@pytest.mark.parametrize("reader", [READER, US], ids=["metric", "us"])
def test_it_is_a_sound_picture_with_a_text_alternative(reader: Reader):
    root = ET.fromstring(ammonia_map.ammonia_map(a_map(), reader, "The answer"))
    assert root[1].text == "The answer"
    assert "act today from 0.05" in (root.get("aria-label") or "").replace(words.NO_BREAK_SPACE, " ")
    turned = [one.text or "" for one in root.iter() if "rotate" in (one.get("transform") or "")]
    assert any(text.startswith("act today") for text in turned)


def test_a_line_lies_where_the_ammonia_is_its_value():
    x, y = ammonia_map.contour(0.05, 2.0)
    ph = 5.5 + (x - LEFT) / (RIGHT - LEFT) * 4.0
    temperature_c = (FOOT - y) / (FOOT - TOP) * 36.0
    at_26 = float(np.interp(26.0, temperature_c, ph))
    assert at_26 == pytest.approx(float(cloud.counts_as_ph(0.05, 2.0, 26.0)), abs=0.01)
    assert list(np.sign(np.diff(x))) == [-1.0] * (x.size - 1)  # warmer water needs less pH for as much


def test_a_line_that_lies_outside_is_not_drawn_and_is_said():
    low = a_map("tan=0.05 N", "ph=7", "temp=10 C")
    assert ammonia_map.contour(0.15, low.tan_mg_l)[0].size == 0
    assert "outside of the picture" in ammonia_map.describe(low, READER)
    assert ammonia_map.ammonia_map(low, READER, "")


def test_axes_stay_whatever_is_read():
    near, far = a_map(), a_map("tan=5 N", "ph=9.8", "temp=38 C", marks=())
    numbers = [text for text in texts(near) if text.replace(".", "").isdigit()]
    assert numbers == [text for text in texts(far) if text.replace(".", "").isdigit()]
    assert "9.5" in numbers


def test_every_mark_has_its_words_and_none_lies_on_another():
    for read in ((), ("tan=6 N", "ph=8.4", "temp=8 C"), ("tan=0.3 N", "ph=6.0", "temp=34 C")):
        of = a_map(*read)
        written = [one for one in ammonia_map.canvas(of, READER).written if one.text]
        assert {one.text for one in MARKS} <= {one.text for one in written}
        for one, other in itertools.combinations(written, 2):
            assert not replace(one, y=one.y + 1.0, y2=one.y2 - 1.0).touches(other), (one, other)
        for one in written:
            assert one.x >= 0.0
            assert one.x2 <= ammonia_map.WIDTH


def test_the_narrow_map_has_letters_at_its_crosses_and_a_list_of_them():
    picture = ammonia_map.canvas(a_map(), READER, ammonia_map.PHONE)
    said = [one.text for one in picture.written if one.text]
    for letter, one in zip("ABCDE", MARKS, strict=True):
        assert said.count(letter) == 1
        assert f"{letter}: {one.text}" in said
    for one in picture.written:
        assert one.x >= 0.0
        assert one.x2 <= NARROW
        assert one.y2 <= picture.height


def test_it_has_one_ink_and_no_colour():
    picture = ammonia_map.ammonia_map(a_map(), READER, "")
    inks = {part.split('"')[0] for part in picture.split("#")[1:] if len(part.split('"')[0]) == 6}
    assert inks
    assert all(ink[:2] == ink[2:4] == ink[4:] for ink in inks)
