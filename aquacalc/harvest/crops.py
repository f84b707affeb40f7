"""Crops by month: what is picked of them, and how much of the beds is planted."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from aquacalc.harvest import spans
from aquacalc.season.result import SeasonRun

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

BY_MONTH = ("crop", "month", "kg_low", "kg_middle", "kg_high")
SPACE = ("bed", "month", "used_m2", "had_m2", "share")


def by_month(run: SeasonRun) -> pd.DataFrame:
    """What is picked of each crop, kg, by calendar month (its first day)."""
    months = spans.months(run)
    rows = []
    for crop in dict.fromkeys(one.crop for one in run.batches):
        own = [place for place, one in enumerate(run.batches) if one.crop == crop]
        kg = spans.by_span(run.crops["picked_kg"][own].sum(axis=0), months, "sum")
        found = pd.DataFrame(spans.columns("kg", kg))
        rows += spans.records(found.assign(crop=crop, month=[first for first, _ in months]))
    return spans.frame(rows, BY_MONTH, ("month",))


def space(run: SeasonRun, garden: Garden) -> pd.DataFrame:
    """Bed area that crops stand on, of the area had, by bed and calendar month (its first day).

    used_m2: mean over the days of the month, median over the members; share: of had_m2.
    """
    months = spans.months(run)
    rows = []
    for bed in garden.beds:
        own = [place for place, one in enumerate(run.batches) if one.bed == bed.name]
        area = np.array([run.batches[place].area_m2 for place in own]).reshape(-1, 1, 1)
        used = (run.crops["stands"][own] * area).sum(axis=0)
        for (first, _), used_m2 in zip(months, spans.by_span(used, months, "mean").middle, strict=True):
            share = float(used_m2) / bed.area_m2
            rows.append(dict(zip(SPACE, (bed.name, first, float(used_m2), bed.area_m2, share), strict=True)))
    return spans.frame(rows, SPACE, ("month",))
