"""The fish through one day: what they want, what they are given, what they gain, how many are left.

Arrays of shape (batches, members). A morning gives the feed, the evening the growth; between them lies the
day's water. What a batch's plan says is one number, or an array of members where gardens with other plans are
run side by side.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import fish, nitrogen, tables
from aquacalc.constants import Numbers
from aquacalc.judge import lines, nitrite, oxygen, ration
from aquacalc.judge.levels import ACT, EMERGENCY
from aquacalc.judge.ration import Ladder
from aquacalc.judge.temperature import HALF_RATION
from aquacalc.schedule import absences, tasks
from aquacalc.season import weather
from aquacalc.season.rules import NEVER
from aquacalc.sizing import stock
from aquacalc.tables import Row
from aquacalc.uncertainty import Floats, Triangle

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

KITCHEN_WEEKS = 26
"""Weeks over which a household takes a batch where it says no wish. Our own choice, no source."""
FIRST_MONTH_D = 30
GROW_OUT_D = 300
"""Half of a grow-out's losses fall in the first month (common practice); the rest over this many days."""
ARRIVAL_SHARES = (0.25, 0.25, 0.5, 0.5, 0.5, 0.75, 0.75)
"""Share of the ration in the first days after stocking: 25, 50, 75 %. Common practice, no source."""
SUDDEN_C = 3.0
"""A change of the water's daily mean by more than this halves the ration for a day. Common practice."""
LEAST_DISSOLVED_SHARE = 0.15
"""Of the feed's nitrogen: less is given off by no fish, so that gain is limited by protein. Practice."""
BODY_NITROGEN = {False: "body_nitrogen_g_kg", True: "body_nitrogen_crustacean_g_kg"}
COEFFICIENTS = (
    "feed_n_uneaten_share",
    "digested_nitrogen_share",
    *BODY_NITROGEN.values(),
    "fasting_loss_1_d",
)
AWAY_SHARES = {True: 0.5, False: 0.0}
"""Share of the ration while somebody, or nobody, looks after the garden. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Kind:
    """What a batch's species says, with its plan; numbers, and arrays of members where sampled.

    arrives, leaves: days of the season, `NEVER` for one that does not come; weighed_at, weighed_g: the day on
    which the grower weighed them, `NEVER` where nobody did, and what one weighed; fasting_1_d: share of its
    weight that an unfed fish loses in a day at 20 C; most_gain_g_g: gain that the feed's protein allows.
    """

    batch: FishBatch
    species: fish.Species
    row: Row
    arrives: Numbers
    leaves: Numbers
    count: Numbers
    weight_g: Numbers
    final_weight_g: Numbers
    week_take: Numbers
    tgc: Floats
    fcr: Floats
    loss: Floats
    fasting_1_d: Floats
    body_nitrogen_g_kg: Floats
    most_gain_g_g: Floats
    unionised_act_mg_l: float
    weighed_at: Numbers = NEVER
    weighed_g: Numbers = 0.0

    @property
    def eaten(self) -> bool:
        """Whether the kitchen takes them."""
        return self.batch.eaten and self.species.eaten


@dataclass(eq=False)
class Fishes:
    """The stock on a day; changed from day to day, arrays (batches, members).

    ration_g: feed of one fish and day, as set on the last garden day; ladder: what the water allows.
    """

    count: Floats
    weight_g: Floats
    ration_g: Floats
    ladder: Ladder


@dataclass(frozen=True, eq=False)
class Fed:
    """One day's feeding, (batches, members): g of feed of the batch, share of the appetite, and what the day
    makes of the weight of one fish, g: less than nothing where it goes hungry."""

    feed_g: Floats
    share: Floats
    gain_g: Floats


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Growth, feed conversion and losses of each species."""
    losses = {
        f"fish.{key}.loss": fish.species(key).loss_pct for key in sorted({b.species for b in garden.fish})
    }
    return {**stock.triangles(garden), **losses}


def kinds(garden: Garden, draw: Mapping[str, Floats]) -> tuple[Kind, ...]:
    """Every batch with its species' lines; days count from the season's first."""
    start = garden.season.start
    feed_n_g_g = nitrogen.feed_nitrogen_g_day(1.0, garden.protein_fraction())
    digested = (1.0 - draw["feed_n_uneaten_share"]) * draw["digested_nitrogen_share"]
    found = []
    for batch in garden.fish:
        species = fish.species(batch.species)
        body = draw[BODY_NITROGEN[species.use == "crustacean"]]
        row = tables.load("species").row(batch.species)
        eaten = batch.eaten and species.eaten
        wish = garden.wishes.fish_per_year if garden.wishes.species == batch.species else 0.0
        alike = sum(b.count for b in garden.fish if b.species == batch.species)
        week = wish / 52.0 * batch.count / alike if wish > 0.0 else batch.count / KITCHEN_WEEKS
        found.append(
            Kind(
                batch=batch,
                species=species,
                row=row,
                arrives=(absences.moved(batch.stocked, garden)[0] - start).days,
                leaves=NEVER
                if batch.until is None
                else (absences.moved(batch.until, garden)[0] - start).days,
                count=float(batch.count),
                weight_g=batch.weight_g,
                final_weight_g=batch.final_weight_g,
                week_take=week if eaten else 0.0,
                tgc=draw[f"fish.{batch.species}.tgc"],
                fcr=draw[f"fish.{batch.species}.fcr"],
                loss=draw[f"fish.{batch.species}.loss"] / 100.0,
                fasting_1_d=draw["fasting_loss_1_d"],
                body_nitrogen_g_kg=body,
                most_gain_g_g=feed_n_g_g * (digested - LEAST_DISSOLVED_SHARE) / (body / 1000.0),
                unionised_act_mg_l=lines.begins_at("unionised_ammonia", "act today", (row,)),
                weighed_at=NEVER if batch.weighed is None else (batch.weighed - start).days,
                weighed_g=batch.weighed_g or 0.0,
            )
        )
    return tuple(found)


def at_start(
    garden: Garden,
    all_kinds: tuple[Kind, ...],
    usual_water_c: Floats,
    counts: Mapping[str, float],
    weights: Mapping[str, float],
    weighed_feed: stock.Fed | None = None,
) -> Fishes:
    """The stock on the first morning: grown from its stocking through usual years, or as counted and weighed.

    usual_water_c: (members, 365), the first of January first; weighed_feed: by which they grew since.
    """
    members = usual_water_c.shape[0]
    shape = (len(all_kinds), members)
    count, weight = np.zeros(shape), np.zeros(shape)
    for place, kind in enumerate(all_kinds):
        batch = kind.batch
        arrives = (absences.moved(batch.stocked, garden)[0] - garden.season.start).days
        if arrives <= 0 and np.all(kind.leaves >= 0):
            count[place], weight[place] = _grown(
                garden.season.start, kind, -arrives, usual_water_c, weighed_feed
            )
            count[place] = counts.get(batch.name, count[place])
            weight[place] = weights.get(batch.name, weight[place])
    return Fishes(count, weight, np.zeros(shape), ration.top(members))


def _grown(
    start: date, kind: Kind, here_d: int, usual_water_c: Floats, weighed_feed: stock.Fed | None
) -> tuple[Floats, Floats]:
    days = min(here_d, stock.LONGEST_HISTORY_DAYS)
    members = usual_water_c.shape[0]
    since, from_g = start - timedelta(days=days), kind.batch.weight_g
    weighed, weighed_g = kind.batch.weighed, kind.batch.weighed_g
    if weighed is not None and weighed_g is not None and since <= weighed <= start:
        since, from_g = weighed, weighed_g
    if days == 0:
        return np.full(members, float(kind.batch.count)), np.full(members, from_g)
    at = weather.day_of_year(since, (start - since).days)
    effective = fish.growing_temperature_c(usual_water_c[:, at], kind.species)
    if weighed_feed is not None:
        effective = effective * weighed_feed.nourishing(
            [since + timedelta(days=day) for day in range(len(at))]
        )
    nothing = np.zeros((members, 1))  # who was weighed on the first day has not grown since
    grown = fish.weights_g(from_g, kind.tgc[:, None], np.hstack([nothing, effective]))[:, -1]
    most = max(kind.batch.final_weight_g, from_g)
    month = min(days, FIRST_MONTH_D) / FIRST_MONTH_D
    rest = min(max(days - FIRST_MONTH_D, 0), GROW_OUT_D) / GROW_OUT_D
    left = kind.batch.count * (1.0 - kind.loss / 2.0 * (month + rest))
    return left, np.minimum(grown, most)


def arrive(day: int, all_kinds: tuple[Kind, ...], stock_now: Fishes) -> None:
    """Fish that come on this day, after the first."""
    for place, kind in enumerate(all_kinds):
        today = (kind.arrives == day) & (day > 0)
        if np.any(today):
            stock_now.count[place] = np.where(today, kind.count, stock_now.count[place])
            stock_now.weight_g[place] = np.where(today, kind.weight_g, stock_now.weight_g[place])


def weigh(day: int, all_kinds: tuple[Kind, ...], stock_now: Fishes) -> None:
    """Fish that the grower weighed on this day, after the first: they grow on from there."""
    for place, kind in enumerate(all_kinds):
        today = (kind.weighed_at == day) & (day > 0) & (stock_now.count[place] > 0.0)
        if np.any(today):
            stock_now.weight_g[place] = np.where(today, kind.weighed_g, stock_now.weight_g[place])


def days_to_next(day: int, all_kinds: tuple[Kind, ...]) -> Numbers:
    """Days until fish come next, after the season's first day; `NEVER` where none do."""
    found: Numbers = NEVER
    for kind in all_kinds:
        coming = (kind.arrives > day) & (kind.arrives > 0)
        found = np.minimum(found, np.where(coming, kind.arrives - day, NEVER))
    return found


def away_share(who: str | None) -> float:
    """Share of the ration on a day: None, the grower is there; empty, nobody is; else who looks after
    them."""
    return 1.0 if who is None else AWAY_SHARES[bool(who)]


def fed(
    day: int,
    weekday_starts: bool,
    away_share: float,
    all_kinds: tuple[Kind, ...],
    stock_now: Fishes,
    water_c: Floats,
    yesterday_c: Floats,
    oxygen_mg_l: Floats,
    most_g_day: Numbers = math.inf,
    weighed_share: Numbers = 1.0,
) -> Fed:
    """What every batch is given on a day; sets the week's ration on the day that starts it.

    most_g_day: feed of all fish that the grower never goes beyond; weighed_share: of the appetite, as the
    grower weighed the feed.
    """
    shape = stock_now.count.shape
    feed, share, gain = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    wants: list[tuple[int, Kind, Floats, Floats, Floats, Floats, Floats]] = []
    sudden = np.where(np.abs(water_c - yesterday_c) > SUDDEN_C, HALF_RATION, 1.0)
    for place, kind in enumerate(all_kinds):
        since = day - kind.arrives
        here = (since >= 0) & (day <= kind.leaves)
        if not np.any(here):
            continue
        species, weight = kind.species, np.maximum(stock_now.weight_g[place], 0.1)
        warm = fish.growing_temperature_c(water_c, species)
        oxygen_share = fish.oxygen_modifier(oxygen_mg_l, species.oxygen_full_feed_mg_l)
        conversion = fish.fcr_at_weight(kind.fcr, weight)
        # Where nothing grows rounding would leave a trace of feed.
        satiation = fish.daily_feed_g(weight, kind.tgc, warm, conversion) * (warm > 0.0)
        sets = here & ((since == 0) | weekday_starts | (day == 0))
        stock_now.ration_g[place] = np.where(sets, satiation, stock_now.ration_g[place])
        wanted = satiation * oxygen_share
        breathes = oxygen.ranks(oxygen_mg_l, (kind.row,)) < ACT
        eats = fish.eats(water_c, species) & breathes
        # Water, oxygen and temperature each allow a level: the lowest counts.
        warm_share = np.where(water_c > species.warm_limit_c, HALF_RATION, 1.0)
        allowed = np.minimum(np.minimum(stock_now.ladder.share, oxygen_share), warm_share * sudden)
        given = np.minimum(stock_now.ration_g[place], satiation * allowed) * eats * away_share
        given = given * weighed_share
        given = given * np.where(kind.arrives >= 0, arrival_share(since), 1.0)
        given = given * (kind.leaves - day > _fasts_d(kind, water_c)) * here
        feed[place] = given * stock_now.count[place]
        wants.append((place, kind, weight, warm, oxygen_share, wanted, given))
    within = np.minimum(most_g_day / np.maximum(feed.sum(axis=0), 1e-9), 1.0)
    feed = feed * within
    for place, kind, weight, warm, oxygen_share, wanted, given in wants:
        here = (kind.arrives <= day) & (day <= kind.leaves)
        with np.errstate(divide="ignore", invalid="ignore"):
            share[place] = np.where(wanted > 0.0, np.minimum(given * within / wanted, 1.0), 0.0)
        gained = _gain_g(kind, weight, warm, oxygen_share, share[place], given * within, water_c)
        gain[place] = np.where(here, gained, 0.0)
    return Fed(feed, share, gain)


def arrival_share(since_d: Numbers) -> Floats:
    """Share of the ration so many days after stocking.

    >>> [float(arrival_share(days)) for days in (0, 5, 30)]
    [0.25, 0.75, 1.0]
    """
    shares = np.array([*ARRIVAL_SHARES, 1.0])
    found: Floats = shares[np.clip(since_d, 0, len(ARRIVAL_SHARES)).astype(np.int64)]
    return found


def _fasts_d(kind: Kind, water_c: Floats) -> Floats:
    """Days without feed before a batch leaves."""
    warm_d, cold_d = (tasks.fast_days(cold, kind.batch.eaten) for cold in (False, True))
    return np.where(water_c < tasks.FAST_COLD_BELOW_C, cold_d, warm_d)


def _gain_g(
    kind: Kind,
    weight_g: Floats,
    warm: Floats,
    oxygen_share: Floats,
    share: Floats,
    given_g: Floats,
    water_c: Floats,
) -> Floats:
    """What a day makes of the weight of one fish: growth, or what a hungry fish loses."""
    grown = fish.daily_gain_g(weight_g, kind.tgc, warm * oxygen_share * fish.ration_modifier(share))
    grown = np.minimum(grown * (warm > 0.0), kind.most_gain_g_g * given_g)
    gain = grown - fish.hungry_loss_g(weight_g, share, water_c, kind.fasting_1_d)
    if kind.eaten:
        return gain
    # Fish that are kept stay at the weight at which the grower keeps them.
    return np.minimum(gain, np.maximum(kind.final_weight_g - weight_g, 0.0))


def breathing(
    all_kinds: tuple[Kind, ...], stock_now: Fishes, share: Floats
) -> list[tuple[str, Floats, Floats]]:
    """Each batch for `drivers.hours`: oxygen model, kg times the weight's factor, share of a full meal."""
    found: list[tuple[str, Floats, Floats]] = []
    for place, kind in enumerate(all_kinds):
        weight = np.maximum(stock_now.weight_g[place], 0.1)
        model = kind.species.oxygen_model
        # In every model weight and temperature are factors, so that the weight's can be taken at any one.
        factor = np.asarray(fish.oxygen_use_mg_kg_h(model, weight, 20.0)) / np.asarray(
            fish.oxygen_use_mg_kg_h(model, 100.0, 20.0)
        )
        kg = stock_now.count[place] * stock_now.weight_g[place] / 1000.0
        found.append((model, kg * factor, share[place]))
    return found


def evening(day: int, all_kinds: tuple[Kind, ...], stock_now: Fishes, given: Fed, water_c: Floats) -> Floats:
    """Growth and losses of the day, by its mean water too; returns the fish that died, (batches, members)."""
    dead = np.zeros_like(stock_now.count)
    for place, kind in enumerate(all_kinds):
        since = day - kind.arrives
        if np.all(since < 0):
            continue
        there = (stock_now.count[place] > 0.0) & (since >= 0)
        stock_now.weight_g[place] = stock_now.weight_g[place] + given.gain_g[place] * there
        lasting = np.where(since < FIRST_MONTH_D, FIRST_MONTH_D, GROW_OUT_D)
        lost = kind.loss / 2.0 / lasting * (since < FIRST_MONTH_D + GROW_OUT_D)
        lost = lost + fish.dying_1_d(water_c, kind.species)
        dead[place] = stock_now.count[place] * np.minimum(lost, 1.0) * (since >= 0)
        stock_now.count[place] = stock_now.count[place] - dead[place]
    return dead


def take(day: int, garden_day: bool, all_kinds: tuple[Kind, ...], stock_now: Fishes) -> tuple[Floats, Floats]:
    """Fish that leave this morning: number and kg, (batches, members).

    A batch whose day has come leaves whole. Otherwise, on garden days, the kitchen takes the largest, but
    only fish that have reached the final weight.
    """
    number, kg = np.zeros_like(stock_now.count), np.zeros_like(stock_now.count)
    for place, kind in enumerate(all_kinds):
        here = kind.arrives < day
        whole = here & (kind.leaves <= day)
        picks = here & (kind.leaves > day) & garden_day & (kind.week_take > 0.0)
        if not np.any(whole | picks):
            continue
        count, weight = stock_now.count[place], np.maximum(stock_now.weight_g[place], 0.1)
        final = kind.final_weight_g
        taken = np.minimum(kind.week_take, count * share_above(final, weight)) * picks
        # The largest go first: heavier than the mean, never lighter than the final weight.
        heavier = np.maximum(weight, final)
        all_g = count * weight
        left = count - taken
        each = np.where(left * weight * 0.5 < all_g - taken * heavier, heavier, weight)
        number[place] = np.where(whole, count, taken)
        kg[place] = np.where(whole, all_g, taken * each) / 1000.0
        lighter = np.where(left > 1e-6, (all_g - taken * each) / np.maximum(left, 1e-6), weight)
        stock_now.weight_g[place] = np.where(picks, lighter, stock_now.weight_g[place])
        stock_now.count[place] = np.where(whole, 0.0, left)
    return number, kg


def share_above(final_g: Numbers, mean_g: Floats) -> Floats:
    """Share of a batch that has reached a weight: weights spread lognormally about their mean."""
    spread = fish.WEIGHT_SPREAD
    away = (np.log(final_g) - np.log(mean_g) + spread**2 / 2.0) / spread
    # The normal distribution by the logistic curve that lies within 0.01 of it.
    share: Floats = 1.0 / (1.0 + np.exp(np.clip(1.702 * away, -50.0, 50.0)))
    return share


def look(
    all_kinds: tuple[Kind, ...],
    stock_now: Fishes,
    unionised_mg_l: Floats,
    nitrite_mg_l: Floats,
    chloride_mg_l: Floats,
) -> None:
    """The morning's look at the water: a step on the ladder of rations, by the strictest fish."""
    x, emergency = np.zeros_like(unionised_mg_l), np.zeros_like(unionised_mg_l, dtype=bool)
    for place, kind in enumerate(all_kinds):
        nitrite_act = nitrite.begins_at("act today", chloride_mg_l, (kind.row,))
        own = ration.share_of_line(unionised_mg_l, nitrite_mg_l, kind.unionised_act_mg_l, nitrite_act)
        there = stock_now.count[place] > 0.0
        x = np.where(there, np.maximum(x, own), x)
        emergency |= there & (nitrite.ranks(nitrite_mg_l, chloride_mg_l, (kind.row,)) == EMERGENCY)
    stock_now.ladder = ration.look(stock_now.ladder, x, emergency)
