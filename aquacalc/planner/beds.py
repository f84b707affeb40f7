"""Crops to beds and weeks: what is planted where and when, so that the wishes are met as far as they can be.

Only crops that the garden file names are planted: written, wished or listed under `may_grow`, each in beds
that suit it well. The days are those of the schedule, so that it plants what is planned here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import crops, units
from aquacalc.errors import InputError, Problem
from aquacalc.garden import opening, usual_year
from aquacalc.outcome.outcome import wanted
from aquacalc.planner.filling import FORTNIGHT_WEEKS, Asked, Choice, Filled, filled, steadiest
from aquacalc.schedule import absences, timing
from aquacalc.schedule.timing import Timing
from aquacalc.uncertainty import coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import CropPlan, Garden

SUITS_WELL = 2.0
WRITTEN_SHARE = 0.5
"""Of the area written for a crop so much at least is planted at some time (own choice, no source)."""
LIKED = 2.0
"""A kilogram of a crop that is liked counts so much (own choice, no source)."""
LEAST_PART = 0.05
"""Heads of a fortnight that are short by less than this share are not worth a word (own choice)."""

Why = Literal["begins", "room", "hot", "dark", "cold"]
"""begins: nothing can be ready yet; room: beds or hands are full; else what of the weather keeps it."""


@dataclass(frozen=True)
class Planting:
    """One planting of the plan, with what is expected of it in a usual year."""

    crop: str
    bed: str
    area_m2: float
    plants: int
    plant: date
    first_pick: date
    last_pick: date
    kg: float


@dataclass(frozen=True)
class Unmet:
    """Heads of a wish that are missing from first to last day; instead: crops that are picked or could be."""

    crop: str
    first: date
    last: date
    heads: float
    why: Why
    instead: tuple[str, ...]


@dataclass(frozen=True)
class BedPlan:
    """A plan of the beds.

    wished: heads a week, by crop; heads: picked, by crop; steady: heads a week that the beds would give of
    each wished crop alone, whenever it can be ready; used: share of the bed weeks.
    """

    plantings: tuple[Planting, ...]
    unmet: tuple[Unmet, ...]
    wished: Mapping[str, float]
    heads: Mapping[str, float]
    steady: Mapping[str, float]
    used: float

    @property
    def kg(self) -> float:
        """Picked of all crops."""
        return sum(one.kg for one in self.plantings)


@dataclass(frozen=True, eq=False)
class _Field:
    """A garden as the solver sees it: its choices, and the timing behind each."""

    garden: Garden
    begins: date
    weeks: int
    choices: tuple[Choice, ...]
    timings: tuple[Timing, ...]


def listed(garden: Garden) -> tuple[str, ...]:
    """Crops that may be planted: written, wished, and under `may_grow`."""
    written = [one.crop for one in garden.crops]
    wish = wanted(garden)
    named = [wish.crop] if wish.heads_per_week > 0.0 else []
    return tuple(dict.fromkeys([*written, *named, *garden.wishes.may_grow]))


def plan_beds(garden: Garden) -> BedPlan:
    """What to plant where and when.

    Raises `InputError`: `problem-beds-nothing` where no listed crop gets ready in a bed that suits it;
    `problem-beds-contradict` where what is asked cannot be had together. Source: own reckoning.
    """
    ground = _field(garden)
    if not ground.choices:
        raise InputError(Problem("problem-beds-nothing", "", garden.name))
    wish = wanted(garden)
    wishes = {wish.crop: wish.heads_per_week} if wish.heads_per_week > 0.0 else {}
    asked = _asked(ground, wishes)
    found = filled(ground.choices, asked)
    if found is None:
        raise InputError(Problem("problem-beds-contradict", "", garden.name))
    plantings = tuple(_planted(ground, found))
    return BedPlan(
        plantings=plantings,
        unmet=tuple(_unmet(ground, found, wishes)),
        wished=wishes,
        heads={crop: _heads(ground, found, crop) for crop in wishes},
        steady={crop: steadiest(ground.choices, replace(asked, at_least_m2={}), crop) for crop in wishes},
        used=_used(ground, found, asked),
    )


def _field(garden: Garden) -> _Field:
    season = garden.season
    begins = season.start + timedelta(days=(absences.garden_day(garden) - season.start.weekday()) % 7)
    weeks = max(((season.end - begins).days + 1) // 7, 0)
    choices: list[Choice] = []
    timings: list[Timing] = []
    for crop in listed(garden):
        row = crops.crop(crop)
        for place, bed in enumerate(garden.beds):
            if getattr(row, f"suits_{bed.kind}") < SUITS_WELL:
                continue
            for one in timing.timings(garden, crop, bed.name):
                choices.append(_choice(garden, crop, place, one, begins, weeks))
                timings.append(one)
    return _Field(garden, begins, weeks, tuple(choices), tuple(timings))


def _choice(garden: Garden, crop: str, bed: int, one: Timing, begins: date, weeks: int) -> Choice:
    row, own = crops.crop(crop), _own(garden, crop)
    first, ready, last = ((day - begins).days // 7 for day in (one.plant, one.first_pick, one.last_pick))
    picked = [week for week in range(ready, last + 1) if week < weeks]
    part = len(picked) / (last - ready + 1)
    loss = _loss(own)
    kg_m2 = ((own and own.yield_kg_m2) or row.yield_kg_m2.typical) * one.share * (1.0 - loss)
    heads_m2 = _plants_m2(garden, crop) * one.share * (1.0 - loss) / (last - ready + 1)
    return Choice(crop, bed, first, last, kg_m2 * part, tuple((week, heads_m2) for week in picked))


def _own(garden: Garden, crop: str) -> CropPlan | None:
    """The grower's own numbers of a crop: those of its first entry."""
    return next((one for one in garden.crops if one.crop == crop), None)


def _loss(own: CropPlan | None) -> float:
    if own is None or own.loss_pct is None:
        return coefficient("loss_bed").typical
    return own.loss_pct / 100.0


def _plants_m2(garden: Garden, crop: str) -> float:
    own = _own(garden, crop)
    return (own and own.plants_m2) or crops.crop(crop).plants_m2.typical


def _asked(ground: _Field, wishes: Mapping[str, float]) -> Asked:
    garden = ground.garden
    asked = garden.wishes
    written: dict[str, float] = {}
    for one in garden.crops:
        if any(choice.crop == one.crop for choice in ground.choices):
            written[one.crop] = max(written.get(one.crop, 0.0), WRITTEN_SHARE * one.area_m2)
    return Asked(
        beds_m2=tuple(bed.area_m2 for bed in garden.beds),
        weeks=ground.weeks,
        heads=wishes,
        worth=dict.fromkeys(asked.likes, LIKED),
        at_least_m2=written,
        plantings=asked.plantings_week,
        most_of_one=asked.most_of_one,
        least_m2=_least_m2(garden, wishes),
    )


def _least_m2(garden: Garden, wishes: Mapping[str, float]) -> float:
    """A planting is no smaller than this; a small wish is one planting a fortnight."""
    fortnight = [FORTNIGHT_WEEKS * heads / _plants_m2(garden, crop) for crop, heads in wishes.items()]
    return min([Asked.least_m2, *fortnight])


def _planted(ground: _Field, found: Filled) -> Iterator[Planting]:
    garden = ground.garden
    places = np.flatnonzero(found.areas_m2 > 0.0)
    for place in sorted(places, key=lambda at: (ground.choices[at].first, ground.choices[at].bed)):
        one, days, area = ground.choices[place], ground.timings[place], float(found.areas_m2[place])
        yield Planting(
            crop=one.crop,
            bed=garden.beds[one.bed].name,
            area_m2=area,
            plants=max(math.floor(area * _plants_m2(garden, one.crop) + 1e-9), 1),
            plant=days.plant,
            first_pick=days.first_pick,
            last_pick=days.last_pick,
            kg=area * one.kg_m2,
        )


def _heads(ground: _Field, found: Filled, crop: str) -> float:
    return sum(
        float(area) * heads
        for area, one in zip(found.areas_m2, ground.choices, strict=True)
        for _, heads in one.heads_m2
        if one.crop == crop
    )


def _used(ground: _Field, found: Filled, asked: Asked) -> float:
    weeks = [min(one.last, ground.weeks - 1) - one.first + 1 for one in ground.choices]
    return float(found.areas_m2 @ np.array(weeks)) / (sum(asked.beds_m2) * ground.weeks)


# Why a wish is not met


def _unmet(ground: _Field, found: Filled, wishes: Mapping[str, float]) -> Iterator[Unmet]:
    """Fortnights that follow each other for one reason, as one."""
    for crop, heads in wishes.items():
        open_: Unmet | None = None
        for fortnight, short in enumerate(found.short[crop]):
            if short <= LEAST_PART * FORTNIGHT_WEEKS * heads:
                continue
            one = _short(ground, crop, fortnight, float(short))
            follows = open_ is not None and one.first == open_.last + timedelta(days=1)
            if open_ is not None and follows and one.why == open_.why:
                both = tuple(name for name in open_.instead if name in one.instead)
                open_ = replace(open_, last=one.last, heads=open_.heads + one.heads, instead=both)
                continue
            if open_ is not None:
                yield open_
            open_ = one
        if open_ is not None:
            yield open_


def _short(ground: _Field, crop: str, fortnight: int, heads: float) -> Unmet:
    week = FORTNIGHT_WEEKS * fortnight
    first = ground.begins + timedelta(weeks=week)
    last = first + timedelta(days=7 * FORTNIGHT_WEEKS - 1)
    ready = _ready(ground)
    here = {week, week + 1}
    others = tuple(name for name, weeks in ready.items() if name != crop and weeks & here)
    own = ready.get(crop, set())
    why: Why
    if own & here:
        why = "room"
    elif own and last < ground.begins + timedelta(weeks=min(own)) and _plantable(ground, crop, first):
        why = "begins"
    else:
        # What is ready now was planted so long ago.
        planted = first - timedelta(days=round(crops.crop(crop).days.high))
        why = _weather(ground.garden, crop, planted, last)
    return Unmet(crop, first, last, heads, why, () if why in ("room", "begins") else others)


def _ready(ground: _Field) -> dict[str, set[int]]:
    """Weeks in which something of each crop can be picked."""
    found: dict[str, set[int]] = {}
    for one in ground.choices:
        found.setdefault(one.crop, set()).update(week for week, _ in one.heads_m2)
    return found


def _plantable(ground: _Field, crop: str, day: date) -> bool:
    """Whether the crop is planted by then, so that only its growing time is missing."""
    return any(
        one.crop == crop and days.plant <= day + timedelta(weeks=FORTNIGHT_WEEKS)
        for one, days in zip(ground.choices, ground.timings, strict=True)
    )


def _weather(garden: Garden, crop: str, first: date, last: date) -> Why:
    """What of the usual weather of some days keeps a crop: heat before darkness before cold."""
    days = [(first + timedelta(days=n)).timetuple().tm_yday % 365 for n in range((last - first).days + 1)]
    found = opening.reasons(crops.crop(crop), garden.site, usual_year.usual_year_of(garden))[days]
    if "too_hot" in found:
        return "hot"
    return "dark" if "too_dark" in found else "cold"


# As entries of the garden file


def entries(garden: Garden, plantings: Sequence[Planting]) -> list[dict[str, object]]:
    """The `[[crop]]` entries of a plan: a planting each, with its days and the grower's own numbers."""
    return [_entry(garden, one) for one in plantings]


def _entry(garden: Garden, one: Planting) -> dict[str, object]:
    own = _own(garden, one.crop)
    entry: dict[str, object] = {
        "crop": one.crop,
        "bed": one.bed,
        "area": _area(garden, one.area_m2),
        "first": one.plant,
        "last": one.last_pick,
    }
    if own is not None:
        if own.yield_kg_m2 is not None:
            entry["yield"] = f"{own.yield_kg_m2:g} kg/m2"
        if own.loss_pct is not None:
            entry["loss"] = f"{own.loss_pct:g} %"
        if own.plants_m2 is not None:
            entry["plants"] = f"{own.plants_m2:g} /m2"
    return entry


def _area(garden: Garden, area_m2: float) -> str:
    """An area as it is typed, cut off, so that all of a bed still fit."""
    unit = units.unit("ft2" if garden.reader.units == "us" else "m2")
    decimals = 10.0 if garden.reader.units == "us" else 100.0
    return f"{math.floor(units.to(area_m2, unit.key) * decimals + 1e-6) / decimals:g} {unit.label}"
