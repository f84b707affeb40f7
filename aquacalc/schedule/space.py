"""Bed area that is planted, of bed area had."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.schedule.batch import CropBatch
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


@dataclass(frozen=True, eq=False)
class Space:
    """Bed by bed: names, area had (beds,), area planted on the days of the season (beds, days), first day."""

    beds: tuple[str, ...]
    had_m2: Floats
    used_m2: Floats
    first: date


def space(batches: Sequence[CropBatch], garden: Garden) -> Space:
    """What the batches take up of each bed, day by day: from planting to the last pick, both counted."""
    season = garden.season
    names = tuple(bed.name for bed in garden.beds)
    days = (season.end - season.start).days + 1
    used = np.zeros((len(names), days))
    for one in batches:
        if one.in_bed:
            begins = max((one.plant - season.start).days, 0)
            used[names.index(one.bed), begins : (one.ends - season.start).days + 1] += one.area_m2
    return Space(names, np.array([bed.area_m2 for bed in garden.beds]), used, season.start)
