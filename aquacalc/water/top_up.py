"""Top-up water: what a year of it leaves behind, what mixing two waters gives, what a roof brings.

Alkalinity and hardness in mg/L CaCO3, volumes in L, flows in L/d.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from aquacalc.constants import DAYS_PER_YEAR, Numbers
from aquacalc.possible import possible
from aquacalc.water import carbonate, salts
from aquacalc.water.dosing import WELL_AIRED_CARBON_DIOXIDE_MG_L

Floats = NDArray[np.float64]

RUNOFF_SHARE = 0.8
"""Share of the rain that reaches the barrel. Common practice, no source."""
FALL_MM = 10.0
"""Rain of one fall, from which the number of falls in a month follows. Common practice, no source."""
FIRST_FLUSH_L_M2 = (0.5, 1.0, 2.0)
"""Water to let run off first, for each m2 of roof: clean, usual, dirty. Common practice, no source."""
LEAST_L_D = 1e-6
"""Less than this is nothing."""


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
    Exact, by mass balance of a mixed volume.

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


@possible
def by_day_mg_l(
    volume_l: float,
    start_mg_l: Numbers,
    top_up_mg_l: float,
    flows: tuple[Floats, Floats],
    input_g_d: Floats,
    lime: tuple[Numbers, Numbers] = (np.inf, 0.0),
) -> Floats:
    """The same day by day where flows and input change through the year, (..., days + 1), the start first.

    flows: water lost to sun and plants and water let out, L/d; input_g_d: as in `after_days_mg_l`; all
    (..., days). lime: level from which lime settles, and the share of what is above it that does in a day.
    What is taken is never more than there is. Own reckoning, by mass balance.

    >>> steady = (np.full(180, 60.0), np.full(180, 40.0))
    >>> round(float(by_day_mg_l(2000.0, 40.0, 40.0, steady, np.zeros(180))[-1]), 2)
    98.36
    """
    evaporation, out, given = np.broadcast_arrays(*flows, input_g_d)
    level = np.empty((*given.shape[:-1], given.shape[-1] + 1))
    level[..., 0] = start_mg_l
    for day in range(given.shape[-1]):
        after = salts.build_up_mg_l(
            level[..., day],
            top_up_mg_l,
            evaporation[..., day],
            out[..., day],
            1000.0 * given[..., day],
            volume_l,
            1.0,
        )
        level[..., day + 1] = np.maximum(after - lime_mg_l(after, *lime), 0.0)
    return level


def lime_mg_l(level_mg_l: Numbers, from_mg_l: Numbers, share_per_d: Numbers) -> Numbers:
    """Alkalinity that settles as lime in a day, mg/L: a share of what lies above a line.

    Common practice, no source.

    >>> float(lime_mg_l(200.0, 130.0, 0.03)), float(lime_mg_l(100.0, 130.0, 0.03))
    (2.1, 0.0)
    """
    # Where nothing ever settles the line is infinite.
    settles = share_per_d * (level_mg_l - np.minimum(from_mg_l, 1e9))
    return np.where(np.less(level_mg_l, from_mg_l), 0.0, settles)[()]


_HIGHEST_MG_L = 2000.0
_HALVINGS = 40


@possible
def scale_from_mg_l(hardness_mg_l: float, temperature_c: float, ionic_strength: float = 0.009) -> float:
    """Alkalinity from which lime settles out of a loop of this hardness, mg/L; 2000 where it never does.

    Own reckoning with `carbonate.calcite_saturation_index`; the index of 0.3 and 80 % calcium are common
    practice, no source.

    >>> 100.0 < scale_from_mg_l(250.0, 24.0) < 200.0
    True
    """
    calcium_mg_l = max(salts.ions_of_hardness_mg_l(hardness_mg_l)[0], 1e-3)
    low, high = 1.0, _HIGHEST_MG_L
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        ph = carbonate.ph_at_carbon_dioxide(
            middle, WELL_AIRED_CARBON_DIOXIDE_MG_L, temperature_c, ionic_strength
        )
        index = carbonate.calcite_saturation_index(ph, middle, calcium_mg_l, temperature_c, ionic_strength)
        low, high = (middle, high) if float(index) < carbonate.SCALE_INDEX else (low, middle)
    return high


# Two waters


def share_for_alkalinity(first_mg_l: float, second_mg_l: float, wished_mg_l: float) -> float:
    """Share of the second water in a mixture of a wished alkalinity; NaN where no mixture has it.

    Exact, by mass balance.

    >>> round(share_for_alkalinity(214.0, 5.0, 80.0), 2), share_for_alkalinity(214.0, 100.0, 80.0)
    (0.64, nan)
    """
    if first_mg_l == second_mg_l:
        return 0.0 if wished_mg_l == first_mg_l else float("nan")
    share = (wished_mg_l - first_mg_l) / (second_mg_l - first_mg_l)
    return share if 0.0 <= share <= 1.0 else float("nan")


# A roof


@possible
def roof_l(roof_m2: Numbers, rain_mm: Numbers, runoff_share: Numbers = RUNOFF_SHARE) -> Numbers:
    """Water that a roof, as seen from above, brings to the barrel, L.

    By definition; the usual share that runs off is common practice, no source.

    >>> roof_l(12.0, 600.0)
    5760.0
    """
    return roof_m2 * rain_mm * runoff_share


def first_flush_l(roof_m2: Numbers, litres_m2: Numbers = FIRST_FLUSH_L_M2[1]) -> Numbers:
    """Water to let run off at the beginning of each rain: dust, leaves, droppings.

    Common practice, no source.

    >>> first_flush_l(12.0)
    12.0
    """
    return roof_m2 * litres_m2


@possible
def falls_l(
    roof_m2: float,
    rain_mm: float,
    runoff_share: float = RUNOFF_SHARE,
    flush_l_m2: float = FIRST_FLUSH_L_M2[1],
) -> tuple[int, float]:
    """Falls of rain in a month, and what each brings once the first of it has run off, L.

    Own reckoning; the rain of one fall is common practice, no source.

    >>> falls_l(12.0, 50.0)
    (5, 84.0)
    """
    if not rain_mm > 0.0:
        return 0, 0.0
    falls = max(1, round(rain_mm / FALL_MM))
    caught = float(roof_l(roof_m2, rain_mm / falls, runoff_share) - first_flush_l(roof_m2, flush_l_m2))
    return falls, max(caught, 0.0)


def barrel_days(barrel_l: Numbers, top_up_l_d: Numbers) -> Numbers:
    """Days without rain that a full barrel bridges; infinite where nothing is topped up. By definition.

    >>> float(barrel_days(300.0, 15.0))
    20.0
    """
    drawn = np.asarray(top_up_l_d, dtype=np.float64)
    some = drawn > LEAST_L_D
    return np.where(some, barrel_l / np.where(some, drawn, 1.0), np.inf)[()]
