"""The power cut asked alone agrees with the balance of a garden and with the arithmetic of its parts."""

from dataclasses import replace

import numpy as np
import pytest
from hand_made_garden import garden
from hypothesis import given
from hypothesis import strategies as st

from aquacalc import fish
from aquacalc.sizing import power_cut
from aquacalc.sizing.balance import balance
from aquacalc.sizing.power_cut import Now, Question
from aquacalc.sizing.result import Stocked

POOL = Question("silver_perch", 8.0, 250.0, 1000.0, 26.0, 100.0, 6.0)


def test_asked_alone_it_agrees_with_the_balance_of_the_same_tank():
    whole = balance(garden(), members=1)
    assert whole.outage is not None
    at = whole.months.index(whole.outage.month)
    same = Question(
        species=garden().fish[0].species,
        kg=float(whole.demand.fish_kg.middle[at]),
        weight_g=float(whole.demand.weight_g.middle[at]),
        tank_l=garden().tanks[0].volume_l,
        water_c=whole.outage.water_c,
        altitude_m=garden().site.altitude_m,
        hours_until_help=garden().site.hours_until_help,
    )
    alone = power_cut.alone(same, members=1)
    assert alone.response_h == pytest.approx(whole.outage.response_h)
    assert float(alone.unaided_kg.middle) == pytest.approx(float(whole.outage.unaided_kg.middle))
    assert float(alone.air_l_min.middle) == pytest.approx(float(whole.outage.air_l_min.middle))


def test_the_response_time_is_half_of_the_low_end_of_the_just_fed_time():
    found = power_cut.alone(POOL)
    half = 0.5 * float(found.danger_h.low)
    assert half - 1.0 / 60.0 < found.response_h <= half  # whole minutes, never rounded up


def test_twice_the_fish_have_half_the_time_and_warmer_or_higher_water_less():
    hours = power_cut.alone(POOL).response_h
    assert power_cut.alone(replace(POOL, kg=16.0)).response_h == pytest.approx(hours / 2.0)
    assert power_cut.alone(replace(POOL, water_c=30.0)).response_h < hours
    assert power_cut.alone(replace(POOL, altitude_m=2000.0)).response_h < hours


def test_fish_that_last_until_help_need_no_air():
    few = power_cut.alone(replace(POOL, kg=0.2, hours_until_help=1.0))
    assert float(few.air_l_min.high) == 0.0
    assert float(few.battery_wh.high) == 0.0
    assert float(power_cut.alone(POOL).air_l_min.middle) > 0.0


def test_unaided_fish_reach_exactly_until_help():
    found = power_cut.alone(POOL, members=1)
    exact = power_cut.alone(replace(POOL, kg=float(found.unaided_kg.middle)), members=1)
    assert exact.response_h == pytest.approx(POOL.hours_until_help)


def test_water_that_starts_at_the_critical_oxygen_gives_no_time():
    species = fish.species("silver_perch")
    gone = Stocked(species.oxygen_model, 250.0, 8.0, 1.0, 26.0, 8.0, species.oxygen_critical_mg_l, 1.0, 1.0)
    share = species.oxygen_critical_mg_l / 8.0
    assert np.all(power_cut.just_fed_hours(gone, share) == 0.0)


def test_with_nothing_known_the_clock_is_that_of_the_outage():
    found = power_cut.alone(POOL)
    clock = power_cut.clock(found.reserve, Now(), 5.0)
    assert clock.act_h == found.response_h
    assert float(clock.critical_h.low) == pytest.approx(float(found.danger_h.low))
    assert float(clock.critical_h.high) == pytest.approx(float(found.danger_h.high))


def test_the_balance_and_the_clock_count_the_same_fish_alike():
    whole = balance(garden(), 20)
    clock = power_cut.clock(whole.outage.reserve, Now(), 5.0)
    assert clock.act_h == whole.outage.response_h
    assert float(clock.critical_h.middle) == pytest.approx(float(whole.outage.danger_h.middle))


@pytest.mark.parametrize("oxygen", [3.5, 5.0, 7.0])
def test_measured_oxygen_goes_before_what_is_reckoned(oxygen: float):
    found = power_cut.alone(POOL, members=1)
    clock = power_cut.clock(found.reserve, Now(oxygen, off_h=2.0), 5.0)
    fall = float(found.reserve.fall_mg_l_h[0])
    over = max(oxygen - found.reserve.critical_mg_l, 0.0)
    assert float(clock.critical_h.middle) == pytest.approx(over / fall)
    assert float(clock.line_h.middle) == pytest.approx(max(oxygen - 5.0, 0.0) / fall)


def test_what_has_run_already_is_taken_off_and_fish_that_fasted_breathe_less():
    found = power_cut.alone(POOL)
    whole = power_cut.clock(found.reserve, Now(), 5.0)
    later = power_cut.clock(found.reserve, Now(off_h=0.5), 5.0)
    assert float(later.critical_h.high) == pytest.approx(float(whole.critical_h.high) - 0.5)
    fasted = power_cut.clock(found.reserve, Now(fed_h=30.0), 5.0)
    assert float(fasted.critical_h.low) == pytest.approx(5.0 * float(whole.critical_h.low))
    assert power_cut.clock(found.reserve, Now(off_h=100.0), 5.0).act_h == 0.0


@given(st.floats(0.0, 12.0), st.floats(0.0, 12.0))
def test_a_longer_cut_is_never_better(one: float, other: float):
    first, second = (
        power_cut.clock(power_cut.alone(POOL, 20).reserve, Now(off_h=off), 5.0).act_h
        for off in sorted((one, other))
    )
    assert first >= second
