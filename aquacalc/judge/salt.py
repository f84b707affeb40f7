"""Added salt: for the fish by the table's line, for crops by the working cap of each."""

import math
from collections.abc import Sequence

import numpy as np

from aquacalc import tables
from aquacalc.constants import Numbers
from aquacalc.judge import lines
from aquacalc.judge.levels import ACT, EMERGENCY, FINE, WATCH, Level
from aquacalc.judge.lines import Ranks
from aquacalc.tables import Row


def caps_g_l(crops: Sequence[str]) -> tuple[float, float]:
    """Added salt, g/L, from which the most tender of some crops is watched and acted on.

    crops: keys. A crop without a cap of its own has the common lines, and so has water without crops.
    """
    watch, act = (lines.begins_at("added_salt", at, _ANY_FISH) for at in ("watch", "act today"))
    found = []
    for row in map(tables.load("crops").row, crops):
        own = (row.number("added_salt_cap_low_g_l"), row.number("added_salt_cap_high_g_l"))
        found.append((watch, act) if math.isnan(own[1]) else own)
    low, high = map(min, zip(*(found or [(watch, act)]), strict=True))
    return low, high


_ANY_FISH = (Row("warm", 0, {"temperature_class": "warm", "nitrogen_tolerance_class": ""}, {}),)
"""The lower lines are those of plants, whatever the fish."""


def ranks(salt_g_l: Numbers, fish: Sequence[Row], crops: Sequence[str] = ()) -> Ranks:
    """Ranks of added salt, g/L."""
    watch, act = caps_g_l(crops)
    for_fish = lines.begins_at("added_salt", "emergency", fish)  # NaN where salt never is one
    reached = [np.asarray(salt_g_l) >= begin for begin in (for_fish, act, watch)]
    return lines.known(np.select(reached, [EMERGENCY, ACT, WATCH], FINE), salt_g_l)


def level(salt_g_l: float, fish: Sequence[Row], crops: Sequence[str] = ()) -> Level:
    """The level of added salt.

    >>> level(0.2, ()), level(0.2, (), ("strawberry",))
    ('fine', 'act today')
    """
    return lines.level_of(ranks(salt_g_l, fish, crops))
