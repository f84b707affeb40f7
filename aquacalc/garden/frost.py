"""When frost lets crops be set out and stand, in a usual year.

The grower's own dates go first; else they are estimated from monthly means, which know no single cold night.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops
from aquacalc.climate import days, months
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.crops import Crop
from aquacalc.garden.usual_year import UsualYear
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import MonthDay, Site

Mask = NDArray[np.bool_]

FROST_NIGHT_C = 6.0
"""Mean lowest air below which single nights may freeze, one year in ten. The open Seattle daily file gives
5, near the sea (computed); inland nights differ more from their mean (common practice, no source)."""

LEAD_DAYS = {"hardy": 35, "half_hardy": 17, "tender": 0, "very_tender": -14}
"""Days ahead of the last frost from which a class may be set out: 4 to 6 weeks, 2 to 3, none, 2 after it.
In autumn hardy classes may be set out as long after the first frost. Common practice, no source."""

WARM_NIGHT_C = 12.0
"""Very tender crops are set out once the nights are warmer (common practice, no source)."""

GREENHOUSE_DAYS = 21
"""A greenhouse moves both frost dates by 2 to 4 weeks (common practice, no source)."""


def dates(site: Site, outdoor_night_c: Floats) -> tuple[int, int] | None:
    """Last frost of spring and first of autumn, days of the year; None where none is to be reckoned with.

    outdoor_night_c: (365,). Where the grower gave one of the two, the other lies as far on the other side of
    the coldest night.
    """
    if site.cover == "indoors":
        return None
    last, first = _of_year(site.last_frost), _of_year(site.first_frost)
    if last is None and first is None:
        found = days.frost_dates(outdoor_night_c - FROST_NIGHT_C, southern=site.latitude_deg < 0.0)
        last, first = _known(found.last_spring[0]), _known(found.first_autumn[0])
    coldest = int(np.argmin(outdoor_night_c))
    if last is None and first is None:
        return None
    if last is None:
        last = (2 * coldest - first) % DAYS_PER_YEAR  # type: ignore[operator]  # one of the two is known
    if first is None:
        first = (2 * coldest - last) % DAYS_PER_YEAR
    return last, first


def _of_year(day: MonthDay | None) -> int | None:
    return None if day is None else months.day_of_year(day.month, day.day)


def _known(day: float) -> int | None:
    return None if math.isnan(day) else int(day)


def planting(of: Crop, site: Site, year: UsualYear) -> Mask:
    """Days of the year on which frost and cold nights let a crop be set out, (365,)."""
    lead = LEAD_DAYS[of.frost_class]
    may = _frost_free(site, year, lead, max(lead, 0) if not _dies_of_frost(of) else -1) & _unharmed(of, year)
    if of.frost_class == "very_tender":
        may = may & (year.night_c > WARM_NIGHT_C)
    return may


def standing(of: Crop, site: Site, year: UsualYear) -> Mask:
    """Days of the year on which frost lets a crop that was set out live, (365,).

    The first frost takes tender crops; hardy ones stand as long as the usual night does not harm them.
    """
    lives = _unharmed(of, year)
    return lives & _frost_free(site, year, 0, -1) if _dies_of_frost(of) else lives


def _unharmed(of: Crop, year: UsualYear) -> Mask:
    return np.asarray(year.night_c > of.frost_damage_c)


def _dies_of_frost(of: Crop) -> bool:
    return of.frost_class in crops.WARM_SEASON_FROST_CLASSES


def _frost_free(site: Site, year: UsualYear, before: int, after: int) -> Mask:
    """Days from `before` days ahead of the last frost to `after` days past the first one, (365,)."""
    found = dates(site, year.outdoor_night_c)
    if found is None:
        return np.ones(DAYS_PER_YEAR, dtype=np.bool_)
    last, first = found
    shift = GREENHOUSE_DAYS if site.cover == "greenhouse" else 0
    opens = last - before - shift
    length = (first - last) % DAYS_PER_YEAR + before + after + 2 * shift
    if length >= DAYS_PER_YEAR - 1:
        return np.ones(DAYS_PER_YEAR, dtype=np.bool_)
    free: Mask = (np.arange(DAYS_PER_YEAR) - opens) % DAYS_PER_YEAR <= length
    return free
