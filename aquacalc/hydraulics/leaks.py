"""Water that is lost: how long it lasts, and how much of a loss is usual."""

import math
from dataclasses import dataclass

from aquacalc.constants import Numbers
from aquacalc.possible import possible

USUAL_LOSS_SHARE_DAY = (0.01, 0.03)
"""Share of the water that plants, sun and splash take in a day. The low end was measured in a raft system
(Love and others 2015, read); the high end is common practice, and more than it without plants to explain it
is a leak."""


OVER_INTAKE_SHARE = 0.6
"""Of a sump's water; the rest stands below the pump's intake. Common practice, no source."""


def short_of_oxygen_h(still_h: float, tank_l: float, falling_l_h: float) -> float:
    """Hours until fish are short of oxygen in still water that falls meanwhile.

    still_h: the same fish in the full tank, nothing running. What they use is taken from ever less water:
    the oxygen falls by the use over what is left, so that the time is V/q (1 - exp(-q still/V)).
    Infinite air and a surface that is not still are not counted. Own reckoning.

    >>> round(short_of_oxygen_h(1.0, 1000.0, 500.0), 3)
    0.787
    """
    if not falling_l_h > 0.0:
        return still_h
    gone_h = tank_l / falling_l_h
    return gone_h * -math.expm1(-still_h / gone_h)


FISH_LIE_SHARE = 0.2
"""Of a tank's water: with less than this fish lie on their sides. Common practice, no source."""


@dataclass(frozen=True)
class Clock:
    """What a leak leads to, in hours from now; infinite where it never does.

    half: half of the water is gone. pump_dry: the pump's intake stands in air. short: from when to when fish
    are short of oxygen, once no water moves and no air bubbles. fish_dry: fish lie on their sides.
    """

    half: float
    pump_dry: float
    short: tuple[float, float]
    fish_dry: float


def clock(
    over_intake_l: float,
    tank_l: float,
    falling_l_h: float,
    still_h: tuple[float, float],
    from_tank: bool,
) -> Clock:
    """The clock of a leak.

    over_intake_l: water over the pump's intake: it falls first, since the pump keeps the tank full from it.
    from_tank: the tank itself leaks, so that its water falls once the pump has run dry; else what leaked
    stops with the pump, and the tank keeps its water. still_h: short and long end of the time that the
    oxygen of the full tank lasts.
    """
    if not falling_l_h > 0.0:
        return Clock(math.inf, math.inf, (math.inf, math.inf), math.inf)
    dry = over_intake_l / falling_l_h
    from_then_l_h = falling_l_h if from_tank else 0.0
    low, high = (dry + short_of_oxygen_h(one, tank_l, from_then_l_h) for one in still_h)
    whole_l = over_intake_l + (tank_l if from_tank else 0.0)
    return Clock(
        half=whole_l / 2.0 / falling_l_h,
        pump_dry=dry,
        short=(low, high),
        fish_dry=dry + (1.0 - FISH_LIE_SHARE) * tank_l / falling_l_h if from_tank else math.inf,
    )


def left_l(over_intake_l: float, tank_l: float, falling_l_h: float, from_tank: bool, hours: float) -> float:
    """Water over the intake and in the tank after some hours of a leak, L. Own reckoning, by mass balance.

    >>> left_l(100.0, 900.0, 200.0, True, 1.0), left_l(100.0, 900.0, 200.0, False, 1.0)
    (800.0, 900.0)
    """
    lost = max(falling_l_h, 0.0) * hours
    return max(over_intake_l + tank_l - lost, 0.0 if from_tank else tank_l)


@possible
def usual_loss_l_day(water_l: Numbers) -> tuple[Numbers, Numbers]:
    """Low and high end of the usual loss of a day, L.

    Low end LOVE15 (read), of a raft system; high end common practice, no source.

    >>> usual_loss_l_day(1500.0)
    (15.0, 45.0)
    """
    low, high = USUAL_LOSS_SHARE_DAY
    return low * water_l, high * water_l
