import numpy as np
import pytest

from aquacalc.climate import sun


def test_polar_night_and_day():
    assert sun.day_length_h(80.0, 354) == 0.0
    assert sun.day_length_h(80.0, 171) == 24.0
    assert sun.extraterrestrial_mj_m2_d(80.0, 354) == pytest.approx(0.0, abs=1e-9)
    assert sun.extraterrestrial_mj_m2_d(80.0, 171) > 35.0


def test_the_equator_has_twelve_hours_all_year():
    assert sun.day_length_h(0.0, np.arange(365)) == pytest.approx(12.0)


def test_seasons_are_turned_in_the_south():
    assert np.argmax(sun.day_length_h(40.0, np.arange(365))) == pytest.approx(171, abs=3)
    assert np.argmax(sun.day_length_h(-40.0, np.arange(365))) == pytest.approx(354, abs=3)


def test_radiation_from_temperature_never_passes_a_clear_sky():
    assert sun.radiation_from_temperature(40.0, 5.0, 40.0, 0.19) == sun.clear_sky_mj_m2_d(40.0)
    assert sun.radiation_from_temperature(10.0, 10.0, 40.0) == 0.0


def test_full_sunshine_is_a_clear_sky_at_sea_level():
    assert sun.radiation_from_sunshine(12.0, 12.0, 38.0) == pytest.approx(sun.clear_sky_mj_m2_d(38.0))
