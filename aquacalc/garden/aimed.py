"""Alkalinity that a garden aims at: a consequence of its target pH."""

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.uncertainty import Floats
from aquacalc.water import carbonate
from aquacalc.water.dosing import WELL_AIRED_CARBON_DIOXIDE_MG_L

USUAL_C = 20.0
"""Water for which the alkalinity of a pH is told where no temperature is at hand; it moves it by a few parts
in a hundred."""


def alkalinity_mg_l(target_ph: float, top_up_mg_l: float | None, temperature_c: Numbers = USUAL_C) -> Floats:
    """What the target makes of the alkalinity at the carbon dioxide of a well aired loop, or what a harder
    top-up brings, mg/L CaCO3.

    Equilibrium; the carbon dioxide is common practice, no source.

    >>> round(float(alkalinity_mg_l(7.0, None))), float(alkalinity_mg_l(7.0, 170.0))
    (24, 170.0)
    """
    at_target = carbonate.alkalinity_at_carbon_dioxide_mg_l(
        target_ph, WELL_AIRED_CARBON_DIOXIDE_MG_L, temperature_c
    )
    return np.maximum(top_up_mg_l or 0.0, at_target)
