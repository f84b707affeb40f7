"""What is written down while a season runs."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import DTypeLike

from aquacalc.constants import MG_PER_G, Numbers
from aquacalc.season import basing
from aquacalc.season.hour import Flows, Hour, Speeds, Water
from aquacalc.season.result import CROPS, DAILY, FISH, HOURLY
from aquacalc.season.rules import Event
from aquacalc.uncertainty import Floats
from aquacalc.water import ammonia, carbonate


@dataclass(eq=False)
class Record:
    """Arrays to be filled day by day, the last axis that of the members; hourly only of a single member."""

    daily: dict[str, Floats]
    fish: dict[str, Floats]
    crops: dict[str, Floats]
    hourly: dict[str, list[float]]
    events: list[Event] = field(default_factory=list)


def empty(
    days: int,
    members: int,
    fish_batches: int,
    crop_batches: int,
    dtype: DTypeLike = np.float64,
    crops: Collection[str] = tuple(CROPS),
) -> Record:
    """A record of `days` with every name of `season.result`; crops: those of them that are wanted."""
    return Record(
        daily={name: np.zeros((days, members), dtype) for name in DAILY},
        fish={name: np.zeros((fish_batches, days, members), dtype) for name in FISH},
        crops={name: np.zeros((crop_batches, days, members), dtype) for name in crops},
        hourly={name: [] for name in HOURLY if name != "water_c"},
    )


def of_crops(record: Record, day: int, values: Mapping[str, Floats]) -> None:
    """What is wanted of a day's crops, (batches, members)."""
    for name in values.keys() & record.crops.keys():
        record.crops[name][:, day] = values[name]


def part(whole: Record, first: int, last: int) -> Record:
    """The members from `first` to before `last` of a record; what is written there stands in the whole."""

    def of(group: Mapping[str, Floats]) -> dict[str, Floats]:
        return {name: values[..., first:last] for name, values in group.items()}

    return Record(of(whole.daily), of(whole.fish), of(whole.crops), whole.hourly)


def copy(found: Record, into: Record) -> None:
    """Write the days of one record into another one of the same size."""
    for values, written in (
        (found.daily, into.daily),
        (found.fish, into.fish),
        (found.crops, into.crops),
    ):
        for name, one in values.items():
            written[name][...] = one


def morning(
    record: Record,
    day: int,
    water: Water,
    ions: Mapping[str, Numbers],
    hydrogen: Floats,
    constants: carbonate.Constants,
) -> None:
    """The water before the grower does anything; `water` holds arrays."""
    per_l = MG_PER_G / water.water_l
    written: dict[str, Numbers] = {
        "tan_mg_l": water.tan_g * per_l,
        "nitrite_mg_l": water.nitrite_g * per_l,
        "nitrate_mg_l": water.nitrate_g * per_l,
        "oxygen_mg_l": water.oxygen_g * per_l,
        "alkalinity_mg_l": water.alkalinity_eq / water.water_l * carbonate.MG_L_CACO3_PER_EQ_L,
        "ph": -np.log10(hydrogen),
        "carbon_dioxide_mg_l": water.carbon_mol
        / water.water_l
        * carbonate.MG_L_CO2_PER_MOL_L
        * carbonate.carbon_dioxide_share(hydrogen, constants),
        "ammonia_oxidisers_g_d": water.ammonia_oxidisers_g_d,
        "nitrite_oxidisers_g_d": water.nitrite_oxidisers_g_d,
        "solids_n_g": water.solids_n_g,
        **{f"{name}_mg_l": amount * per_l for name, amount in ions.items()},
    }
    for name, value in written.items():
        record.daily[name][day] = value


def events(
    record: Record, day: int, happened: Sequence[Event], shelf: Sequence[basing.Base], single: bool
) -> None:
    """What the grower did, and for the single member the events themselves."""
    for event in happened:
        if event.key == "top_up":
            record.daily["top_up_l"][day] = event.added["water_l"]
        elif event.key == "base":
            record.daily["base_eq"][day] = basing.whole_eq(event)
            record.daily["base_first_eq"][day] = event.grams[shelf[0].key] / shelf[0].grams_eq
            record.daily["base_potassium_g"][day] = event.ions["potassium"]
            record.daily["base_calcium_g"][day] = event.ions["calcium"]
        elif event.key == "iron":
            record.daily["iron_g"][day] = event.ions["iron"]
        elif event.key == "potassium":
            record.daily["potassium_g"][day] = event.ions["potassium"]
        elif event.key == "change_in":
            record.daily["changed_l"][day] = event.added["water_l"]
        elif event.key == "filter_food":
            record.daily["filter_food_g"][day] = event.added["tan_g"]
    if single:
        record.events += [_plain(event) for event in happened]


def hour(record: Record, water: Water, now: Speeds) -> None:
    """The beginning of an hour of a single member."""
    per_l = MG_PER_G / water.water_l
    for name, value in (
        ("tan_mg_l", water.tan_g * per_l),
        ("nitrite_mg_l", water.nitrite_g * per_l),
        ("nitrate_mg_l", water.nitrate_g * per_l),
        ("alkalinity_mg_l", water.alkalinity_eq / water.water_l * carbonate.MG_L_CACO3_PER_EQ_L),
        ("ph", -math.log10(now.hydrogen)),
        ("oxygen_mg_l", now.oxygen_mg_l),
        ("carbon_mmol_l", water.carbon_mol * per_l),
        ("water_l", water.water_l),
    ):
        record.hourly[name].append(float(value))


@dataclass(eq=False)
class Day:
    """Sums and extremes of the day's hours; floats or arrays of members."""

    taken_up_g: Numbers = 0.0
    denitrified_g: Numbers = 0.0
    nitrified_g: Numbers = 0.0
    oxygen_min_mg_l: Numbers = math.inf
    tan_max_mg_l: Numbers = 0.0
    nitrite_max_mg_l: Numbers = 0.0
    unionised_max_mg_l: Numbers = 0.0

    def look(self, water: Water, now: Speeds, hour: Hour, single: bool) -> None:
        """Take the beginning of an hour into the extremes."""
        # On floats the built-in functions are ten times as fast as NumPy's.
        most, least = (max, min) if single else (np.maximum, np.minimum)
        per_g = MG_PER_G / water.water_l
        tan = water.tan_g * per_g
        unionised = tan * ammonia.unionised_fraction_at(now.hydrogen, hour.ammonia_ka)
        self.oxygen_min_mg_l = least(self.oxygen_min_mg_l, now.oxygen_mg_l)
        self.tan_max_mg_l = most(self.tan_max_mg_l, tan)
        self.nitrite_max_mg_l = most(self.nitrite_max_mg_l, water.nitrite_g * per_g)
        self.unionised_max_mg_l = most(self.unionised_max_mg_l, unionised)

    def add(self, flows: Flows) -> None:
        """Take what crossed the border in an hour into the sums."""
        self.taken_up_g = self.taken_up_g + flows.taken_up_g
        self.denitrified_g = self.denitrified_g + flows.denitrified_g
        self.nitrified_g = self.nitrified_g + flows.nitrified_g


def day(record: Record, at: int, sums: Day) -> None:
    """Sums and extremes of a day."""
    for name, value in vars(sums).items():
        record.daily[name][at] = value


def _plain(event: Event) -> Event:
    """An event with floats in it."""

    def plain(amounts: Mapping[str, Numbers]) -> dict[str, Any]:
        return {name: float(np.asarray(value).reshape(-1)[0]) for name, value in amounts.items()}

    keep = float(np.asarray(event.keep).reshape(-1)[0])
    return Event(
        event.day,
        event.key,
        keep,
        plain(event.added),
        plain(event.spread),
        plain(event.ions),
        plain(event.grams),
    )
