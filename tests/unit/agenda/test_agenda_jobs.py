import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import crop_batch, on, season

from aquacalc.agenda import jobs as tasks
from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Away, Garden
from aquacalc.schedule import tasks as schedule
from aquacalc.schedule.task import Task
from aquacalc.season.result import SeasonRun

FIRST = date(2027, 3, 1)
SATURDAY = date(2027, 3, 6)


def of(run: SeasonRun, garden_: Garden | None = None, *given: Task) -> list[Entry]:
    return list(tasks.entries_of(run, garden_ or garden(), given))


def fed(days: int = 10, **fish: object) -> SeasonRun:
    return season(days=days, fish=[{"count": 20.0, "weight_g": 100.0, "feed_g": 10.0, **fish}])  # type: ignore[dict-item]


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


@pytest.mark.parametrize("key", ["ration", "garden_day", "pick_from"])
def test_what_is_told_otherwise_is_left_out(key: str):
    assert of(season(fish=[{}]), None, Task(SATURDAY, key, "basil", "North bed")) == []  # type: ignore[arg-type]


def test_the_last_pick_is_told_with_the_clearing():
    clear, last = (Task(SATURDAY, key, "basil", "North bed") for key in ("clear", "pick_to"))
    other = Task(SATURDAY, "pick_to", "mint", "North bed")
    assert [(one.key, one.subject) for one in of(season(fish=[{}]), None, clear, last, other)] == [
        ("pick_to", "mint"),
        ("clear", "basil"),
    ]


def test_a_batch_that_leaves_is_counted_as_the_season_leaves_it():
    made = garden()
    until = replace(made, fish=(replace(made.fish[0], until=date(2027, 3, 8)),))
    take = Task(date(2027, 3, 8), "take", "Perch", "Pool", 20.0)
    run = season(fish=[{"count": 20.0, "taken": on(7, [15.0, 16.0, 17.0, 18.0, 19.0])}])
    assert [one.count for one in of(run, until, take) if one.key == "take"] == [17.0]


# --- feed -------------------------------------------------------------------------------------------------


def test_feed_stands_on_the_garden_day_and_on_the_first_day():
    first, second = of(fed())
    assert (first.key, first.day, second.day) == ("feed", FIRST, SATURDAY)
    assert (second.subject, second.place, second.grams, second.spoon_g) == ("Perch", "Pool", 10.0, 5.0)


def test_feed_is_a_range_from_the_seventh_week_on():
    spread = np.array([[8.0], [9.0], [10.0], [11.0], [12.0]])
    found = of(fed(days=60, feed_g=spread))
    by_key = {key: [one.day for one in found if one.key == key] for key in ("feed", "feed_range")}
    assert max(by_key["feed"]) < FIRST + timedelta(days=42) <= min(by_key["feed_range"])
    far = found[-1]
    assert (far.low_g, far.high_g) == pytest.approx((8.4, 11.6))


def test_weeks_without_feed_have_no_entry():
    assert of(fed(feed_g=0.0)) == []
    rarely = fed(feed_g=np.array([[0.0], [0.0], [0.0], [0.0], [9.0]]))
    assert [one.key for one in of(rarely)] == []  # near, and nothing in the middle


def test_feed_does_not_come_before_the_fish():
    made = garden()
    late = replace(made, fish=(replace(made.fish[0], stocked=date(2027, 3, 4)),))
    assert of(fed(), late)[0].day == date(2027, 3, 4)


def test_feed_says_who_is_there():
    away = replace(garden(), away=(Away(date(2027, 3, 5), date(2027, 3, 9), "a neighbour"),))
    assert [one.away for one in of(fed(), away)] == [None, "a neighbour"]


# --- what is expected -------------------------------------------------------------------------------------


def test_first_picks_are_told_as_whole_weeks():
    picked = np.zeros((5, 40))
    for member, day in enumerate((14, 15, 16, 17, 18)):  # 15 to 19 March; 0.4 and 3.6 days in between
        picked[member, day] = 1.0 + member
    run = season(days=40, batches=[crop_batch("basil")], crops=[{"picked_kg": picked}], fish=[{}])
    (entry,) = of(run)
    assert (entry.key, entry.subject, entry.place) == ("pick", "basil", "North bed")
    assert (entry.day, entry.last) == (date(2027, 3, 13), date(2027, 3, 19))
    assert (entry.low_g, entry.grams, entry.high_g) == pytest.approx((1400.0, 3000.0, 4600.0))


def test_a_crop_that_is_cut_once_says_so_and_one_that_is_rarely_picked_says_nothing():
    once = season(batches=[crop_batch("lettuce_leaf")], crops=[{"picked_kg": on(5, 1.0)}], fish=[{}])
    assert [one.key for one in of(once)] == ["pick_once"]
    rare = on(5, [1.0, 1.0, 0.0, 0.0, 0.0])
    assert of(season(batches=[crop_batch()], crops=[{"picked_kg": rare}], fish=[{}])) == []


def test_spans_are_cut_to_the_season():
    run = season(batches=[crop_batch()], crops=[{"picked_kg": on(1, 1.0)}], fish=[{}])
    assert (of(run)[0].day, of(run)[0].last) == (FIRST, date(2027, 3, 5))
    late = season(batches=[crop_batch()], crops=[{"picked_kg": on(9, 1.0)}], fish=[{}])
    assert (of(late)[0].day, of(late)[0].last) == (SATURDAY, date(2027, 3, 10))


def test_fish_of_size_are_expected_where_they_are_eaten():
    heavy = {"count": 20.0, "weight_g": np.linspace(450.0, 540.0, 10)}  # 500 g on day 5
    (entry,) = of(season(fish=[heavy]))
    assert (entry.key, entry.subject, entry.grams) == ("of_size", "Perch", 500.0)
    assert (entry.day, entry.last) == (SATURDAY, date(2027, 3, 10))
    made = garden()
    kept = replace(made, fish=(replace(made.fish[0], eaten=False),))
    assert of(season(fish=[heavy]), kept) == []


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_entries_of_demo_gardens(name: str):
    run, made = seasons.season(name), seasons.garden(name)
    found = tasks.entries_of(run, made, schedule.tasks_of(made, run.batches))
    last = run.date(run.days - 1)
    assert [one.day for one in found] == sorted(one.day for one in found)
    assert all(run.first <= one.day <= one.last <= last for one in found)
    assert {"feed_range", "test"} <= {one.key for one in found}
    assert not any(math.isnan(one.grams) for one in found if one.key in ("feed", "feed_range"))
    assert all(one.key in tasks.ORDER for one in found)
    marks = [(one.key, one.subject, one.place, one.mark) for one in found if one.key.startswith("feed")]
    assert len(marks) == len(set(marks))
