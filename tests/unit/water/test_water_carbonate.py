import numpy as np
import pytest

from aquacalc.water import carbonate


@pytest.mark.parametrize(
    ("alkalinity", "carbon"),
    [(0.0, 0.0), (0.0, 1.0), (-50.0, 0.5), (100.0, 0.0), (200.0, 1.0), (1e-6, 1e-6), (100.0, 100.0 / 50.043)],
)
def test_odd_waters_have_a_ph_that_gives_their_alkalinity_back(alkalinity: float, carbon: float):
    ph = carbonate.ph_closed(alkalinity, carbon, 20.0, 0.002)
    assert 2.0 < ph < 12.5
    assert carbonate.alkalinity_mg_l(ph, carbon, 20.0, 0.002) == pytest.approx(alkalinity, abs=1e-5)


def test_pure_water_is_neutral():
    assert carbonate.ph_closed(0.0, 0.0, 25.0) == pytest.approx(7.0, abs=0.001)


def test_strong_acid_alone():
    # One milli-equivalent of acid in pure water is pH 3.
    assert carbonate.ph_closed(-50.043, 0.0, 25.0) == pytest.approx(3.0, abs=1e-3)


def test_shapes_broadcast_and_constants_at_hand_give_the_same():
    alkalinity, carbon = np.array([[20.0], [80.0]]), np.array([0.6, 1.5, 2.5])
    found = carbonate.ph_closed(alkalinity, carbon, 22.0, 0.004)
    assert found.shape == (2, 3)
    at = carbonate.constants_at(22.0, 0.004)
    assert np.array_equal(carbonate.ph_closed_at(alkalinity, carbon, at), found)
    assert found[1, 2] == pytest.approx(carbonate.ph_closed(80.0, 2.5, 22.0, 0.004))


def test_a_water_knows_its_ph_and_carbon_dioxide():
    water = carbonate.water(6.8, 50.0, 25.0, 0.009)
    assert water.ph == pytest.approx(6.8)
    assert water.carbon_dioxide_mg_l == pytest.approx(carbonate.carbon_dioxide_mg_l(6.8, 50.0, 25.0, 0.009))


def test_held_carbon_dioxide_goes_both_ways():
    ph = carbonate.ph_at_carbon_dioxide(35.0, 10.0, 25.0, 0.009)
    assert carbonate.alkalinity_at_carbon_dioxide_mg_l(ph, 10.0, 25.0, 0.009) == pytest.approx(35.0)


def test_thin_air_holds_less_carbon_dioxide_and_leaves_a_higher_ph():
    low, high = (carbonate.ph_open(50.0, 20.0, 0.001, pressure_atm=p) for p in (1.0, 0.83))
    assert high - low == pytest.approx(-np.log10(0.83), abs=0.01)


def test_averaging_ph_would_be_wrong():
    old, tap = carbonate.water(6.4, 20.0, 25.0, 0.009), carbonate.water(7.8, 200.0, 25.0, 0.009)
    assert carbonate.mix(old, tap, 0.3).ph > 0.7 * 6.4 + 0.3 * 7.8 + 0.2


def test_not_a_number_stays_not_a_number():
    assert np.isnan(carbonate.ph_closed(np.array([np.nan, 50.0]), 1.2, 20.0))[0]


def test_doubly_charged_ions_have_the_fourth_power():
    assert carbonate.activity(2, 20.0, 0.01) == pytest.approx(carbonate.activity(1, 20.0, 0.01) ** 4)


def test_calcium_lifts_the_calcite_index_by_its_logarithm():
    one, ten = (
        carbonate.calcite_saturation_index(7.2, 80.0, calcium, 25.0, 0.009) for calcium in (10.0, 100.0)
    )
    assert ten - one == pytest.approx(1.0)
