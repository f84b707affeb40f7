"""What must hold through a season, judged try by try from the days of a run.

Every must gives the worst value that a try has, and by how much the try fails it: 0 where it holds, else
months beyond the days that are allowed, or the excess itself where there is a share instead of days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, Literal, get_args

import numpy as np
from numpy.typing import NDArray

from aquacalc import crops, fish, tables
from aquacalc.advice.season import barrel
from aquacalc.judge import lines, nitrite
from aquacalc.season.result import Tries
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

MustKey = Literal[
    "oxygen",
    "ammonia",
    "nitrite",
    "nitrate",
    "ration",
    "density",
    "power_cut",
    "first_year",
    "potassium",
    "barrel",
    "heat",
    "cold",
    "to_buy",
    "more_a_year",
]
KEYS: tuple[MustKey, ...] = get_args(MustKey)
HELD_SHARE = 0.8
"""A must holds where it does in so many of the tries. Our own choice, no source."""
ALLOWED_DAYS: dict[MustKey, int] = {"ammonia": 5, "nitrite": 5, "potassium": 30, "barrel": 7}
"""Days of a year on which a line may be passed, none where it stands not here. Our own choice, no source."""
LEAST_RATION = 0.9
"""Mean share of the ration in each month with fish (our own choice)."""
FIRST_YEAR_SHARE = 0.5
"""Of what the smallest limit carries, in a first year. Common practice, no source."""
FROM_LETHAL_C = 2.0
"""The water stays this far inside the species' lethal temperatures (our own choice)."""
POTASSIUM_MG_L = {False: 5.0, True: 15.0}
"""Least potassium of water with crops, the second with fruiting ones. Common practice, no source."""
HALF_A_FISH = 0.5
DAYS_OF_BEYOND = 30.0

Days = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Judged:
    """One must over the tries. worst: in the must's own unit, NaN where there is nothing to judge; line: what
    it is held against; beyond: how far it is failed, 0 where it holds, (members,)."""

    worst: Floats
    line: float
    beyond: Floats

    @property
    def held(self) -> float:
        """Share of the tries in which it holds."""
        return float(np.mean(self.beyond <= 0.0))


@dataclass(frozen=True, eq=False)
class _Look:
    """A run and its garden; there: whether a batch is in the water, (batches, members, days)."""

    garden: Garden
    tries: Tries
    there: Days

    @property
    def with_fish(self) -> Days:
        return np.asarray(self.there.any(axis=0))

    def strictest(self, of_batch: list[float], least: bool) -> Floats:
        """The strictest line of the fish that are in the water, (members, days); NaN without fish."""
        none = np.inf if least else -np.inf
        by_batch = np.where(self.there, np.array(of_batch)[:, None, None], none)
        found = by_batch.min(axis=0) if least else by_batch.max(axis=0)
        return np.where(np.isfinite(found), found, np.nan)


def judged(garden: Garden, tries: Tries, balance: Balance) -> dict[MustKey, Judged]:
    """Every must of the water, the fish and the crops; balance: of the garden."""
    there = tries.fish["count"] >= HALF_A_FISH
    if not garden.fish:
        there = np.zeros((1, *tries.daily["water_c"].shape), dtype=bool)
    look = _Look(garden, tries, there)
    found: dict[MustKey, Judged] = {}
    if garden.fish:
        found |= dict(_water(look))
        found |= dict(_load(look, balance))
    potassium = _potassium(look)
    if potassium is not None:
        found["potassium"] = potassium
    dry = _barrel(look)
    if dry is not None:
        found["barrel"] = dry
    return found


def _of_days(key: MustKey, worst: Floats, line: float, days: Days) -> Judged:
    beyond = days.sum(axis=1) - ALLOWED_DAYS.get(key, 0)
    return Judged(worst, line, np.maximum(beyond, 0.0) / DAYS_OF_BEYOND)


def _extreme(values: Floats, where: Days, most: bool) -> Floats:
    """Largest or smallest value of the days that count; NaN where none does."""
    none = -np.inf if most else np.inf
    kept = np.where(where, values, none)
    found = kept.max(axis=1) if most else kept.min(axis=1)
    return np.where(np.isfinite(found), found, np.nan)


def _water(look: _Look) -> Iterator[tuple[MustKey, Judged]]:
    """Oxygen, ammonia, nitrite, nitrate and warmth on the days with fish."""
    daily, fishes = look.tries.daily, look.with_fish
    species = [fish.species(batch.species) for batch in look.garden.fish]
    rows = [tables.load("species").row(batch.species) for batch in look.garden.fish]

    critical = look.strictest([one.oxygen_critical_mg_l for one in species], least=False)
    oxygen = daily["oxygen_min_mg_l"]
    worst = _extreme(oxygen, fishes, most=False)
    yield "oxygen", _of_days("oxygen", worst, max(s.oxygen_critical_mg_l for s in species), oxygen < critical)

    acts = [lines.begins_at("unionised_ammonia", "act today", (row,)) for row in rows]
    ammonia = daily["unionised_max_mg_l"]
    days = ammonia >= look.strictest(acts, least=True)
    yield "ammonia", _of_days("ammonia", _extreme(ammonia, fishes, most=True), min(acts), days)

    passed, begins = np.zeros(fishes.shape, dtype=bool), []
    for place, row in enumerate(rows):
        begin = np.asarray(nitrite.begins_at("act today", daily["chloride_mg_l"], (row,)))
        begins.append(float(np.median(begin)))
        passed |= look.there[place] & (daily["nitrite_max_mg_l"] >= begin)
    most = _extreme(daily["nitrite_max_mg_l"], fishes, most=True)
    yield "nitrite", _of_days("nitrite", most, min(begins), passed)

    acts = [lines.begins_at("nitrate", "act today", (row,)) for row in rows]
    nitrate = daily["nitrate_mg_l"]
    days = nitrate >= look.strictest(acts, least=True)
    yield "nitrate", _of_days("nitrate", _extreme(nitrate, fishes, most=True), min(acts), days)

    water = daily["water_c"]
    hot = look.strictest([one.lethal_high_c - FROM_LETHAL_C for one in species], least=True)
    line = min(one.lethal_high_c for one in species) - FROM_LETHAL_C
    yield "heat", _of_days("heat", _extreme(water, fishes, most=True), line, water > hot)
    cold = look.strictest([one.lethal_low_c + FROM_LETHAL_C for one in species], least=False)
    line = max(one.lethal_low_c for one in species) + FROM_LETHAL_C
    yield "cold", _of_days("cold", _extreme(water, fishes, most=False), line, water < cold)


def _load(look: _Look, balance: Balance) -> Iterator[tuple[MustKey, Judged]]:
    """The ration month by month, and the stock against what the garden carries."""
    garden, daily, fishes = look.garden, look.tries.daily, look.with_fish
    month = np.array([(look.tries.first + timedelta(days=n)).month for n in range(fishes.shape[1])])
    place = np.array([balance.months.index(one) for one in month])

    def by_month(values: Floats) -> Floats:
        """Means over the days with fish of each month, (members, 12); NaN where there are none."""
        found = np.full((fishes.shape[0], len(balance.months)), np.nan)
        for at in range(len(balance.months)):
            days = fishes & (place == at)
            count = days.sum(axis=1)
            total = np.where(days, values, 0.0).sum(axis=1)
            found[:, at] = np.where(count > 0, total / np.maximum(count, 1), np.nan)
        return found

    ration = by_month(daily["ration"])
    least = np.nanmin(np.where(np.isnan(ration), 1.0, ration), axis=1)
    yield "ration", Judged(least, LEAST_RATION, np.maximum(LEAST_RATION - least, 0.0))

    def share(values: Floats, limit: Floats) -> Floats:
        """Largest share of a limit in any month; a limit that has no answer there is none."""
        with np.errstate(divide="ignore", invalid="ignore"):
            shares = values / limit
        return np.asarray(np.nan_to_num(shares, nan=0.0, posinf=np.inf).max(axis=1))

    kilograms = daily["fish_kg"].max(axis=1)
    most = balance.limit("density").fish_kg
    carried = float(np.nanmax(most.middle)) if np.isfinite(most.middle).any() else np.nan
    full = kilograms / carried if np.isfinite(carried) else np.zeros_like(kilograms)
    yield "density", Judged(full, 1.0, np.maximum(full - 1.0, 0.0))
    if garden.power.backup == "none":
        cut = share(by_month(daily["fish_kg"]), balance.limit("power_cut").fish_kg.middle)
        # Told as the share that outlasts it: against a limit near none the other way round has no end.
        outlast = 1.0 / np.maximum(cut, 1.0)
        yield "power_cut", Judged(outlast, 1.0, np.maximum(cut - 1.0, 0.0))
    if not garden.wishes.kept_before:
        counted = [one.feed_g_day.middle for one in balance.limits if one.must and one.counts]
        half = share(by_month(daily["feed_g"]), np.min(counted, axis=0))
        yield "first_year", Judged(half, FIRST_YEAR_SHARE, np.maximum(half - FIRST_YEAR_SHARE, 0.0))


def _potassium(look: _Look) -> Judged | None:
    """Days with crops on which there is less potassium than they want; None where nothing is grown."""
    planted = look.tries.daily["bed_used_m2"] > 0.0
    if not planted.any():
        return None
    fruiting = [crops.crop(one.crop).rule_kind == "fruiting" for one in look.tries.batches]
    stands = look.tries.crops["stands"][np.array(fruiting, dtype=bool)] > 0.0
    wanted = np.where(stands.any(axis=0), POTASSIUM_MG_L[True], POTASSIUM_MG_L[False])
    there = look.tries.daily["potassium_mg_l"]
    line = POTASSIUM_MG_L[any(fruiting)]
    return _of_days("potassium", _extreme(there, planted, most=False), line, planted & (there < wanted))


def _barrel(look: _Look) -> Judged | None:
    """Days with a dry barrel, from a full one on the first day; None where rain is not all that fills up."""
    garden, wanted = look.garden, look.tries.daily["top_up_l"]
    monthly = garden.site.climate.rain_mm
    if garden.top_up.source != "rain" or monthly is None or garden.rain.roof_m2 == 0.0:
        return None
    rain = barrel.rain_l(monthly, garden.rain.roof_m2, look.tries.first, wanted.shape[1])
    days = barrel.daily(rain, wanted, garden.rain.barrel_l, garden.rain.barrel_l).missing_l > 0.0
    return _of_days("barrel", days.sum(axis=1).astype(np.float64), ALLOWED_DAYS["barrel"], days)
