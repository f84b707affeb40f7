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


def test_warm_season_crops_have_the_wider_cap():
    assert LETTUCE.cap_c == LETTUCE.reference_c + 2
    assert TOMATO.cap_c == TOMATO.reference_c + 3


def test_fruit_and_pulses_follow_the_fruiting_rule():
    kinds = {
        key: crops.crop(key).rule_kind for key in ("basil", "kale", "tomato", "pea", "broccoli", "radish")
    }
    assert [key for key, kind in kinds.items() if kind == "fruiting"] == ["tomato", "pea"]


def test_both_methods_differ_threefold_for_lettuce():
    """The handbook's rule brings three to four times the nitrogen that lettuce takes up."""
    balance = crops.feed_for_uptake_g_day(LETTUCE.uptake_n_g_m2_d.typical, 0.32, 0.092, 0.2)
    assert 2.5 < crops.area_rule_g_m2_d("leafy").typical / balance < 4.0


def test_growth_stands_still_at_the_base_and_levels_at_the_cap():
    factor = crops.growth_factor(TOMATO, [5.0, 10.0, 24.0, 27.0, 35.0])
    assert factor.tolist() == pytest.approx([0.0, 0.0, 1.0, 17 / 14, 17 / 14])


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


def test_a_crop_stands_where_air_light_and_water_suit_it():
    fair = {"mean_c": 16.0, "night_c": 8.0, "light_mol_m2_d": 14.0, "water_c": 18.0}
    assert crops.is_open(LETTUCE, **fair)
    assert crops.is_open(LETTUCE, **{**fair, "mean_c": LETTUCE.air_max_c - 3.0})
    assert crops.is_open(LETTUCE, **{**fair, "mean_c": LETTUCE.air_min_c + 3.0})
    for change in (
        {"mean_c": 7.9},
        {"mean_c": 27.1},
        {"night_c": -2.0},
        {"light_mol_m2_d": 11.9},
        {"water_c": 26.1},
    ):
        assert not crops.is_open(LETTUCE, **{**fair, **change})


def test_a_crop_lives_through_cold_and_dark_in_which_it_is_not_set_out():
    fair = {"mean_c": 16.0, "night_c": 8.0, "water_c": 18.0}
    assert crops.takes_root(LETTUCE, **fair)
    for change in ({"mean_c": 7.9}, {"water_c": 7.9}):
        assert crops.lives(LETTUCE, **{**fair, **change})
        assert not crops.takes_root(LETTUCE, **{**fair, **change})
    for change in ({"mean_c": 27.1}, {"night_c": -2.0}, {"water_c": 26.1}):
        assert not crops.lives(LETTUCE, **{**fair, **change})


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
