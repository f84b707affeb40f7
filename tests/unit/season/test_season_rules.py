"""What the grower does in the morning, as events: each conserves what it moves."""

import numpy as np
import pytest

from aquacalc.constants import (
    ATOMIC_MASS_CA_G_MOL,
    ATOMIC_MASS_CL_G_MOL,
    ATOMIC_MASS_N_G_MOL,
    ATOMIC_MASS_P_G_MOL,
)
from aquacalc.garden.file import GardenFile
from aquacalc.season import rules
from aquacalc.season.hour import Water
from aquacalc.water import carbonate, phosphate

LITRES = 1000.0


def water(alkalinity_mg_l: float = 50.0, tan_mg_l: float = 0.2, nitrite_mg_l: float = 0.1) -> Water:
    one = np.ones(1)
    return Water(
        tan_g=tan_mg_l * one,
        nitrite_g=nitrite_mg_l * one,
        nitrate_g=20.0 * one,
        solids_n_g=5.0 * one,
        alkalinity_eq=alkalinity_mg_l / carbonate.MG_L_CACO3_PER_EQ_L * LITRES * one,
        carbon_mol=1.1 * alkalinity_mg_l / carbonate.MG_L_CACO3_PER_EQ_L * LITRES * one,
        oxygen_g=8.0 * one,
        ammonia_oxidisers_g_d=4.0 * one,
        nitrite_oxidisers_g_d=3.0 * one,
        water_l=LITRES * one,
    )


def ions(**grams: float) -> dict[str, np.ndarray]:
    return {name: np.full(1, grams.get(name, 30.0)) for name in rules.IONS}


@pytest.fixture(scope="module")
def greenhouse():
    return GardenFile.open("demo:greenhouse").garden


def test_lost_water_takes_what_is_dissolved_and_leaves_films_and_solids():
    after, left = rules.apply(water(), ions(), rules.lost(3, 0.1))
    assert after.nitrate_g[0] == pytest.approx(18.0)
    assert after.water_l[0] == pytest.approx(900.0)
    assert left["calcium"][0] == pytest.approx(27.0)
    assert after.solids_n_g[0] == 5.0
    assert after.ammonia_oxidisers_g_d[0] == 4.0


def test_top_up_brings_what_the_tap_holds(greenhouse):
    tap = rules.new_water(greenhouse.top_up, 15.0)
    after, filled = rules.apply(water(), ions(), rules.topped_up(3, np.array([100.0]), tap))
    assert after.water_l[0] == 1100.0
    brought = (after.alkalinity_eq[0] - water().alkalinity_eq[0]) * carbonate.MG_L_CACO3_PER_EQ_L / 100.0
    assert brought == pytest.approx(greenhouse.top_up.alkalinity_mg_l)
    assert filled["calcium"][0] == pytest.approx(30.0 + 100.0 * 42.0 / 1000.0)


def test_an_empty_filter_is_fed_only_after_both_readings_fell():
    def given(tan: float, nitrite: float) -> float:
        return float(rules.filter_food(1, water(tan_mg_l=tan, nitrite_mg_l=nitrite)).added["tan_g"][0])

    assert given(0.3, 1.0) == pytest.approx(1.7)
    assert given(0.6, 1.0) == 0.0
    assert given(0.3, 5.5) == 0.0
    event = rules.filter_food(1, water(tan_mg_l=0.0))
    assert event.ions["chloride"][0] == pytest.approx(2.0 * ATOMIC_MASS_CL_G_MOL / ATOMIC_MASS_N_G_MOL)


def test_a_filter_is_fed_daily_in_a_start_up_and_weekly_before_fish_come():
    assert rules.feeds_filter(True, False, 17)
    assert not rules.feeds_filter(True, True, rules.NEVER)
    assert rules.feeds_filter(False, True, 17)
    assert not rules.feeds_filter(False, False, 17)
    assert not rules.feeds_filter(False, True, 97)
    assert not rules.feeds_filter(False, True, rules.NEVER)


def test_iron_goes_from_under_one_to_two():
    def given(mg_l: float) -> float:
        return float(rules.iron(1, np.array([mg_l]), water().water_l).ions["iron"][0])

    assert given(0.8) == pytest.approx(1.2)
    assert given(1.2) == 0.0


def test_lime_settles_only_out_of_hard_water_and_takes_its_own_carbon():
    soft = rules.scale(1, water(40.0), ions(calcium=20.0)["calcium"], 20.0, 0.006)
    assert soft.ions["calcium"][0] == 0.0
    hard_water = water(250.0)._replace(carbon_mol=water(250.0).alkalinity_eq * 1.01)
    event = rules.scale(1, hard_water, np.array([200.0]), 25.0, 0.01)
    mol = -event.added["carbon_mol"][0]
    assert mol > 0.0
    assert event.added["alkalinity_eq"][0] == pytest.approx(-2.0 * mol)
    assert event.ions["calcium"][0] == pytest.approx(-mol * ATOMIC_MASS_CA_G_MOL)
    assert mol * ATOMIC_MASS_CA_G_MOL < 0.05 * 200.0


def settled(
    calcium_g: float,
    phosphorus_g: float,
    ph: float = 7.2,
    alkalinity_mg_l: float = 50.0,
    lies_mol: float = 0.0,
):
    there = ions(calcium=calcium_g, phosphorus=phosphorus_g)
    lies = np.array([lies_mol])
    return rules.phosphate(1, water(alkalinity_mg_l), there, lies, np.array([ph]), 25.0, 0.01, -27.4, 0.1)


def test_phosphate_settles_with_calcium_in_the_proportion_of_its_formula():
    event = settled(60.0, 20.0)
    mol_p = -event.ions["phosphorus"][0] / ATOMIC_MASS_P_G_MOL
    assert 0.0 < mol_p * ATOMIC_MASS_P_G_MOL < 0.1 * 20.0
    assert -event.ions["calcium"][0] / ATOMIC_MASS_CA_G_MOL == pytest.approx(1.5 * mol_p)
    assert event.added["alkalinity_eq"][0] == pytest.approx(-2.0 * mol_p)


def test_phosphate_stays_in_soft_or_acid_water_and_settles_the_more_the_higher_the_ph():
    assert settled(5.0, 5.0).ions["phosphorus"][0] == 0.0
    assert settled(60.0, 20.0, ph=6.0).ions["phosphorus"][0] == 0.0
    by_ph = [-settled(60.0, 20.0, ph).ions["phosphorus"][0] for ph in (6.8, 7.2, 7.8, 8.4)]
    assert by_ph == sorted(by_ph)
    assert by_ph[0] < by_ph[-1]


def test_phosphate_dissolves_again_where_crops_have_emptied_the_water_never_more_than_lies_there():
    event = settled(60.0, 0.1, lies_mol=0.02)
    assert -0.1 * 0.02 <= event.solid_mol[0] < 0.0
    assert event.ions["phosphorus"][0] == pytest.approx(-2.0 * event.solid_mol[0] * ATOMIC_MASS_P_G_MOL)
    assert event.added["alkalinity_eq"][0] > 0.0
    assert settled(60.0, 0.1).solid_mol[0] == 0.0


def test_phosphate_settles_until_the_water_is_in_balance_with_it():
    there, lies = ions(calcium=60.0, phosphorus=20.0), np.zeros(1)
    for _ in range(200):
        event = rules.phosphate(1, water(), there, lies, np.array([7.2]), 25.0, 0.01, -27.4, 0.1)
        _, there = rules.apply(water(), there, event)
        lies = lies + event.solid_mol
    product = phosphate.log_product(7.2, there["calcium"][0], there["phosphorus"][0], 25.0, 0.01)
    assert product == pytest.approx(-27.4, abs=0.02)
    given_up = 20.0 - there["phosphorus"][0]
    assert 2.0 * lies[0] * ATOMIC_MASS_P_G_MOL == pytest.approx(given_up, rel=1e-9)


def test_phosphate_never_takes_all_the_alkalinity():
    event = settled(400.0, 80.0, ph=8.4, alkalinity_mg_l=2.0)
    assert -event.added["alkalinity_eq"][0] == pytest.approx(0.1 * water(2.0).alkalinity_eq[0])


def test_ionic_strength_of_the_tap_is_half_the_sum_over_charges(greenhouse):
    tap = rules.new_water(greenhouse.top_up, 15.0)
    alkalinity = greenhouse.top_up.alkalinity_mg_l / 50.043 / 1000.0
    expected = 0.5 * (
        4.0 * (42.0 / 40.078 + 9.0 / 24.305) / 1000.0 + alkalinity + (18.0 / 22.99 + 30.0 / 35.45) / 1000.0
    )
    assert rules.ionic_strength(tap) == pytest.approx(2.0 * expected, rel=1e-3)
