"""From what a season begins is said, whether a log tells or nothing does."""

from dataclasses import replace
from datetime import date

import pytest
from yard import yard

from aquacalc import words
from aquacalc.garden.model import Measured, StartUp
from aquacalc.season import start
from aquacalc.season.from_log import start as begun
from aquacalc.season.start import Start
from aquacalc.sentences import first_day

READER = words.Reader()


def said(garden=None, begin=None) -> str:
    garden = garden or yard()
    return first_day.sentence(garden, begin or begun(garden, None, None), READER).replace("\xa0", " ")


def test_without_a_log_it_says_that_all_is_assumed_and_what():
    text = said()
    assert "Nothing was noted" in text
    for value in ("pH 7.0", "alkalinity 24 mg/L", "nitrate 14 to 45 mg/L", "iron"):
        assert value in text


def test_what_the_file_measured_is_known_and_not_assumed():
    garden = replace(yard(), measured=(Measured("ph", 6.4, "", date(2027, 2, 1)),))
    known, assumed = said(garden).split("Assumed:")
    assert "pH 6.4" in known
    assert "pH" not in assumed


def test_a_log_that_tells_all_leaves_nothing_to_assume():
    read = {"ph": 6.8, "alkalinity_mg_l": 70.0, "tan_mg_l": 0.1, "nitrite_mg_l": 0.02, "nitrate_mg_l": 30.0}
    text = said(begin=Start(read))
    assert "Assumed" not in text
    assert "nitrate 30 mg/L" in text
    assert "draws its own: potassium" in text
    assert "filter" not in text


def test_a_new_filter_is_told_as_new():
    assert "The filter is new" in said(replace(yard(), start_up=StartUp("new")))


@pytest.mark.parametrize("name", [*start.usual_water(yard()), *start.usual_drawn(yard())])
def test_every_assumed_value_has_its_words(name: str):
    assert name in first_day.KINDS
