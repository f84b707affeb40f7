"""Oxygen, by the figures of each species; the lines of its warmth where no species is told."""

from collections.abc import Sequence

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.judge import lines
from aquacalc.judge.levels import ACT, EMERGENCY, FINE, NOT_KNOWN, WATCH, Level
from aquacalc.judge.lines import Ranks
from aquacalc.tables import Row

FULL, CRITICAL = "do_full_feed_mg_l", "do_critical_mg_l"


def begins_below(at: Level, fish: Sequence[Row]) -> float:
    """Oxygen, mg/L, below which a level begins for the fish that want most; NaN without fish.

    `watch` below what full feed wants, `act today` from midway to critical, `emergency` below critical.

    >>> from aquacalc import tables
    >>> begins_below("act today", (tables.load("species").row("nile_tilapia"),))
    4.25
    """
    return max((_begins_below(at, row) for row in fish), default=float("nan"))


def _begins_below(at: Level, row: Row) -> float:
    if FULL not in row.numbers:
        return lines.begins_at("oxygen", at, (row,), above=False)
    full, critical = row.number(FULL), row.number(CRITICAL)
    return {"watch": full, "act today": (full + critical) / 2.0, "emergency": critical}[at]


def ranks(oxygen_mg_l: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of oxygen, mg/L; NaN is not known."""
    if not fish:
        return np.full(np.shape(oxygen_mg_l), NOT_KNOWN)
    return lines.known(lines.most(_ranks(oxygen_mg_l, row) for row in fish), oxygen_mg_l)


def _ranks(oxygen_mg_l: Numbers, row: Row) -> Ranks:
    if FULL not in row.numbers:
        return lines.ranks("oxygen", oxygen_mg_l, (row,))
    begins = [oxygen_mg_l < _begins_below(at, row) for at in ("emergency", "act today", "watch")]
    return np.select(begins, [EMERGENCY, ACT, WATCH], FINE)


def level(oxygen_mg_l: float, fish: Sequence[Row]) -> Level:
    """The level of oxygen for some fish."""
    return lines.level_of(ranks(oxygen_mg_l, fish))
