import numpy as np
import pytest

from aquacalc.climate import tank

MONTHS_AIR = np.array([2.0, 4.0, 8.0, 12.0, 17.0, 21.0, 24.0, 23.0, 19.0, 13.0, 7.0, 3.0])


def test_humidity_decides_the_sign():
    dry = tank.tank_offset_k(28.0, "open", 25.0, 3.0, 24.0)
    humid = tank.tank_offset_k(28.0, "open", 85.0, 0.6, 24.0)
    assert dry < -1.0
    assert humid > 2.0


def test_a_greenhouse_is_warmer_than_shade_and_a_dry_room_cools():
    shade, greenhouse, room = (
        tank.tank_offset_k(20.0, cover, 60.0, 2.0, 18.0) for cover in ("shade", "greenhouse", "indoors")
    )
    assert greenhouse > 0.0 > shade
    assert tank.tank_offset_k(22.0, "indoors", 30.0) < room < 0.0


def test_a_lid_keeps_sun_out_and_water_in():
    open_top = tank.tank_offset_k(20.0, "indoors", 40.0)
    assert open_top < tank.tank_offset_k(20.0, "indoors", 40.0, lid=True) < 0.0


def test_an_aerated_surface_is_cooler():
    quiet, stirred = (
        tank.equilibrium_temperature_c(25.0, 50.0, 0.1, 0.0, wetness=wetness) for wetness in (1.0, 2.0)
    )
    assert stirred < quiet < 25.0


def test_saturated_dark_air_leaves_the_water_at_its_temperature():
    assert tank.equilibrium_temperature_c(18.0, 100.0, 0.5, 0.0) == pytest.approx(18.0, abs=1e-6)


def test_a_pump_warms_a_bare_tank_by_about_a_degree():
    still = tank.equilibrium_temperature_c(20.0, 50.0, 0.1, 0.0)
    pumped = tank.equilibrium_temperature_c(20.0, 50.0, 0.1, 0.0, gain_w_m2=45.0 / 1.1)
    assert pumped - still == pytest.approx(1.1, abs=0.2)


def test_the_heater_lifts_only_what_is_below_its_set_point():
    water = tank.tank_temperature_monthly_c(MONTHS_AIR, -1.0, setpoint_c=18.0)
    assert np.all(water[:4] == 18.0)
    assert water[6] == MONTHS_AIR[6] - 1.0


def test_ice_is_not_cut_off_at_zero():
    assert tank.tank_temperature_monthly_c(-6.0, -1.0) == -7.0


def test_members_by_months():
    offset = tank.tank_offset_k(MONTHS_AIR, "open", np.full(12, 60.0), 2.0, np.linspace(3.0, 20.0, 12))
    error = np.array([[-3.0], [0.0], [3.0]])
    assert tank.tank_temperature_monthly_c(MONTHS_AIR, offset, error).shape == (3, 12)


def test_insulation_comes_before_heating():
    bare = tank.heater_w(44.8, 25.0, 15.0)
    lidded = tank.heater_w(3.21, 25.0, 15.0)
    assert bare / lidded > 10.0
    assert tank.heater_w(44.8, 15.0, 20.0) == 0.0


def test_a_line_through_readings_comes_with_its_spread():
    rng = np.random.default_rng(1)
    air = np.linspace(5.0, 28.0, 60)
    intercept, slope, spread = tank.from_readings(air, 1.5 + 0.9 * air + rng.normal(0.0, 0.5, 60))
    assert (intercept, slope) == pytest.approx((1.5, 0.9), abs=0.3)
    assert spread == pytest.approx(0.5, abs=0.12)
