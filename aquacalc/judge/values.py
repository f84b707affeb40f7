"""What is known of one thing in a water: a value, its bounds, what it counts, its age."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import kits, uncertainty, units
from aquacalc.uncertainty import Floats, Triangle

Beyond = Literal["", "above", "below"]

POISONS = ("tan", "nitrite", "nitrate", "chlorine")
"""What harms by being there: under a kit's first step, of an unknown basis, it gives no reason to dose."""

ENDS = {"ph": (2.0, 12.0), "temperature": (-1.0, 45.0)}
"""How far an open end may reach; everything else from nothing to `MOST`."""

MOST = 2000.0
"""Higher than every line of the table, mg/L."""

OPEN_POINTS = 400
"""Values that are tried over an open end."""

ERRORS = {"tan": "tan_indophenol", "nitrite": "nitrite_azo", "ph": "ph_drops"}
"""Rows of `data/test_kinds.csv` for a kit that is not described."""


@dataclass(frozen=True)
class Value:
    """A value as the workbook counts it: nitrogen as N, alkalinity in mg/L CaCO3, salt in g/L.

    low, high: where the water lies by the kit; an open end is infinite, both NaN where no kit is described.
    beyond: the side on which the value only bounds the water. told: whether unit or basis is known, and the
    kit was not found out of its error. may_be: where it is not told, the values that the number may stand
    for. age_days: days since it was read.
    """

    parameter: str
    value: float
    low: float = math.nan
    high: float = math.nan
    beyond: Beyond = ""
    told: bool = True
    may_be: tuple[float, ...] = ()
    age_days: float = 0.0

    @property
    def meant(self) -> tuple[float, ...]:
        """All values that may be meant: one where it is told."""
        return (self.value,) if self.told or not self.may_be else self.may_be

    @property
    def highest(self) -> float:
        """The upper end of what the kit leaves open, where it is closed; else the most that may be meant."""
        return self.high if math.isfinite(self.high) else max(self.meant)

    @property
    def most(self) -> float:
        """The upper end of what the kit leaves open; with the usual error where no kit is described."""
        if self.beyond == "above":
            return ENDS.get(self.parameter, (0.0, MOST))[1]
        if self.beyond == "below" or math.isfinite(self.high):
            return self.highest
        return self.highest + _usual_error(self.parameter, self.highest)

    @property
    def seen(self) -> bool:
        """Whether a kit showed some of it: more than nothing, and more than a bound on what may be there."""
        return self.value > 0.0 and self.beyond != "below"

    @property
    def too_old(self) -> bool:
        """Whether it says nothing about today any more."""
        return self.age_days > kits.OLDEST_DAYS

    @property
    def clear_but_untold(self) -> bool:
        """Whether a poison stood under the kit's first step, and nobody knows what that step counts."""
        return self.parameter in POISONS and self.beyond == "below" and not self.told

    @property
    def least_and_most(self) -> tuple[float, float]:
        """The ends between which the water lies by the side that is open, all meanings taken together."""
        low, high = ENDS.get(self.parameter, (0.0, MOST))
        return (
            low if self.beyond == "below" else min(self.meant),
            high if self.beyond == "above" else max(self.meant),
        )

    def open_over(self, value: float) -> Floats:
        """The values that the water may have where `value` was meant: one, or many towards an open end."""
        low, high = ENDS.get(self.parameter, (0.0, MOST))
        if not self.beyond:
            return np.array([value])
        return np.linspace(value, high if self.beyond == "above" else low, OPEN_POINTS)

    def drawn(self, draws: int) -> Floats:
        """Where the water may lie, many times: even over the kit's interval, else about the usual error."""
        chances = uncertainty.probabilities(f"reading_{self.parameter}", draws)
        low = 0.0 if self.low == -math.inf and self.parameter in kits.NITROGEN else self.low
        if math.isfinite(low) and math.isfinite(self.high):
            return low + (self.high - low) * chances
        if self.beyond:
            # What lies beyond an open end is not drawn: the range says that it has none.
            return np.full(draws, self.value)
        # One standard deviation of a reading whose kit is not described, as the corners of a triangle.
        spread = math.sqrt(6.0) * _usual_error(self.parameter, self.value)
        return uncertainty.quantile(Triangle(self.value - spread, self.value, self.value + spread), chances)


def _usual_error(parameter: str, value: float) -> float:
    """One standard deviation of a reading whose kit is not described; nitrite's table counts the ion."""
    shown = units.from_n(value, "NO2") if parameter == "nitrite" else value
    error = kits.error_of(ERRORS[parameter], shown)
    return units.as_n(error, "NO2") if parameter == "nitrite" else error
