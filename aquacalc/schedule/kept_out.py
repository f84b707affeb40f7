"""Planned crops that heat, cold, the dark or frost keeps out of their bed, and what could stand there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, cast

import numpy as np

from aquacalc import crops
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.garden import opening, usual_year
from aquacalc.garden.opening import Reason
from aquacalc.garden.usual_year import UsualYear
from aquacalc.schedule import positions, spells
from aquacalc.schedule.batch import CropBatch
from aquacalc.schedule.spells import Spell

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

LEAST_DAYS = 14
"""Shorter spans are not told. Common practice, no source."""
BECAUSE = ("frost", "too_cold", "too_hot", "too_dark")


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

    batches: what the season plants; where they leave no room for the crop nothing is told.
    """
    year, days = usual_year.usual_year_of(garden), positions.around(garden.season)
    return tuple(
        _kept_out(garden, year, days, one)
        for one in spells.spells(garden, batches)
        if one.state in BECAUSE and one.days >= LEAST_DAYS
    )


def _kept_out(garden: Garden, year: UsualYear, days: positions.Days, one: Spell) -> KeptOut:
    bed = next(bed for bed in garden.beds if bed.name == one.bed)
    of_year = np.zeros(DAYS_PER_YEAR, dtype=np.bool_)
    of_year[days.of_year[days.position(one.first) : days.position(one.last) + 1]] = True
    because = cast("Reason", one.state)
    return KeptOut(
        plan=one.plan,
        crop=one.crop,
        bed=one.bed,
        because=because,
        first=one.first,
        last=one.last,
        air_c=float(year.air_c[of_year].mean()),
        water_c=float(year.water_c[of_year].mean()),
        instead=opening.suits_instead(garden, year, bed.kind, of_year, because),
        tolerant=because == "too_hot" and opening.cultivar_would_do(crops.crop(one.crop), year, of_year),
    )
