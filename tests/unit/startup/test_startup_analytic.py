"""The ensemble against what can be written down in closed form."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from scipy.special import lambertw

from aquacalc import film, nitrogen
from aquacalc.startup import case, members
from aquacalc.startup.members import Event
from aquacalc.startup.rule import Rule

TYPICAL = nitrogen.Kinetics.typical()
PLENTY = case.typed(1000.0, 20.0, date(2027, 3, 1), film_m2=1e9, ph=7.0, alkalinity_mg_l=1000.0)


def without(**changed: float) -> nitrogen.Kinetics:
    """Kinetics that nothing inhibits and alkalinity does not hold back, with changes of both steps."""
    free = {"inhibition_ammonia_mg_l": 1e12, "inhibition_nitrous_acid_mg_l": 1e12, **changed}
    return replace(
        TYPICAL,
        ammonia=replace(TYPICAL.ammonia, **free),
        nitrite=replace(TYPICAL.nitrite, **free),
        half_saturation_alkalinity_mg_l=1e-9,
    )


def factor(step: nitrogen.Step) -> float:
    return float(nitrogen.rate_factor(step, 20.0, 7.0, 6.5, 1e9, TYPICAL))


@pytest.mark.parametrize("start_mg_l", [2.0, 8.0])
def test_a_batch_with_a_steady_film_follows_lamberts_function(start_mg_l: float):
    resting = without(decay_1_d=0.0, yield_g_cod_g_n=0.0, growth_1_d=1e-12)
    q, half = 0.6, 0.5
    capacity = np.full(1, q / factor("ammonia"))
    course = members.run(
        PLENTY,
        members.members_of(capacity, np.zeros(1), kinetics=resting),
        [Event(0, "ammonium_salt", start_mg_l)],
        8,
    )
    days = np.arange(1, 9)
    exact = half * lambertw(start_mg_l / half * np.exp((start_mg_l - q * days) / half)).real
    assert course.tan_mg_l[1:, 0] == pytest.approx(exact, rel=2e-3, abs=1e-5)


def test_with_plenty_bacteria_grow_by_the_exponential():
    few = np.full(1, 1e-3)
    course = members.run(
        PLENTY, members.members_of(few, few, kinetics=without()), [Event(0, "ammonium_salt", 1e3)], 8
    )
    net = 0.6 * factor("ammonia") * 1e3 / (0.5 + 1e3) - 0.04
    assert course.ammonia_capacity[:, 0] == pytest.approx(1e-3 * np.exp(net * np.arange(9)), rel=2e-3)


def test_without_food_a_film_decays_by_the_exponential():
    some = np.full(1, 1.0)
    course = members.run(
        PLENTY, members.members_of(some, some, kinetics=without(yield_g_cod_g_n=0.0)), [], 10
    )
    assert course.ammonia_capacity[10, 0] == pytest.approx(np.exp(-0.4), rel=1e-3)
    assert course.nitrite_capacity[10, 0] == pytest.approx(np.exp(-0.4), rel=1e-3)


def test_a_film_that_lives_of_little_stands_at_the_lowest_substrate():
    """0.0451 mg/L of ammonia at 20 C, pH 7, oxygen 6.5, alkalinity 100."""
    fed = replace(PLENTY, source_mg_l_d=np.full(1, 0.05), alkalinity_mg_l=100.0)
    held = Rule(low_tan_mg_l=-1.0, low_alkalinity_mg_l=100.0, full_alkalinity_mg_l=100.0)
    some = np.full(1, 0.4)
    found = members.run(fed, members.members_of(some, some), [], 250, rule=held)
    assert found.tan_mg_l[250, 0] == pytest.approx(0.0451, rel=0.01)
    lowest = film.lowest_substrate_mg_l("nitrite", 20.0, 7.0, 6.5, 100.0, TYPICAL)
    assert found.nitrite_mg_l[250, 0] == pytest.approx(float(lowest), rel=0.01)
