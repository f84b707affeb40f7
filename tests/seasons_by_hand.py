"""A season made by hand in which nothing is the matter: sixty days, ten tries, perch and lettuce."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

import hand_made_garden
import numpy as np
from hand_made_season import crop_batch, season
from numpy.typing import ArrayLike

from aquacalc.garden.model import Garden, Season
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.result import SeasonRun

DAYS, MEMBERS = 60, 10
FIRST = date(2027, 6, 1)
LAST = FIRST + timedelta(days=DAYS - 1)

CALM = {
    "water_c": 24.0,
    "air_c": 20.0,
    "light_mol_m2_d": 20.0,
    "tan_mg_l": 0.1,
    "nitrite_mg_l": 0.05,
    "nitrate_mg_l": 30.0,
    "alkalinity_mg_l": 60.0,
    "ph": 7.0,
    "carbon_dioxide_mg_l": 5.0,
    "oxygen_mg_l": 7.5,
    "oxygen_min_mg_l": 7.0,
    "unionised_max_mg_l": 0.001,
    "tan_max_mg_l": 0.1,
    "nitrite_max_mg_l": 0.05,
    "ration": 1.0,
    "feed_g": 50.0,
    "fish_kg": 4.0,
    "top_up_l": 14.0,
    "excreted_g": 1.5,
    "taken_up_g": 1.0,
    "denitrified_g": 0.3,
    "bed_used_m2": 2.0,
    "calcium_mg_l": 60.0,
    "magnesium_mg_l": 15.0,
    "potassium_mg_l": 60.0,
    "phosphorus_mg_l": 5.0,
    "iron_mg_l": 1.5,
    "sodium_mg_l": 20.0,
    "chloride_mg_l": 40.0,
}
PERCH: Mapping[str, ArrayLike] = {"count": 20.0, "weight_g": 200.0}
LETTUCE: Mapping[str, ArrayLike] = {
    "growth": 0.5,
    "stands": 1.0,
    "heat_killed": 0.0,
    "picked_kg": 0.02,
    "supply": 0.95,
    "scarce": 2.0,
}


def garden() -> Garden:
    """The ordinary garden over these days; its perch are kept and not eaten."""
    ordinary = hand_made_garden.garden()
    perch = replace(ordinary.fish[0], eaten=False)
    return replace(ordinary, fish=(perch,), season=Season(FIRST, LAST))


def run(
    fish: Sequence[Mapping[str, ArrayLike]] = (PERCH,),
    batches: Sequence[CropBatch] | None = None,
    crops: Sequence[Mapping[str, ArrayLike]] = (LETTUCE,),
    days: int = DAYS,
    **daily: ArrayLike,
) -> SeasonRun:
    """The calm season with some of its quantities changed."""
    if batches is None:
        batches = (crop_batch("lettuce_leaf", FIRST, days - 1),)
    return season(days, MEMBERS, FIRST, fish, batches, crops, **(CALM | daily))


def spell(usual: float, first: int, last: int, value: float, days: int = DAYS) -> np.ndarray:
    """A quantity that differs on some days, both inclusive, in all tries."""
    values = np.full((MEMBERS, days), usual)
    values[:, first : last + 1] = value
    return values


def in_some(usual: float, first: int, last: int, value: float, tries: int = 2) -> np.ndarray:
    """The same in a few of the tries: with two of ten the 10th or 90th percentile is there."""
    values = np.full((MEMBERS, DAYS), usual)
    values[:tries, first : last + 1] = value
    return values


def drifting(begins: float, ends: float, days: int = DAYS) -> np.ndarray:
    """A quantity that changes evenly."""
    return np.broadcast_to(np.linspace(begins, ends, days), (MEMBERS, days))
