"""What a page without a kernel answers from: every answer that its sliders can ask for, worked out before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.actions import Answer
from aquacalc.sizing import power_cut, vary
from aquacalc.sizing.balance import balance
from aquacalc.sizing.power_cut import Clock, Now
from aquacalc.sizing.result import Balance, Reserve

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

FISH_SHARES = (0.5, 0.75, 1.0, 1.25, 1.5)
OTHER_SHARES = (0.5, 1.0, 1.5)
"""Steps of the sliders, as shares of what the garden has; each holds 1. Our own choice."""
TEMPERATURES = 5
OXYGEN_MG_L = tuple(float(one) for one in np.arange(3.0, 12.5, 0.5))
FED_H = (1.0, 12.0, 36.0)
"""Hours since the last meal: one for each way in which fish breathe."""

Place = tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Balances:
    """The balance at each step of the sliders. axes: by name, the amounts at the steps."""

    axes: dict[str, tuple[float, ...]]
    own: Place
    at: dict[Place, Balance]


def balances(garden: Garden, own: Balance) -> Balances:
    """The balance over fish, air, flow and bed; at the garden's own amounts its own one."""
    now = vary.knobs(garden, own)
    axes = {
        "fish": tuple(float(max(round(now.fish_count * share), 1)) for share in FISH_SHARES),
        "air": tuple(now.air_l_min * share for share in OTHER_SHARES) if now.air_l_min else (0.0,),
        "flow": tuple(now.flow_l_h * share for share in OTHER_SHARES),
        "bed": tuple(now.bed_m2 * share for share in OTHER_SHARES),
    }
    mine = (now.fish_count, now.air_l_min, now.flow_l_h, now.bed_m2)
    place = tuple(steps.index(value) for steps, value in zip(axes.values(), mine, strict=True))
    at = {}
    for here in product(*(range(len(steps)) for steps in axes.values())):
        fish, air, flow, bed = (steps[n] for steps, n in zip(axes.values(), here, strict=True))
        wanted = replace(now, fish_count=fish, air_l_min=air, flow_l_h=flow, bed_m2=bed)
        turned = vary.turned(garden, now, wanted, 0.0)
        at[here] = own if here == place else balance(turned, own.members, own.seed)
    return Balances(axes, place, at)


def temperatures_c(own: Balance) -> tuple[float, ...]:
    """Whole degrees from the coolest to the warmest month's water."""
    low, high = (float(end) for end in (own.water_c.middle.min(), own.water_c.middle.max()))
    return tuple(dict.fromkeys(float(round(one)) for one in np.linspace(low, high, TEMPERATURES)))


def typed(tan: float, basis: str, ph: float, temperature_c: float) -> list[str]:
    """A reading of these steps as the command takes it.

    >>> typed(0.6, " N", 7.4, 22.0)
    ['tan=0.6 N', 'ph=7.4', 'temp=22C']
    """
    return [f"tan={tan:g}{basis}", f"ph={ph:g}", f"temp={temperature_c:g}C"]


def readings(
    garden: Garden, tans: Sequence[float], basis: str, phs: Sequence[float], warmth_c: Sequence[float]
) -> dict[Place, Answer]:
    """The answer to each reading by the steps of the kit."""
    steps = (tans, phs, warmth_c)
    return {
        here: actions.answer(given.read(typed(tans[here[0]], basis, phs[here[1]], warmth_c[here[2]]), garden))
        for here in product(*(range(len(axis)) for axis in steps))
    }


def clocks(reserve: Reserve) -> dict[Place, Clock]:
    """The clock of a power cut from now, by oxygen at the moment and the last meal."""
    return {
        (n, m): power_cut.clock(reserve, Now(oxygen, fed), reserve.critical_mg_l)
        for n, oxygen in enumerate(OXYGEN_MG_L)
        for m, fed in enumerate(FED_H)
    }
