"""Planned crops that heat, cold or the dark keeps out of their bed, and what could stand there instead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, cast

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.garden import opening, usual_year
from aquacalc.garden.opening import Reason
from aquacalc.schedule import positions
from aquacalc.schedule.batch import CropBatch

if TYPE_CHECKING:
    from aquacalc.garden.model import CropPlan, Garden

LEAST_DAYS = 14
"""Shorter spans are not told. Common practice, no source."""


@dataclass(frozen=True)
class KeptOut:
    """A span of days on which a planned crop cannot be set out while its place is free.

    plan: position in `garden.crops`; because: `too_hot`, `too_cold`, `too_dark` or `frost`; air_c, water_c:
    means of the span in a usual year; instead: crops that the bed may hold then; tolerant:
    whether a cultivar bred for heat would do.
    """

    plan: int
    crop: str
    bed: str
    because: Reason
    first: date
    last: date
    air_c: float
    water_c: float
    instead: tuple[str, ...]
    tolerant: bool


def kept_out(garden: Garden, batches: Sequence[CropBatch]) -> tuple[KeptOut, ...]:
    """All such spans of a season, plan by plan and in order of days.

    batches: what the season plants; where their area leaves no room for the crop nothing is told.
    """
    year, days = usual_year.usual_year_of(garden), positions.around(garden.season)
    found: list[KeptOut] = []
    for position, plan in enumerate(garden.crops):
        bed = next((one for one in garden.beds if one.name == plan.bed), None)
        if bed is None:
            continue
        of = crops.crop(plan.crop)
        why = opening.reasons(of, garden.site, year)[days.of_year]
        wished = np.isin(days.month, plan.months) & _between(plan, days)
        free = _used_m2(batches, plan.bed, days) + plan.area_m2 <= bed.area_m2 * (1.0 + 1e-9)
        told = np.where(wished & free, why, "")
        for because, group in groupby(range(days.count), key=lambda at: str(told[at])):
            span = list(group)
            if not because or len(span) < LEAST_DAYS:
                continue
            of_year = np.zeros(DAYS_PER_YEAR, dtype=np.bool_)
            of_year[days.of_year[span]] = True
            reason = cast("Reason", because)
            found.append(
                KeptOut(
                    plan=position,
                    crop=plan.crop,
                    bed=plan.bed,
                    because=reason,
                    first=days.day(span[0]),
                    last=days.day(span[-1]),
                    air_c=float(year.air_c[of_year].mean()),
                    water_c=float(year.water_c[of_year].mean()),
                    instead=opening.suits_instead(garden, year, bed.kind, of_year, reason),
                    tolerant=because == "too_hot" and opening.cultivar_would_do(of, year, of_year),
                )
            )
    return tuple(found)


def _between(plan: CropPlan, days: positions.Days) -> NDArray[np.bool_]:
    at = np.arange(days.count)
    begins = 0 if plan.first is None else days.position(plan.first)
    ends = days.count if plan.last is None else days.position(plan.last)
    return np.asarray((at >= begins) & (at <= ends))


def _used_m2(batches: Sequence[CropBatch], bed: str, days: positions.Days) -> NDArray[np.float64]:
    used = np.zeros(days.count)
    for one in batches:
        if one.in_bed and one.bed == bed:
            used[max(days.position(one.plant), 0) : max(days.position(one.ends) + 1, 0)] += one.area_m2
    return used
