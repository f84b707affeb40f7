"""Batches of crops: when they are picked, what they weigh, and how much of the beds is planted."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from aquacalc.harvest import spans
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

BATCHES = (
    "plan", "crop", "bed", "area_m2", "state", "sow", "plant",
    "first_pick_low", "first_pick_middle", "first_pick_high",
    "last_pick_low", "last_pick_middle", "last_pick_high",
    "leaves", "kg_low", "kg_middle", "kg_high", "seeds", "plants", "stands_still", "short",
)  # fmt: skip
DATES = (
    "sow", "plant", "first_pick_low", "first_pick_middle", "first_pick_high",
    "last_pick_low", "last_pick_middle", "last_pick_high", "leaves",
)  # fmt: skip
BY_MONTH = ("crop", "month", "kg_low", "kg_middle", "kg_high")
SPACE = ("bed", "month", "used_m2", "had_m2", "share")


def batches(run: SeasonRun, garden: Garden) -> pd.DataFrame:
    """One row a batch, in the order of `run.batches`; garden: that of the run.

    plan, crop (key), bed, area_m2, state, sow, plant, leaves, seeds, plants, stands_still: as planned
    (`CropBatch`); first_pick_*, last_pick_*: days on which something is picked, 10th, 50th and 90th
    percentile over the members that pick at all, NaT where fewer than half do; kg_*: picked in the season;
    short: share of the members that pick nothing in the season, also where only its end comes too early.
    """
    rows = []
    for place, one in enumerate(run.batches):
        picked = run.crops["picked_kg"][place]
        rows.append(
            {
                "plan": one.plan,
                "crop": one.crop,
                "bed": one.bed,
                "area_m2": one.area_m2,
                "state": one.state,
                "sow": one.sow,
                "plant": one.plant,
                **spans.dated("first_pick", spans.first_days(picked > 0.0), run),
                **spans.dated("last_pick", spans.last_days(picked > 0.0), run),
                "leaves": one.leaves,
                **spans.numbers("kg", band(picked.sum(axis=1))),
                "seeds": one.seeds,
                "plants": one.plants,
                "stands_still": list(one.stands_still),
                "short": float(np.mean(~(picked > 0.0).any(axis=1))),
            }
        )
    return spans.frame(rows, BATCHES, DATES)


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
