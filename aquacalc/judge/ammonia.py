"""Ammonia: the worst of its un-ionised part, of total ammonia, and of the acute and chronic criteria."""

from collections.abc import Sequence

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.judge import lines
from aquacalc.judge.levels import ACT, EMERGENCY, FINE, Level
from aquacalc.judge.lines import Ranks
from aquacalc.tables import Row
from aquacalc.water import ammonia

CHRONIC_MULTIPLE = 2.5
"""No four-day mean of ammonia above this multiple of the chronic criterion (EPA13, read-2nd)."""

CRITERIA_PH, CRITERIA_C = (6.5, 9.0), (0.0, 30.0)
"""Where the criteria hold; they are used at their ends beyond."""


def unionised_ranks(tan_mg_l: Numbers, ph: Numbers, temperature_c: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of the un-ionised part of total ammonia (mg N/L) alone."""
    return lines.ranks("unionised_ammonia", tan_mg_l * ammonia.unionised_fraction(ph, temperature_c), fish)


def criteria_ranks(tan_mg_l: Numbers, ph: Numbers, temperature_c: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of total ammonia by the acute and chronic criteria alone, which know pH and temperature."""
    salmonids = any(row.text("temperature_class") == "cold" for row in fish)
    within_ph, within_c = np.clip(ph, *CRITERIA_PH), np.clip(temperature_c, *CRITERIA_C)
    acute = ammonia.acute_criterion_mg_l(within_ph, within_c, salmonids)
    chronic = CHRONIC_MULTIPLE * ammonia.chronic_criterion_mg_l(within_ph, within_c)
    return np.select([tan_mg_l > acute, tan_mg_l > chronic], [EMERGENCY, ACT], FINE)


def criteria_level(tan_mg_l: float, ph: float, temperature_c: float, fish: Sequence[Row]) -> Level:
    """The level of total ammonia by the criteria alone."""
    return lines.level_of(criteria_ranks(tan_mg_l, ph, temperature_c, fish))


def tan_ranks(tan_mg_l: Numbers, ph: Numbers, temperature_c: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of total ammonia, mg N/L, by its own lines and the criteria."""
    by_lines = lines.ranks("tan", tan_mg_l, fish)
    return lines.known(
        np.maximum(by_lines, criteria_ranks(tan_mg_l, ph, temperature_c, fish)), tan_mg_l, ph, temperature_c
    )


def ranks(tan_mg_l: Numbers, ph: Numbers, temperature_c: Numbers, fish: Sequence[Row]) -> Ranks:
    """Ranks of ammonia at a pH and temperature, by all of its rules; NaN is not known."""
    return np.maximum(
        tan_ranks(tan_mg_l, ph, temperature_c, fish), unionised_ranks(tan_mg_l, ph, temperature_c, fish)
    )


def level(tan_mg_l: float, ph: float, temperature_c: float, fish: Sequence[Row]) -> Level:
    """The level of ammonia at a pH and temperature. tan_mg_l: total ammonia as N.

    >>> from aquacalc import tables
    >>> catfish = (tables.load("species").row("channel_catfish"),)
    >>> level(2.0, 6.6, 26.0, catfish), level(2.0, 8.2, 26.0, catfish)
    ('act today', 'emergency')
    """
    return lines.level_of(ranks(tan_mg_l, ph, temperature_c, fish))
