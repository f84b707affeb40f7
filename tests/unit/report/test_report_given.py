"""What a run takes from its options and from the log beside the garden."""

import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places
from aquacalc.report import given
from aquacalc.words import Reader

MADE = "2027-02-20"
HEAD = "date,pH,ammonia (mg/L as N),nitrite (mg/L as N),nitrate (mg/L as N),alkalinity (mg/L CaCO3)"
FISH = f"{HEAD},counted,weight (g),dead,taken"

Garden = Callable[..., str]


@pytest.fixture
def yard(tmp_path: Path) -> Garden:
    """A copy of the yard with a log of the test's own."""

    def copied(*log: str, change: Callable[[str], str] = str) -> str:
        text = places.garden_path("demo:yard").read_text("utf-8")
        (tmp_path / "garden.toml").write_text(change(text), "utf-8")
        if log:
            (tmp_path / "log.csv").write_text("\n".join(log) + "\n", "utf-8")
        return str(tmp_path)

    return copied


def refusal(*arguments: str) -> Problem:
    with pytest.raises(InputError) as caught:
        given.opened(*arguments, made=MADE)
    (problem,) = caught.value.problems
    return problem


# --- the span of the plan ---------------------------------------------------------------------------------


def test_the_units_and_the_start_win_over_the_file():
    found = given.opened("demo:yard", "metric", "2027-06-15", MADE)
    assert found.garden.season.start == date(2027, 6, 15)
    assert found.garden.season.end == date(2028, 2, 28)  # the file's own
    assert found.reader.units == found.garden.reader.units == "metric"
    assert len(found.digest) == 64
    assert found.made == date(2027, 2, 20)


def test_without_options_the_plan_is_the_file_s():
    found = given.opened("demo:yard", made=MADE)
    assert (found.garden.season.start, found.garden.season.end) == (date(2027, 3, 1), date(2028, 2, 28))
    assert found.reader.units == "us"


def test_a_start_before_the_season_gives_a_year():
    found = given.opened("demo:yard", start="2026-10-01", made=MADE)
    assert (found.garden.season.start, found.garden.season.end) == (date(2026, 10, 1), date(2027, 9, 30))


def test_a_plan_needs_four_weeks():
    assert given.opened("demo:yard", start="2028-02-01", made=MADE).garden.season.end == date(2028, 2, 28)
    problem = refusal("demo:yard", "", "2028-02-02")
    assert problem.key == "problem-start-late"
    assert words.problem(problem, Reader()) == (
        "start: 2028-02-02 leaves fewer than 28 days until the plan ends on 2028-02-28; "
        "the latest first day is 2028-02-01."
    )


def test_a_species_that_cannot_live_here_is_refused(yard: Garden):
    def hot(text: str) -> str:
        text = text.replace('species = "channel_catfish"\ncount', 'species = "rainbow_trout"\ncount')
        text = re.sub("air_max_f = .*", f"air_max_c = {[36] * 12}", text)
        return re.sub("air_min_f = .*", f"air_min_c = {[30] * 12}", text)

    problem = refusal(yard(change=hot))
    assert (problem.key, problem.where) == ("problem-species-cannot-live", "fish 1 species")


# --- the log ----------------------------------------------------------------------------------------------


def test_readings_of_the_log_begin_the_season(yard: Garden):
    name = yard(HEAD, "2027-02-10,7.8,0.5,0.1,20,180", "2027-02-25,7.4,0.2,,,")
    found = given.opened(name, made=MADE)
    assert found.standing is not None
    assert given.start(found).water == {
        "ph": 7.4,
        "tan_mg_l": 0.2,
        "nitrite_mg_l": 0.1,
        "nitrate_mg_l": 20.0,
        "alkalinity_mg_l": 180.0,
    }


def test_later_readings_and_old_ones_do_not(yard: Garden):
    name = yard(HEAD, "2026-12-01,7.8,0.5,,,", "2027-03-02,7.4,0.2,,,")
    assert given.start(given.opened(name, made=MADE)).water == {}
    assert given.start(given.opened(name, start="2027-03-10", made=MADE)).water == {
        "ph": 7.4,
        "tan_mg_l": 0.2,
    }


def test_fish_are_taken_over_as_counted_and_weighed(yard: Garden):
    name = yard(FISH, "2027-04-10,7.5,,,,,40,,,", "2027-05-20,7.5,,,,,,120,2,")
    begun = given.start(given.opened(name, start="2027-06-01", made=MADE))
    assert begun.counts == {"spring catfish": 38.0}
    assert begun.weights_g == {"spring catfish": 120.0}


def test_an_old_sample_says_nothing_about_the_weight(yard: Garden):
    name = yard(FISH, "2027-04-10,7.5,,,,,40,60,,")
    begun = given.start(given.opened(name, start="2027-06-01", made=MADE))
    assert (begun.counts, begun.weights_g) == ({"spring catfish": 40.0}, {})


def test_a_batch_that_was_all_taken_begins_empty(yard: Garden):
    name = yard(FISH, "2027-04-10,7.5,,,,,40,60,,", "2027-05-20,7.5,,,,,,,,40")
    assert given.start(given.opened(name, start="2027-06-01", made=MADE)).counts == {"spring catfish": 0.0}


def test_without_a_log_nothing_is_taken_over(yard: Garden):
    found = given.opened(yard(), made=MADE)
    assert (found.log, found.standing) == (None, None)
    begun = given.start(found)
    assert [*begun.water, *begun.counts, *begun.weights_g] == []


def test_a_log_that_begins_later_is_refused_only_for_a_day_of_choice(yard: Garden):
    name = yard(HEAD, "2027-05-01,7.8,0.5,0.1,20,180")
    plain = given.opened(name, made=MADE)
    assert plain.log is not None
    assert plain.standing is None
    problem = refusal(name, "", "2027-04-30")
    assert words.problem(problem, Reader()) == (
        "log.csv: the log says nothing about 2027-04-30; its first day is 2027-05-01, begin there or later."
    )
    assert given.opened(name, start="2027-05-01", made=MADE).standing is not None


def test_a_log_without_rows(yard: Garden):
    name = yard(HEAD)
    assert given.opened(name, made=MADE).standing is None
    assert given.opened(name, start="2027-04-30", made=MADE).standing is None


def test_problems_of_the_log_are_told(yard: Garden):
    assert refusal(yard("weather,pH", "sunny,7")).key == "problem-log-no-header"


def test_repairs_do_not_stop_a_season_and_doubts_stay_out_of_it(yard: Garden):
    name = yard(HEAD.replace(",", ";"), "25.02.2027;7,0;<0,3;;;178", "27.02.2027;68;;;;")
    begun = given.start(given.opened(name, made=MADE))
    assert begun.water == {"ph": 7.0, "tan_mg_l": 0.3, "alkalinity_mg_l": 178.0}


@pytest.mark.parametrize(
    ("row", "water"),
    [
        ("2027-02-25,7.0,,,,0", {"ph": 7.0, "alkalinity_mg_l": 1.0}),
        # No water of so little alkalinity has such a pH: one of the two was misread.
        ("2027-02-25,11.8,,,,20", {"alkalinity_mg_l": 20.0}),
        ("2027-02-25,11.8,,,,", {}),
        ("2027-02-25,8.6,,,,20", {"ph": 8.6, "alkalinity_mg_l": 20.0}),
    ],
)
def test_readings_with_which_no_season_can_begin(yard: Garden, row: str, water: dict[str, float]):
    assert given.start(given.opened(yard(HEAD, row), made=MADE)).water == water


def test_a_demo_garden_has_its_log(tmp_path: Path):
    found = given.opened("demo:southern", made=MADE)
    begun = given.start(found)
    assert begun.water["ph"] == 6.8
    assert begun.water["tan_mg_l"] == 0.4
    copy = tmp_path / "southern"
    shutil.copytree(Path(places.garden_path("demo:southern")).parent, copy)
    assert given.start(given.opened(str(copy), made=MADE)) == begun


def test_a_feed_beyond_what_the_fish_eat_is_refused_from_log_and_file(yard: Garden):
    in_log = refusal(yard("date,feed (g)", "2027-02-18,5000"))
    assert (in_log.key, in_log.where) == ("problem-feed-above", "log.csv feed, 2027-02-18")

    def measured(text: str) -> str:
        return f'{text}\n[[measured]]\nwhat = "feed"\nvalue = "5 kg/day"\nday = 2027-02-01\n'

    assert refusal(yard("date,feed (g)", "2027-02-18,120", change=measured)).where == "measured feed"
    assert given.opened(yard("date,feed (g)", "2027-02-18,120"), made=MADE).standing is not None
