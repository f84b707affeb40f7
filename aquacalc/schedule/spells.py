"""What each planned place does on each day of a season: a crop grows there, or why it does not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, Literal, cast

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops
from aquacalc.garden import opening, usual_year
from aquacalc.schedule import absences, positions
from aquacalc.schedule.batch import CropBatch
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import CropPlan, Garden

PlaceState = Literal[
    "growing",
    "slow_cold",
    "slow_hot",
    "slow_dark",
    "by_choice",
    "no_room",
    "frost",
    "too_dark",
    "too_hot",
    "too_cold",
    "nobody",
    "waits",
    "too_late",
]
"""growing; slow_...: it stands, at less than half its speed, held back most by that; by_choice: outside the
months or days of the plan; no_room: other crops fill the bed; frost to too_cold: what keeps it from being
set out; nobody: nobody is there to set it out; waits: for a later day of planting; too_late: it would not be
ready before it has to leave."""

Mask = NDArray[np.bool_]
ROUNDING = 1.0 + 1e-9


@dataclass(frozen=True)
class Spell:
    """Days in a row, first to last, on which the place of a plan is in one state.

    plan: position in `garden.crops`.
    """

    plan: int
    crop: str
    bed: str
    state: PlaceState
    first: date
    last: date

    @property
    def days(self) -> int:
        """How many days it has."""
        return (self.last - self.first).days + 1


def spells(garden: Garden, batches: Sequence[CropBatch]) -> tuple[Spell, ...]:
    """The season of every planned place, without a gap, plan by plan and in order of days.

    batches: what the season plants.
    """
    days = positions.around(garden.season)
    found = []
    for position, plan in enumerate(garden.crops):
        states = _states(garden, position, batches, days).tolist()
        at = 0
        for state, group in groupby(states):
            begin, at = at, at + len(list(group))
            first, last = days.day(begin), days.day(at - 1)
            found.append(Spell(position, plan.crop, plan.bed, cast("PlaceState", state), first, last))
    return tuple(found)


def _states(
    garden: Garden, position: int, batches: Sequence[CropBatch], days: positions.Days
) -> NDArray[np.str_]:
    plan, year = garden.crops[position], usual_year.usual_year_of(garden)
    of, own = crops.crop(plan.crop), [one for one in batches if one.plan == position]
    stands = used_m2(own, plan.bed, days) > 0.0
    planted = [days.position(one.plant) for one in own if one.in_bed]
    at = np.arange(days.count)
    found = np.where(at <= max(planted, default=-1), "waits", "too_late").astype("<U10")
    away = [absences.away(days.day(day), garden) is not None for day in range(days.count)]
    found[np.array(away)] = "nobody"
    why = opening.reasons(of, garden.site, year)[days.of_year]
    found = np.where(why == "", found, why)
    found[~has_room(garden, plan, batches, days)] = "no_room"
    found[~wished(plan, days)] = "by_choice"
    slow = opening.slow_because(of, year)[days.of_year]
    return np.where(stands, np.where(slow == "", "growing", slow), found)


def wished(plan: CropPlan, days: positions.Days) -> Mask:
    """Days on which a plan wants its crop in the bed: in its months, from its first to its last day."""
    at = np.arange(days.count)
    begins = 0 if plan.first is None else days.position(plan.first)
    ends = days.count if plan.last is None else days.position(plan.last)
    return np.asarray(np.isin(days.month, plan.months) & (at >= begins) & (at <= ends))


def has_room(garden: Garden, plan: CropPlan, batches: Sequence[CropBatch], days: positions.Days) -> Mask:
    """Days on which the bed of a plan still has its area; none where there is no such bed."""
    had_m2 = sum(one.area_m2 for one in garden.beds if one.name == plan.bed)
    return np.asarray(used_m2(batches, plan.bed, days) + plan.area_m2 <= had_m2 * ROUNDING)


def used_m2(batches: Sequence[CropBatch], bed: str, days: positions.Days) -> Floats:
    """Area of a bed that batches take up, by day."""
    used = np.zeros(days.count)
    for one in batches:
        if one.in_bed and one.bed == bed:
            used[max(days.position(one.plant), 0) : max(days.position(one.ends) + 1, 0)] += one.area_m2
    return used
