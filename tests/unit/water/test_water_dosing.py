import math

import numpy as np
import pytest

from aquacalc.errors import InputError
from aquacalc.water import carbonate, dosing

HYDROXIDES = ("potassium_hydroxide", "calcium_hydroxide")
BASES = (
    *HYDROXIDES,
    "potassium_carbonate",
    "potassium_bicarbonate",
    "calcium_carbonate",
    "sodium_bicarbonate",
)


def place(
    ph: float = 6.6, alkalinity: float = 40.0, tan: float = math.nan, calcium: float = math.nan
) -> dosing.Place:
    return dosing.Place(carbonate.water(ph, alkalinity, 24.0, 0.009), 1500.0, 8.0, tan, calcium)


def test_an_unknown_chemical_offers_the_nearest_name():
    with pytest.raises(InputError) as caught:
        dosing.chemical("potasium_hydroxide")
    assert caught.value.problems[0].nearest == "potassium_hydroxide"


@pytest.mark.parametrize("name", BASES)
def test_grams_and_rise_go_back_and_forth(name: str):
    of = dosing.chemical(name)
    grams = dosing.grams_for_alkalinity(of, 17.85, 800.0, 0.9)
    assert dosing.rise_of_grams_mg_l(of, grams, 800.0, 0.9) == pytest.approx(17.85)


def test_weaker_goods_take_more_grams():
    of = dosing.chemical("potassium_hydroxide")
    assert dosing.grams_for_alkalinity(of, 10.0, 1000.0, 0.5) == pytest.approx(
        2.0 * dosing.grams_for_alkalinity(of, 10.0, 1000.0)
    )


@pytest.mark.parametrize("name", HYDROXIDES)
def test_a_hydroxide_day_takes_no_more_than_its_share_of_the_carbon_dioxide(name: str):
    day = dosing.daily_limit(place(ph=6.2), dosing.chemical(name), ph_step=0.5)
    assert day.bound_by == "hydroxide_share"
    assert day.dose.hydroxide_share == pytest.approx(dosing.HYDROXIDE_SHARE_ADVISED)


@pytest.mark.parametrize("name", BASES)
@pytest.mark.parametrize("step", [0.2, 0.3, 0.5])
def test_a_day_meets_no_objection_of_its_own(name: str, step: float):
    day = dosing.daily_limit(place(), dosing.chemical(name), ph_step=step)
    assert day.dose.grams > 0.0
    assert day.dose.ph_at_once <= day.dose.ph_before + step + 1e-9
    assert dosing.objections(day.dose, step) == ()


def test_nothing_is_given_where_the_ph_is_high_already():
    day = dosing.daily_limit(place(ph=8.0), dosing.chemical("potassium_bicarbonate"))
    assert (day.bound_by, day.dose.grams) == ("not_raised", 0.0)


def test_bicarbonate_cannot_overshoot_and_hydroxide_can():
    before = carbonate.water(6.4, 20.0, 25.0, 0.009)
    mild = dosing.after_rise(before, dosing.chemical("potassium_bicarbonate"), 40.0).ph
    caustic = dosing.after_rise(before, dosing.chemical("potassium_hydroxide"), 40.0).ph
    assert mild < 6.9
    assert caustic > 9.5
    assert dosing.rise_for_ph_mg_l(before, dosing.chemical("potassium_bicarbonate"), 8.6) == np.inf


def test_a_straight_line_of_grams_would_overshoot():
    before, of = carbonate.water(6.4, 20.0, 25.0, 0.009), dosing.chemical("potassium_hydroxide")
    small = dosing.rise_for_ph_mg_l(before, of, 6.5)
    straight = 20.0 * small
    # Twenty times the dose of a tenth of a unit is past the target of two units by more than half a unit.
    assert dosing.after_rise(before, of, straight).ph > 8.9


def test_every_objection_can_be_raised():
    koh, bicarbonate = dosing.chemical("potassium_hydroxide"), dosing.chemical("potassium_bicarbonate")
    heavy = dosing.objections(dosing.dose(place(), koh, 60.0))
    assert {"ph_step", "ph_high", "hydroxide_share"} <= set(heavy)
    loaded = dosing.dose(place(tan=20.0), bicarbonate, 10.0)
    assert dosing.objections(loaded, unionised_limit_mg_l=0.05) == ("unionised_ammonia",)
    hard = dosing.dose(place(ph=7.6, alkalinity=250.0, calcium=150.0), bicarbonate, 10.0)
    assert "calcite" in dosing.objections(hard)


def test_ammonia_is_judged_at_the_higher_of_both_ph():
    portion = dosing.dose(place(tan=5.0), dosing.chemical("potassium_bicarbonate"), 40.0)
    assert portion.ph_settled > portion.ph_at_once
    now = dosing.dose(place(tan=5.0), dosing.chemical("potassium_bicarbonate"), 0.0)
    assert portion.unionised_mg_l > now.unionised_mg_l


def test_what_was_not_measured_is_not_known():
    portion = dosing.dose(place(), dosing.chemical("potassium_carbonate"), 10.0)
    assert math.isnan(portion.unionised_mg_l)
    assert math.isnan(portion.calcite_index)
    assert dosing.objections(portion, 0.5, 0.0) == ()


def test_potassium_and_calcium_come_along():
    assert set(dosing.dose(place(), dosing.chemical("potassium_hydroxide"), 5.0).elements_mg_l) == {"K"}
    lime = dosing.dose(place(calcium=40.0), dosing.chemical("calcium_hydroxide"), 5.0)
    assert lime.elements_mg_l["Ca"] == pytest.approx(2.0, abs=0.01)


def test_acid_frees_carbon_dioxide_and_sets_alkalinity_not_the_lasting_ph():
    hard = dosing.Place(carbonate.water(7.6, 250.0, 18.0, 0.0098), 1000.0, 0.8)
    portion = dosing.dose(hard, dosing.chemical("hydrochloric_acid"), -175.0)
    assert portion.grams == pytest.approx(127.5, abs=0.1)
    assert portion.ph_at_once < 6.0
    assert portion.ph_settled > 8.0


def test_a_salt_is_no_dose_of_alkalinity():
    with pytest.raises(ValueError, match="sodium_chloride"):
        dosing.dose(place(), dosing.chemical("sodium_chloride"), 10.0)
