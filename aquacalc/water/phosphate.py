"""Phosphate that settles with calcium: how far a water lies above the solubility of calcium phosphate."""

import math

import numpy as np

from aquacalc.constants import ATOMIC_MASS_CA_G_MOL, ATOMIC_MASS_P_G_MOL, KELVIN_0_C, Numbers
from aquacalc.possible import possible
from aquacalc.water import carbonate

HALVINGS = 12
"""Steps of the search for balance."""
EQ_PER_MOL_P = 2.0
"""Alkalinity that goes with a mol of phosphorus: 3 Ca + 2 H2PO4 give Ca3(PO4)2 and 4 H; exact."""
_R_KCAL = 1.987204e-3
# log K at 25 C and heat of reaction, kcal/mol, as the data base of PHREEQC prints them (read).
_HPO4, _H2PO4 = (12.346, -3.530), (19.553, -4.520)
_CAPO4, _CAHPO4, _CAH2PO4 = (6.459, 3.10), (2.739, 3.3), (1.408, 3.4)


def _constant(log_k: tuple[float, float], temperature_c: Numbers) -> Numbers:
    at_25, heat = log_k
    kelvin = temperature_c + KELVIN_0_C
    found: Numbers = 10.0 ** (
        at_25 - heat / (_R_KCAL * math.log(10.0)) * (1.0 / kelvin - 1.0 / (25.0 + KELVIN_0_C))
    )
    return found


@possible
def log_product(
    ph: Numbers,
    calcium_mg_l: Numbers,
    phosphorus_mg_l: Numbers,
    temperature_c: Numbers,
    ionic_strength: Numbers = 0.0,
) -> Numbers:
    """log10 of the ion activity product of Ca3(PO4)2; calcium and phosphorus in mg/L, above zero.

    Phosphate is shared among its acids and their pairs with calcium; calcium is taken as in excess of
    phosphate. Constants: PHREEQC (read in its data base); activities by Davies; 0 to 40 C.

    >>> round(float(log_product(7.2, 12.0, 8.2, 28.0, 0.01)), 2)
    -29.39
    """
    gamma = carbonate.activity(1, temperature_c, ionic_strength)
    two, three = gamma**4, gamma**9
    hydrogen = 10.0 ** (-ph)
    calcium = calcium_mg_l / (1000.0 * ATOMIC_MASS_CA_G_MOL) * two
    hpo4 = hydrogen * _constant(_HPO4, temperature_c)
    h2po4 = hydrogen**2 * _constant(_H2PO4, temperature_c)
    # Concentration of every form for one unit of activity of the bare phosphate ion.
    forms = (
        1.0 / three
        + hpo4 / two
        + h2po4 / gamma
        + calcium
        * (
            _constant(_CAPO4, temperature_c) / gamma
            + hpo4 * _constant(_CAHPO4, temperature_c)
            + h2po4 * _constant(_CAH2PO4, temperature_c) / gamma
        )
    )
    bare = phosphorus_mg_l / (1000.0 * ATOMIC_MASS_P_G_MOL) / forms
    return 3.0 * np.log10(calcium) + 2.0 * np.log10(bare)


def way_to_balance_mol_l(
    product: Numbers,
    log_solubility: Numbers,
    calcium_mol_l: Numbers,
    phosphorus_mol_l: Numbers,
    store: Numbers,
) -> Numbers:
    """Ca3(PO4)2, mol/L, that settles (above zero) or dissolves until water and solid are in balance.

    product: `log_product` of the water as it is; its activities are held; store: mol/L that can dissolve.
    By halving, to a few thousandths of what there is. Own reckoning.

    >>> over, under = (float(way_to_balance_mol_l(p, -28.25, 1e-3, 3e-4, 1e-4)) for p in (-26.0, -30.0))
    >>> 0.0 < over < 1.5e-4, -1e-4 <= under < 0.0
    (True, True)
    """
    over = np.asarray(product) > log_solubility
    most = np.minimum(calcium_mol_l / 3.0, phosphorus_mol_l / 2.0)
    low, high = np.where(over, 0.0, -np.asarray(store)), np.where(over, most, 0.0)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        calcium = (calcium_mol_l - 3.0 * middle) / calcium_mol_l
        phosphorus = (phosphorus_mol_l - 2.0 * middle) / phosphorus_mol_l
        there = product + np.log10(calcium**3 * phosphorus**2)
        settles = there > log_solubility
        low, high = np.where(settles, middle, low), np.where(settles, high, middle)
    return np.where(over, low, high)
