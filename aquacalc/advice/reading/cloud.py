"""Where a reading lies on a map of pH and temperature for its total ammonia, and how surely.

The map's lines are un-ionised ammonia at one total. A try with another total is put at the pH at which the
map's own total would hold as much, so that the share of tries beyond a line is the chance to be beyond it.
"""

import math
from dataclasses import dataclass

import numpy as np

from aquacalc import kits, uncertainty
from aquacalc.advice.reading.judge import Judgement
from aquacalc.constants import Numbers
from aquacalc.judge import water
from aquacalc.uncertainty import Floats, Triangle
from aquacalc.water import ammonia

DOTS = 200
"""Tries that are drawn on a map."""


@dataclass(frozen=True)
class Cloud:
    """Tries of what the errors of the tests leave open: pH as the map counts it, and temperature, (dots,)."""

    ph: Floats
    temperature_c: Floats


def counts_as_ph(unionised_mg_l: Numbers, tan_mg_l: float, temperature_c: Numbers) -> Numbers:
    """pH at which a total ammonia holds a given un-ionised part: where it lies on the map of that total.

    NaN where it never does.

    >>> round(float(counts_as_ph(0.05, 2.0, 26.0)), 2)
    7.62
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        found = ammonia.pka(temperature_c) - np.log10(tan_mg_l / np.asarray(unionised_mg_l) - 1.0)
    return np.where(np.isfinite(found), found, np.nan)[()]


def cloud_of(found: Judgement) -> Cloud:
    """The tries of a reading that has ammonia; what was not measured stays at what it was assumed."""
    measures = found.given.measures
    tan, acid = measures["tan"], measures.get("ph")
    step = water.DRAWS // DOTS
    tan_mg_l = np.maximum(tan.drawn(water.DRAWS), 0.0)[::step]
    ph = np.full(DOTS, found.ph) if acid is None else acid.drawn(water.DRAWS)[::step]
    temperature_c = _temperatures(found)
    unionised = tan_mg_l * ammonia.unionised_fraction(ph, temperature_c)
    return Cloud(np.asarray(counts_as_ph(unionised, tan.value, temperature_c)), temperature_c)


def _temperatures(found: Judgement) -> Floats:
    if "temperature" not in found.given.measures:
        return np.full(DOTS, found.temperature_c)
    spread = math.sqrt(6.0) * kits.error_of("thermometer", found.temperature_c)
    middle = found.temperature_c
    chances = uncertainty.probabilities("reading_temperature", DOTS)
    return uncertainty.quantile(Triangle(middle - spread, middle, middle + spread), chances)
