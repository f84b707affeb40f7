"""What a season takes over from a log, and what was done otherwise than planned."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.logbook.read import beside, read
from aquacalc.logbook.today import CropNoted, Difference, FishNow, Known, differences, standing

START = date(2027, 6, 1)
BATCH = yard().fish[0]  # "spring": 40 fish on 2027-04-01, to be taken out at 600 g
UNTIL = date(2027, 10, 1)
PLANNED_OUT = replace(yard(), fish=(replace(BATCH, until=UNTIL),))

Reader = Callable[..., Log]


@pytest.fixture
def log(tmp_path: Path) -> Reader:
    def made(text: str, garden: Garden | None = None) -> Log:
        path = tmp_path / "log.csv"
        path.write_text(text, "utf-8")
        return read(path, garden or yard())

    return made


# --- standing ----------------------------------------------------------------------------------------------


def test_the_yard_on_the_first_day_of_its_plan():
    file = GardenFile.open("demo:yard")
    log = beside(file.path, file.garden)
    assert log is not None
    found = standing(file.garden, log, file.garden.season.start)
    last = date(2027, 2, 27)
    assert found.water["water_c"] == Known(pytest.approx(10.0), last)
    assert found.water["ph"] == Known(7.8, last)
    assert found.water["alkalinity_mg_l"] == Known(200.0, last)
    assert found.water["nitrate_mg_l"].value == pytest.approx(8.0 * 14.007 / 62.004, rel=1e-4)
    assert found.missing == {"oxygen_mg_l": "no reading"}
    assert found.feed == Known(0.0, last)
    assert found.fish == ()  # they come in April


def test_readings_without_a_basis_are_not_known_in_the_classroom():
    file = GardenFile.open("demo:classroom")
    log = beside(file.path, file.garden)
    assert log is not None
    found = standing(file.garden, log, file.garden.season.start)
    assert found.missing == {"nitrate_mg_l": "basis", "oxygen_mg_l": "no reading"}
    assert found.water["nitrite_mg_l"].value == 0.0  # nothing, whatever it counts
    assert found.fish == (FishNow("goldfish", 12),)


def test_readings_count_for_thirty_days_each_by_its_own_day(log: Reader):
    made = log("date,pH,oxygen\n2027-05-01,7,8\n2027-05-02,,7\n2027-06-01,7.4,\n2027-06-02,5,\n")
    found = standing(yard(), made, START)
    assert found.water == {"ph": Known(7.4, START), "oxygen_mg_l": Known(7.0, date(2027, 5, 2))}
    late = standing(yard(), made, date(2027, 6, 2))
    assert late.missing["oxygen_mg_l"] == "too old"
    assert late.water["ph"].value == 5.0


def test_a_bounded_reading_says_so(log: Reader):
    made = log("date,nitrite (as N)\n2027-06-01,>2\n")
    assert standing(yard(), made, START).water["nitrite_mg_l"] == Known(2.0, START, "above")


def test_feed_is_the_last_that_was_noted(log: Reader):
    made = log("date,feed (g),pH\n2027-05-20,90,\n2027-05-25,,7\n2027-06-02,50,\n")
    assert standing(yard(), made, START).feed == Known(90.0, date(2027, 5, 20))
    assert standing(yard(), log("date,pH\n2027-05-20,7\n"), START).feed is None


@pytest.mark.parametrize(
    ("rows", "count"),
    [
        ("2027-05-01,,,,", 40),  # as planned
        ("2027-05-01,,3,,\n2027-05-10,,,2,", 35),
        ("2027-04-05,,,,38\n2027-05-01,,3,,", 35),  # came late, and fewer
        ("2027-03-20,,,,20\n2027-04-05,,,,18\n2027-05-01,,3,,", 35),  # in two parts
        ("2027-04-05,,,,38\n2027-05-01,30,3,,\n2027-05-02,,1,,", 29),  # the count holds the dead of its day
        ("2027-05-01,30,,,\n2027-05-02,,,,5", 35),
        ("2027-05-01,30,,,\n2027-06-02,,9,,", 30),  # not yet
        ("2026-05-01,33,5,9,40\n2027-05-01,,1,,", 39),  # fish of the year before
    ],
)
def test_fish_are_counted_on_from_the_last_count_or_from_the_stocking(log: Reader, rows: str, count: int):
    made = log(f"date,counted,dead,taken,stocked\n{rows}\n")
    found = standing(yard(), made, START).fish
    assert found == (FishNow("spring", count),)


def test_fish_that_came_late_are_not_there_before(log: Reader):
    made = log("date,stocked\n2027-04-02,\n2027-05-20,40\n")
    assert standing(yard(), made, date(2027, 5, 19)).fish == ()
    assert standing(yard(), made, date(2027, 5, 20)).fish == (FishNow("spring", 40),)


def test_fish_that_are_not_there_are_left_out(log: Reader):
    made = log("date,counted\n2027-03-01,\n2027-05-30,0\n")
    assert standing(yard(), made, date(2027, 3, 31)).fish == ()
    assert standing(yard(), made, date(2027, 4, 1)).fish == (FishNow("spring", 40),)
    assert standing(yard(), made, START).fish == ()


def test_weights_are_those_of_the_last_sample(log: Reader):
    made = log("date,fish weight (g)\n2026-08-01,500\n2027-05-01,90\n2027-05-20,120\n2027-06-20,200\n")
    assert standing(yard(), made, START).fish == (FishNow("spring", 40, 120.0, date(2027, 5, 20)),)


def test_several_samples_of_a_day_count_together(log: Reader):
    made = log("date,time,fish weight (g)\n2027-05-01,,90\n2027-05-20,08:10,120\n2027-05-20,09:00,130\n")
    assert standing(yard(), made, START).fish == (FishNow("spring", 40, 125.0, date(2027, 5, 20)),)


def test_crops_that_were_picked(log: Reader):
    made = log(
        "date,picked okra (kg),picked capsicum (kg)\n2027-05-01,,0.4\n2027-05-08,1,0\n2027-05-15,1.5,\n"
    )
    assert standing(yard(), made, START).crops == (
        CropNoted("capsicum", 400.0, date(2027, 5, 1), date(2027, 5, 1)),
        CropNoted("okra", 2500.0, date(2027, 5, 8), date(2027, 5, 15)),
    )


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        (
            "2027-06-02,7\n2027-06-09,7\n",
            "log.csv: the log says nothing about 2027-06-01; its first day is 2027-06-02, "
            "begin there or later.",
        ),
        ("", "log.csv: the log holds no day yet, so it says nothing about 2027-06-01; write a first row."),
    ],
)
def test_a_log_that_does_not_reach_back_to_the_day(log: Reader, rows: str, sentence: str):
    made = log(f"date,pH\n{rows}")
    with pytest.raises(InputError) as caught:
        standing(yard(), made, START)
    assert [words.problem(one, words.Reader()) for one in caught.value.problems] == [sentence]


# --- differences -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_the_demo_logs_have_no_column_that_shows_a_difference(name: str):
    file = GardenFile.open(f"demo:{name}")
    log = beside(file.path, file.garden)
    assert log is not None
    assert differences(file.garden, log) == []


def test_all_as_planned(log: Reader):
    made = log("date,stocked,counted\n2027-04-01,40,\n2027-05-01,,40\n")
    assert differences(yard(), made) == []


def test_stocked_later_and_fewer(log: Reader):
    made = log("date,stocked\n2027-04-09,20\n2027-04-11,15\n")
    assert differences(yard(), made) == [
        Difference(date(2027, 4, 9), "stocked_day", "spring", date(2027, 4, 1), date(2027, 4, 9)),
        Difference(date(2027, 4, 11), "stocked_count", "spring", 40, 35),
    ]


def test_fish_that_are_added_long_after_are_no_difference_of_the_stocking(log: Reader):
    assert differences(yard(), log("date,stocked\n2027-06-30,5\n")) == []


def test_taken_before_the_planned_day(log: Reader):
    text = "date,taken,fish weight (g)\n2027-08-01,3,400\n2027-09-30,2,\n2027-10-01,4,\n"
    assert differences(PLANNED_OUT, log(text)) == [
        Difference(date(2027, 8, 1), "taken_early", "spring", UNTIL, 3),
        Difference(date(2027, 9, 30), "taken_early", "spring", UNTIL, 2),
    ]
    assert differences(yard(), log(text)) == []  # no day is planned


def test_fish_at_their_final_weight_are_not_taken_early(log: Reader):
    assert differences(PLANNED_OUT, log("date,taken,fish weight (g)\n2027-08-01,3,610\n")) == []


def test_losses_are_told_once_with_the_last_evidence(log: Reader):
    rows = ("2027-04-01,40,,,", "2027-05-01,,2,,", "2027-06-01,,,5,", "2027-07-01,,,,30")
    text = "\n".join(("date,stocked,dead,taken,counted", *rows))
    assert differences(yard(), log(text)) == [Difference(date(2027, 7, 1), "count_low", "spring", 35, 30)]


def test_fish_that_were_taken_or_never_came_are_no_losses(log: Reader):
    text = "date,stocked,taken,counted\n2027-04-01,35,,\n2027-06-01,,5,\n2027-07-01,,,30\n"
    assert [one.key for one in differences(yard(), log(text))] == ["stocked_count"]
