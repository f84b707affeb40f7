"""Batches in a climate of 20 C and good light all year, where every crop day is a day; then in real years."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hand_made_garden import garden

from aquacalc import crops as growth
from aquacalc.garden import opening, usual_year
from aquacalc.garden.model import Away, Bed, CropPlan, Garden, MonthDay, MonthlyClimate, Season, StartUp
from aquacalc.schedule import crops, space
from aquacalc.schedule.batch import CropBatch

EVEN = MonthlyClimate(air_max_c=(25.0,) * 12, air_min_c=(15.0,) * 12)
NORTH = MonthlyClimate(
    air_max_c=(4.0, 6.0, 11.0, 16.0, 20.0, 24.0, 26.0, 26.0, 21.0, 15.0, 8.0, 5.0),
    air_min_c=(-2.0, -2.0, 1.0, 4.0, 9.0, 12.0, 14.0, 14.0, 10.0, 6.0, 2.0, -1.0),
)
DAY = timedelta(days=1)
START = date(2027, 1, 1)


def plot(
    *plans: CropPlan, climate: MonthlyClimate = EVEN, latitude_deg: float = 0.0, **fields: object
) -> Garden:
    """Plans in one bed of 10 m2; a running garden through 2027, in the open."""
    made = garden()
    site = replace(made.site, climate=climate, latitude_deg=latitude_deg)
    bed = Bed("bed", "media", 10.0, 0.3, 0.25, "gravel")
    new: dict[str, object] = {
        "site": site,
        "beds": (bed,),
        "crops": plans,
        "season": Season(START, date(2027, 12, 31)),
    }
    return replace(made, **(new | fields))  # type: ignore[arg-type]


def plan(crop: str = "lettuce_leaf", area_m2: float = 2.0, **fields: object) -> CropPlan:
    return CropPlan(crop, "bed", area_m2, **fields)  # type: ignore[arg-type]


def planned(of: Garden) -> list[CropBatch]:
    return [one for one in crops.batches(of) if one.state == "planned"]


# --- one batch after the other ---------------------------------------------------------------------------


def test_a_single_cut_is_planted_anew_after_a_day():
    found = crops.batches(plot(plan(first=START)))
    assert [(one.plant, one.first_pick) for one in found[:3]] == [
        (START, START + 30 * DAY),
        (START + 31 * DAY, START + 61 * DAY),
        (START + 62 * DAY, START + 92 * DAY),
    ]
    assert all(one.last_pick == one.first_pick == one.leaves for one in found)
    assert {one.state for one in found} == {"planned"}


def test_a_crop_is_picked_through_its_window():
    first, second, *_ = crops.batches(plot(plan("swiss_chard", first=START)))
    assert (first.first_pick, first.last_pick) == (START + 32 * DAY, START + 92 * DAY)
    assert second.plant == first.leaves + DAY == START + 93 * DAY


def test_the_last_batch_is_cut_short_by_the_end_of_its_months():
    found = crops.batches(plot(plan("swiss_chard", months=(3, 4, 5), first=date(2027, 3, 1))))
    assert [(one.plant, one.last_pick, one.leaves) for one in found] == [
        (date(2027, 3, 1), date(2027, 5, 31), date(2027, 5, 31))
    ]


def test_no_batch_is_planted_that_would_not_be_ready():
    found = crops.batches(plot(plan(months=(3, 4, 5), first=date(2027, 3, 1))))
    # The third would be planted on 2 May and ready on 1 June.
    assert [one.plant for one in found] == [date(2027, 3, 1), date(2027, 4, 1)]
    assert found[-1].leaves == date(2027, 5, 31)


def test_a_crop_that_never_gets_ready_is_too_late_and_takes_no_room():
    of = plot(plan("celery", months=(6,)))
    (found,) = crops.batches(of)
    assert (found.state, found.plant, found.leaves) == ("too_late", date(2027, 6, 1), date(2027, 6, 30))
    assert (found.first_pick, found.last_pick) == (None, None)
    assert not space.space((found,), of).used_m2.any()


def test_ready_on_the_last_day_is_in_time_and_a_day_later_is_not():
    in_time = plot(plan("lettuce_leaf", months=(3,), first=date(2027, 3, 1)))
    assert crops.batches(in_time)[0].first_pick == date(2027, 3, 31)
    late = plot(plan("rocket", months=(2,), first=date(2027, 2, 1)))  # 28 days, ready on 1 March
    assert [(one.state, one.plant) for one in crops.batches(late)] == [("too_late", date(2027, 2, 1))]


def test_a_crop_that_can_never_stand_is_told_once():
    (found,) = crops.batches(plot(plan("okra", months=(1, 2)), climate=NORTH, latitude_deg=48.0))
    assert (found.state, found.plant, found.plants, found.seeds) == ("closed", date(2027, 1, 1), 0, 0)


def test_a_plan_of_other_months_than_the_season_says_nothing():
    summer = Season(date(2027, 6, 1), date(2027, 8, 31))
    assert crops.batches(plot(plan(months=(1, 2)), season=summer)) == ()


def test_the_growers_first_planting_goes_before_the_climate():
    own = date(2027, 4, 1)
    of = plot(plan("tomato"), climate=NORTH, latitude_deg=48.0)
    by_climate = planned(of)[0].plant
    assert by_climate > own
    (early, *_) = planned(replace(of, crops=(plan("tomato", first=own),)))
    assert early.plant == own
    assert early.first_pick is not None
    assert early.first_pick <= planned(of)[0].first_pick


def test_nothing_is_planted_before_the_growers_first_day():
    found = crops.batches(plot(plan(first=date(2027, 9, 15))))
    assert [one.state for one in found] == ["planned"] * 4
    assert found[0].plant == date(2027, 9, 15)


# --- what stands on the first day ------------------------------------------------------------------------


def test_what_would_have_been_planted_stands_with_its_age():
    found = crops.batches(plot(plan(first=START - 10 * DAY)))
    assert (found[0].state, found[0].plant, found[0].first_pick) == ("standing", START, START + 20 * DAY)
    assert (found[0].age_d, found[0].sow, found[0].seeds) == (pytest.approx(10.0), None, 0)
    assert found[1].plant == START + 21 * DAY


def test_a_winter_crop_of_the_year_before_stands():
    (standing, *_) = crops.batches(plot(plan("parsley"), climate=NORTH, latitude_deg=48.0))
    assert standing.state == "standing"
    assert standing.age_d > 0.0


def test_nothing_stands_in_a_loop_that_is_only_being_started():
    of = plot(plan("kale"), climate=NORTH, latitude_deg=48.0, start_up=StartUp("new", START))
    assert {one.state for one in crops.batches(of)} == {"planned"}


def test_nothing_stands_outside_of_its_months():
    of = plot(plan("kale", months=(4, 5, 6, 7, 8, 9)), climate=NORTH, latitude_deg=48.0)
    assert {one.state for one in crops.batches(of)} == {"planned"}


# --- heads a week ----------------------------------------------------------------------------------------


def weekly(area_m2: float = 2.4, **fields: object) -> Garden:
    return plot(plan(area_m2=area_m2, heads_per_week=10.0, loss_pct=10.0, plants_m2=25.0, **fields))


def test_a_batch_for_each_week_backward_from_its_harvest():
    """Lettuce of 30 days: with a day of turnaround five batches of twelve, 60 places, 2.4 m2."""
    of = weekly()
    found = crops.cropping(of)
    assert found.weeks_without_room == (0,)
    for one in found.batches:
        assert one.first_pick == one.last_pick == one.leaves
        assert one.first_pick.weekday() == 5
        assert (one.plants, one.area_m2) == (12, 12 / 25)
    grown = [one for one in found.batches if one.state == "planned"]
    assert {(one.first_pick - one.plant).days for one in grown} == {30}
    picked = [one.first_pick for one in found.batches]
    assert {later - earlier for earlier, later in pairwise(picked)} == {7 * DAY}
    assert space.space(found.batches, of).used_m2.max() == pytest.approx(2.4)


def test_seeds_are_counted_back_from_the_transplants():
    sown = [one for one in planned(weekly()) if one.sow is not None]
    assert {(one.seeds, (one.plant - one.sow).days) for one in sown} == {(17, 21)}


def test_what_was_to_be_sown_before_the_plan_is_bought():
    bought = [one for one in planned(weekly()) if one.sow is None]
    assert {one.seeds for one in bought} == {0}
    assert all(one.plant - 21 * DAY < START for one in bought)


def test_weeks_without_room_are_left_out_and_counted():
    of = weekly(area_m2=1.92)  # room for four of the five batches
    found = crops.cropping(of)
    picked = [one for one in found.batches if START <= one.first_pick <= of.season.end]
    assert len(picked) + found.weeks_without_room[0] == 52
    assert found.weeks_without_room[0] == pytest.approx(52 / 5, abs=1)
    assert space.space(found.batches, of).used_m2.max() == pytest.approx(1.92)


def test_a_batch_that_is_larger_than_the_area_never_fits():
    assert crops.cropping(weekly(area_m2=0.4)) == crops.Cropping((), (52,))


def test_the_days_in_the_bed_are_reckoned_anew_for_each_batch():
    of = plot(plan(area_m2=10.0, heads_per_week=5.0), climate=NORTH, latitude_deg=48.0)
    days = {one.first_pick: (one.first_pick - one.plant).days for one in planned(of)}
    spring, summer = min(days), date(2027, 8, 7)
    assert days[spring] > 1.3 * days[summer]
    # Each is the latest planting that reaches its harvest.
    factor = opening.growth(growth.crop("lettuce_leaf"), usual_year.usual_year_of(of))
    for harvest, long in days.items():
        if harvest.year == 2027:
            at = harvest.timetuple().tm_yday - 1
            assert growth.days_to_harvest(factor[at - long :], 30.0) <= long
            assert growth.days_to_harvest(factor[at - long + 1 :], 30.0) > long - 1


def test_weeks_that_the_climate_gives_nothing_are_no_lack_of_room():
    found = crops.cropping(plot(plan(area_m2=10.0, heads_per_week=5.0), climate=NORTH, latitude_deg=48.0))
    assert found.weeks_without_room == (0,)
    assert len(found.batches) < 45


def test_heads_that_never_get_ready_are_told_once():
    (found,) = crops.batches(plot(plan("lettuce_cos", months=(6,), heads_per_week=4.0)))
    assert (found.state, found.plant) == ("too_late", date(2027, 6, 1))


# --- counts ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("one", "plants", "seeds"),
    [
        (plan(first=date(2027, 2, 1)), 50, 70),  # 50 / (0.80 x 0.90)
        (plan(first=date(2027, 2, 1), plants_m2=10.0), 20, 28),
        (plan("basil", first=date(2027, 2, 1)), 40, 53),  # no legal minimum: 85 % of fresh seed
        (plan("mint", first=date(2027, 2, 1)), 18, 0),  # from cuttings
        (plan("bush_bean", first=date(2027, 2, 1)), 50, 80),  # sown in place
    ],
)
def test_plants_fill_the_area_and_seeds_follow(one: CropPlan, plants: int, seeds: int):
    found = planned(plot(one))[0]
    assert (found.plants, found.seeds) == (plants, seeds)


def test_a_crop_that_is_sown_in_place_has_no_day_of_sowing_of_its_own():
    assert planned(plot(plan("bush_bean", first=date(2027, 2, 1))))[0].sow is None


# --- cold, dark, frost -----------------------------------------------------------------------------------


def test_a_crop_stands_still_in_the_polar_night():
    mild = MonthlyClimate(air_max_c=(12.0,) * 12, air_min_c=(8.0,) * 12)
    far_north = plot(plan("kale", first=date(2027, 8, 1)), climate=mild, latitude_deg=69.0)
    (first, *_) = crops.batches(far_north)
    begins, ends = first.stands_still[0]
    assert (begins.month, ends.month) == (10, 3)
    assert crops.batches(plot(plan("kale", first=date(2027, 8, 1)), climate=mild))[0].stands_still == ()


def test_own_frost_dates_move_the_first_planting():
    of = plot(plan("tomato"), climate=NORTH, latitude_deg=48.0)
    late = replace(of, site=replace(of.site, last_frost=MonthDay(6, 10), first_frost=MonthDay(10, 1)))
    assert planned(late)[0].plant == date(2027, 6, 10)
    assert planned(of)[0].plant < date(2027, 6, 1)
    assert all(one.leaves < date(2027, 10, 1) for one in planned(late))


def test_a_southern_garden_plants_half_a_year_later():
    turned = MonthlyClimate(
        NORTH.air_max_c[6:] + NORTH.air_max_c[:6], NORTH.air_min_c[6:] + NORTH.air_min_c[:6]
    )
    north = planned(plot(plan("tomato"), climate=NORTH, latitude_deg=45.0))[0].plant
    southern = Season(date(2027, 7, 1), date(2028, 6, 29))
    south = planned(plot(plan("tomato"), climate=turned, latitude_deg=-45.0, season=southern))[0].plant
    assert (south - north).days == pytest.approx(184, abs=6)


# --- absences --------------------------------------------------------------------------------------------

AWAY = Away(date(2027, 7, 1), date(2027, 7, 14))  # from a Thursday


def test_planting_moves_out_of_an_absence():
    late = crops.batches(plot(plan(first=date(2027, 7, 10)), away=(AWAY,)))
    assert late[0].plant == date(2027, 7, 15)
    early = plot(plan(first=date(2027, 7, 2)), away=(AWAY,))
    assert crops.batches(early)[0].plant == date(2027, 6, 26)
    not_in_june = plot(plan(first=date(2027, 7, 2), months=(7, 8)), away=(AWAY,))
    assert crops.batches(not_in_june)[0].plant == date(2027, 7, 15)


def test_the_next_planting_waits_for_the_grower():
    away = Away(date(2027, 6, 1), date(2027, 6, 9))
    found = crops.batches(plot(plan(first=date(2027, 5, 3)), away=(away,)))
    # Ready on 2 June, and picked and planted anew when someone is there.
    assert [(one.plant, one.first_pick) for one in found[:2]] == [
        (date(2027, 5, 3), date(2027, 6, 10)),
        (date(2027, 6, 11), date(2027, 7, 11)),
    ]


def test_heads_that_would_wait_too_long_for_the_grower_are_not_planted():
    found = crops.batches(plot(plan(first=date(2027, 6, 1)), away=(AWAY,)))
    # Planted on 1 June they are ready on 1 July and bolt before the 15th; from the 7th on they hold.
    assert (found[0].plant, found[0].first_pick) == (date(2027, 6, 7), date(2027, 7, 15))


def test_heads_of_a_week_away_are_picked_at_an_end_of_the_absence():
    picked = {one.first_pick for one in crops.batches(replace(weekly(area_m2=4.0), away=(AWAY,)))}
    assert not any(AWAY.start <= day <= AWAY.end for day in picked)
    assert date(2027, 7, 15) in picked


def test_planting_for_a_weeks_heads_falls_into_no_absence():
    found = planned(replace(weekly(area_m2=4.0), away=(AWAY,)))
    assert not any(AWAY.start <= one.plant <= AWAY.end for one in found)


def test_picking_ends_at_the_nearer_end_of_an_absence():
    chard = planned(plot(plan("swiss_chard", first=date(2027, 4, 12)), away=(AWAY,)))[0]
    # Its window ends on 13 July.
    assert (chard.first_pick, chard.last_pick) == (date(2027, 5, 14), date(2027, 7, 15))


# --- room ------------------------------------------------------------------------------------------------


def test_space_adds_up_each_bed_by_itself():
    of = plot(plan("swiss_chard", area_m2=3.0, first=date(2027, 3, 1), months=(3, 4)))
    other = CropPlan("lettuce_leaf", "raft", 1.0, (1,), first=START)
    two = replace(of, beds=(*of.beds, Bed("raft", "raft", 4.0, 0.3, 0.25)), crops=(*of.crops, other))
    found = space.space(crops.batches(two), two)
    assert (found.beds, found.had_m2.tolist(), found.used_m2.shape) == (
        ("bed", "raft"),
        [10.0, 4.0],
        (2, 365),
    )
    assert found.used_m2[0].sum() == pytest.approx(3.0 * 61)
    assert found.used_m2[1].sum() == pytest.approx(1.0 * 31)
    assert found.used_m2[0, 58:60].tolist() == [0.0, 3.0]
