"""What a batch eats on a day by what the grower sees: the weight of a fish, and the water's temperature."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish, units
from aquacalc.agenda.ration import Ration
from aquacalc.harvest import spans
from aquacalc.judge.temperature import HALF_RATION
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats, Triangle, quantile

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

WEIGHT_SHARES = (0.75, 1.0, 1.25)
"""Fish a quarter lighter than planned, as planned, and a quarter heavier."""
COLUMNS = 5
MIDDLE = 0.5
STEP = {"metric": ("c", 2.0), "us": ("f", 4.0)}
"""Unit and step of the temperatures, so that they are round numbers where they are read."""


@dataclass(frozen=True)
class Appetite:
    """Feed of a batch on a day, for weights of one fish and temperatures of the water.

    weights_g: from light to heavy; water_c: from cold to warm; grams: of all its fish, by weight and
    temperature, 0 where they get nothing; with what the loop carries less than they would eat, it is that.
    """

    batch: str
    count: int
    weights_g: tuple[float, ...]
    water_c: tuple[float, ...]
    grams: tuple[tuple[float, ...], ...]


def by_month(run: SeasonRun, garden: Garden, rations: Sequence[Ration]) -> dict[date, tuple[Appetite, ...]]:
    """The tables of each calendar month, by its first day in the season."""
    months = [(run.date(of.start), run.date(of.stop - 1)) for _, of in spans.months(run)]
    return {first: appetites(run, garden, rations, first, last) for first, last in months}


def appetites(
    run: SeasonRun, garden: Garden, rations: Iterable[Ration], first: date, last: date
) -> tuple[Appetite, ...]:
    """The tables of a time, one for each batch that is fed in it, but for the first days over a new filter,
    which have a sheet of their own; all share the loop's temperatures."""
    given = [one for one in rations if one.touches(first, last) and one.grams > 0.0 and not one.start_up]
    days = slice(max(run.day(first), 0), run.day(last) + 1)
    water_c = _temperatures(float(np.median(run.daily["water_c"][:, days])), garden.reader.units)
    own = [
        (batch, _count(run, place, days), _weight_g(batch, given))
        for place, batch in enumerate(garden.fish)
        if any(one.batch == batch.name for one in given)
    ]
    eaten = [_eaten_g(batch, count, weight_g, water_c) for batch, count, weight_g in own if count]
    total = np.sum(eaten, axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(total > 0.0, np.minimum(min(run.most_feed_g_day[days]) / total, 1.0), 0.0)
    return tuple(
        Appetite(
            batch=batch.name,
            count=count,
            weights_g=tuple(part * weight_g for part in WEIGHT_SHARES),
            water_c=tuple(map(float, water_c)),
            grams=tuple(tuple(map(float, row)) for row in grams * share),
        )
        for (batch, count, weight_g), grams in zip([one for one in own if one[1]], eaten, strict=True)
    )


def alike(found: Sequence[Appetite]) -> tuple[tuple[tuple[str, ...], Appetite], ...]:
    """The tables, those of batches that get the same once, each with the names of its batches."""
    groups: dict[Appetite, list[str]] = {}
    for one in found:
        groups.setdefault(replace(one, batch=""), []).append(one.batch)
    return tuple((tuple(names), one) for one, names in groups.items())


def _temperatures(middle_c: float, system: str) -> Floats:
    """Round temperatures about the middle."""
    key, step = STEP[system]
    unit = units.unit(key)
    middle = step * round(unit.from_base(middle_c) / step)
    return np.array(
        [unit.to_base(middle + step * place) for place in range(-(COLUMNS // 2), COLUMNS // 2 + 1)]
    )


def _count(run: SeasonRun, place: int, days: slice) -> int:
    """Fish of a batch on the days on which it is there."""
    counts = np.median(run.fish["count"][place][:, days], axis=0)
    there = counts[counts > 0.0]
    return round(float(there.mean())) if there.size else 0


def _weight_g(batch: FishBatch, given: Iterable[Ration]) -> float:
    """Mean weight of a fish over the days on which it is fed, as the rations have it."""
    own = [one.weight_g for one in given if one.batch == batch.name and not math.isnan(one.weight_g)]
    return sum(own) / len(own) if own else batch.weight_g


def _eaten_g(batch: FishBatch, count: int, weight_g: float, water_c: Floats) -> Floats:
    of = fish.species(batch.species)
    weights_g = [share * weight_g for share in WEIGHT_SHARES]
    return wanted_g(of, count, weights_g, water_c) * warm_share(of, water_c)


def wanted_g(
    of: fish.Species,
    count: float,
    weights_g: Sequence[float],
    water_c: Sequence[float] | Floats,
    tgc: Triangle | None = None,
) -> Floats:
    """Appetite of a batch on a day, g, by weight of one fish and by water: (weights, temperatures).

    In the middle of growth and feed conversion. tgc: growth of these fish, else of their species. Source: as
    `fish.ration_pct`.
    """
    weights = np.asarray(weights_g, dtype=np.float64)[:, None]
    warm = fish.growing_temperature_c(np.asarray(water_c, dtype=np.float64), of)
    growth, conversion = (quantile(one, MIDDLE) for one in (tgc or of.tgc, of.fcr))
    by_weight = fish.fcr_at_weight(conversion, weights)
    grams: Floats = count * weights * fish.ration_pct(weights, growth, warm, by_weight) / 100.0 * (warm > 0.0)
    return grams


def warm_share(of: fish.Species, water_c: Sequence[float] | Floats) -> Floats:
    """Share of its appetite that a species is given: half where its water is too warm."""
    return np.where(np.asarray(water_c) > of.warm_limit_c, HALF_RATION, 1.0)
