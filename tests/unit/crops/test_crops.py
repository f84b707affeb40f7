import numpy as np
import pytest

from aquacalc import crops, tables
from aquacalc.errors import InputError

LETTUCE = crops.crop("lettuce_leaf")
TOMATO = crops.crop("tomato")


@pytest.mark.parametrize("key", tables.load("crops").keys())
def test_uptake_per_area_agrees_with_the_table(key: str):
    """Yield times content over bed time is what the table holds beside them."""
    row, crop = tables.load("crops").row(key), crops.crop(key)
    assert crop.uptake_n_g_m2_d.typical == pytest.approx(row.number("uptake_n_g_m2_d"), rel=0.01)
    assert crop.uptake_k_g_m2_d == pytest.approx(row.number("uptake_k_g_m2_d"), rel=0.01)
    assert crop.base_c < crop.reference_c < crop.cap_c


def test_an_unknown_crop_names_the_nearest():
    with pytest.raises(InputError) as caught:
        crops.crop("tomatoe")
    assert caught.value.problems[0].nearest == "tomato"


@pytest.mark.parametrize("key", tables.load("crops").keys())
def test_heat_acts_in_its_order(key: str):
    """Growth levels off, then falls; what is picked suffers before growth ends; cold-season crops first."""
    crop = crops.crop(key)
    assert crop.cap_c <= crop.heat_from_c < crop.heat_none_c
    assert crop.root_heat_from_c < crop.root_heat_none_c
    if not np.isnan(crop.picked_from_c):
        assert crop.heat_from_c - 2.0 <= crop.picked_from_c < crop.picked_to_c <= crop.heat_none_c


def test_fruit_and_pulses_follow_the_fruiting_rule():
    kinds = {
        key: crops.crop(key).rule_kind for key in ("basil", "kale", "tomato", "pea", "broccoli", "radish")
    }
    assert [key for key, kind in kinds.items() if kind == "fruiting"] == ["tomato", "pea"]


def test_both_methods_differ_threefold_for_lettuce():
    """The handbook's rule brings three to four times the nitrogen that lettuce takes up."""
    balance = crops.feed_for_uptake_g_day(LETTUCE.uptake_n_g_m2_d.typical, 0.32, 0.092, 0.2)
    assert 2.5 < crops.area_rule_g_m2_d("leafy").typical / balance < 4.0


def test_growth_stands_still_at_the_base_levels_at_the_cap_and_falls_in_heat():
    factor = crops.growth_factor(TOMATO, [5.0, 10.0, 24.0, 26.0, 28.0, 30.0, 34.0, 40.0])
    assert factor.tolist() == pytest.approx([0.0, 0.0, 1.0, 8 / 7, 15 / 14, 6 / 7, 0.0, 0.0])


def test_warm_roots_hold_a_crop_back_and_wide_days_count_as_hotter():
    assert crops.growth_factor(LETTUCE, 20.0, water_c=26.0) == 1.0
    assert crops.growth_factor(LETTUCE, 20.0, water_c=34.0) == 0.0
    assert crops.growth_factor(LETTUCE, 28.0, range_k=10.0) == crops.growth_factor(LETTUCE, 28.0)
    level = crops.temperature_factor(28.0, LETTUCE.base_c, LETTUCE.reference_c, LETTUCE.cap_c)
    assert crops.growth_factor(LETTUCE, 28.0, range_k=18.0) == pytest.approx(
        float(level * crops.heat_fall(30.0, LETTUCE.heat_from_c, LETTUCE.heat_none_c))
    )


def test_heat_kills_on_its_third_day_and_a_warm_week_does_not():
    days = np.array([33.0, 35.0, 35.0, 33.0, 35.0, 35.0, 35.0, 35.0, 20.0])
    cool = np.full(days.size, 20.0)
    dead = [False] * 6 + [True] * 2 + [False]
    assert crops.deadly_heat(LETTUCE, days, cool).tolist() == dead
    assert crops.deadly_heat(LETTUCE, cool, days + 0.5).tolist() == dead
    assert not crops.deadly_heat(LETTUCE, days, cool, later_k=2.0).any()


def test_light_under_half_of_the_least_is_dark():
    assert crops.light_on_days(LETTUCE, 5.9, 0.5) == 0.0
    assert crops.light_on_days(LETTUCE, 6.0, 0.5) == pytest.approx((6 / 17) ** 0.5)
    # A hundredth of light is a hundredth of fruit.
    light = 11.0
    whole = crops.light_on_days(TOMATO, light, 0.5) * crops.light_on_mass(TOMATO, light, 0.4)
    assert whole == pytest.approx(light / TOMATO.light_good_mol_m2_d)


def test_growth_without_light_given_counts_it_as_good():
    assert crops.growth_factor(LETTUCE, 20.0, LETTUCE.light_good_mol_m2_d) == crops.growth_factor(
        LETTUCE, 20.0
    )
    assert crops.growth_factor(LETTUCE, 20.0, 0.0) == 0.0


def test_a_crop_that_does_not_get_there_is_never_picked():
    assert crops.days_to_harvest(np.full(29, 1.0), 30.0) == np.inf
    assert crops.days_to_harvest(np.full(30, 1.0), 30.0) == 30.0
    assert crops.days_to_harvest(np.ones((2, 40)) * [[1.0], [0.5]], 30.0).tolist() == [30.0, np.inf]


def test_the_latest_planting_is_the_inverse_of_the_days_to_harvest():
    factor = np.concatenate([np.full(40, 0.3), np.full(60, 1.1), np.zeros(10), np.full(40, 0.7)])
    for harvest in range(150):
        planted = crops.planting_for_harvest(factor, harvest, 30.0)
        if planted < 0:
            assert crops.days_to_harvest(factor[:harvest], 30.0) == np.inf
            continue
        assert crops.days_to_harvest(factor[planted:], 30.0) <= harvest - planted
        assert crops.days_to_harvest(factor[planted + 1 :], 30.0) > harvest - planted - 1


def test_uptake_follows_growth():
    assert crops.uptake_g_m2_d(0.4, 0.5, 0.5) == 0.1


def test_seed_without_a_legal_minimum_counts_as_fresh_and_cuttings_are_no_seed():
    assert (LETTUCE.germination, crops.crop("basil").germination) == (0.80, 0.85)
    assert [crops.crop(key).from_seed for key in ("basil", "mint", "strawberry", "taro")] == [True] + [
        False
    ] * 3


def test_hard_top_up_leaves_no_base_to_add():
    assert crops.base_need_eq_day(2.0, 1.6, 0.4, 0.5, 50.0, 200.0) < 0.0


def test_a_covered_bed_gives_off_less():
    assert crops.bed_kc(LETTUCE, True, 0.8) == pytest.approx(0.8 * 0.9)
    assert crops.bed_kc(LETTUCE, False, 0.8) == pytest.approx(0.8 * 1.0)


def test_salt_ends_a_crop_and_an_unknown_response_stays_unknown():
    assert crops.salt_yield_pct([0.5, 30.0], 1.3, 13.0).tolist() == [100.0, 0.0]
    assert np.isnan(crops.salt_yield_pct(3.0, float("nan"), float("nan")))


def test_picked_plants_are_counted_by_their_weekly_yield():
    assert crops.plants_for_weekly_kg(1.5, 0.3) == pytest.approx(5.0)


def test_losses_not_given_are_a_tenth_each():
    found = crops.succession(900, 28, 21, 25.0, 0.8)
    assert (found.transplants, found.seeds) == (1000, 1389)
