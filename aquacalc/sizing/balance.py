"""The balance: the fish's appetite beside everything that limits it, month by month."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import aeration, film, nitrogen
from aquacalc.climate import months as months_of_year
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres, surroundings
from aquacalc.hydraulics.pump import Box, Curve, Line, points_curve
from aquacalc.sizing import denitrification, limits, nitrification, plants, power_cut, stock, surfaces
from aquacalc.sizing.delivery import WEAR, PressureLine, worn_l_h
from aquacalc.sizing.limits import Conditions
from aquacalc.sizing.nitrification import Targets
from aquacalc.sizing.result import (
    Balance,
    Binding,
    Biofilter,
    Demand,
    Limit,
    LimitKey,
    Outage,
    Plants,
    Stocked,
)
from aquacalc.sizing.stock import Stock
from aquacalc.uncertainty import (
    MEMBERS,
    SEED,
    Band,
    Floats,
    Triangle,
    band,
    coefficient,
    draw,
)
from aquacalc.water import oxygen

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden, Pump

MEASURED_FLOW_SPREAD = 0.05
"""A bucket and a watch, three fills: about 5 % either way. Common practice, no source."""
FIRST_YEAR_SHARE = 0.5
"""Half of the stock in a first year: FAO589, from memory."""


def triangles(garden: Garden) -> dict[str, Triangle]:
    """Every uncertain value that the balance of this garden rests on."""
    names = {
        *limits.COEFFICIENTS,
        *aeration.STONE_COEFFICIENTS.values(),
        *plants.COEFFICIENTS,
        *surroundings.COEFFICIENTS,
        *WEAR,
    }
    return {
        **{name: coefficient(name) for name in sorted(names)},
        **stock.triangles(garden),
        **limits.triangles(garden),
        **nitrification.triangles(garden),
        **plants.triangles(garden),
    }


def correlations(garden: Garden) -> dict[tuple[str, str], float]:
    """Rank correlations among them: of each species' growth and feed, and of what films are."""
    return {**stock.correlations(garden), **nitrogen.CORRELATIONS}


def conditions(
    garden: Garden, members: int = MEMBERS, seed: int = SEED
) -> tuple[Conditions, Stock, plants.Demand]:
    """Temperature, oxygen, flow, stock and crops of the plan's months, all from one draw.

    Raises `InputError` for a garden without fish, in which there is nothing to balance.
    """
    if not garden.fish:
        raise InputError(Problem("problem-no-fish", "fish"))
    sampled = draw(triangles(garden), members, seed, correlations(garden))
    months = stock.plan_months(garden.season.start)
    order = np.array(months) - 1
    water_c = surroundings.water_c(garden, sampled)
    saturation = oxygen.saturation_mg_l(water_c, 0.0, oxygen.pressure_atm(garden.site.altitude_m))
    flow, measured = flow_l_h(garden, sampled, members, seed)
    now = Conditions(
        garden=garden,
        months=months,
        water_c=water_c[:, order],
        saturation_mg_l=np.asarray(saturation)[:, order],
        flow_l_h=flow[:, None],
        measured_flow=measured,
        draw=sampled,
    )
    return (
        now,
        stock.stock_of(garden, months_of_year.monthly_to_daily(water_c), sampled),
        plants.demand_of(garden, months, sampled),
    )


def curve_of(pump: Pump, exponent: Floats | float) -> Curve:
    """The table of a pump, where it was given, else the curve through the figures of its box."""
    return points_curve(pump.curve) if pump.curve else Box(pump.box_flow_l_h, pump.box_head_m, exponent)


def flow_l_h(garden: Garden, sampled: Mapping[str, Floats], members: int, seed: int) -> tuple[Floats, bool]:
    """Mean flow round the loop, (members,), and whether it was measured; that overrides the pump's box."""
    measured = garden.last_measured("flow")
    if measured is not None:
        spread = Triangle(
            measured.value * (1.0 - MEASURED_FLOW_SPREAD),
            measured.value,
            measured.value * (1.0 + MEASURED_FLOW_SPREAD),
        )
        return draw({"flow": spread}, members, seed)["flow"], True
    fittings = PressureLine(0.0, 1.0).losses()  # of a usual line, counted on its first pipe
    roughness = coefficient("roughness_fouled_mm").typical
    lines = tuple(
        Line(pipe.length_m, pipe.bore_mm, fittings if place == 0 else 0.0, roughness)
        for place, pipe in enumerate(garden.pipes)
    )
    flow = np.zeros(members)
    for pump in garden.pumps:
        curve = curve_of(pump, sampled["box_curve_exponent"])
        flow = flow + pump.count * pump.share_on * worn_l_h(curve, pump.lift_m, lines, sampled)
    return flow, False


def balance(garden: Garden, members: int = MEMBERS, seed: int = SEED) -> Balance:
    """Demand and all limits of the plan's twelve months.

    members: sampled gardens; with 1 the typical value of every coefficient. What to change first is left
    empty here: `changes.with_changes` computes it by changing the garden.
    """
    now, fishes, crops = conditions(garden, members, seed)
    aims = nitrification.comfortable(now)
    carried = nitrification.feed_g_day(now, aims)
    feed = fishes.feed_g_day
    backed = garden.power.backup != "none"
    in_reach = limits.unaided_kg(now, fishes.kg, fishes.weight_g)
    found: list[tuple[LimitKey, bool, bool, Floats]] = [
        ("oxygen", True, True, limits.oxygen(now)),
        ("nitrification", True, True, carried),
        ("density", True, True, limits.by_weight(np.full_like(feed, limits.density_kg(garden)), fishes)),
        ("power_cut", True, not backed, limits.by_weight(in_reach, fishes)),
        ("solids", False, True, limits.solids(now) + np.zeros_like(feed)),
        ("plants", False, True, crops.balance_g_day),
        ("turnover", False, True, limits.by_weight(limits.turnover_kg(now), fishes)),
    ]
    all_limits = tuple(
        _limit(key, must, counts, amount, fishes, crops) for key, must, counts, amount in found
    )
    demand = _demand(fishes, crops)
    binding = nearest(now.months, demand, all_limits, must=True)
    first_kg, first_count = _first_year(demand, all_limits)
    turnover = now.flow_l_h / litres.litres_of(garden).tanks
    return Balance(
        months=now.months,
        water_c=band(now.water_c, axis=0),
        saturation_mg_l=band(now.saturation_mg_l, axis=0),
        demand=demand,
        limits=all_limits,
        binding=binding,
        better=nearest(now.months, demand, all_limits, must=False),
        changes=(),
        outage=_outage(now, fishes, backed),
        biofilter=_biofilter(now, feed, carried, aims),
        plants=_plants(garden, now, feed, crops),
        first_year_kg=first_kg,
        first_year_count=first_count,
        final_weight_g=fishes.final_weight_g,
        flow_l_h=band(now.flow_l_h[:, 0]),
        turnover_1_h=band(turnover[:, 0]),
        measured_flow=now.measured_flow,
        members=members,
        seed=seed,
    )


def nearest(months: Sequence[int], demand: Demand, all_limits: Sequence[Limit], must: bool) -> Binding | None:
    """The limit that the demand meets first, in the month of the largest share; None without demand."""
    middle = demand.feed_g_day.middle
    counted = [limit for limit in all_limits if limit.must is must and limit.counts]
    if not counted:
        return None
    with np.errstate(divide="ignore", invalid="ignore"):
        shares = np.array([middle / limit.feed_g_day.middle for limit in counted])
    shares = np.where(middle > 0.0, np.nan_to_num(shares, nan=0.0, posinf=np.inf), 0.0)
    if not shares.max() > 0.0:
        return None
    first, month = np.unravel_index(int(np.argmax(shares)), shares.shape)
    others = sorted((i for i in range(len(counted)) if i != first), key=lambda i: -shares[i, month])
    following = counted[others[0]] if others else None
    return Binding(
        key=counted[first].key,
        month=months[int(month)],
        demand_g_day=float(middle[month]),
        limit_g_day=float(counted[first].feed_g_day.middle[month]),
        share=float(shares[first, month]),
        next_key=following.key if following else None,
        next_limit_g_day=float(following.feed_g_day.middle[month]) if following else float("nan"),
    )


def _limit(
    key: LimitKey, must: bool, counts: bool, feed_g_day: Floats, fishes: Stock, crops: plants.Demand
) -> Limit:
    with np.errstate(divide="ignore", invalid="ignore"):
        kg = feed_g_day / (1000.0 * fishes.ration)
        count = np.where(fishes.final_feed_g > 0.0, feed_g_day / fishes.final_feed_g, np.nan)
    return Limit(
        key=key,
        must=must,
        counts=counts,
        feed_g_day=band(feed_g_day, axis=0),
        fish_kg=band(kg, axis=0),
        fish_count=band(count, axis=0),
        bed_m2=band(feed_g_day / crops.rule_g_m2_d, axis=0),
    )


def _demand(fishes: Stock, crops: plants.Demand) -> Demand:
    return Demand(
        feed_g_day=band(fishes.feed_g_day, axis=0),
        fish_kg=band(fishes.kg, axis=0),
        weight_g=band(fishes.weight_g, axis=0),
        ration_pct=band(100.0 * fishes.ration, axis=0),
        count=fishes.count,
        bed_m2=band(fishes.feed_g_day / crops.rule_g_m2_d, axis=0),
    )


def _first_year(demand: Demand, all_limits: Sequence[Limit]) -> tuple[Band, Band]:
    """Half of what the smallest limit carries in the month in which it carries least.

    Of those that count, so that the half is never more than the whole that is told: without a backup the
    power cut is one of them.
    """
    must = [limit for limit in all_limits if limit.must and limit.counts]

    def half(bands: list[Band]) -> Band:
        def least(name: str) -> Floats:
            values = np.array([getattr(one, name) for one in bands])
            return np.asarray(np.nanmin(values) * FIRST_YEAR_SHARE if np.isfinite(values).any() else np.nan)

        return Band(least("low"), least("middle"), least("high"))

    return half([limit.fish_kg for limit in must]), half([limit.fish_count for limit in must])


def _outage(now: Conditions, fishes: Stock, backed: bool) -> Outage | None:
    """The power cut in the month in which help must come soonest: warm water, heavy stock."""
    stocked = np.flatnonzero(fishes.count > 0.0)
    if stocked.size == 0:
        return None
    garden = now.garden
    all_hours = limits.just_fed_hours(now, fishes.kg, fishes.weight_g)
    at = int(stocked[np.argmin(band(all_hours, axis=0).low[stocked])])
    return power_cut.outage(
        _in_month(limits.stocked(now, fishes.kg, fishes.weight_g), at),
        now.draw,
        garden.site.hours_until_help,
        now.months[at],
        backed,
    )


def _in_month(stocked: Stocked, at: int) -> Stocked:
    """The members of one month, from arrays of members and months."""

    def column(values: Floats | float) -> Floats:
        members = np.shape(stocked.kg)
        return np.broadcast_to(values, members)[:, at]

    return replace(
        stocked,
        weight_g=column(stocked.weight_g),
        kg=column(stocked.kg),
        water_c=column(stocked.water_c),
        saturation_mg_l=column(stocked.saturation_mg_l),
        use_factor=column(stocked.use_factor),
        film_factor=column(stocked.film_factor),
    )


def _biofilter(now: Conditions, feed: Floats, carried: Floats, aims: Targets) -> Biofilter:
    """Litres of medium that a separate filter would need, in the month that asks for most."""
    alone = nitrification.filter_litres(now, feed, aims)
    missing = nitrification.missing_litres(now, feed, aims)
    at = int(np.argmax(np.median(alone, axis=0)))
    most = nitrification.feed_g_day(now, nitrification.most(now))
    water_c = float(np.median(now.water_c[:, at]))
    return Biofilter(
        month=now.months[at],
        wetted_m2=band(surfaces.area_m2(nitrification.surfaces_of(now))[:, 0]),
        comfortable_g_day=band(carried[:, at]),
        most_g_day=band(most[:, at]),
        media_litres=band(alone[:, at]),
        missing_litres=band(missing[:, at]),
        medium=nitrification.RESERVE_MEDIUM,
        tan_target_mg_l=float(np.median(aims.tan_mg_l[:, at])),
        nitrite_target_mg_l=float(np.median(aims.nitrite_mg_l[:, at])),
        nitrite_raised=bool(aims.raised[at]),
        water_c=water_c,
        known=film.known_at(water_c),
    )


def _plants(garden: Garden, now: Conditions, feed: Floats, crops: plants.Demand) -> Plants:
    dissolved = feed * nitrification.tan_per_feed(now)
    gas = dissolved * denitrification.share(garden, now.draw)[:, None]
    drift = (dissolved - gas - crops.uptake_g_n_day) / (litres.litres_of(garden).whole / 1000.0)
    return Plants(
        area_rule_g_day=band(crops.area_rule_g_day, axis=0),
        balance_g_day=band(crops.balance_g_day, axis=0),
        uptake_g_n_day=band(crops.uptake_g_n_day, axis=0),
        dissolved_g_n_day=band(dissolved, axis=0),
        gas_g_n_day=band(gas, axis=0),
        drift_mg_n_l_day=band(drift, axis=0),
    )
