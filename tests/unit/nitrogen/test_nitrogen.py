import numpy as np
import pytest

from aquacalc import nitrogen, tables
from aquacalc.uncertainty import coefficient

TYPICAL = nitrogen.Kinetics.typical()


def test_shares_that_leave_nothing_dissolved_are_refused():
    with pytest.raises(ValueError, match="exceed 1"):
        nitrogen.partition(0.8, 0.2, 0.1)


def test_shares_may_be_members():
    found = nitrogen.partition(np.array([0.2, 0.4]))
    assert found.dissolved == pytest.approx([0.62, 0.42])


def test_the_constants_are_those_of_the_table():
    assert TYPICAL.ammonia.growth_1_d == 0.6
    assert TYPICAL.nitrite.growth_1_d == 0.36
    assert TYPICAL.nitrite.half_saturation_mg_l == 0.2
    assert TYPICAL.step("ammonia") is TYPICAL.ammonia
    assert TYPICAL.step("nitrite") is TYPICAL.nitrite
    assert TYPICAL.areal_capacity_g_m2_d == 1.2


def test_every_name_asked_for_stands_in_the_table_once():
    names = nitrogen.KINETIC_COEFFICIENTS
    assert len(set(names)) == len(names)
    assert set(names) <= set(tables.load("coefficients").keys())


def test_warmth_helps_to_thirty_and_ends_at_forty_five():
    factor = nitrogen.temperature_factor(1.072, np.array([20.0, 30.0, 34.0, 40.0, 45.0, 60.0]))
    assert factor[0] == 1.0
    assert factor[1] == factor[2]
    assert factor[3] == pytest.approx(0.5 * factor[2])
    assert factor[4:].tolist() == [0.0, 0.0]


def test_nothing_below_zero_feeds_a_rate():
    assert nitrogen.saturation_factor(-0.5, 0.7) == 0.0


def test_resistances_add_up():
    """1/r = K/(R S) + 1/(M S) + 1/R."""
    capacity, factor, substrate, half, transfer = 3.0, 0.5, 0.7, 0.4, 1.1
    rate = substrate * nitrogen.oxidation_speed(capacity, factor, substrate, half, transfer)
    active = capacity * factor
    assert 1.0 / rate == pytest.approx(
        half / (active * substrate) + 1.0 / (transfer * substrate) + 1.0 / active
    )
    endless = substrate * nitrogen.oxidation_speed(capacity, factor, substrate, half, 1e12)
    assert endless == pytest.approx(active * substrate / (half + substrate))


def test_free_ammonia_holds_back_the_second_step_first():
    ammonia, nitrite = (
        nitrogen.rate_factor(s, 20, 7.5, 6.5, 150, TYPICAL, 1.0) for s in ("ammonia", "nitrite")
    )
    plain = [nitrogen.rate_factor(s, 20, 7.5, 6.5, 150, TYPICAL) for s in ("ammonia", "nitrite")]
    assert ammonia / plain[0] == pytest.approx(10 / 11)
    assert nitrite / plain[1] == pytest.approx(0.65 / 1.65)


def test_growth_of_the_old_single_step_ends_at_ph_six():
    assert nitrogen.epa_growth_1_d(20, 2, 6, 5.9) == 0.0
    assert nitrogen.epa_growth_1_d(20, 2, 6, 8.0) == nitrogen.epa_growth_1_d(20, 2, 6, 7.2)


def test_media_for_a_film_that_does_nothing_are_endless():
    assert nitrogen.media_litres(2.944, [0.2, 0.0], 250, 1.0).tolist() == pytest.approx([58.88, np.inf])


def test_a_cold_snap_cuts_the_rates_at_once():
    """25 to 12 C leaves 0.41 of step one and 0.45 of step two (growth's temperature factors)."""
    left = [
        nitrogen.temperature_factor(TYPICAL.step(s).theta_growth, 12)
        / nitrogen.temperature_factor(TYPICAL.step(s).theta_growth, 25)
        for s in ("ammonia", "nitrite")
    ]
    assert left == pytest.approx([0.41, 0.45], abs=0.005)


def test_ammonia_water_of_known_strengths():
    strengths = np.array([3.0, 5.0, 10.0, 25.0, 28.0])
    found = nitrogen.ammonia_solution_ml(2.0, 1000.0, strengths, nitrogen.ammonia_density_g_ml(strengths))
    assert found == pytest.approx([82.3, 49.8, 25.4, 10.7, 9.67], abs=0.05)


def test_defaults_are_the_typical_values_of_the_table():
    shares = nitrogen.partition()
    assert coefficient("tan_per_protein_sizing").typical == nitrogen.SIZING_SHARE
    assert coefficient("tan_per_protein_budget").typical == nitrogen.BUDGET_SHARE
    assert shares.retained == coefficient("feed_n_retained_share").typical
    assert shares.faecal == coefficient("feed_n_faecal_share").typical
    assert shares.uneaten == coefficient("feed_n_uneaten_share").typical
    assert shares.dissolved == pytest.approx(coefficient("feed_n_dissolved_share").typical)


def test_a_sixth_and_a_quarter_of_protein_is_nitrogen():
    assert nitrogen.feed_nitrogen_g_day(100.0, 0.32) == pytest.approx(100 * 0.32 / 6.25)
