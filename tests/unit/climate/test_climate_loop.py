"""The water of a loop by month: what cover, air, lid, insulation, bubbles, pumps and beds make of it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc.climate import loop
from aquacalc.climate.loop import Climate, Loop
from aquacalc.garden import surroundings
from aquacalc.uncertainty import coefficient

FLAT = np.ones(12)
TYPICAL = {name: np.array([coefficient(name).typical]) for name in surroundings.COEFFICIENTS}
TANK = Loop(1000.0, 1.25, 4.4, 0.0, loop.FOAM_W_M_K, False, 0.0, 2.0, False, False)


def place(cover, mean_c, humidity_pct, wind_m_s=2.0, sun=18.0, range_k=0.0):
    humidity = None if humidity_pct is None else humidity_pct * FLAT
    ends = (mean_c + range_k / 2.0) * FLAT, (mean_c - range_k / 2.0) * FLAT
    return Climate(*ends, humidity, wind_m_s * FLAT, sun * FLAT, 45.0, cover)


def water_c(tank, climate):
    return float(loop.unheated_c(tank, climate, TYPICAL)[0, 0])


def test_humidity_decides_the_sign():
    assert water_c(TANK, place("open", 28.0, 25.0, 3.0, 24.0)) < 27.0
    assert water_c(TANK, place("open", 28.0, 85.0, 0.6, 24.0)) > 29.0


def test_a_greenhouse_is_warmer_than_shade_and_a_dry_room_cools():
    shade, greenhouse, room, dry = (
        water_c(TANK, place(*one))
        for one in (
            ("shade", 20.0, 60.0),
            ("greenhouse", 20.0, 60.0),
            ("indoors", 20.0, 60.0),
            ("indoors", 20.0, 30.0),
        )
    )
    assert greenhouse > 20.0 > shade
    assert dry < room < 20.0


def test_a_lid_keeps_sun_out_and_water_in():
    room = place("indoors", 20.0, 40.0)
    assert water_c(TANK, room) < water_c(replace(TANK, lid=True), room) < 20.0
    sunny = place("open", 20.0, 90.0, 0.3, 25.0)
    assert water_c(replace(TANK, lid=True), sunny) < water_c(TANK, sunny)


def test_bubbles_cool_and_pumps_warm():
    room = place("indoors", 20.0, 50.0)
    assert water_c(replace(TANK, aerated=True), room) < water_c(TANK, room)
    pumped = water_c(replace(TANK, gain_w=45.0, beds_m2=0.0), room)
    assert 0.5 < pumped - water_c(replace(TANK, beds_m2=0.0), room) < 1.5


def test_where_the_humidity_is_not_known_a_bare_tank_keeps_its_usual_offset():
    unknown = place("shade", 20.0, None)
    offset = coefficient("tank_offset_shade_k").typical
    assert water_c(TANK, unknown) == pytest.approx(20.0 + offset)
    assert water_c(replace(TANK, lid=True), unknown) > 20.0 + offset


def test_ice_is_not_cut_off_at_zero():
    assert water_c(TANK, place("open", -12.0, 60.0, sun=0.0)) < -5.0


def test_a_heater_that_runs_all_day_lifts_the_water_by_its_power_over_the_loss():
    room = place("indoors", 20.0, 95.0)
    lifted = float(loop.unheated_c(TANK, room, TYPICAL, heater_w=100.0)[0, 0]) - water_c(TANK, room)
    loss_w_k = 1000.0 * 4167.0 / 3600.0 / float(loop.time_constant_h(TANK, room, TYPICAL)[0])
    assert lifted == pytest.approx(100.0 / loss_w_k, rel=0.1)


@settings(max_examples=30, deadline=None)
@given(st.floats(-5.0, 32.0), st.floats(0.0, 20.0), st.floats(0.0, 0.2), st.floats(0.001, 0.1))
def test_insulation_brings_the_water_of_a_dark_room_no_farther_from_its_pump_s_warmth(air, day, has, more):
    warmed = replace(TANK, gain_w=40.0, lid=True, insulation_m=has, lid_m=has)
    room = place("indoors", air, 60.0, range_k=day)
    assert (
        water_c(replace(warmed, insulation_m=has + more, lid_m=has + more), room)
        >= water_c(warmed, room) - 1e-6
    )


@settings(max_examples=30, deadline=None)
@given(st.floats(-5.0, 32.0), st.floats(0.0, 20.0))
def test_beds_that_rest_at_night_leave_the_water_no_colder(air, day):
    climate = place("indoors", air, 100.0, range_k=day)
    assert water_c(replace(TANK, night_rest=True), climate) >= water_c(TANK, climate) - 1e-6
