"""Ammonia and carbonate for a start-up: labels, refusals, and what a reading calls for."""

import math

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.model import KitScale
from aquacalc.kits import Interval
from aquacalc.startup import doses
from aquacalc.startup.doses import Water
from aquacalc.water import dosing

TAN = KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2, 2.5, 6.0))
TAN_AS_NH4 = KitScale("tan", "NH4", (0.0, 0.4, 0.8, 2.0))
KH = KitScale("alkalinity", "dkh", drop=1.0)
CLEAR = Interval(-math.inf, 0.1)
SALT = doses.source("ammonium_chloride", 99.0)
WATER = Water(1000.0, 0.3, 7.4, 22.0, 100.0)


def key_of(error: pytest.ExceptionInfo[InputError]) -> str:
    return error.value.problems[0].key


def test_what_a_label_counts_changes_the_millilitres():
    by_weight, by_volume, hydroxide = (
        doses.amount(doses.source("ammonia_solution", 10.0, counts), 2.0, 1000.0)
        for counts in ("NH3 by weight", "NH3 by volume", "NH4OH")
    )
    assert by_volume == pytest.approx(0.9575 * by_weight)
    assert hydroxide == pytest.approx(2.02 * by_weight, rel=0.01)


def test_a_label_that_does_not_tell_is_taken_for_the_strongest():
    unknown = doses.source("ammonia_solution", 10.0, "not told")
    assert unknown.doubtful
    known = [
        doses.source("ammonia_solution", 10.0, one) for one in ("NH3 by weight", "NH3 by volume", "NH4OH")
    ]
    assert unknown.nitrogen_g == max(one.nitrogen_g for one in known)


@pytest.mark.parametrize(
    ("product", "strength", "foam", "key"),
    [
        ("ammonia_solution", None, "none", "problem-startup-no-strength"),
        ("ammonia_solution", 10.0, "lasting", "problem-startup-foam"),
        ("ammonia_solution", 60.0, "none", "problem-startup-strength"),
        ("potassium_bicarbonate", 99.0, "none", "problem-startup-no-ammonia"),
        ("ammonium_chloride", 250.0, "none", "problem-range"),
    ],
)
def test_a_product_that_cannot_be_dosed_is_refused(product, strength, foam, key):
    with pytest.raises(InputError) as error:
        doses.source(product, strength, foam=foam)
    assert key_of(error) == key


def test_only_what_is_missing_is_given():
    found = doses.dose(SALT, WATER, 2.0)
    assert found.rise_mg_l == pytest.approx(1.7)
    assert doses.rise_mg_l(SALT, found.amount, 1000.0) == pytest.approx(1.7)
    with pytest.raises(InputError) as error:
        doses.dose(SALT, WATER, 0.2)
    assert key_of(error) == "problem-startup-dose-none"


def test_no_dose_goes_beyond_eight():
    with pytest.raises(InputError) as error:
        doses.dose(SALT, WATER, 8.5)
    assert key_of(error) == "problem-startup-dose-high"


def test_a_high_ph_refuses_a_dose_that_a_low_one_takes():
    basic = Water(1000.0, 0.0, 8.7, 26.0, 150.0)
    with pytest.raises(InputError) as error:
        doses.dose(SALT, basic, 4.0)
    assert key_of(error) == "problem-startup-unionised"
    most = float(error.value.problems[0].allowed[0])
    assert doses.dose(SALT, basic, most - 0.1).unionised_mg_l < doses.slowing_unionised_mg_l()
    assert doses.dose(SALT, WATER, 4.0).unionised_mg_l < 0.1


def test_ammonia_water_lifts_the_ph_of_soft_water_and_a_salt_does_not():
    soft = Water(1000.0, 0.0, 7.2, 20.0, 30.0)
    poured = doses.dose(doses.source("ammonia_solution", 10.0), soft, 3.0)
    salted = doses.dose(SALT, soft, 3.0)
    assert poured.ph_at_once > 8.5 > 7.6 > poured.ph_settled > 7.2
    assert poured.in_portions
    assert not salted.in_portions
    assert salted.ph_at_once == pytest.approx(7.2, abs=0.05)
    assert salted.alkalinity_cost_mg_l == pytest.approx(2.0 * poured.alkalinity_cost_mg_l)


def test_without_alkalinity_the_ph_stays_as_read():
    unknown = Water(1000.0, 0.0, 7.2, 20.0)
    assert doses.ph_at_once(unknown, 3.0, 3.573) == 7.2


@pytest.mark.parametrize(
    ("tan", "nitrite", "dilution", "why"),
    [
        (0.3, CLEAR, 1.0, None),
        (0.6, CLEAR, 1.0, "ammonia_there"),
        (0.3, None, 1.0, "nitrite_not_known"),
        (0.3, Interval(5.5, 8.0), 5.0, "nitrite_high"),
        (0.3, Interval(1.2, math.inf), 1.0, "nitrite_off_scale"),
        (0.3, Interval(6.0, math.inf), 5.0, "nitrite_high"),
        (0.3, Interval(2.0, 4.0), 5.0, None),
    ],
)
def test_when_ammonia_waits(tan, nitrite, dilution, why):
    assert doses.why_none(tan, nitrite, dilution) == why


def test_the_table_has_the_kits_own_steps_up_to_the_first_that_calls_for_nothing():
    found = doses.ammonia_lines(SALT, 1000.0, TAN)
    assert [line.shown for line in found] == [0.0, 0.3, 0.6]
    assert found[0].amount == pytest.approx(7.64 / 0.99, rel=1e-3)
    assert found[1].amount == pytest.approx(0.85 * found[0].amount)
    assert found[2].amount == 0.0
    assert doses.ammonia_lines(SALT, 1000.0, TAN_AS_NH4)[1].inside == pytest.approx(0.4 / 1.2879, rel=1e-3)


def test_a_kit_that_does_not_tell_its_basis_is_refused():
    with pytest.raises(InputError) as error:
        doses.ammonia_lines(SALT, 1000.0, KitScale("tan", steps=(0.0, 1.0)))
    assert key_of(error) == "problem-startup-basis-nitrogen"
    base = dosing.chemical("potassium_bicarbonate")
    with pytest.raises(InputError) as error:
        doses.alkalinity_lines(base, 1.0, 1000.0, KitScale("alkalinity", drop=1.0))
    assert key_of(error) == "problem-startup-basis-alkalinity"


def test_alkalinity_is_brought_up_only_from_below_eighty():
    base = dosing.chemical("potassium_bicarbonate")
    found = doses.alkalinity_lines(base, 1.0, 1000.0, KH)
    assert [line.shown for line in found] == [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    amounts = [line.amount for line in found]
    assert amounts == sorted(amounts, reverse=True)
    assert amounts[-1] == 0.0 < amounts[-2]
    assert doses.carbonate_g(base, 1.0, 1000.0, 80.0) == 0.0
