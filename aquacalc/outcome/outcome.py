"""A season in the few numbers by which it is weighed: what was wished, what was grown, what it cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import crops, fish, money
from aquacalc.outcome import musts
from aquacalc.outcome.musts import Judged, MustKey
from aquacalc.season import fishes
from aquacalc.season.result import Tries
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

FORTNIGHT_D = 14


@dataclass(frozen=True)
class Wanted:
    """What a garden is meant to give in a year: 0 where nothing is wished.

    fish: number of size; fish_kg: what they would grow here; heads_per_week: of one crop.
    """

    fish: float
    fish_kg: float
    heads_per_week: float
    crop: str


@dataclass(frozen=True, eq=False)
class Outcome:
    """What of a season counts, (members,) each.

    fish_of_size: taken at their final weight, or in the water at the end; fish not eaten count by their
    weight against the one at which they are kept; fish_kg: grown here by these; progress: mean weight
    reached over the final one, at most 1; heads: of the wished crop; heads_share: of each fortnight's wish;
    picked_kg: of all crops; judged: every must; money_year: None where a price is missing.
    """

    fish_of_size: Floats
    fish_kg: Floats
    progress: Floats
    heads: Floats
    heads_share: Floats
    picked_kg: Floats
    judged: Mapping[MustKey, Judged]
    money_year: Floats | None
    to_buy: float = 0.0

    @property
    def broken(self) -> tuple[MustKey, ...]:
        """Musts that hold in too few of the tries."""
        return tuple(key for key, one in self.judged.items() if one.held < musts.HELD_SHARE)


def wanted(garden: Garden) -> Wanted:
    """The wishes of a garden; without any for fish, the fish that it has at their final weight."""
    wishes = garden.wishes
    fish_kg, count = 0.0, 0.0
    if wishes.fish_per_year > 0.0:
        own = [one for one in garden.fish if one.species == wishes.species]
        each = max((one.final_weight_g - one.weight_g for one in own), default=0.0)
        if not own:
            each = fish.species(wishes.species).table_weight_g.typical
        count, fish_kg = wishes.fish_per_year, wishes.fish_per_year * each / 1000.0
    elif garden.fish:
        count = float(sum(one.count for one in garden.fish))
        fish_kg = sum(one.count * (one.final_weight_g - one.weight_g) for one in garden.fish) / 1000.0
    crop, heads = wishes.crop, wishes.heads_per_week
    if not heads:
        by_week = [one for one in garden.crops if one.heads_per_week > 0.0]
        crop, heads = (by_week[0].crop, by_week[0].heads_per_week) if by_week else ("", 0.0)
    return Wanted(count, fish_kg, heads, crop)


def outcome(garden: Garden, tries: Tries, balance: Balance, goal: Wanted) -> Outcome:
    """What of the tries of a garden counts; goal: of the garden as it was written.

    balance: its demand and limits, for the stock that it carries. Source: own reckoning, by definition.
    """
    members = tries.daily["water_c"].shape[0]
    of_size, grown, progress = (np.zeros(members) for _ in range(3))
    whole = sum(one.count for one in garden.fish)
    for place, batch in enumerate(garden.fish):
        number, kg, reached = _batch(tries, place, batch)
        of_size, grown = of_size + number, grown + kg
        progress = progress + reached * batch.count / whole
    heads, share = _heads(garden, tries, goal)
    return Outcome(
        fish_of_size=of_size,
        fish_kg=grown,
        progress=progress,
        heads=heads,
        heads_share=share,
        picked_kg=tries.crops["picked_kg"].sum(axis=(0, 2), dtype=np.float64),
        judged=musts.judged(garden, tries, balance),
        money_year=_money(garden, tries),
    )


def _batch(tries: Tries, place: int, batch: FishBatch) -> tuple[Floats, Floats, Floats]:
    """Fish of size, kg that they grew here, and how near the batch came."""
    count, weight = tries.fish["count"][place], np.nan_to_num(tries.fish["weight_g"][place])
    final, last = batch.final_weight_g, weight[:, -1]
    living = count[:, -1] - tries.fish["dead"][place][:, -1]
    reached = np.minimum(weight.max(axis=1) / final, 1.0)
    if not (batch.eaten and fish.species(batch.species).eaten):
        gained = living * np.maximum(last - batch.weight_g, 0.0) / 1000.0
        return living * np.minimum(last / final, 1.0), gained, reached
    taken, taken_kg = tries.fish["taken"][place], tries.fish["taken_kg"][place]
    # Who leaves with the whole batch leaves at its weight, of size or not.
    with np.errstate(divide="ignore", invalid="ignore"):
        each_g = np.where(taken > 0.0, 1000.0 * taken_kg / taken, 1.0)
    fit = np.where(each_g >= final, 1.0, fishes.share_above(final, np.maximum(each_g, 0.1)))
    by_day = (taken * fit * np.maximum(each_g, final * (fit < 1.0)), taken * fit)
    left = living * fishes.share_above(final, np.maximum(last, 0.1))
    number = by_day[1].sum(axis=1) + left
    kg = (by_day[0].sum(axis=1) + left * np.maximum(last, final)) / 1000.0
    return number, np.maximum(kg - number * batch.weight_g / 1000.0, 0.0), reached


def _heads(garden: Garden, tries: Tries, goal: Wanted) -> tuple[Floats, Floats]:
    """Heads of the wished crop, and their share of the wish, fortnight by fortnight."""
    picked = tries.crops["picked_kg"]
    own = np.array([one.crop == goal.crop for one in tries.batches], dtype=bool)
    members, days = tries.daily["water_c"].shape
    if goal.heads_per_week <= 0.0:
        return np.zeros(members), np.zeros(members)
    crop = crops.crop(goal.crop)
    plan = next((one for one in garden.crops if one.crop == goal.crop), None)
    yield_kg_m2 = (plan and plan.yield_kg_m2) or crop.yield_kg_m2.typical
    plants_m2 = (plan and plan.plants_m2) or crop.plants_m2.typical
    heads = picked[own].sum(axis=0, dtype=np.float64) / (yield_kg_m2 / plants_m2)
    spans = range(0, days - FORTNIGHT_D + 1, FORTNIGHT_D)
    wish = goal.heads_per_week * FORTNIGHT_D / 7.0
    shares = [np.minimum(heads[:, at : at + FORTNIGHT_D].sum(axis=1) / wish, 1.0) for at in spans]
    return heads.sum(axis=1), np.mean(shares, axis=0) if shares else np.zeros(members)


def _money(garden: Garden, tries: Tries) -> Floats | None:
    """Feed, electricity and water of the season at the grower's prices; None as long as one is missing."""
    prices = garden.prices
    water = 0.0 if garden.top_up.source in ("rain", "well") else prices.water_m3
    if prices.feed_kg is None or prices.electricity_kwh is None or water is None:
        return None
    feed_kg = tries.daily["feed_g"].sum(axis=1, dtype=np.float64) / 1000.0
    filled_l, changed_l = (
        tries.daily[name].sum(axis=1, dtype=np.float64) for name in ("top_up_l", "changed_l")
    )
    water_m3 = (filled_l + changed_l) / 1000.0
    spent: Floats = (
        feed_kg * prices.feed_kg + money.season_kwh(garden) * prices.electricity_kwh + water_m3 * water
    )
    return spent
