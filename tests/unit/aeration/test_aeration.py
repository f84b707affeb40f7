import pytest

from aquacalc import aeration
from aquacalc.uncertainty import coefficient


def test_finer_stones_transfer_more():
    coarse, small, fine = (aeration.transfer_per_m(kind).typical for kind in ("coarse", "small", "fine"))
    assert coarse < small < fine


def test_stones_strip_oxygen_above_saturation_and_rest_at_it():
    assert aeration.field_rate_g_h(10.0, 25.0, 9.0, 8.0, beta=1.0) < 0.0
    assert aeration.field_rate_g_h(10.0, 25.0, 8.0, 8.0, beta=1.0) == 0.0


def test_clean_empty_water_at_twenty_degrees_gets_the_standard_rate():
    assert aeration.field_rate_g_h(10.0, 20.0, 0.0, 9.092, alpha=1.0, beta=1.0) == pytest.approx(
        10.0, rel=1e-3
    )


def test_a_submerged_outlet_gives_nearly_all_of_the_fall_away():
    free = aeration.oxygen_after_fall_mg_l(5.0, 8.26, aeration.deficit_ratio(0.3, 25.0)) - 5.0
    drowned = aeration.oxygen_after_fall_mg_l(5.0, 8.26, aeration.deficit_ratio(0.3, 25.0, shape=0.05)) - 5.0
    assert drowned < 0.1 * free


def test_surface_brings_area_times_velocity_times_deficit():
    assert aeration.surface_g_h(1.2, 0.1, 8.0, 5.5) == pytest.approx(0.3)


def test_feed_and_its_oxygen_undo_each_other():
    supply = aeration.oxygen_for_feed_g_h(140.0, 0.65, 1.5)
    assert aeration.feed_for_oxygen_g_day(supply, 0.65, 1.5) == pytest.approx(140.0)


def test_a_small_air_pump_carries_about_sixty_grams_of_feed():
    """20 L/min at 0.6 m near 1.6 g/h at 26 C and 5.5 mg/L: about 60 g of feed a day by the mean."""
    rate = aeration.field_rate_g_h(aeration.standard_rate_g_h(20.0, 0.6, 0.035), 26.0, 5.5, 8.113, 0.8, 0.95)
    assert aeration.feed_for_oxygen_g_day(rate, 0.6, 1.0) == pytest.approx(60.0, abs=5.0)


def test_the_fall_formula_by_hand():
    """1 + 0.38 x 1 x 1 x 2 (1 - 0.22)(1 + 0.92) at 2 m and 20 C."""
    assert aeration.deficit_ratio(2.0, 20.0, quality=1.0, shape=1.0) == pytest.approx(2.138176)


def test_defaults_are_the_typical_values_of_the_table():
    alpha, beta = coefficient("alpha").typical, coefficient("beta").typical
    around = (25.0, 5.0, 8.26)
    assert aeration.field_rate_g_h(10.0, *around) == aeration.field_rate_g_h(10.0, *around, alpha, beta)
    quality, shape = coefficient("fall_water_quality").typical, coefficient("fall_shape_broad").typical
    assert aeration.deficit_ratio(0.3, 25.0) == aeration.deficit_ratio(0.3, 25.0, quality, shape)
    wanted = aeration.air_for_oxygen_l_min(5.0, 0.6, 0.02, *around)
    assert wanted == aeration.air_for_oxygen_l_min(5.0, 0.6, 0.02, *around, alpha, beta)
