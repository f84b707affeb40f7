import math
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hand_made_garden import garden

from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Away, CropPlan, FishBatch, Garden, MonthlyClimate, Season, StartUp
from aquacalc.schedule import crops, tasks
from aquacalc.schedule.task import Task

DAY = timedelta(days=1)
STOCKED, TAKEN = date(2027, 4, 3), date(2027, 10, 9)  # Saturdays
SEASON = Season(date(2027, 1, 1), date(2027, 12, 31))


def indoors(water_c: float, **fields: object) -> Garden:
    """Silver perch from April to October in water of one temperature; nothing planted."""
    made = garden()
    air = water_c + 2.75
    climate = MonthlyClimate((air + 2.0,) * 12, (air - 2.0,) * 12)
    perch = FishBatch("perch", "silver_perch", 20, 50.0, STOCKED, 400.0, "Pool", TAKEN)
    new: dict[str, object] = {
        "site": replace(made.site, cover="indoors", climate=climate),
        "fish": (perch,),
        "crops": (),
        "season": SEASON,
    }
    return replace(made, **(new | fields))  # type: ignore[arg-type]


def of(garden: Garden, *keys: str) -> list[Task]:
    return [one for one in tasks.tasks_of(garden, crops.batches(garden)) if one.key in keys]


def test_tasks_stand_in_the_order_of_days_and_inside_the_season():
    southern = GardenFile.open("demo:southern").garden
    found = tasks.tasks_of(southern, crops.batches(southern))
    days = [one.day for one in found]
    assert days == sorted(days)
    assert southern.season.start <= days[0] <= days[-1] <= southern.season.end


# --- fish --------------------------------------------------------------------------------------------------


def test_fish_come_and_go_with_their_number_and_tank():
    stock, take = of(indoors(24.0), "stock", "take")
    assert (stock.day, stock.subject, stock.place, stock.count) == (STOCKED, "perch", "Pool", 20)
    assert (take.day, take.key, take.count) == (TAKEN, "take", 20)


@pytest.mark.parametrize(("water_c", "eaten", "days"), [(24.0, True, 2), (14.0, True, 3), (14.0, False, 1)])
def test_fish_fast_longer_in_cold_water_and_one_day_before_handling(water_c: float, eaten: bool, days: int):
    made = indoors(water_c)
    made = replace(made, fish=(replace(made.fish[0], eaten=eaten),))
    (fast,) = of(made, "fast")
    assert fast.day == TAKEN - days * DAY


def test_fish_that_stay_are_not_taken_and_those_of_before_not_stocked():
    made = indoors(24.0)
    kept = replace(made, fish=(replace(made.fish[0], stocked=date(2026, 5, 1), until=None),))
    assert of(kept, "stock", "take", "fast") == []


def test_an_absence_moves_the_fish_and_the_fast_with_them():
    away = Away(date(2027, 10, 8), date(2027, 10, 11), "a neighbour")
    fast, take = of(indoors(24.0, away=(away,)), "fast", "take")
    assert (take.day, take.moved_from, take.away) == (date(2027, 10, 12), TAKEN, None)
    assert (fast.day, fast.away) == (date(2027, 10, 10), "a neighbour")


def test_the_water_of_a_usual_year_stops_feeding_and_begins_it_again():
    yard = GardenFile.open("demo:yard/before").garden
    (stop,) = of(yard, "feed_stop", "feed_again")
    assert (stop.key, stop.day.month, stop.subject) == ("feed_stop", 11, "spring catfish")
    two_years = replace(yard, season=Season(yard.season.start, date(2029, 2, 28)))
    keys = [(one.key, one.day.month) for one in of(two_years, "feed_stop", "feed_again")]
    assert keys == [("feed_stop", 11), ("feed_again", 3), ("feed_stop", 11)]


def test_fish_that_come_into_cold_water_are_not_fed_from_the_first_day():
    (stop,) = of(indoors(11.0), "feed_stop", "feed_again")
    assert (stop.key, stop.day) == ("feed_stop", STOCKED)
    assert of(indoors(24.0), "feed_stop", "feed_again") == []


# --- the filter --------------------------------------------------------------------------------------------


def test_a_filter_without_fish_is_tested_for_six_weeks_before_they_come():
    found = of(indoors(24.0), "filter_food")
    assert [one.day for one in found] == [STOCKED - n * 7 * DAY for n in range(6, 0, -1)]
    assert all(math.isnan(one.grams) for one in found)  # never an amount by date: test, then


def test_a_loop_that_has_fish_needs_none():
    made = indoors(24.0)
    before = replace(made.fish[0], name="older", stocked=date(2026, 6, 1), until=None)
    assert of(replace(made, fish=(before, *made.fish)), "filter_food") == []


def test_two_batches_on_one_day_need_it_once():
    made = indoors(24.0)
    twice = replace(made, fish=(made.fish[0], replace(made.fish[0], name="others")))
    assert len(of(twice, "filter_food")) == 6


def test_not_before_the_start_up_has_begun():
    made = indoors(24.0, start_up=StartUp("new", date(2027, 3, 10)))
    assert [one.day for one in of(made, "filter_food")] == [date(2027, 3, day) for day in (13, 20, 27)]


# --- tests of the water -----------------------------------------------------------------------------------


def test_the_water_is_tested_each_garden_day():
    found = of(indoors(24.0), "test")
    assert len(found) == 52
    assert {one.day.weekday() for one in found} == {5}
    school = replace(indoors(24.0), site=replace(indoors(24.0).site, setting="school"))
    assert {one.day.weekday() for one in of(school, "test")} == {1}


def test_a_long_absence_leaves_a_test_at_either_end():
    away = Away(date(2027, 6, 10), date(2027, 8, 11))  # from a Thursday to a Wednesday
    days = [one.day for one in of(indoors(24.0, away=(away,)), "test")]
    assert [day for day in days if date(2027, 6, 1) <= day <= date(2027, 8, 15)] == [
        date(2027, 6, 5),
        date(2027, 8, 12),
        date(2027, 8, 14),
    ]
    assert max(Counter(days).values()) == 1


# --- crops ------------------------------------------------------------------------------------------------


def planted(*plans: CropPlan, **fields: object) -> list[Task]:
    made = indoors(18.0, crops=plans, **fields)
    lit = replace(made, light=replace(made.light, ppfd_umol_m2_s=400.0, hours=14.0))
    return of(lit, "sow", "plant", "pick_from", "pick_to", "clear")


def test_a_crop_that_is_picked_for_weeks():
    found = planted(CropPlan("swiss_chard", "North bed", 2.0, (3, 4, 5), first=date(2027, 3, 1)))
    assert [one.key for one in found] == ["sow", "plant", "pick_from", "pick_to", "clear"]
    sow, plant, pick, last, clear = found
    assert (sow.day, sow.count, sow.subject, sow.place) == (date(2027, 2, 8), 55, "swiss_chard", "North bed")
    assert (plant.day, plant.count) == (date(2027, 3, 1), 32)
    assert plant.day < pick.day < last.day == clear.day


def test_a_single_cut_leaves_the_bed_by_itself():
    found = planted(CropPlan("lettuce_leaf", "North bed", 2.0, (3,), first=date(2027, 3, 1)))
    assert [one.key for one in found] == ["sow", "plant", "pick_from"]


def test_what_is_sown_in_place_is_sown_on_the_day_of_planting():
    found = planted(CropPlan("bush_bean", "North bed", 2.0, (3, 4, 5), first=date(2027, 3, 1)))
    assert (found[0].key, found[0].day, found[0].count) == ("sow", date(2027, 3, 1), 80)
    assert "plant" not in {one.key for one in found}


def test_what_would_be_too_late_is_neither_sown_nor_planted():
    assert planted(CropPlan("swiss_chard", "North bed", 2.0, (6,), plants_m2=10.0)) == []


def test_two_plans_that_are_alike_are_two_tasks():
    one = CropPlan("lettuce_leaf", "North bed", 1.0, (3,), first=date(2027, 3, 1))
    assert Counter(task.key for task in planted(one, one)) == {"sow": 2, "plant": 2, "pick_from": 2}


def test_no_work_with_crops_falls_into_an_absence():
    classroom = GardenFile.open("demo:classroom").garden
    found = of(classroom, "sow", "plant", "pick_from", "pick_to", "clear", "test")
    assert found
    assert all(one.away is None for one in found)
    assert not any(away.start <= one.day <= away.end for one in found for away in classroom.away)
