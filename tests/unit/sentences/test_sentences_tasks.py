"""Entries in words: every key has its sentences, and a chemical is never more than a test."""

import re
from datetime import date
from typing import get_args

import pytest
from hand_made_garden import garden

from aquacalc import tables
from aquacalc.agenda.jobs import TOLD_OTHERWISE, Entry, ExpectedKey
from aquacalc.agenda.supplies import Kind
from aquacalc.agenda.when import When, on
from aquacalc.garden.model import Disinfectant, Garden
from aquacalc.schedule.task import TaskKey
from aquacalc.sentences import tasks
from aquacalc.words import NO_BREAK_SPACE, Reader

KEYS = [key for key in (*get_args(TaskKey), *get_args(ExpectedKey)) if key not in TOLD_OTHERWISE]
FISH = ("stock", "fast", "take", "feed_stop", "feed_again", "feed", "bag", "of_size")
CHEMICALS = [row.text("name") for row in tables.load("chemicals")]

METRIC, US = Reader(), Reader(units="us")


def entry(key: str, **fields: object) -> Entry:
    subject, place = ("Perch", "Pool") if key in FISH else ("basil", "North bed")
    if key in ("test", "filter_food", "other_water"):
        subject = place = ""
    if key == "supplement":
        subject, place = "iron", ""
    if key == "change":
        subject, place = "chlorine", ""
    whole: dict[str, object] = {
        "day": date(2027, 3, 6),
        "last": date(2027, 3, 19) if key in ("pick", "pick_once", "of_size") else date(2027, 3, 6),
        "key": key,
        "subject": subject,
        "place": place,
        "mark": "",
        "count": 12.0,
        "grams": 13.0,
        "low_g": 9.9,
        "high_g": 15.2,
        "spoon_g": 5.0,
        "under": 0.5,
        "to": 1.0,
        "during": (date(2027, 7, 1), date(2027, 8, 9)),
        "low_l": 900.0,
        "high_l": 1800.0,
    }
    return Entry(**(whole | fields))  # type: ignore[arg-type]


def what(key: str, reader: Reader = METRIC, **fields: object) -> str:
    return tasks.what(entry(key, **fields), garden(), reader).replace(NO_BREAK_SPACE, " ")


def more(key: str, of: Garden | None = None, **fields: object) -> str:
    return " ".join(tasks.more(entry(key, **fields), of or garden(), METRIC)).replace(NO_BREAK_SPACE, " ")


@pytest.mark.parametrize("key", KEYS)
def test_every_entry_is_one_sentence(key: str):
    for reader in (METRIC, US):
        said = what(key, reader)
        assert re.fullmatch(r"[A-Z][^\n]*\.", said), said
        assert "{" not in said + more(key)


@pytest.mark.parametrize("key", KEYS)
def test_no_entry_orders_a_chemical_without_a_test(key: str):
    said = f"{what(key)} {more(key)}"
    named = [name for name in CHEMICALS if name.casefold() in said.casefold()]
    if key == "filter_food":
        assert named == ["Ammonium chloride"]
        assert what(key).startswith("Test ammonia and nitrite, then ")
        assert "Only with ammonia under 0.5 mg/L as N and nitrite under 5 mg/L as N" in said
        assert "a new test before the next portion" in said
    else:
        assert named == []
    if key in ("filter_food", "test"):
        assert ", then " in what(key)
        assert "“Doses for this garden”" in said


def test_what_is_given_has_its_lines_from_the_plan():
    assert "up to 2 mg/L as N" in more("filter_food", to=2.0)
    assert "Only under 0.5 mg/L: then up to 1 mg/L" in more("supplement")
    base = more("supplement", subject="base", under=6.8, to=7.0)
    assert "Only under 6.8, and while no ammonia shows: then up to 7.0, a portion and a new test" in base


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_supply_is_a_test_first(kind: str):
    if kind != "filter_food":
        assert what("supplement", subject=kind).startswith("Test ")
        assert ", then " in what("supplement", subject=kind)
        assert "a new test" in more("supplement", subject=kind)


@pytest.mark.parametrize("disinfectant", get_args(Disinfectant))
def test_water_is_changed_after_a_test_and_the_new_water_is_treated_first(disinfectant: str):
    assert (
        what("change", subject=disinfectant)
        == "Test nitrate, then see whether 1800 L of water want changing."
    )
    said = more("change", subject=disinfectant, under=80.0)
    assert "Only above 80 mg/L as N" in said
    assert ("treat" in said) or ("Take the chlor" in said)


def test_other_water_is_asked_for_before_the_barrel_is_dry():
    assert what("other_water") == "Have other water ready by now: the rain barrel is dry 1 Jul to 9 Aug."
    assert "900 to 1800 L are missing" in more("other_water")


def test_feed_in_grams_and_spoons():
    fed = "Feed Perch in Pool 13 g/day from this day on: "
    assert what("feed", spoons=2.5) == f"{fed}2½ level spoons."
    assert what("feed", spoons=1.0) == f"{fed}1 level spoon."
    assert what("feed") == f"{fed}on the scales."
    assert what("bag", spoons=2.5).endswith("13 g/day from this day on, 2½ level spoons in each.")
    assert "A level spoon holds about 5 g." in more("feed")
    assert "one a day at most" in more("bag")


def test_fish_that_wait_for_tests_come_on_no_day():
    assert what("stock", waits=True).startswith("Two good tests a day apart, then 12 Perch may come")
    assert "Ammonia and nitrite both under their lines" in more("stock", waits=True)


def test_fish_that_would_not_live_leave_by_a_day():
    for why in ("heat", "cold"):
        assert what("take", why=why).endswith(
            f"by this day, all that are left: they do not live through the {why} that follows."
        )


def test_an_absence_says_who_comes_or_that_nobody_does():
    said = what("visit", subject="a neighbour", last=date(2027, 3, 12))
    assert said == "Away until 12 March 2027. Visits: a neighbour."
    assert "weigh the bags" in more("visit", subject="a neighbour")
    assert what("visit", subject="", last=date(2027, 3, 12)).endswith("and nobody looks after the garden.")
    assert "bags" not in more("visit", subject="")


def test_days_of_the_tries_stand_beside_the_day():
    span = When(date(2027, 3, 6), date(2027, 3, 1), date(2027, 3, 20))
    assert more("feed_stop", span=span) == "By the tries it may be 1 to 20 Mar."
    assert more("feed_stop", span=on(date(2027, 3, 6))) == ""


def test_counts_and_names():
    assert what("stock") == "Put 12 Perch into Pool."
    assert what("sow") == "Sow 12 seeds of Basil for North bed."
    assert what("take") == "Take Perch out of Pool, all that are left."
    assert more("take") == "By the plan these are about 12."
    assert more("take", count_low=10.0, count_high=13.0) == "By the plan these are about 12 (10 to 13)."


def test_spans_are_told_with_both_ends():
    assert "between 6 March 2027 and 19 March 2027" in what("pick")
    assert "between March 6, 2027 and March 19, 2027" in what("of_size", US)
    assert "on 6 March 2027" in what("pick_once", last=date(2027, 3, 6))
    assert what("pick", low_g=400.0, high_g=820.0).endswith("in all 400 to 820 g.")


def test_water_is_told_as_what_to_measure():
    assert "leaves 12 to 33 °C" in what("feed_stop")
    assert "measure" in what("feed_stop")
    assert "54 to 91" in what("feed_again", US) or "53.6 to 91.4 °F" in what("feed_again", US)


def test_absences_are_told():
    assert more("sow") == ""
    assert more("sow", moved_from=date(2027, 3, 9)) == "Moved from 9 March 2027, which falls into an absence."
    assert more("sow", away="a neighbour") == "You are away on this day. Visits: a neighbour."
    assert more("sow", away="") == "You are away on this day, and nobody looks after the garden."
