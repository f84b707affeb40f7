"""The pH at a held carbon dioxide without solving for it, for a model that asks every hour."""

import numpy as np
import pytest

from aquacalc.water import carbonate


@pytest.mark.parametrize("celsius", [5.0, 20.0, 30.0])
@pytest.mark.parametrize("dioxide_mg_l", [1.0, 3.0, 8.0, 40.0])
def test_it_is_the_solved_one(celsius: float, dioxide_mg_l: float):
    at = carbonate.constants_at(celsius, 0.003)
    alkalinity = np.append(np.geomspace(0.05, 300.0, 60), 0.0)
    solved = carbonate.ph_at_carbon_dioxide_at(alkalinity, dioxide_mg_l, at)
    found = carbonate.hydrogen_at_carbon_dioxide(
        alkalinity / carbonate.MG_L_CACO3_PER_EQ_L, dioxide_mg_l / carbonate.MG_L_CO2_PER_MOL_L, at
    )
    assert -np.log10(found) == pytest.approx(solved, abs=2e-3)


def test_floats_come_out_of_floats():
    at = carbonate.constants_at(20.0, 0.003)
    assert isinstance(carbonate.hydrogen_at_carbon_dioxide(2e-3, 7e-5, at), float)
