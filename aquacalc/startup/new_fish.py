"""New fish: the water in their bag, their temperature, quarantine, their number, feed of the first week.

All concentrations as N. What is legal to keep is a question for the local office, not for these functions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from aquacalc import fish, tables
from aquacalc.errors import InputError, Problem
from aquacalc.uncertainty import Floats
from aquacalc.water import ammonia, carbonate

AIRED_CARBON_DIOXIDE_MG_L = 3.0
"""Of bag water some time after it was opened (open aerated water 1 to 8, nitrogen reference)."""
TAN_KG_H_MG = 20.0
"""Ammonia-N that a kilogram of unfed fish gives off in an hour. Common practice, no source."""

MATCHED_K = 2.0
BAG_K_PER_10_MIN = 1.0
FIRST_DAY_K = 5.0
LATER_K_PER_DAY = 3.0
"""Within 2 C nothing is done; else 1 C per 10 minutes, at most 5 C on the first day, then 3 C a day. Practice
(a fish farm: less than 1 F a minute, tempering from 5 to 10 F on, read)."""

QUARANTINE_DAYS = (30, 45)
"""In a tank of its own (30 practice; FAO589 up to 45, memory)."""
CARP_QUARANTINE_C = (18.0, 25.0)
CARPS = ("common_carp", "koi")
"""Kept in this warmth so that koi herpesvirus can show (practice)."""

FASTED_H = {"small": 12.0, "others": 24.0}
SMALL_G = 10.0
"""No feed for a day after transport, for half a day where a fish weighs less than 10 g. Practice."""
FIRST_WEEK_SHARES = (0.0, 0.25, 0.25, 0.5, 0.5, 0.75, 1.0)
"""Shares of a usual ration by day after arrival; never beyond what the filter was proven to carry. Common
practice, no source."""


# --- the bag -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Bag:
    """Un-ionised ammonia of bag water, mg N/L: closed, opened and aired, and where it meets the tank's pH.

    opened_ph: NaN where its alkalinity is not known. line_mg_l: act line of the species.
    """

    closed_mg_l: float
    opened_mg_l: float
    opened_ph: float
    mixed_mg_l: float
    line_mg_l: float

    @property
    def highest_mg_l(self) -> float:
        """The worst of the three."""
        return float(np.nanmax([self.closed_mg_l, self.opened_mg_l, self.mixed_mg_l]))

    @property
    def rises(self) -> float:
        """How many times more there is at the worst than in the closed bag."""
        return self.highest_mg_l / self.closed_mg_l if self.closed_mg_l > 0.0 else 1.0

    @property
    def too_high(self) -> bool:
        """Whether a slow mixing of bag and tank water would pass the line."""
        return self.highest_mg_l > self.line_mg_l


def bag(
    tan_mg_l: float,
    bag_ph: float,
    bag_c: float,
    tank_ph: float,
    line_mg_l: float,
    alkalinity_mg_l: float = math.nan,
    tank_c: float | None = None,
) -> Bag:
    """What the ammonia of a bag does when it is opened, and when its water is brought to the tank's pH.

    Breath has filled the closed bag with carbon dioxide, which keeps its pH low and most of the ammonia as
    ammonium. Opened, the gas leaves, the pH rises, and the same ammonia harms.

    >>> found = bag(5.0, 6.5, 20.0, 8.0, 0.05)
    >>> round(found.closed_mg_l, 3), round(found.mixed_mg_l, 2)
    (0.006, 0.19)
    """
    warm_c = bag_c if tank_c is None else max(bag_c, tank_c)
    opened_ph = opened = math.nan
    if alkalinity_mg_l > 0.0:
        aired = carbonate.ph_at_carbon_dioxide(alkalinity_mg_l, AIRED_CARBON_DIOXIDE_MG_L, bag_c, 0.0)
        opened_ph = max(float(aired), bag_ph)
        opened = float(tan_mg_l * ammonia.unionised_fraction(opened_ph, bag_c))
    return Bag(
        closed_mg_l=float(tan_mg_l * ammonia.unionised_fraction(bag_ph, bag_c)),
        opened_mg_l=opened,
        opened_ph=opened_ph,
        mixed_mg_l=float(tan_mg_l * ammonia.unionised_fraction(max(tank_ph, bag_ph), warm_c)),
        line_mg_l=line_mg_l,
    )


def bag_tan_mg_l(fish_kg: float, water_l: float, hours: float) -> float:
    """Ammonia-N of a bag that nobody tested, from the fish in it and the hours on the way; a rough guess.

    >>> bag_tan_mg_l(0.6, 20.0, 6.0)
    3.6
    """
    return TAN_KG_H_MG * fish_kg * hours / water_l


# --- temperature -------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Tempering:
    """How a difference of temperature is taken: minutes beside or in the tank, and days for what is left.

    left_k: difference that stays after the first day, to be taken in the quarantine tank; 0 for none.
    """

    difference_k: float
    minutes: float
    left_k: float
    days: int


def tempering(bag_c: float, tank_c: float) -> Tempering:
    """Steps from the bag's temperature to the tank's.

    >>> tempering(18.0, 22.0).minutes, tempering(12.0, 22.0).days
    (40.0, 2)
    """
    difference = tank_c - bag_c
    size = abs(difference)
    if size <= MATCHED_K:
        return Tempering(difference, 0.0, 0.0, 0)
    first = min(size, FIRST_DAY_K)
    left = size - first
    return Tempering(difference, 10.0 * first / BAG_K_PER_10_MIN, left, math.ceil(left / LATER_K_PER_DAY))


# --- number, quarantine, ration ----------------------------------------------------------------------------


@dataclass(frozen=True)
class Arrival:
    """What comes: number and weight, density in their tank, and what the species asks for.

    companions: least number that it wants together. quarantine_c: warmth in which a sickness can show, None
    where any that suits the species will do. cautions: keys of `cautions.csv`.
    """

    count: int
    kg: float
    density_kg_m3: float
    companions: int
    quarantine_c: tuple[float, float] | None
    fasted_h: float
    cautions: tuple[str, ...]

    @property
    def too_few(self) -> bool:
        """Whether the species wants more companions."""
        return self.count < self.companions


def arrival(species: str, count: int, weight_g: float, tank_l: float) -> Arrival:
    """Fish on the day they come. Raises `InputError` for a number or a weight that cannot be."""
    if count < 1 or not weight_g > 0.0:
        found = f"{count} x {weight_g:g} g"
        raise InputError(Problem("problem-startup-arrival", "fish.count", found))
    row = tables.load("species").row(species)
    wanted = row.number("companions_min")
    kg = count * weight_g / 1000.0
    return Arrival(
        count=count,
        kg=kg,
        density_kg_m3=1000.0 * kg / tank_l,
        companions=1 if math.isnan(wanted) else int(wanted),
        quarantine_c=CARP_QUARANTINE_C if species in CARPS else None,
        fasted_h=FASTED_H["small" if weight_g < SMALL_G else "others"],
        cautions=row.listed("caution"),
    )


def appetite_g_day(species: str, weight_g: float, water_c: float) -> float:
    """Feed that one fish wants in a day, at typical growth; 0 where it is too cold or too warm to eat."""
    kind = fish.species(species)
    warm = float(fish.growing_temperature_c(water_c, kind))
    if not warm > 0.0:
        return 0.0
    conversion = fish.fcr_at_weight(kind.fcr.typical, weight_g)
    return max(float(np.asarray(fish.daily_feed_g(weight_g, kind.tgc.typical, warm, conversion))), 0.0)


def first_week_g_day(appetite_of_all_g_day: float, first_feed_g_day: float) -> Floats:
    """Feed for each of the first seven days: what the fish may want, and never more than the filter carries.

    first_feed_g_day: half of the proven feed; it is raised after the week.

    >>> first_week_g_day(40.0, 30.0).round(1).tolist()
    [0.0, 10.0, 10.0, 20.0, 20.0, 30.0, 30.0]
    """
    wanted = appetite_of_all_g_day * np.array(FIRST_WEEK_SHARES)
    found: Floats = np.minimum(wanted, first_feed_g_day)
    return found
