import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import plans
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import crop_batch, on, season

from aquacalc.agenda import beds, jobs
from aquacalc.agenda.jobs import Entry
from aquacalc.agenda.ration import Ration
from aquacalc.agenda.stocking import Leaving, Stocking
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.schedule.task import Task
from aquacalc.season.result import SeasonRun

FIRST = date(2027, 3, 1)
SATURDAY = date(2027, 3, 6)


def of(run: SeasonRun, garden_: Garden | None = None, *given: Task) -> list[Entry]:
    whose = garden_ or garden()
    return list(jobs.entries_of(run, whose, given, grown=beds.beds(run, whose)))


# --- tasks of the schedule --------------------------------------------------------------------------------


def test_tasks_keep_their_day_and_what_an_absence_moved():
    moved = Task(SATURDAY, "sow", "basil", "North bed", 12.0, moved_from=date(2027, 3, 9), away="")
    (entry,) = of(season(fish=[{}]), None, moved)
    assert (entry.day, entry.last, entry.key, entry.count) == (SATURDAY, SATURDAY, "sow", 12.0)
    assert entry.moved_from == date(2027, 3, 9)
    assert entry.away == ""
    assert entry.of_crop


def test_the_planned_day_tells_a_task_again_when_it_was_moved():
    planned = Task(date(2027, 3, 9), "sow", "basil", "North bed")
    moved = replace(planned, day=SATURDAY, moved_from=planned.day)
    assert of(season(fish=[{}]), None, planned)[0].mark == of(season(fish=[{}]), None, moved)[0].mark


@pytest.mark.parametrize("key", jobs.TOLD_OTHERWISE)
def test_what_is_told_otherwise_is_left_out(key: str):
    assert of(season(fish=[{}]), None, Task(SATURDAY, key, "basil", "North bed")) == []  # type: ignore[arg-type]


def test_a_batch_that_leaves_is_counted_by_the_tries():
    take = Task(date(2027, 3, 8), "take", "Perch", "Pool", 20.0)
    leaving = Leaving("Perch", "Pool", "silver_perch", take.day, 17, 15, 19, take.day)
    (entry,) = jobs.entries_of(season(fish=[{}]), garden(), [take], leavings=[leaving])
    assert (entry.count, entry.count_low, entry.count_high, entry.why) == (17.0, 15.0, 19.0, "")
    hot = replace(leaving, reason="heat")
    (entry,) = jobs.entries_of(season(fish=[{}]), garden(), [take], leavings=[hot])
    assert entry.why == "heat"


def test_fish_that_come_wait_for_tests_where_a_finding_holds_them_back():
    stock = Task(date(2027, 3, 8), "stock", "Perch", "Pool", 20.0)
    coming = Stocking("Perch", "Pool", "silver_perch", stock.day, 20, 50.0)
    for waits_for in ((), ("finding-nitrite-season-before-stocking",)):
        held = replace(coming, waits_for=waits_for)
        (entry,) = jobs.entries_of(season(fish=[{}]), garden(), [stock], stockings=[held])
        assert entry.waits is bool(waits_for)


# --- feed -------------------------------------------------------------------------------------------------


def ration(first: int, grams: float = 10.0, **fields: object) -> Ration:
    day = FIRST + timedelta(days=first)
    whole: dict[str, object] = {
        "batch": "Perch", "tank": "Pool", "first": day, "last": day + timedelta(days=6), "grams": grams,
        "spoons": 2.0, "spoon_g": 5.0, "low_g": 8.0, "high_g": 12.0, "weight_g": 100.0,
    }  # fmt: skip
    return Ration(**(whole | fields))  # type: ignore[arg-type]


def test_feed_stands_on_the_first_day_of_each_amount():
    found = jobs.entries_of(season(fish=[{}]), garden(), (), [ration(0), ration(7), ration(14, 15.0)])
    assert [(one.key, one.day, one.grams) for one in found] == [
        ("feed", FIRST, 10.0),
        ("feed", FIRST + timedelta(days=14), 15.0),
    ]
    assert (found[0].subject, found[0].place, found[0].spoons, found[0].spoon_g) == (
        "Perch",
        "Pool",
        2.0,
        5.0,
    )


def test_feed_in_an_absence_is_a_bag_and_none_is_no_entry():
    given = [ration(0, 0.0), ration(7, 5.0, away="a neighbour"), ration(14, 0.0, away="")]
    found = jobs.entries_of(season(fish=[{}]), garden(), (), given)
    assert [(one.key, one.grams, one.away) for one in found] == [("bag", 5.0, "a neighbour")]


# --- what the water tells ---------------------------------------------------------------------------------


def cooling(days: int, at: list[int], to_c: float = 5.0) -> np.ndarray:
    """Water that becomes too cold for perch on a day of its own in each try."""
    water = np.full((len(at), days), 20.0)
    for member, day in enumerate(at):
        water[member, day:] = to_c
    return water


def test_feeding_stops_on_the_day_of_the_middle_of_the_tries():
    run = season(days=60, fish=[{"count": 20.0}], water_c=cooling(60, [20, 25, 30, 35, 40]))
    (stop,) = [one for one in of(run) if one.key == "feed_stop"]
    assert stop.day == FIRST + timedelta(days=30)
    assert stop.span is not None
    assert FIRST < stop.span.first < stop.day < stop.span.last < FIRST + timedelta(days=50)


def test_feeding_begins_again_and_a_cold_day_stops_nothing():
    water = np.full((5, 60), 20.0)
    water[:, 10] = 5.0
    water[:, 20:40] = 5.0
    found = [
        (one.key, (one.day - FIRST).days)
        for one in of(season(days=60, fish=[{"count": 20.0}], water_c=water))
    ]
    assert found == [("feed_stop", 20), ("feed_again", 40)]


# --- beds are cleared -------------------------------------------------------------------------------------


def picked_until(days: int, last: list[int]) -> dict[str, np.ndarray]:
    picked, stands = np.zeros((5, days)), np.zeros((5, days))
    for member, day in enumerate(last):
        picked[member, 5 : day + 1] = 0.1
        stands[member, : day + 1] = 1.0
    return {"picked_kg": picked, "stands": stands}


def test_a_bed_is_cleared_on_a_garden_day_after_the_last_pick_of_nine_tries_in_ten():
    run = season(
        days=60,
        batches=[crop_batch("basil", days=50)],
        crops=[picked_until(60, [20, 22, 24, 26, 28])],
        fish=[{}],
    )
    (clear,) = [one for one in of(run) if one.key == "clear"]
    assert clear.span is not None
    assert (clear.span.day - FIRST).days == 24
    assert clear.span.last <= clear.day <= clear.span.last + timedelta(days=6)
    assert clear.day.weekday() == 5


def test_a_bed_is_cleared_no_later_than_the_batch_has_to_leave():
    leaves = [28] * 5
    run = season(days=60, batches=[crop_batch("basil", days=28)], crops=[picked_until(60, leaves)], fish=[{}])
    (clear,) = [one for one in of(run) if one.key == "clear"]
    assert clear.day == FIRST + timedelta(days=28)


def test_what_still_stands_on_the_last_day_is_not_cleared():
    run = season(
        days=60, batches=[crop_batch("basil", days=99)], crops=[picked_until(60, [59] * 5)], fish=[{}]
    )
    assert "clear" not in {one.key for one in of(run)}


# --- what is expected -------------------------------------------------------------------------------------


def test_first_picks_are_told_from_the_first_tenth_of_the_tries_to_the_last():
    picked = np.zeros((5, 40))
    for member, day in enumerate((14, 15, 16, 17, 18)):  # percentiles: days 14.4 and 17.6
        picked[member, day] = 1.0 + member
    run = season(days=40, batches=[crop_batch("basil")], crops=[{"picked_kg": picked}], fish=[{}])
    entry = of(run)[0]
    assert (entry.key, entry.subject, entry.place) == ("pick", "basil", "North bed")
    assert (entry.day, entry.last) == (date(2027, 3, 15), date(2027, 3, 19))
    assert (entry.low_g, entry.grams, entry.high_g) == pytest.approx((1400.0, 3000.0, 4600.0))


def test_a_crop_that_is_cut_once_says_so_and_one_that_is_rarely_picked_says_nothing():
    once = season(batches=[crop_batch("lettuce_leaf")], crops=[{"picked_kg": on(5, 1.0)}], fish=[{}])
    assert [one.key for one in of(once)] == ["pick_once"]
    rare = on(5, [1.0, 1.0, 0.0, 0.0, 0.0])
    assert of(season(batches=[crop_batch()], crops=[{"picked_kg": rare}], fish=[{}])) == []


def test_a_day_on_which_all_tries_agree_is_one_day():
    run = season(batches=[crop_batch()], crops=[{"picked_kg": on(1, 1.0)}], fish=[{}])
    assert of(run)[0].day == of(run)[0].last == date(2027, 3, 2)


def test_fish_of_size_are_expected_where_they_are_eaten():
    heavy = {"count": 20.0, "weight_g": np.linspace(450.0, 540.0, 10)}  # 500 g on day 5
    (entry,) = of(season(fish=[heavy], water_c=20.0))
    assert (entry.key, entry.subject, entry.grams) == ("of_size", "Perch", 500.0)
    assert entry.day == entry.last == SATURDAY
    made = garden()
    kept = replace(made, fish=(replace(made.fish[0], eaten=False),))
    assert of(season(fish=[heavy], water_c=20.0), kept) == []


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_entries_of_demo_gardens(name: str):
    run, agenda = seasons.season(name), plans.of_season(name).agenda
    assert agenda is not None
    found, last = agenda.entries, run.date(run.days - 1)
    assert [one.day for one in found] == sorted(one.day for one in found)
    assert all(run.first <= one.day <= one.last <= last for one in found)
    assert {"feed", "test"} <= {one.key for one in found}
    assert not any(math.isnan(one.grams) for one in found if one.key in ("feed", "bag"))
    assert all(one.key in jobs.ORDER for one in found)
    marks = [(one.key, one.subject, one.place, one.mark) for one in found if one.key in ("feed", "bag")]
    assert len(marks) == len(set(marks))


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_no_bed_is_cleared_before_the_last_pick_of_most_tries(name: str):
    agenda = plans.of_season(name).agenda
    assert agenda is not None
    cleared = [one for one in agenda.entries if one.key == "clear"]
    assert cleared
    assert any(one.span is not None for one in cleared)
    assert all(one.day >= one.span.last for one in cleared if one.span is not None)


# --- changes of water -------------------------------------------------------------------------------------


def test_water_is_changed_after_a_test_where_half_of_the_tries_change_it():
    whose = garden()
    whose = replace(whose, care=replace(whose.care, change_share=0.1, change_above_mg_l=80.0))
    run = season(days=20, fish=[{}])
    changed = np.zeros_like(run.daily["feed_g"])
    changed[:, 5] = 60.0
    changed[0, 12] = 60.0
    run = replace(run, daily=run.daily | {"changed_l": changed})
    found = [one for one in of(run, whose) if one.key == "change"]
    assert [one.day for one in found] == [SATURDAY]
    assert found[0].under == 80.0
    assert found[0].high_l == pytest.approx(0.1 * litres.litres_of(whose).whole)
    assert found[0].subject == whose.top_up.disinfectant


def test_a_test_that_an_absence_moves_to_the_day_of_another_is_that_one():
    agenda = plans.of_season("classroom").agenda  # the long holiday moves the test of July to that of June
    assert agenda is not None
    tests = [(one.day, one.subject) for one in agenda.entries if one.key == "supplement"]
    assert tests
    assert len(set(tests)) == len(tests)
