"""Batches of fish: how heavy they get, when the first are of size, how many are taken and what they weigh."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from aquacalc import fish
from aquacalc.harvest import spans
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats, band

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

PLAN = (
    "batch", "species", "tank", "stocked", "stocked_count", "stocked_g",
    "weight_low_g", "weight_middle_g", "weight_high_g",
    "first_of_size_low", "first_of_size_middle", "first_of_size_high",
    "taken_low", "taken_middle", "taken_high",
    "kg_low", "kg_middle", "kg_high", "edible_kg_middle",
)  # fmt: skip
DATES = ("stocked", "first_of_size_low", "first_of_size_middle", "first_of_size_high")
BY_MONTH = (
    "batch", "month", "taken_low", "taken_middle", "taken_high", "kg_low", "kg_middle", "kg_high",
)  # fmt: skip

ALMOST = 1e-6
"""Rounding that a count or a weight may be short of a whole fish or of its final weight."""


def eaten(batch: FishBatch) -> bool:
    """Whether the fish of a batch are for the table."""
    return batch.eaten and fish.species(batch.species).eaten


def plan(run: SeasonRun, garden: Garden) -> pd.DataFrame:
    """One row a batch, in the order of the garden: its fish in the season.

    batch, species (key), tank; stocked, stocked_count, stocked_g: as planned;
    weight_*_g: mean weight on the last day on which there are any;
    first_of_size_*: day on which the first whole fish has been taken for its size, else on which the mean
    weight has reached the final weight; NaT where fewer than half of the members get there;
    taken_*: fish taken out, kg_*: their live weight; edible_kg_middle: gutted. Fish that
    are not eaten have no kg (NaN).
    """
    rows = []
    for place, batch in enumerate(garden.fish):
        weight, taken = run.fish["weight_g"][place], run.fish["taken"][place]
        kg = band(_kg(run, place, batch).sum(axis=1))
        gutted_pct = fish.species(batch.species).gutted_pct
        rows.append(
            {
                "batch": batch.name,
                "species": batch.species,
                "tank": batch.tank,
                "stocked": batch.stocked,
                "stocked_count": batch.count,
                "stocked_g": batch.weight_g,
                **spans.numbers("weight", band(_last(weight)), "g"),
                **spans.dated("first_of_size", first_of_size(run, place, batch), run),
                **spans.numbers("taken", band(taken.sum(axis=1))),
                **spans.numbers("kg", kg),
                "edible_kg_middle": float(fish.edible_kg(kg.middle, gutted_pct)),
            }
        )
    return spans.frame(rows, PLAN, DATES)


def first_of_size(run: SeasonRun, place: int, batch: FishBatch) -> Floats:
    """Day of the season on which a batch has its first fish of size, (members,); NaN where it has none.

    What leaves on the batch's last day leaves whatever its size, and does not count.
    """
    taken = run.fish["taken"][place].copy()
    if batch.until is not None:
        taken[:, max(run.day(batch.until), 0) :] = 0.0
    by_taking = np.cumsum(taken, axis=1, dtype=np.float64) >= 1.0 - ALMOST
    # Where there are no fish the weight is NaN, which has reached nothing.
    by_weight = run.fish["weight_g"][place] >= batch.final_weight_g * (1.0 - ALMOST)
    return np.where(by_taking.any(axis=1), spans.first_days(by_taking), spans.first_days(by_weight))


def _kg(run: SeasonRun, place: int, batch: FishBatch) -> Floats:
    taken_kg = run.fish["taken_kg"][place]
    return taken_kg if eaten(batch) else np.full_like(taken_kg, np.nan)


def _last(weight_g: Floats) -> Floats:
    """The last weight of each member; NaN where there never were fish."""
    last = spans.last_days(~np.isnan(weight_g))
    rows = np.arange(weight_g.shape[0])
    return weight_g[rows, np.nan_to_num(last).astype(np.int64)]
