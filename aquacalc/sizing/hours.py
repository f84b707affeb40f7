"""The hours of a day: meals and what fish make of them, and the warmth of the water.

A day begins at six in the morning, when the grower looks.
"""

import math
from collections.abc import Sequence

import numpy as np

from aquacalc.constants import HOURS_PER_DAY
from aquacalc.uncertainty import Floats

HOURS = int(HOURS_PER_DAY)
FIRST_HOUR = 6
"""Clock hour at which a day begins: the morning look, before the first meal."""
WARMEST_HOUR = 17
"""Clock hour at which the water is warmest: the air's at three, and the tank follows. Common practice."""
MEAL_HOURS = (8, 17)
"""Clock hours of the meals of a household that feeds twice. Common practice, no source."""
EXCRETION_PEAK_H = 3.0
"""Hours from a meal to the peak of what it makes of fish: 2 to 4 (common practice, no source)."""
RESTING_SHARE = 0.4
"""Oxygen of unfed against fed fish; the rest follows the meals. See `fish.oxygen_use_mg_kg_h`."""


def meal_shape(hours: Sequence[int] = MEAL_HOURS) -> Floats:
    """What one day's meals make of excretion and breathing, (24,) from the first hour of the day, mean 1.

    Each meal rises and falls as t e^(-t/3 h): a peak three hours after it. Two meals a day give fish that
    breathe 1.4 times their mean at the peak, one meal 2.2 times (the trade says 1.3 to 1.5, and 2).
    """
    after = np.arange(HOURS) + 0.5
    shape = np.zeros(HOURS)
    for meal in hours:
        since = (after + FIRST_HOUR - meal) % HOURS
        shape += since * np.exp(-since / EXCRETION_PEAK_H)
    scaled: Floats = shape / shape.mean()
    return scaled


def water_by_hour_c(water_c: Floats, swing_c: Floats) -> Floats:
    """Water through the hours of days, (days, 24, ...) from (days, ...): a sine about the day's mean."""
    clock = np.arange(HOURS) + 0.5 + FIRST_HOUR
    wave = np.cos(2.0 * math.pi * (clock - WARMEST_HOUR) / HOURS)
    wave = wave.reshape((1, HOURS) + (1,) * (water_c.ndim - 1))
    return np.maximum(water_c[:, None] + swing_c[:, None] * wave, 0.0)
