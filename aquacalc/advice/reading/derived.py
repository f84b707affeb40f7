"""What follows from several readings of one water: its carbonates, its chloride, how full of oxygen it is."""

import math

from aquacalc.advice.doses.request import ionic_strength_of
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.measure import Measure
from aquacalc.constants import MG_PER_G
from aquacalc.water import carbonate, dosing, oxygen


def chloride_ratio(given: Given) -> float:
    """Chloride against nitrite as N, by mass; chloride that is not known counts as none."""
    nitrite, chloride = given.value("nitrite"), chloride_mg_l(given)
    return chloride / nitrite if nitrite > 0.0 and chloride > 0.0 else 0.0


def chloride_mg_l(given: Given) -> float:
    """Chloride as measured, else that of the salt that was added; NaN where neither is known."""
    if "chloride" in given.measures:
        return given.value("chloride")
    salt_g_l = given.value("added_salt")
    if not salt_g_l > 0.0:
        return math.nan
    return MG_PER_G * salt_g_l * dosing.chemical("sodium_chloride").elements["Cl"]


def water(given: Given, temperature_c: float) -> carbonate.Water | None:
    """The water as measured; None where pH or alkalinity is not known, or both do not go together."""
    ph, alkalinity = given.measures.get("ph"), given.measures.get("alkalinity")
    if ph is None or alkalinity is None or not alkalinity.told:
        return None
    strength = ionic_strength_of(given.value("conductivity"))
    found = carbonate.water(ph.value, _middle(alkalinity), min(max(temperature_c, 0.0), 40.0), strength)
    return found if float(found.inorganic_carbon_mmol_l) > 0.0 else None


def _middle(one: Measure) -> float:
    """The middle of what the kit leaves open, where it leaves both ends closed; else the reading."""
    low = max(one.low, 0.0)
    return (low + one.high) / 2.0 if math.isfinite(low) and math.isfinite(one.high) else one.value


def fits(carbon_dioxide_mg_l: float) -> bool:
    """Whether pH and alkalinity that give this carbon dioxide can belong to one water."""
    low, high = carbonate.LIKELY_CARBON_DIOXIDE_MG_L
    return low <= carbon_dioxide_mg_l <= high


def saturation_share(given: Given) -> float:
    """Oxygen as a share of what the water holds at the tank's own altitude; NaN without a temperature."""
    if "temperature" not in given.measures:
        return math.nan
    within_c = min(max(given.value("temperature"), 0.0), 40.0)
    pressure = oxygen.pressure_atm(max(given.altitude_m, 0.0))
    return given.value("oxygen") / float(oxygen.saturation_mg_l(within_c, 0.0, pressure))
