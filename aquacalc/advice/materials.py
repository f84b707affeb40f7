"""What may touch the water of a loop: yes, no, or test it first; by how soft and how acid the water is."""

from typing import Literal

from aquacalc.advice.doses.limestone import limestone_reach_mg_l
from aquacalc.tables import Row
from aquacalc.water import carbonate, dosing, salts
from aquacalc.water.dosing import Place

Verdict = Literal["yes", "no", "test"]

SOFT_MG_L = 75.0
"""Hardness under which water counts as soft, mg/L as CaCO3. Common practice, no source."""
ACID_PH = 6.5
"""PH under which metals and lime go into solution much faster. Common practice, no source."""
LIMESTONE = "calcium_carbonate"


def aggressive(ph: float, hardness_mg_l: float) -> bool:
    """Whether water is soft or acid enough for the stricter column. Common practice, no source."""
    return ph < ACID_PH or hardness_mg_l < SOFT_MG_L


def verdict(row: Row, ph: float, hardness_mg_l: float) -> Verdict:
    """Of a row of the table of materials, in this water."""
    found: Verdict = row.text("soft_verdict" if aggressive(ph, hardness_mg_l) else "verdict")  # type: ignore[assignment]
    return found


def most_metal_g(metal: str, hardness_mg_l: float, water_l: float) -> float:
    """Grams of a metal in all of the water at the acute criterion for fish. Source: CFR132 (read).

    >>> round(most_metal_g("zinc", 100.0, 1000.0), 2)
    0.12
    """
    criterion = {"zinc": salts.zinc_criterion_ug_l, "copper": salts.copper_criterion_ug_l}[metal]
    return float(criterion(hardness_mg_l)) * water_l / 1e6


def limestone_alkalinity_mg_l(
    ph: float, alkalinity_mg_l: float, calcium_mg_l: float, temperature_c: float, carbon_dioxide_mg_l: float
) -> float:
    """Alkalinity to which limestone in a bed brings the water in the end, mg/L as CaCO3.

    By the solubility of calcite (PLUBUS82, read second-hand); it takes weeks, and acid made by the filter
    holds it lower.
    """
    water = carbonate.water(ph, alkalinity_mg_l, temperature_c, USUAL_IONIC_STRENGTH)
    place = Place(water, 1.0, carbon_dioxide_mg_l, calcium_mg_l=calcium_mg_l)
    return limestone_reach_mg_l(place, dosing.chemical(LIMESTONE))


USUAL_IONIC_STRENGTH = 0.005
"""Of a loop's water, mol/L. Common practice, no source."""
