from dataclasses import replace
from datetime import date

import pytest
from hand_made_garden import garden

from aquacalc.garden.model import Away, Garden
from aquacalc.schedule import absences

# 2027-07-01 is a Thursday.
HOLIDAY = Away(date(2027, 7, 1), date(2027, 7, 14), "a neighbour")


def with_away(*away: Away, setting: str = "home") -> Garden:
    made = garden()
    return replace(made, away=away, site=replace(made.site, setting=setting))  # type: ignore[arg-type]


@pytest.mark.parametrize(("setting", "day"), [("home", 5), ("community", 5), ("school", 1)])
def test_the_garden_day(setting: str, day: int):
    assert absences.garden_day(with_away(setting=setting)) == day


def test_a_day_at_home_stays():
    assert absences.moved(date(2027, 6, 30), with_away(HOLIDAY)) == (date(2027, 6, 30), None)
    assert absences.moved(date(2027, 7, 15), with_away(HOLIDAY)) == (date(2027, 7, 15), None)


@pytest.mark.parametrize(
    ("planned", "done"),
    [
        (date(2027, 7, 2), date(2027, 6, 26)),  # the Saturday before is nearer
        (date(2027, 7, 5), date(2027, 6, 26)),  # nine days to the Saturday before, ten to the first day after
        (date(2027, 7, 6), date(2027, 7, 15)),
        (date(2027, 7, 14), date(2027, 7, 15)),
    ],
)
def test_what_falls_into_an_absence_goes_to_its_nearer_end(planned: date, done: date):
    assert absences.moved(planned, with_away(HOLIDAY)) == (done, planned)


def test_of_two_ends_as_near_the_earlier_one():
    short = with_away(Away(date(2027, 7, 1), date(2027, 7, 5)))
    assert absences.moved(date(2027, 7, 1), short)[0] == date(2027, 6, 26)


def test_a_school_moves_to_its_tuesday():
    assert absences.moved(date(2027, 7, 2), with_away(HOLIDAY, setting="school"))[0] == date(2027, 6, 29)


def test_absences_in_a_row_count_as_one():
    second = Away(date(2027, 7, 15), date(2027, 7, 20))
    assert absences.moved(date(2027, 7, 14), with_away(HOLIDAY, second))[0] == date(2027, 7, 21)
    assert absences.moved(date(2027, 7, 15), with_away(second, HOLIDAY))[0] == date(2027, 7, 21)


def test_an_absence_that_holds_the_saturday_before_is_looked_past():
    short = Away(date(2027, 6, 26), date(2027, 6, 27))
    assert absences.around(date(2027, 7, 2), with_away(short, HOLIDAY)) == (
        date(2027, 6, 19),
        date(2027, 7, 15),
    )


def test_nothing_moves_to_before_the_plan():
    at_the_start = Away(date(2026, 12, 30), date(2027, 1, 30))
    assert absences.moved(date(2027, 1, 2), with_away(at_the_start)) == (date(2027, 1, 31), date(2027, 1, 2))
    assert absences.moved(date(2026, 12, 31), with_away(at_the_start)) == (date(2026, 12, 31), None)


def test_who_looks_after_the_garden():
    nobody = Away(date(2027, 9, 1), date(2027, 9, 2))
    away = with_away(HOLIDAY, nobody)
    days = (date(2027, 7, 3), date(2027, 9, 2), date(2027, 9, 3))
    assert [absences.who(day, away) for day in days] == ["a neighbour", "", None]
