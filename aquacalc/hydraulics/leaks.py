"""Water that is lost: how long it lasts, and how much of a loss is usual."""

import math

from aquacalc.constants import Numbers

USUAL_LOSS_SHARE_DAY = (0.01, 0.03)
"""Share of the water that plants, sun and splash take in a day. The low end was measured in a raft system
(Love and others 2015, read); the high end is common practice, and more than it without plants to explain it
is a leak."""


def hours_left(water_l: float, loss_l_h: float, inflow_l_h: float = 0.0) -> float:
    """Hours until the water is gone; infinite where as much runs in as runs out.

    >>> hours_left(300.0, 120.0)
    2.5
    """
    falling_l_h = loss_l_h - inflow_l_h
    return water_l / falling_l_h if falling_l_h > 0.0 else math.inf


def usual_loss_l_day(water_l: Numbers) -> tuple[Numbers, Numbers]:
    """Low and high end of the usual loss of a day, L.

    >>> usual_loss_l_day(1500.0)
    (15.0, 45.0)
    """
    low, high = USUAL_LOSS_SHARE_DAY
    return low * water_l, high * water_l
