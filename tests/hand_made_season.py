"""Seasons made by hand, for tests of what is read out of them: all is nothing, but what the test gives."""

import math
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import numpy as np
from numpy.typing import ArrayLike

from aquacalc import __version__
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.result import CROPS, DAILY, FISH, SeasonRun

FIRST = date(2027, 3, 1)
"""A Monday."""


def season(
    days: int = 10,
    members: int = 5,
    first: date = FIRST,
    fish: Sequence[Mapping[str, ArrayLike]] = (),
    batches: Sequence[CropBatch] = (),
    crops: Sequence[Mapping[str, ArrayLike]] = (),
    most_feed_g_day: float = math.inf,
    **daily: ArrayLike,
) -> SeasonRun:
    """A season; every value spreads over members and days.

    fish, crops: one mapping a batch, by the names of `FISH` and `CROPS`; a weight that is not given is NaN.
    """
    shape = (members, days)
    by_fish = {name: np.zeros((len(fish), *shape)) for name in FISH}
    by_fish["weight_g"][:] = np.nan
    by_crop = {name: np.zeros((len(batches), *shape)) for name in CROPS}
    for group, given in ((by_fish, fish), (by_crop, crops)):
        for place, one in enumerate(given):
            for name, values in one.items():
                group[name][place] = values
    by_day = {name: np.broadcast_to(np.asarray(daily.get(name, 0.0)), shape).astype(float) for name in DAILY}
    return SeasonRun(
        garden="Invented garden",
        digest="",
        version=__version__,
        seed=1,
        members=members,
        first=first,
        fish_names=tuple(f"batch {place}" for place in range(len(fish))),
        batches=tuple(batches),
        daily=by_day,
        fish=by_fish,
        crops=by_crop,
        typical={
            **{name: values[0] for name, values in by_day.items()},
            **{f"fish.{name}": values[:, 0] for name, values in by_fish.items()},
            **{f"crops.{name}": values[:, 0] for name, values in by_crop.items()},
        },
        hourly={},
        events=(),
        most_feed_g_day=(most_feed_g_day,) * days,
    )


def crop_batch(crop: str = "basil", plant: date = FIRST, days: int = 10, **fields: object) -> CropBatch:
    """A planned batch of 2 m2 in the hand-made garden's bed that leaves after some days."""
    whole: dict[str, object] = {
        "plan": 0,
        "crop": crop,
        "bed": "North bed",
        "area_m2": 2.0,
        "state": "planned",
        "sow": None,
        "plant": plant,
        "leaves": plant + timedelta(days=days),
        "first_pick": None,
        "last_pick": None,
        "seeds": 0,
        "plants": 8,
    }
    return CropBatch(**(whole | fields))  # type: ignore[arg-type]


def on(day: int, value: ArrayLike, days: int = 10, members: int = 5) -> np.ndarray:
    """Nothing on any day but one; a value a member, or one for all: (members, days)."""
    found = np.zeros((members, days))
    found[:, day] = value
    return found
