import numpy as np
import pytest

from aquacalc.water import oxygen


def test_a_float_gives_a_float_and_an_array_an_array():
    assert isinstance(oxygen.saturation_mg_l(20.0), float)
    assert oxygen.saturation_mg_l(np.full((3, 2), 20.0)).shape == (3, 2)


def test_altitude_takes_a_sixth_of_the_oxygen_at_1500_m():
    high = oxygen.saturation_mg_l(25.0, 0.0, oxygen.pressure_atm(1500.0))
    assert high / oxygen.saturation_mg_l(25.0) == pytest.approx(0.83, abs=0.01)


def test_water_at_saturation_is_at_one_hundred_percent_at_any_pressure():
    pressure = oxygen.pressure_atm(np.array([0.0, 800.0, 2500.0]))
    full = oxygen.saturation_mg_l(18.0, 1.0, pressure)
    assert oxygen.percent(full, 18.0, 1.0, pressure) == pytest.approx(100.0)
