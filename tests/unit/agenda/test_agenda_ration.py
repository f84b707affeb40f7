"""The ration: one amount a day, as a spoon measures it, capped by what oxygen and filter carry."""

import math
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import plans
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import season
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from aquacalc import fish
from aquacalc.agenda import ration
from aquacalc.agenda.ration import Ration
from aquacalc.garden.model import Away, Garden, StartUp
from aquacalc.season.fishes import ARRIVAL_SHARES
from aquacalc.season.result import SeasonRun

FIRST = date(2027, 3, 1)
SATURDAY = date(2027, 3, 6)


def fed(
    days: int = 20, feed_g: ArrayLike = 10.0, most_feed_g_day: float = math.inf, **values: ArrayLike
) -> SeasonRun:
    batch = {"count": 20.0, "weight_g": 100.0, "feed_g": feed_g, **values}
    return season(days=days, fish=[batch], most_feed_g_day=most_feed_g_day, feed_g=feed_g)


def of(run: SeasonRun, of_garden: Garden | None = None) -> tuple[Ration, ...]:
    return ration.rations(run, of_garden or garden())


def test_an_amount_begins_on_the_first_day_and_on_each_garden_day():
    found = of(fed())
    assert [one.first for one in found] == [FIRST, SATURDAY, date(2027, 3, 13), date(2027, 3, 20)]
    assert all((one.grams, one.spoons, one.spoon_g) == (10.0, 2.0, 5.0) for one in found)
    assert not any(one.capped for one in found)


def test_the_middle_of_the_tries_decides_and_their_spread_stands_beside():
    (first, *_) = of(fed(feed_g=np.array([[8.0], [9.0], [10.0], [16.0], [20.0]])))
    assert first.grams == 10.0
    assert (first.low_g, first.high_g) == pytest.approx((8.4, 18.4))


def test_where_most_tries_give_nothing_there_is_no_feed():
    rarely = of(fed(feed_g=np.array([[0.0], [0.0], [0.0], [9.0], [9.0]])))
    assert {one.grams for one in rarely} == {0.0}


def test_fish_that_have_just_come_have_their_days_told():
    late = replace(garden(), fish=(replace(garden().fish[0], stocked=date(2027, 3, 4)),))
    found = of(fed(), late)
    assert found[0].first == date(2027, 3, 4)
    # A quarter, a half, three quarters of what they would eat, and the garden day between.
    assert [one.days for one in found[:5]] == [2, 3, 2, 2, 7]


def test_an_absence_has_bags_of_its_own_one_amount_a_month():
    away = replace(garden(), away=(Away(date(2027, 3, 10), date(2027, 4, 4), "a neighbour"),))
    bags = [one for one in of(fed(days=60), away) if one.away is not None]
    assert [(one.first, one.last) for one in bags] == [
        (date(2027, 3, 10), date(2027, 3, 31)),
        (date(2027, 4, 1), date(2027, 4, 4)),
    ]


def test_fish_that_get_all_that_they_may_are_told_so():
    capped = of(fed(feed_g=44.0, most_feed_g_day=44.0))
    assert all(one.capped and one.grams == 44.0 for one in capped)
    assert not any(one.capped for one in of(fed(feed_g=43.0, most_feed_g_day=44.0)))


def test_no_rounding_lifts_what_all_batches_get_together_over_the_cap():
    assert {one.grams for one in of(fed(feed_g=9.0, most_feed_g_day=9.0))} == {7.5}
    assert {one.grams for one in of(fed(feed_g=9.0, most_feed_g_day=10.0))} == {10.0}


def test_large_amounts_are_weighed_and_next_to_nothing_is_no_feed():
    assert {(one.grams, one.spoons) for one in of(fed(feed_g=44.0))} == {(44.0, 0.0)}
    assert {(one.grams, one.spoons) for one in of(fed(feed_g=0.2))} == {(0.0, 0.0)}


@given(st.floats(0.6, 5000.0), st.floats(0.5, 20.0))
def test_a_measured_amount_lies_within_a_step_and_below_where_asked(grams: float, spoon_g: float):
    for up in (True, False):
        measured, spoons = ration.measured(grams, spoon_g, up)
        assert abs(measured - grams) <= max(0.5 * spoon_g, 0.11 * grams, 0.5) + 1e-9
        assert spoons == 0.0 or measured == pytest.approx(spoons * spoon_g)
    assert ration.measured(grams, spoon_g, up=False)[0] <= grams * (1.0 + 1e-6)


def assert_as_the_tries_were_fed(own: list[Ration], run: SeasonRun, place: int) -> None:
    """Each week's amount is the middle of what the tries got on the days on which they were fed, as far as a
    spoon measures it; of those whose filter was ready, where fish come after a start-up."""
    fed = run.fish["feed_g"][place].astype(float)
    begins = [one for one in own if one.start_up]
    if begins:
        arrives = run.day(begins[0].first)
        fed = fed[(fed[:, arrives : arrives + len(ARRIVAL_SHARES)] > 0.0).all(axis=1)]
    for one in own:
        given = fed[:, run.day(one.first) : run.day(one.last) + 1]
        median = np.median(given.sum(axis=1) / np.maximum((given > 0.0).sum(axis=1), 1))
        step = max(0.5 * one.spoon_g, 0.1 * median, ration.LEAST_WEIGHED_G)
        assert one.start_up or one.grams == pytest.approx(median, abs=step + 1e-6)


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_demo_gardens_have_one_ration_a_day_and_batch_while_it_is_there(name: str):
    plan = plans.of_season(name)
    run, agenda = plan.season, plan.agenda
    assert run is not None
    assert agenda is not None
    for day in range(run.days):
        given = agenda.on(run.date(day))
        assert len({one.batch for one in given}) == len(given)
        assert sum(one.grams for one in given) <= agenda.caps_g_day[day] * (1.0 + 1e-9)
    for place, batch in enumerate(plan.garden.fish):
        own = [one for one in agenda.rations if one.batch == batch.name]
        assert_as_the_tries_were_fed(own, run, place)
        assert all(two.first - one.last == timedelta(days=1) for one, two in pairwise(own))


def test_steps_are_those_of_the_strictest_species():
    trout, carp = (fish.species(key) for key in ("rainbow_trout", "common_carp"))
    both = ration.steps([trout, carp])
    assert both.left_min == ration.steps([trout]).left_min > ration.steps([carp]).left_min
    assert both.oxygen_mg_l == max(trout.oxygen_full_feed_mg_l, carp.oxygen_full_feed_mg_l)


def over_a_new_filter(water_c: float, ready: int = 0) -> tuple[Ration, ...]:
    """Fish that come on the fourth day, fed from then on in the tries that are ready, else from the sixteenth
    on."""
    new = replace(
        garden(),
        start_up=StartUp("new", FIRST),
        fish=(replace(garden().fish[0], stocked=date(2027, 3, 4)),),
    )
    given = np.zeros((5, 30))
    given[:, 15:], given[:ready, 3:] = 10.0, 20.0
    return of(
        season(days=30, fish=[{"count": 20.0, "weight_g": 100.0, "feed_g": given}], water_c=water_c), new
    )


def test_days_on_which_most_tries_wait_for_the_filter_are_told_by_the_sheet_of_the_start_up():
    found = over_a_new_filter(water_c=20.0)
    by_sheet = [one for one in found if one.start_up]
    assert by_sheet[0].first == date(2027, 3, 4)
    assert by_sheet[-1].last == date(2027, 3, 12)
    assert {one.grams for one in found if not one.start_up} == {10.0}
    first, *rest = ration.boundaries(found, FIRST, date(2027, 3, 30))
    assert first == (date(2027, 3, 4), date(2027, 3, 12))
    assert len(rest) == 3


def test_fish_that_wait_for_tests_are_fed_as_in_the_tries_that_pass_them():
    assert {one.grams for one in over_a_new_filter(water_c=20.0, ready=1)} == {20.0}


def test_cold_water_over_a_new_filter_is_no_feed():
    found = over_a_new_filter(water_c=3.0)
    assert max(one.last for one in found if one.start_up) == date(2027, 3, 10)
    assert next(one.grams for one in found if not one.start_up) == 0.0


def test_the_first_days_over_a_new_filter_have_a_sheet_of_their_own():
    plan = plans.of_season("southern")
    assert plan.agenda is not None
    (coming,) = plan.agenda.stockings
    first = [one for one in plan.agenda.rations if one.start_up]
    assert first[0].first == coming.day
    fed = [one.day for one in plan.agenda.entries if one.key == "feed"]
    assert sum(one.days for one in first) == (min(fed) - coming.day).days >= 7
    for name in ("yard", "greenhouse", "classroom"):
        other = plans.of_season(name).agenda
        assert other is not None
        assert not any(one.start_up for one in other.rations)
