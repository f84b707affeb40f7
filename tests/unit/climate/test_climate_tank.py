import numpy as np
import pytest

from aquacalc.climate import tank


def test_an_aerated_surface_is_cooler():
    quiet, stirred = (
        tank.heat_balance(25.0, 50.0, 0.1, 0.0, wetness=wetness).settled_c() for wetness in (1.0, 2.0)
    )
    assert stirred < quiet < 25.0


def test_saturated_dark_air_leaves_the_water_at_its_temperature():
    assert tank.heat_balance(18.0, 100.0, 0.5, 0.0).settled_c() == pytest.approx(18.0, abs=1e-6)


def test_a_pump_warms_a_bare_tank_by_about_a_degree():
    still = tank.heat_balance(20.0, 50.0, 0.1, 0.0).settled_c()
    pumped = tank.heat_balance(20.0, 50.0, 0.1, 0.0, gain_w_m2=45.0 / 1.1).settled_c()
    assert pumped - still == pytest.approx(1.1, abs=0.2)


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
