"""The power cut asked alone agrees with the balance of a garden and with the arithmetic of its parts."""

from dataclasses import replace

import numpy as np
import pytest
from hand_made_garden import garden

from aquacalc import fish
from aquacalc.sizing import power_cut
from aquacalc.sizing.balance import balance
from aquacalc.sizing.power_cut import Question

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
    gone = power_cut.Stocked(
        species.oxygen_model, 250.0, 8.0, 1.0, 26.0, 8.0, species.oxygen_critical_mg_l, 1.0, 1.0
    )
    share = species.oxygen_critical_mg_l / 8.0
    assert np.all(power_cut.just_fed_hours(gone, share) == 0.0)
