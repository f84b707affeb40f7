import numpy as np
import pytest

from aquacalc import fish, tables
from aquacalc.errors import InputError

TILAPIA = fish.species("nile_tilapia")
TROUT = fish.species("rainbow_trout")


@pytest.mark.parametrize("key", tables.load("species").keys())
def test_every_species_can_be_read_and_its_corners_rise(key: str):
    found = fish.species(key)
    corners = found.corners
    rising = (
        found.lethal_low_c,
        corners.feed_stop_low_c,
        corners.tgc_low_c,
        corners.tgc_high_c,
        corners.feed_stop_high_c,
        found.lethal_high_c,
    )
    assert list(rising) == sorted(set(rising))
    assert found.oxygen_lethal_mg_l < found.oxygen_critical_mg_l < found.oxygen_full_feed_mg_l


def test_an_unknown_species_names_the_nearest():
    with pytest.raises(InputError) as caught:
        fish.species("nile_tilapa")
    assert caught.value.problems[0].nearest == "nile_tilapia"


def test_groups_follow_the_temperature_class():
    assert (TILAPIA.group, TROUT.group, fish.species("goldfish").group) == ("W", "C", "C")
    assert fish.species("common_carp").group == "W"


def test_ornamental_fish_are_not_eaten():
    assert not fish.species("koi").eaten
    assert TILAPIA.eaten
    assert fish.species("redclaw").eaten


def test_feeding_ends_where_heat_is_acted_on_or_two_degrees_below_the_lethal_corner():
    assert TILAPIA.no_feed_from_c == TILAPIA.warm_limit_c + 2.0 == 35.0
    catfish = fish.species("channel_catfish")
    assert catfish.no_feed_from_c == catfish.lethal_high_c - 2.0 < catfish.corners.feed_stop_high_c
    assert fish.eats([17.0, 17.1, 34.9, 35.0], TILAPIA).tolist() == [False, True, True, False]


def test_growth_ends_where_feeding_ends_though_the_curve_goes_on():
    at = TILAPIA.no_feed_from_c
    assert fish.effective_temperature_c(at, TILAPIA.corners) > 0.0
    assert fish.growing_temperature_c(at, TILAPIA) == 0.0
    assert fish.growing_temperature_c(at - 0.1, TILAPIA) > 0.0


def test_weights_of_members_come_from_their_own_growth():
    warmth = np.full((2, 30), 27.0)
    weights = fish.weights_g(20.0, np.array([[0.6], [0.95]]), warmth)
    assert weights.shape == (2, 31)
    assert weights[1, -1] == pytest.approx(fish.weights_g(20.0, 0.95, warmth[0])[-1])
    assert weights[0, -1] < weights[1, -1]
    assert weights[:, 0] == pytest.approx(20.0)


def test_days_may_run_along_the_first_axis():
    warmth = np.arange(12.0).reshape(2, 6) + 15.0
    across = fish.weights_g(np.array([[10.0], [30.0]]), 1.0, warmth)
    down = fish.weights_g(np.array([[10.0, 30.0]]), 1.0, warmth.T, axis=0)
    assert np.allclose(down.T, across, rtol=1e-12)


def test_modifiers_slow_growth_and_feed_alike():
    full = fish.daily_gain_g(100.0, 0.95, 28.0)
    half = fish.daily_gain_g(100.0, 0.95, 28.0, 0.5)
    assert 0.49 < half / full < 0.5
    assert fish.daily_feed_g(100.0, 0.95, 28.0, 1.6, 0.5) == pytest.approx(1.6 * half)
    assert fish.weights_g(100.0, 0.95, [28.0], modifier=0.5)[-1] == pytest.approx(100.0 + half)


def test_no_growth_takes_for_ever_and_no_way_takes_no_time():
    assert fish.days_to_weight(20.0, 500.0, 0.95, 0.0) == np.inf
    assert fish.days_to_weight(500.0, 500.0, 0.95, 0.0) == 0.0


def test_the_clock_stands_at_zero_below_and_never_ends_without_fish():
    assert fish.hours_to_critical(2.9, 3.0, 250.0, 20.0) == 0.0
    assert fish.hours_to_critical(6.0, 3.0, 250.0, 0.0) == np.inf
    assert fish.hours_to_critical(6.0, 3.0, 250.0, 20.0, 1.5) == pytest.approx(0.4)


def test_exchange_of_no_velocity_changes_nothing():
    still = fish.SurfaceExchange(8.0, 0.0, 0.6)
    assert fish.hours_to_critical(6.0, 3.0, 250.0, 20.0, exchange=still) == pytest.approx(0.6)


def test_half_of_the_just_fed_time_is_left_to_act():
    assert fish.response_time_h(0.8) == 0.4


def test_just_fed_fish_use_twice_the_mean_and_resting_fish_less_than_half():
    resting, fed, just = (
        fish.oxygen_use_mg_kg_h("liao_trout", 200.0, 12.0, s) for s in ("resting", "fed", "just_fed")
    )
    assert just == pytest.approx(2 * fed)
    assert resting == pytest.approx(0.4 * fed)


def test_oxygen_use_takes_arrays_across_the_step_of_the_formula():
    warmth = np.array([9.9, 10.0, 10.1])
    many = fish.oxygen_use_mg_kg_h("liao_trout", 100.0, warmth)
    assert many.tolist() == [fish.oxygen_use_mg_kg_h("liao_trout", 100.0, float(t)) for t in warmth]
    assert many[2] / many[1] == pytest.approx(1.095, abs=0.01)


def test_the_critical_oxygen_lies_above_what_a_hardy_relative_was_measured_at():
    """Resting young crucian carp of 20 g: 1.35 W^-0.107 = 0.98 mg/L (YAMANAKA13, abstract read)."""
    measured = 1.35 * 20.0**-0.107
    assert measured == pytest.approx(0.980, rel=0.005)
    assert fish.species("goldfish").oxygen_critical_mg_l > measured


def test_deaths_spread_over_the_plan():
    assert fish.alive(30, 0.9, [0, 90, 180], 180) == pytest.approx([30.0, 28.46, 27.0], abs=0.005)


def test_survival_raises_the_number_to_stock():
    assert fish.stock_count(20.0, 0.8, 500.0, 0.8) == pytest.approx(40.0)


def test_a_tgc_on_another_scale_is_not_plausible():
    assert not fish.tgc_is_plausible(95.0, TILAPIA)
    assert not fish.tgc_is_plausible(float("nan"), TILAPIA)
    assert fish.tgc_is_plausible(TILAPIA.tgc.high, TILAPIA)
