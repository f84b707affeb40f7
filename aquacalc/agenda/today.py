"""What fish are given today: from their number, weight and water, held back as a season holds it back."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import fish, tables
from aquacalc.agenda.appetite import wanted_g, warm_share
from aquacalc.agenda.ration import measured
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.judge import feed, water
from aquacalc.judge.temperature import HALF_RATION
from aquacalc.judge.values import Value
from aquacalc.judge.water import Facts
from aquacalc.season import alone
from aquacalc.season.fishes import SUDDEN_C
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, draw

BUY_WEEKS = 8
SPARE = 1.05
"""Feed is bought for two months with a little over. Common practice, no source."""
READ = ("tan", "nitrite", "ph", "oxygen")

Why = Literal[
    "", "cold", "hot", "warm", "sudden", "low_oxygen", "cap",
    "signs", "emergency", "oxygen", "temperature", "base", "unionised_ammonia", "nitrite",
]  # fmt: skip
"""What holds the feed back; empty where nothing does."""


@dataclass(frozen=True, eq=False)
class Asked:
    """Fish and their water today. yesterday_c, readings: NaN or absent where not measured; nitrogen as N.

    protein: of the bag, as a fraction; old_protein: of the bag before, NaN where it is the same; cap_g_day:
    most that filter and oxygen carry, infinite where not known; water_c: by month, for what is to be bought.
    """

    question: alone.Question
    temperature_c: float
    protein: float
    spoon_g: float
    yesterday_c: float = math.nan
    old_protein: float = math.nan
    cap_g_day: float = math.inf
    readings: Mapping[str, float] | None = None


@dataclass(frozen=True)
class Today:
    """appetite_g: what all fish would eat; share: of it that the water allows; why: what holds most back;
    grams, spoons: to be given, as they are measured, spoons 0 where it is weighed; old_grams: of the bag
    before with the same nitrogen; buy_kg: for the next weeks; percent: of their weight."""

    appetite_g: Band
    share: float
    why: Why
    grams: float
    spoons: float
    percent: float
    old_grams: float
    buy_kg: Band


def today(asked: Asked, members: int = MEMBERS, seed: int = SEED) -> Today:
    """The feed of today. Source: rules of the season (`season.fishes.fed`) for one morning."""
    batch = asked.question
    species = fish.species(batch.species)
    spread = band(batch.count * _appetite_g(asked, members, seed))
    [[middle]] = wanted_g(species, batch.count, [batch.weight_g], [asked.temperature_c], batch.tgc)
    share, why = allowed(asked, species)
    wanted = float(middle) * share
    if wanted > asked.cap_g_day:
        wanted, why = asked.cap_g_day, "cap"
    grams, spoons = measured(wanted, asked.spoon_g, up=not wanted >= asked.cap_g_day)
    old = (
        grams if math.isnan(asked.old_protein) else equal_nitrogen_g(grams, asked.protein, asked.old_protein)
    )
    bought = alone.feed_kg_within(batch, BUY_WEEKS * DAYS_PER_WEEK, asked.cap_g_day, members, seed)
    return Today(
        appetite_g=Band(spread.low, middle, spread.high),
        share=share,
        why=why,
        grams=grams,
        spoons=spoons,
        percent=grams / (batch.count * batch.weight_g) * 100.0,
        old_grams=old,
        buy_kg=Band(*(SPARE * end for end in (bought.low, bought.middle, bought.high))),
    )


def equal_nitrogen_g(grams: float, protein: float, other_protein: float) -> float:
    """Grams of a feed of another protein that bring the same nitrogen. By definition.

    >>> equal_nitrogen_g(40.0, 0.45, 0.36)
    50.0
    """
    return grams * protein / other_protein


def allowed(asked: Asked, species: fish.Species) -> tuple[float, Why]:
    """Share of the appetite that the water allows, and what holds most back."""
    warm = asked.temperature_c
    if not fish.eats(warm, species):
        return 0.0, "cold" if warm <= species.corners.feed_stop_low_c else "hot"
    read = {**(asked.readings or {}), "temperature": warm}
    values = {name: Value(name, one, one, one) for name, one in read.items() if not math.isnan(one)}
    facts = Facts(values, (tables.load("species").row(species.key),))
    judged = feed.feed(facts, water.judge(facts, draws=1))
    shares: list[tuple[float, Why]] = [(judged.share, judged.why)]
    if "oxygen" in values:
        low = float(fish.oxygen_modifier(values["oxygen"].value, species.oxygen_full_feed_mg_l))
        shares.append((low, "low_oxygen"))
    hot = float(warm_share(species, [warm])[0])
    sudden = HALF_RATION if abs(warm - asked.yesterday_c) > SUDDEN_C else 1.0
    shares.append((hot * sudden, "sudden" if sudden < 1.0 else "warm"))
    share, why = min(shares, key=lambda one: one[0])
    return share, why if share < 1.0 else ""


def table(
    asked: Asked, weights_g: Sequence[float], temperatures_c: Sequence[float]
) -> list[list[tuple[float, float]]]:
    """Feed of a day for all fish in good water, a row a weight: grams and spoons as they are measured; by the
    rule of the month sheets, half where the water is too warm."""
    batch = asked.question
    species = fish.species(batch.species)
    wanted = wanted_g(species, batch.count, weights_g, temperatures_c, batch.tgc)
    wanted = wanted * warm_share(species, temperatures_c)
    return [[measured(min(one, asked.cap_g_day), asked.spoon_g) for one in row] for row in wanted.tolist()]


def _appetite_g(asked: Asked, members: int, seed: int) -> Floats:
    """Appetite of one fish today in each try, (members,)."""
    batch, species = asked.question, fish.species(asked.question.species)
    names = [f"fish.{species.key}.{name}" for name in ("tgc", "fcr")]
    triangles = dict(zip(names, (batch.tgc or species.tgc, species.fcr), strict=True))
    sampled = draw(triangles, members, seed, {(names[0], names[1]): fish.GROWTH_FEED_CORRELATION})
    tgc, fcr = (sampled[name] for name in names)
    warm = fish.growing_temperature_c(asked.temperature_c, species)
    eaten: Floats = fish.daily_feed_g(batch.weight_g, tgc, warm, fish.fcr_at_weight(fcr, batch.weight_g))
    return eaten * (warm > 0.0)


def temperatures_c(species: fish.Species, steps: int = 6) -> tuple[float, ...]:
    """Temperatures of a table: even degrees across those at which a species is fed."""
    low, high = species.corners.feed_stop_low_c, species.no_feed_from_c
    step = max(2.0 * round((high - low) / steps / 2.0), 1.0)
    first = math.floor(low / step + 1.0) * step
    return tuple(float(one) for one in np.arange(first, high, step))


def span_of(table_name: Literal["meals", "pellet_sizes"], weight_g: float) -> tuple[float, float]:
    """Meals a day, or mm of pellets, for fish of a weight, from and to.

    >>> span_of("pellet_sizes", 150.0), span_of("meals", 20.0)
    ((4.0, 4.0), (3.0, 4.0))
    """
    row = next(
        row
        for row in tables.load(table_name)
        if row.number("weight_from_g") <= weight_g < row.number("weight_below_g")
    )
    low, high = {"meals": ("meals_low", "meals_high"), "pellet_sizes": ("pellet_low_mm", "pellet_high_mm")}[
        table_name
    ]
    return row.number(low), row.number(high)
