"""Top-up water: what a year of it leaves behind, what mixing two waters gives, what a roof brings.

Alkalinity and hardness in mg/L CaCO3, volumes in L, flows in L/d.
"""

from dataclasses import dataclass

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.water import salts

RUNOFF_SHARE = 0.8
"""Share of the rain that reaches the barrel. Common practice, no source."""
FIRST_FLUSH_L_M2 = (0.5, 1.0, 2.0)
"""Water to let run off first, for each m2 of roof: clean, usual, dirty. Common practice, no source."""
DAYS_PER_YEAR = 365.0


@dataclass(frozen=True)
class Loop:
    """A loop's water, and what leaves it in a day: by evaporation and plants, and let out."""

    volume_l: float
    evaporation_l_d: float
    discharge_l_d: float

    @property
    def top_up_l_d(self) -> float:
        """New water in a day."""
        return self.evaporation_l_d + self.discharge_l_d


def after_days_mg_l(
    loop: Loop, start_mg_l: Numbers, top_up_mg_l: Numbers, input_g_d: Numbers, days: Numbers = DAYS_PER_YEAR
) -> Numbers:
    """Hardness, sodium or alkalinity after some days of the same top-up, mg/L, not below zero.

    input_g_d: what feed and doses bring, less what acid or plants take; negative where more is taken.

    >>> round(float(after_days_mg_l(Loop(2000.0, 60.0, 40.0), 40.0, 40.0, 0.0, 180.0)), 2)
    98.36
    """
    level = salts.build_up_mg_l(
        start_mg_l,
        top_up_mg_l,
        loop.evaporation_l_d,
        loop.discharge_l_d,
        1000.0 * input_g_d,
        loop.volume_l,
        days,
    )
    return np.maximum(level, 0.0)


def exchange_to_hold_l_d(
    loop: Loop, most_mg_l: Numbers, top_up_mg_l: Numbers, input_g_d: Numbers = 0.0
) -> Numbers:
    """Water to let out each day so that a level is never passed; infinite where the top-up holds as much.

    >>> float(exchange_to_hold_l_d(Loop(2000.0, 60.0, 0.0), 100.0, 40.0))
    40.0
    """
    held = salts.discharge_needed_l_d(most_mg_l, top_up_mg_l, loop.evaporation_l_d, 1000.0 * input_g_d)
    return np.maximum(held, 0.0)


# Two waters


def share_for_alkalinity(first_mg_l: float, second_mg_l: float, wished_mg_l: float) -> float:
    """Share of the second water in a mixture of a wished alkalinity; NaN where no mixture has it.

    >>> round(share_for_alkalinity(214.0, 5.0, 80.0), 2), share_for_alkalinity(214.0, 100.0, 80.0)
    (0.64, nan)
    """
    if first_mg_l == second_mg_l:
        return 0.0 if wished_mg_l == first_mg_l else float("nan")
    share = (wished_mg_l - first_mg_l) / (second_mg_l - first_mg_l)
    return share if 0.0 <= share <= 1.0 else float("nan")


# A roof


def roof_l(roof_m2: Numbers, rain_mm: Numbers, runoff_share: Numbers = RUNOFF_SHARE) -> Numbers:
    """Water that a roof, as seen from above, brings to the barrel, L.

    >>> roof_l(12.0, 600.0)
    5760.0
    """
    return roof_m2 * rain_mm * runoff_share


def first_flush_l(roof_m2: Numbers, litres_m2: Numbers = FIRST_FLUSH_L_M2[1]) -> Numbers:
    """Water to let run off at the beginning of each rain: dust, leaves, droppings.

    >>> first_flush_l(12.0)
    12.0
    """
    return roof_m2 * litres_m2


def barrel_days(barrel_l: Numbers, top_up_l_d: Numbers) -> Numbers:
    """Days without rain that a full barrel bridges; infinite where nothing is topped up.

    >>> float(barrel_days(300.0, 15.0))
    20.0
    """
    with np.errstate(divide="ignore"):
        return np.divide(barrel_l, top_up_l_d)
