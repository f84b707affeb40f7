"""Nitrite, and the one rule of the chloride that stands against it."""

import math
from collections.abc import Sequence

import numpy as np

from aquacalc.constants import MG_PER_G, Numbers
from aquacalc.judge import lines
from aquacalc.judge.levels import Level
from aquacalc.judge.lines import Ranks
from aquacalc.tables import Row
from aquacalc.uncertainty import coefficient
from aquacalc.water import dosing, salts

SUNFISH = ("largemouth_bass", "bluegill")
"""They take up no nitrite, so that chloride adds little. Source: Tomasso 1986 (read)."""

ENOUGH_SHARE = 0.75
"""Of the chloride that protects, from which no more is given: 15 times the nitrite for warm water, 30 times
for cold. Common practice, no source."""


def chloride_ratio(nitrite_mg_l: Numbers, chloride_mg_l: Numbers) -> Numbers:
    """Chloride against nitrite as N, by mass; chloride that is not known counts as none. By definition.

    >>> float(chloride_ratio(2.0, 40.0)), float(chloride_ratio(2.0, math.nan))
    (20.0, 0.0)
    """
    there = np.maximum(np.nan_to_num(chloride_mg_l), 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(np.asarray(nitrite_mg_l) > 0.0, there / nitrite_mg_l, np.inf)[()]


def chloride_of_salt_mg_l(salt_g_l: Numbers) -> Numbers:
    """Chloride, mg/L, of common salt that was added, g/L. Exact, by molar mass."""
    return MG_PER_G * salt_g_l * dosing.chemical("sodium_chloride").elements["Cl"]


def ranks(nitrite_mg_l: Numbers, chloride_mg_l: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of nitrite, mg N/L, with the chloride of the water, mg/L (NaN: not known, counts as none)."""
    return lines.ranks("nitrite", nitrite_mg_l, fish, chloride_ratio(nitrite_mg_l, chloride_mg_l))


def level(nitrite_mg_l: float, chloride_mg_l: float, fish: Sequence[Row]) -> Level:
    """The level of nitrite with the chloride of its water.

    >>> from aquacalc import tables
    >>> trout = (tables.load("species").row("rainbow_trout"),)
    >>> level(0.5, 0.0, trout), level(0.5, 20.0, trout)
    ('emergency', 'watch')
    """
    return lines.level_of(ranks(nitrite_mg_l, chloride_mg_l, fish))


def begins_at(at: Level, chloride_mg_l: Numbers, fish: Sequence[Row]) -> Numbers:
    """Nitrite, mg N/L, at which a level begins while the water holds so much chloride.

    A line that counts only below a ratio of chloride begins where so much nitrite brings the ratio down.
    The lines of `data/water_limits.csv`, each with its source there; own reckoning of the chloride.
    """
    chloride = np.maximum(np.nan_to_num(chloride_mg_l), 0.0)
    found = []
    for line in lines.lines_of("nitrite", fish):
        begin, ratio = line.begin(at), line.protects(at)
        if not math.isnan(begin):
            found.append(np.maximum(begin, 0.0 if math.isnan(ratio) else chloride / ratio))
    first: Numbers = np.minimum.reduce(np.broadcast_arrays(*found))[()]
    return first


def chloride_per_line(fish: Sequence[Row]) -> float:
    """Chloride against nitrite as N, by mass, that `act today` asks for between its lowest and highest line.

    The lines of `data/water_limits.csv`, each with its source there.
    """
    ratios = (line.protects("act today") for line in lines.lines_of("nitrite", fish))
    return max(ratio for ratio in ratios if not math.isnan(ratio))


def is_cold(fish: Sequence[Row]) -> bool:
    """Whether some fish stands under the lines of cold water."""
    return any("cold" in lines.groups(row) for row in fish)


def chloride_ratio_wanted(fish: Sequence[Row]) -> float:
    """Chloride against nitrite as N, by mass, that protects fish: twice as much in the cold.

    At 20 times the nitrite cold-water fish stand just at their line, and would never be fed more again.
    """
    name = "chloride_per_nitrite_cold" if is_cold(fish) else "chloride_per_nitrite"
    return coefficient(name).typical


def chloride_missing_mg_l(nitrite_mg_l: float, chloride_mg_l: float, fish: Sequence[Row]) -> float:
    """Chloride, mg/L, that is missing to the ratio that protects; what is not known counts as none.

    Nothing where three quarters of it are there. Source: as `salts.chloride_needed_mg_l`.

    >>> [chloride_missing_mg_l(2.0, there, lines.fish_like("warm")) for there in (20.0, 32.0)]
    [20.0, 0.0]
    """
    ratio, there = chloride_ratio_wanted(fish), 0.0 if math.isnan(chloride_mg_l) else chloride_mg_l
    if there >= ENOUGH_SHARE * ratio * nitrite_mg_l:
        return 0.0
    return float(salts.chloride_needed_mg_l(nitrite_mg_l, there, ratio))
