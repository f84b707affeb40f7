"""A season that has been run: what it was run for, its days, its events. Written to one file and read
back."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import numpy as np

from aquacalc import __version__
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.rules import Event
from aquacalc.uncertainty import Band, Floats, band


@dataclass(frozen=True, eq=False)
class Tries:
    """The tries of one garden, without what only a plan on paper needs: axes and names as in `SeasonRun`."""

    first: datetime.date
    batches: tuple[CropBatch, ...]
    daily: Mapping[str, Floats]
    fish: Mapping[str, Floats]
    crops: Mapping[str, Floats]


@dataclass(frozen=True, eq=False)
class SeasonRun:
    """One garden through its season.

    first: day 0; daily: by name, (members, days); fish: by name, (batches, members, days); crops: by name,
    (crop batches, members, days); typical: the middle run alone, without the members' axis: the names of
    `daily`, and those of `fish` and `crops` as `fish.NAME` and `crops.NAME`; hourly: by name, (24 days,), of
    the middle run only, the first hour at six in the morning; events: of the middle run; fish_names: one a
    batch of fish; batches: of crops, in the order of `crops`, without those that never stand;
    most_feed_g_day: what all fish together get at most on each day, infinite where nothing caps it.
    Daily names, their units and meaning: `DAILY`, `FISH`, `CROPS`, `HOURLY`.
    """

    garden: str
    digest: str
    version: str
    seed: int
    members: int
    first: datetime.date
    fish_names: tuple[str, ...]
    batches: tuple[CropBatch, ...]
    daily: Mapping[str, Floats]
    fish: Mapping[str, Floats]
    crops: Mapping[str, Floats]
    typical: Mapping[str, Floats]
    hourly: Mapping[str, Floats]
    events: tuple[Event, ...]
    most_feed_g_day: tuple[float, ...]

    @property
    def days(self) -> int:
        """Days of the season."""
        return int(self.daily["water_c"].shape[1])

    @property
    def tries(self) -> Tries:
        """The tries alone."""
        return Tries(self.first, self.batches, self.daily, self.fish, self.crops)

    def date(self, day: int) -> datetime.date:
        """Calendar day of a day of the season."""
        return self.first + datetime.timedelta(days=day)

    def day(self, when: datetime.date) -> int:
        """Day of the season of a calendar day; negative before it."""
        return (when - self.first).days

    def band(self, name: str) -> Band:
        """10th, 50th and 90th percentile of a daily quantity over the members, (days,) each."""
        return band(self.daily[name], axis=0)

    def evening_count(self, place: int) -> Floats:
        """Fish of a batch that live on the evening of each day, (members, days)."""
        living: Floats = self.fish["count"][place] - self.fish["dead"][place]
        return living

    def weekly(self, name: str, how: str = "mean") -> Band:
        """Band of a daily quantity by week from the first day: mean, sum, min or max of each week."""
        values = self.daily[name]
        weeks = [values[:, at : at + 7] for at in range(0, self.days, 7)]
        by_week = np.stack([getattr(np, how)(one, axis=1) for one in weeks], axis=1)
        return band(by_week, axis=0)

    def save(self, path: Path) -> None:
        """Write everything to one .npz file; the same run gives the same bytes."""
        arrays = {
            f"{group}.{name}": values
            for group in ("daily", "fish", "crops", "typical", "hourly")
            for name, values in getattr(self, group).items()
        }
        about = {
            "garden": self.garden,
            "digest": self.digest,
            "version": self.version,
            "seed": self.seed,
            "members": self.members,
            "first": self.first.isoformat(),
            "fish_names": self.fish_names,
            "batches": [asdict(one) for one in self.batches],
            "most_feed_g_day": self.most_feed_g_day,
            "events": [
                {
                    "day": one.day,
                    "key": one.key,
                    "keep": float(one.keep),
                    "added": {name: float(v) for name, v in one.added.items()},
                    "spread": {name: float(v) for name, v in one.spread.items()},
                    "ions": {name: float(v) for name, v in one.ions.items()},
                    "grams": {name: float(v) for name, v in one.grams.items()},
                }
                for one in self.events
            ],
        }
        text = np.frombuffer(json.dumps(about, sort_keys=True, default=str).encode(), dtype=np.uint8)
        with path.open("wb") as file:
            np.savez(file, about=text, **dict(sorted(arrays.items())))


def load(path: Path) -> SeasonRun:
    """Read a run back. Raises ValueError where the file was written by another version."""
    with np.load(path) as file:
        about = json.loads(file["about"].tobytes().decode())
        groups: dict[str, dict[str, Floats]] = {
            name: {} for name in ("daily", "fish", "crops", "typical", "hourly")
        }
        for key in file.files:
            if key != "about":
                group, name = key.split(".", 1)
                groups[group][name] = file[key]
    if about["version"] != __version__:
        raise ValueError(f"season of version {about['version']}, this is {__version__}")
    return SeasonRun(
        garden=about["garden"],
        digest=about["digest"],
        version=about["version"],
        seed=about["seed"],
        members=about["members"],
        first=datetime.date.fromisoformat(about["first"]),
        fish_names=tuple(about["fish_names"]),
        batches=tuple(_batch(one) for one in about["batches"]),
        events=tuple(Event(**one) for one in about["events"]),
        most_feed_g_day=tuple(about["most_feed_g_day"]),
        **groups,
    )


def _batch(found: dict[str, Any]) -> CropBatch:
    """A crop batch from its text: dates are written as ISO dates."""
    for name in ("sow", "plant", "leaves", "first_pick", "last_pick"):
        if found[name] is not None:
            found[name] = datetime.date.fromisoformat(found[name])
    found["stands_still"] = tuple(
        (datetime.date.fromisoformat(first), datetime.date.fromisoformat(last))
        for first, last in found["stands_still"]
    )
    return CropBatch(**found)


DAILY: Mapping[str, str] = {
    "water_c": "water, daily mean",
    "air_c": "air of the growing space, daily mean",
    "light_mol_m2_d": "light over the beds",
    "tan_mg_l": "ammonia nitrogen in the morning",
    "nitrite_mg_l": "nitrite nitrogen in the morning",
    "nitrate_mg_l": "nitrate nitrogen in the morning",
    "alkalinity_mg_l": "alkalinity in the morning, as CaCO3, before the grower does anything",
    "ph": "pH in the morning",
    "carbon_dioxide_mg_l": "free carbon dioxide in the morning",
    "oxygen_mg_l": "oxygen in the morning",
    "oxygen_min_mg_l": "lowest oxygen of the day",
    "unionised_max_mg_l": "highest un-ionised ammonia nitrogen of the day",
    "tan_max_mg_l": "highest ammonia nitrogen of the day",
    "nitrite_max_mg_l": "highest nitrite nitrogen of the day",
    "feed_g": "feed of the day",
    "fish_kg": "live fish in the morning",
    "ration": "share of the ration that ammonia and nitrite allow; 1 without fish",
    "top_up_l": "water topped up",
    "lost_l": "water that left by splash, leaks and sludge",
    "base_eq": "base added, equivalents",
    "base_first_eq": "of it, as the first of the garden's bases",
    "base_potassium_g": "potassium that came with it",
    "base_calcium_g": "calcium that came with it",
    "iron_g": "iron given",
    "potassium_g": "potassium given beside the bases, up to what the grower keeps it at",
    "changed_l": "water changed for its nitrate",
    "filter_food_g": "ammonia nitrogen given to a filter without fish",
    "excreted_g": "nitrogen given off by the fish",
    "taken_up_g": "nitrogen taken up by crops",
    "denitrified_g": "nitrogen that left as gas",
    "nitrified_g": "nitrogen turned into nitrate",
    "ammonia_oxidisers_g_d": "capacity of the first step at 20 C",
    "nitrite_oxidisers_g_d": "capacity of the second step at 20 C",
    "solids_n_g": "nitrogen in solids",
    "bed_used_m2": "bed area that crops stand on",
    "calcium_mg_l": "calcium",
    "magnesium_mg_l": "magnesium",
    "potassium_mg_l": "potassium",
    "phosphorus_mg_l": "phosphorus",
    "iron_mg_l": "iron",
    "sodium_mg_l": "sodium",
    "chloride_mg_l": "chloride",
}
FISH: Mapping[str, str] = {
    "count": "fish in the morning",
    "weight_g": "mean weight in the morning, NaN where there are none",
    "feed_g": "feed of the batch",
    "taken": "fish taken out",
    "taken_kg": "live weight of these",
    "dead": "fish that died",
}
CROPS: Mapping[str, str] = {
    "age_d": "thermal age in the morning, days at the reference temperature",
    "growth": "share of the reference growth of mass, by warmth and light alone",
    "picked_kg": "picked on the day",
    "stands": "whether the batch stands in the bed (1), else 0",
    "heat_killed": "whether heat has killed the batch before its time in the bed is over (1), else 0",
    "supply": "how well the scarcest nutrient is there, 0 to 1",
    "scarce": "the scarcest nutrient, by its place in `season.beds.NUTRIENTS`",
}
HOURLY: Mapping[str, str] = {
    "water_c": "water",
    "tan_mg_l": "ammonia nitrogen",
    "nitrite_mg_l": "nitrite nitrogen",
    "nitrate_mg_l": "nitrate nitrogen",
    "alkalinity_mg_l": "alkalinity, as CaCO3",
    "ph": "pH",
    "oxygen_mg_l": "oxygen",
    "carbon_mmol_l": "inorganic carbon",
    "water_l": "water in the loop",
}
