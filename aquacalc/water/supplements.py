"""Iron, potassium, calcium, magnesium: what a label states, how far a chelate holds, what salt adds.

Grams come from `dosing.grams_for_element`. Concentrations in mg/L of the element.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from aquacalc.constants import (
    ATOMIC_MASS_CA_G_MOL,
    ATOMIC_MASS_K_G_MOL,
    ATOMIC_MASS_MG_G_MOL,
    ATOMIC_MASS_NA_G_MOL,
    MOLAR_MASS_NACL_G_MOL,
    Numbers,
)
from aquacalc.possible import possible

SODIUM_LIMIT_MG_L = 50.0
"""Sodium that plants are kept below. Source: SRAC 454 (from memory)."""

MOST_IN_A_DAY_MG_L: Mapping[str, float] = MappingProxyType(
    {"Fe": 2.0, "K": 40.0, "Ca": 40.0, "Mg": 10.0, "Na": SODIUM_LIMIT_MG_L}
)
"""Most of an element for one day. K and Ca: 40 an event, Mg one step, iron its target, sodium the plants'
whole limit. Common practice; iron and sodium after SRAC 454 (from memory)."""

HIGHEST_MG_L: Mapping[str, float] = MappingProxyType({"Fe": 3.0, "K": 200.0, "Ca": 150.0, "Mg": 50.0})
"""Upper ends of what plants are given in the water. Iron after SRAC 454 (from memory), the others common
practice, no source."""

CHLORIDE_SALTS = ("Na", "Cl")
"""What nothing in the loop takes up to speak of, so that it stays."""

_MG_PER_MEQ = {
    "Na": ATOMIC_MASS_NA_G_MOL,
    "K": ATOMIC_MASS_K_G_MOL,
    "Ca": ATOMIC_MASS_CA_G_MOL / 2.0,
    "Mg": ATOMIC_MASS_MG_G_MOL / 2.0,
}

Hold = Literal["holds", "partly", "lost"]


def purity_of_label(label_share: float, iron_g_g: float, most_iron_g_g: float) -> float:
    """Purity for `dosing.grams_for_element` from what a label states, both as shares (0 to 1).

    Labels of chelates state the iron; a share above what a pure chelate holds states the chelate.
    iron_g_g, most_iron_g_g: of the chelate in the table, usual and highest; NaN or 0 for all else.
    Common practice, no source.

    >>> round(purity_of_label(0.06, 0.11, 0.11), 3), purity_of_label(0.95, 0.11, 0.11)
    (0.545, 0.95)
    """
    if 0.0 < label_share <= most_iron_g_g:
        return label_share / iron_g_g
    return label_share


@possible
def chelate_hold(ph: float, ends_low: float, ends_high: float) -> Hold:
    """Whether a chelate keeps its iron in the water at a pH; suppliers differ by half a unit on the end.

    ends_low, ends_high: the lowest and highest pH that suppliers name as its end; NaN for no chelate.

    >>> chelate_hold(6.2, 6.0, 6.5), chelate_hold(7.0, 6.0, 6.5), chelate_hold(7.0, 9.0, 9.0)
    ('partly', 'lost', 'holds')
    """
    if math.isnan(ends_low) or ph <= ends_low:
        return "holds"
    return "partly" if ph <= ends_high else "lost"


def stock_solution_ml(grams: Numbers, stock_g_l: Numbers) -> Numbers:
    """Millilitres of a solution that was made up with `stock_g_l` grams of product in each litre.

    By definition.

    >>> stock_solution_ml(14.5, 50.0)
    290.0
    """
    return 1000.0 * grams / stock_g_l


def as_common_salt_g_l(elements_mg_l: Mapping[str, float]) -> float:
    """Sodium chloride with as many equivalents as the Na, K, Ca and Mg that a dose brings, g/L.

    Other salts conduct within a quarter of it, mostly less: the cautious side. Own reckoning.

    >>> round(as_common_salt_g_l({"Na": 393.4, "Cl": 606.6}), 3)
    1.0
    """
    meq_l = sum(elements_mg_l.get(element, 0.0) / mg for element, mg in _MG_PER_MEQ.items())
    return meq_l * MOLAR_MASS_NACL_G_MOL / 1000.0
