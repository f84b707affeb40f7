"""What follows from several readings of one water: its carbonates, and how full of oxygen it is."""

import math

from aquacalc.advice.reading.given import Given
from aquacalc.judge import water as judged
from aquacalc.water import carbonate, oxygen


def water(given: Given, temperature_c: float) -> carbonate.Water | None:
    """The water as measured; None where pH or alkalinity is not known, or both do not go together."""
    alkalinity = given.measures.get("alkalinity")
    if alkalinity is None or not alkalinity.told:
        return None
    return next(judged.waters(given.facts, temperature_c), None)


def saturation_share(given: Given) -> float:
    """Oxygen as a share of what the water holds at the tank's own altitude; NaN without a temperature."""
    if "temperature" not in given.measures:
        return math.nan
    within_c = min(max(given.value("temperature"), 0.0), 40.0)
    pressure = oxygen.pressure_atm(max(given.altitude_m, 0.0))
    return given.value("oxygen") / float(oxygen.saturation_mg_l(within_c, 0.0, pressure))
