"""What happens on which day of a start-up, member by member, and as bands.

Days are those of the morning on which it shows. Infinite: later than the course goes; NaN: it does not occur.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from aquacalc.startup.members import Course
from aquacalc.startup.rule import P1, Flags, Rule, passes
from aquacalc.uncertainty import BAND_PERCENTILES, Floats

LOW_MG_L = 0.5
"""Ammonia and nitrite have fallen once they are below this (nitrogen reference, section 5)."""
FEWEST_SHARE = 0.5
"""A milestone that fewer of the members have is not told."""


@dataclass(frozen=True, eq=False)
class Milestones:
    """Days, arrays (members,).

    ammonia_peak: highest value up to then, with the morning's dose; nitrite_peak: highest value of a morning;
    nothing below `LOW_MG_L` counts.
    ammonia_clear, nitrite_clear: first morning below `LOW_MG_L` after it. complete: first morning on which
    yesterday's dose is cleared; confirmed: the second of two such mornings in a row, which practice wants.
    horizon: last day that was looked at.
    """

    ammonia_peak: Floats
    ammonia_clear: Floats
    nitrite_peak: Floats
    nitrite_clear: Floats
    complete: Floats
    confirmed: Floats
    horizon: int

    def take(self, name: str) -> Floats:
        """The days of a milestone by its name."""
        found: Floats = getattr(self, name)
        return found


NAMES = tuple(one.name for one in fields(Milestones) if one.name != "horizon")


@dataclass(frozen=True)
class Span:
    """10th, 50th and 90th percentile of a day over the members; infinite: later than the horizon."""

    low: float
    middle: float
    high: float
    horizon: int

    @property
    def known(self) -> bool:
        """Whether it occurs at all, in most members."""
        return not np.isnan(self.low)


def milestones_of(course: Course, rule: Rule = P1, from_day: int = 0) -> Milestones:
    """The milestones of a course; completion is judged from a day on."""
    tan, nitrite = course.tan_mg_l, course.nitrite_mg_l
    days = np.arange(course.days + 1)[:, None]
    # The first time that ammonia falls, not a later dose; of nitrite the highest of all.
    risen = np.maximum.accumulate(tan, axis=0) >= LOW_MG_L
    ammonia_clear = _first(risen & (tan < LOW_MG_L))
    dosed = np.where(days < ammonia_clear, tan + course.tan_dosed, -1.0)
    ammonia_peak = dosed.argmax(axis=0).astype(np.float64)
    nitrite_peak = nitrite.argmax(axis=0).astype(np.float64)
    nitrite_clear = _first((days >= nitrite_peak) & (nitrite < LOW_MG_L))
    nitrite_peak[nitrite_peak == course.days] = np.inf
    never = ~risen.any(axis=0)
    ammonia_peak[never], ammonia_clear[never] = np.nan, np.nan
    never = (nitrite < LOW_MG_L).all(axis=0)
    nitrite_peak[never], nitrite_clear[never] = np.nan, np.nan
    done = passes(tan, nitrite, course.tan_dosed, rule) & (days >= from_day)
    return Milestones(
        ammonia_peak=ammonia_peak,
        ammonia_clear=ammonia_clear,
        nitrite_peak=nitrite_peak,
        nitrite_clear=nitrite_clear,
        complete=_first(done),
        confirmed=_first(_twice(done)),
        horizon=course.days,
    )


def span(days: Floats, horizon: int, weights: Floats | None = None) -> Span:
    """The band of a milestone; weights sum to 1, members without it are left out.

    >>> span(np.array([20.0, 22.0, np.inf]), 60).high
    inf
    """
    share = np.full(days.size, 1.0 / days.size) if weights is None else weights
    there = ~np.isnan(days)
    if share[there].sum() < FEWEST_SHARE:
        return Span(np.nan, np.nan, np.nan, horizon)
    low, middle, high = weighted_percentiles(days[there], share[there])
    return Span(float(low), float(middle), float(high), horizon)


def weighted_percentiles(
    values: Floats, weights: Floats, percentiles: tuple[float, ...] = BAND_PERCENTILES
) -> tuple[Floats, ...]:
    """Percentiles over members along the last axis of `values`; weights (members,), of any sum.

    The smallest value at which the members up to it hold the share: always the value of a member.
    """
    order = np.argsort(values, axis=-1)
    ordered = np.take_along_axis(values, order, axis=-1)
    held = np.cumsum(weights[order], axis=-1)
    whole = held[..., -1:]
    found = []
    for percent in percentiles:
        place = np.minimum(
            (held < percent / 100.0 * whole * (1.0 - 1e-12)).sum(axis=-1), values.shape[-1] - 1
        )
        found.append(np.take_along_axis(ordered, place[..., None], axis=-1)[..., 0])
    return tuple(found)


def _twice(done: Flags) -> Flags:
    """Mornings that pass after one that passed."""
    found = np.zeros_like(done)
    found[1:] = done[1:] & done[:-1]
    return found


def _first(true: Flags) -> Floats:
    """First day of each member; infinite where there is none."""
    found: Floats = np.where(true.any(axis=0), true.argmax(axis=0), np.inf)
    return found
