import numpy as np
import pytest

from aquacalc.climate import evaporation


def test_slope_is_the_derivative_of_the_saturation_curve():
    step = 1e-4
    rise = evaporation.saturation_pressure_kpa(22.0 + step) - evaporation.saturation_pressure_kpa(22.0 - step)
    assert evaporation.saturation_slope_kpa_k(22.0) == pytest.approx(rise / (2 * step), rel=2e-4)


def test_air_without_humidity_is_taken_as_saturated_at_night():
    day = evaporation.Day(26.0, 14.0)
    assert day.actual_vapour_kpa == evaporation.saturation_pressure_kpa(14.0)


def test_wind_at_ten_metres_is_a_quarter_above_that_at_two():
    assert evaporation.wind_at_2_m(1.0, 10.0) == pytest.approx(0.748, abs=0.001)
    assert evaporation.wind_at_2_m(1.0, 2.0) == pytest.approx(1.0, abs=0.001)


def test_dry_wind_drives_evapotranspiration_more_than_calm_moist_air():
    calm, dry = (
        evaporation.et0_penman_monteith(evaporation.Day(30.0, 18.0, wind, vapour), 14.0)
        for wind, vapour in ((0.5, 2.4), (4.0, 1.0))
    )
    assert dry > 1.5 * calm


def test_no_daily_range_means_no_hargreaves():
    assert evaporation.et0_hargreaves(15.0, 15.0, 30.0) == 0.0
    assert evaporation.et0_hargreaves(-25.0, -35.0, 5.0) == 0.0


def test_dew_is_not_negative_evaporation():
    assert evaporation.surface_evaporation_l_d(1.0, 10.0, 25.0, 90.0) == 0.0


def test_aerated_water_loses_twice_as_much_and_a_cover_a_tenth():
    quiet = evaporation.surface_evaporation_l_d(1.0, 24.0, 22.0, 60.0)
    assert evaporation.surface_evaporation_l_d(1.0, 24.0, 22.0, 60.0, activity=1.0) == pytest.approx(
        2 * quiet
    )
    assert evaporation.surface_evaporation_l_d(1.0, 24.0, 22.0, 60.0, activity=0.05) == pytest.approx(
        quiet / 10
    )


def test_arrays_of_months():
    net = np.linspace(5.0, 18.0, 12)
    assert evaporation.open_water_evaporation_mm_d(np.linspace(5, 25, 12), 60.0, net, 2.0).shape == (12,)
