"""How far limestone, shell and dolomite go: they stop by themselves where calcite is at its solubility."""

import math
from dataclasses import replace

from aquacalc.constants import MG_CACO3_PER_MEQ
from aquacalc.water import carbonate, dosing
from aquacalc.water.dosing import Chemical, Place


def settled_water(place: Place, alkalinity_mg_l: float) -> carbonate.Water:
    """The water of a place at another alkalinity, once its usual carbon dioxide is back."""
    water = place.water
    ph = carbonate.ph_at_carbon_dioxide(
        alkalinity_mg_l, place.usual_carbon_dioxide_mg_l, water.temperature_c, water.ionic_strength
    )
    return carbonate.water(float(ph), alkalinity_mg_l, water.temperature_c, water.ionic_strength)


def settled_place(place: Place, alkalinity_mg_l: float) -> Place:
    """The place itself at another alkalinity, settled."""
    return replace(place, water=settled_water(place, alkalinity_mg_l))


def limestone_reach_mg_l(place: Place, of: Chemical) -> float:
    """Alkalinity, mg/L CaCO3, at which limestone stops, settled at the usual carbon dioxide; by halving.

    Calcium that is not known counts as that of the alkalinity now, as in most hard water.
    """
    start = float(place.water.alkalinity_mg_l)
    calcium = place.calcium_mg_l
    if math.isnan(calcium):
        calcium = start * dosing.chemical("calcium_carbonate").elements["Ca"]
    per_rise = of.grams_per_eq / MG_CACO3_PER_MEQ * of.elements["Ca"]

    def index(alkalinity: float) -> float:
        water = settled_water(place, alkalinity)
        held = calcium + per_rise * (alkalinity - start)
        return float(
            carbonate.calcite_saturation_index(
                float(water.ph), alkalinity, max(held, 1e-6), water.temperature_c, water.ionic_strength
            )
        )

    low, high = max(start, 1e-3), max(start, 1e-3) + 1000.0
    if index(low) >= 0.0:
        return low
    for _ in range(40):
        middle = (low + high) / 2.0
        low, high = (middle, high) if index(middle) < 0.0 else (low, middle)
    return low
