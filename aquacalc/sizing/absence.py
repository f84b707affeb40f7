"""How long a garden's water lasts while nobody fills up: the same for findings, cards and panels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden import litres
from aquacalc.uncertainty import Triangle, coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

TANK_LENDS_SHARE = 0.1
"""Without a sump the fish tank feeds the pump and may fall by about this. Common practice, no source."""


COUNTED = Triangle(0.85, 1.0, 1.2)
"""The grower's own count of a day or a week against the mean of a season. Common practice, no source."""


@dataclass(frozen=True)
class Lasting:
    """loss_l_day: what a day takes; days: that the spare water lasts, low where the loss is high."""

    loss_l_day: Triangle
    days: Triangle


def reserve_l(garden: Garden) -> float:
    """Water that a garden can lose before the pump runs dry or the tank is low, L: that of the sump, and the
    barrel on a float valve."""
    whole = litres.litres_of(garden)
    own = whole.sump if garden.sump else TANK_LENDS_SHARE * whole.tanks
    return own + (garden.rain.barrel_l if garden.top_up.float_valve else 0.0)


def counted_l_day(garden: Garden) -> float | None:
    """What the loop uses in a day as the grower counted it, L; None where nobody did."""
    counted = garden.last_measured("water_use")
    return None if counted is None else counted.value * HOURS_PER_DAY


def usual_loss_l_day(water_l: float, counted_l_day: float | None = None) -> Triangle:
    """What a loop of so much water loses in a day where no garden tells its climate and its crops, L: as it
    was counted, or the usual share."""
    share = coefficient("water_loss_share_per_d") if counted_l_day is None else COUNTED
    day_l = water_l if counted_l_day is None else counted_l_day
    return Triangle(*(end * day_l for end in (share.low, share.typical, share.high)))


def lasting(loss_l_day: Triangle, spare_l: float) -> Lasting:
    """How long spare water lasts.

    >>> round(lasting(usual_loss_l_day(1500.0), 90.0).days.typical, 3)
    3.0
    """
    ends = (loss_l_day.high, loss_l_day.typical, loss_l_day.low)
    return Lasting(loss_l_day, Triangle(*(spare_l / end for end in ends)))
