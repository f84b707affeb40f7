"""Oxygen of the fish tank through the hours of the worst day: warm, fully fed, with a night in it.

Arrays run (months or days, 24 hours, members). What moves oxygen is linear in it, so that each hour is exact
and the day that repeats itself is found without running up to it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import aeration, fish, tables
from aquacalc.aeration import Exchange, Fall
from aquacalc.climate import anomaly
from aquacalc.climate.days import NINE_IN_TEN
from aquacalc.constants import Numbers
from aquacalc.garden import litres, surroundings
from aquacalc.judge import oxygen as judged
from aquacalc.sizing import balance, hours, limits
from aquacalc.sizing.hours import FIRST_HOUR, HOURS, RESTING_SHARE
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw
from aquacalc.water import oxygen

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    "oxygen_per_feed_whole_kg_kg",
    "oxygen_peak_factor",
    "oxygen_use_factor",
    "tank_film_factor",
    "alpha",
    "beta",
    "air_rating_share",
    "bed_outflow_saturation_share",
    "surface_velocity_unstirred_m_h",
    "surface_velocity_stirred_m_h",
    "fall_water_quality",
    "fall_formula_factor",
    *aeration.STONE_COEFFICIENTS.values(),
)
LIPS = {"free": "fall_shape_broad", "under": "fall_shape_submerged"}
"""How falling water arrives, free or from an outlet under water, to its row in the table of coefficients."""


def hourly_mg_l(
    exchange_m3_h: Floats,
    gain_g_h: Floats,
    use_g_h: Floats,
    water_m3: float,
    start_mg_l: Floats | None = None,
) -> Floats:
    """Oxygen at the end of each hour, mg/L; axis 1 runs through the hours.

    exchange_m3_h, gain_g_h: of `aeration.Exchange`; use_g_h: breathed. start_mg_l: before the first hour;
    None for a day that repeats itself. Never below zero: what is not there is not breathed. Exact, by
    oxygen balance, for drivers that are steady within the hour.

    >>> k, gain, use = (np.full((1, 24, 1), one) for one in (2.0, 16.0, 4.0))
    >>> float(hourly_mg_l(k, gain, use, 1.0)[0, 5, 0])
    6.0
    """
    speed = np.maximum(exchange_m3_h / water_m3, 1e-9)
    left = np.exp(-speed)
    brought = (gain_g_h - use_g_h) / water_m3 * (-np.expm1(-speed) / speed)
    found = np.empty(np.broadcast_shapes(left.shape, brought.shape))
    left, brought = np.broadcast_to(left, found.shape), np.broadcast_to(brought, found.shape)
    if start_mg_l is None:
        start_mg_l = _repeating(left, brought)
    for _ in range(2):
        now = start_mg_l
        for hour in range(HOURS):
            now = np.maximum(now * left[:, hour] + brought[:, hour], 0.0)
            found[:, hour] = now
        # Where it touched zero, the day that repeats itself begins where this one ends.
        if not (found == 0.0).any():
            break
        start_mg_l = now
    return found


def _repeating(left: Floats, brought: Floats) -> Floats:
    """The start of a day that ends as it began."""
    end, kept = np.zeros(left.shape[:1] + left.shape[2:]), np.ones(left.shape[:1] + left.shape[2:])
    for hour in range(HOURS):
        end, kept = end * left[:, hour] + brought[:, hour], kept * left[:, hour]
    start: Floats = np.maximum(end / (1.0 - kept), 0.0)
    return start


def use_g_h(feed_g_day: Floats, resting_g_h: Floats, per_feed: Floats, peak: Floats) -> Floats:
    """Oxygen of fish, bacteria and films through the hours, g/h: from (days, members) to (days, 24, members).

    By the feed, as in the balance, so that the best-fed hour needs `peak` times the mean; never less than
    fish at rest. By definition; the shape is common practice, no source.
    """
    shape = RESTING_SHARE + (1.0 - RESTING_SHARE) * hours.meal_shape()
    course = (1.0 + (shape - 1.0)[:, None] / (shape.max() - 1.0) * (peak - 1.0))[None]
    fed: Floats = (feed_g_day * per_feed / HOURS)[:, None] * course
    return np.maximum(fed, resting_g_h[:, None])


@dataclass(frozen=True, eq=False)
class AirDay:
    """A day of oxygen at one tank; hours from midnight on.

    oxygen_mg_l: (24,). line_mg_l: below it something must be done today; critical_mg_l. lowest_mg_l and
    lowest_hour: of the worst hour, a clock hour. use_g_h: mean, peak_g_h. brought_g_h: at the line, by what
    brings it. pump_l_min: air at depth, all of it, with which the lowest hour stands at the line;
    rated_l_min: what is printed on a pump that gives it.
    """

    water_c: float
    oxygen_mg_l: Band
    saturation_mg_l: float
    line_mg_l: float
    critical_mg_l: float
    lowest_mg_l: Band
    lowest_hour: int
    use_g_h: Band
    peak_g_h: Band
    brought_g_h: Mapping[str, Band]
    pump_l_min: Band
    rated_l_min: Band


@dataclass(frozen=True)
class Question:
    """A tank on its worst day: what a person beside it can tell.

    water_c: mean of the day, swing_c: half of its range. fall_m: how far water falls; lip: `free` or
    `under`. drained_share: of the flow that trickles through beds which fall dry. air_l_min: on the box.
    """

    species: str
    kg: float
    weight_g: float
    feed_g_day: float
    tank_l: float
    surface_m2: float
    water_c: float
    swing_c: float
    altitude_m: float
    flow_l_h: float
    fall_m: float
    lip: str
    drained_share: float
    air_l_min: float
    depth_m: float
    stones: str


def exchange_of(garden: Garden, sampled: Mapping[str, Floats], flow_l_h: Floats) -> Exchange:
    """What brings oxygen in a garden: still or stirred surface, stones, beds that fall dry."""
    stirred = "surface_velocity_stirred_m_h" if garden.air else "surface_velocity_unstirred_m_h"
    stones: Numbers = np.zeros_like(flow_l_h)
    if garden.air is not None:
        stones = aeration.stones_m3_h(
            garden.air.flow_l_min * sampled["air_rating_share"],
            garden.air.depth_m,
            sampled[aeration.STONE_COEFFICIENTS[garden.air.stones]],
            sampled["alpha"],
        )
    return Exchange(
        surface_m3_h=sum(one.surface_m2 for one in garden.tanks) * sampled[stirred],
        stones_m3_h=stones,
        beds_m3_h=flow_l_h * limits.drained_share(garden) / 1000.0,
        stones_share=sampled["beta"],
        beds_share=sampled["bed_outflow_saturation_share"],
    )


def alone(asked: Question, members: int = MEMBERS, seed: int = SEED) -> AirDay:
    """The day of a tank, without a garden."""
    names = (*COEFFICIENTS, LIPS[asked.lip])
    sampled = draw({name: coefficient(name) for name in names}, members, seed)
    stirred = "stirred" if asked.air_l_min > 0.0 or asked.fall_m > 0.0 else "unstirred"
    flow_m3_h = asked.flow_l_h / 1000.0
    exchange = Exchange(
        surface_m3_h=asked.surface_m2 * sampled[f"surface_velocity_{stirred}_m_h"],
        stones_m3_h=aeration.stones_m3_h(
            asked.air_l_min * sampled["air_rating_share"],
            asked.depth_m,
            sampled[aeration.STONE_COEFFICIENTS[asked.stones]],
            sampled["alpha"],
        ),
        beds_m3_h=flow_m3_h * asked.drained_share + np.zeros(members),
        stones_share=sampled["beta"],
        beds_share=sampled["bed_outflow_saturation_share"],
        fall=Fall(
            # Water that trickled through a bed has taken up its oxygen before it falls.
            flow_m3_h * (1.0 - asked.drained_share),
            asked.fall_m,
            sampled["fall_water_quality"],
            sampled[LIPS[asked.lip]],
            sampled["fall_formula_factor"],
        ),
    )
    species = fish.species(asked.species)
    line = judged.begins_below("act today", [tables.load("species").row(asked.species)])
    day = _Days(
        water_c=np.full((1, members), asked.water_c),
        swing_c=np.full((1, members), asked.swing_c),
        pressure_atm=float(oxygen.pressure_atm(asked.altitude_m)),
        feed_g_day=np.full((1, members), asked.feed_g_day),
        kg=np.full((1, members), asked.kg),
        weight_g=np.full((1, members), asked.weight_g),
        model=species.oxygen_model,
        tank_l=asked.tank_l,
        line_mg_l=line,
        critical_mg_l=species.oxygen_critical_mg_l,
    )
    (found,) = _found(day, exchange, sampled, asked.depth_m, asked.stones)
    return found


USUAL_DEPTH_M, USUAL_STONES = 0.6, "small"
"""Where a garden has no air pump yet: how deep its stones would hang (common practice, no source)."""


def of_garden(garden: Garden, members: int = MEMBERS, seed: int = SEED) -> tuple[AirDay | None, ...]:
    """The worst day of each month of the plan, None where there are no fish.

    It is as warm as one day in ten, and all fish eat their fill.
    """
    now, fishes, _ = balance.conditions(garden, members, seed)
    order = np.array(now.months) - 1
    constant_h = surroundings.time_constant_h(garden)
    indoors = garden.site.cover == "indoors"
    warmer = 0.0 if indoors else NINE_IN_TEN * anomaly.followed_share(constant_h)
    water_c = np.maximum(now.water_c + warmer * coefficient("air_anomaly_sd_k").typical, 0.0)
    swing = np.broadcast_to(surroundings.swing_c(garden)[order, None], water_c.T.shape)
    days = _Days(
        water_c=water_c.T,
        swing_c=swing,
        pressure_atm=float(oxygen.pressure_atm(garden.site.altitude_m)),
        feed_g_day=fishes.feed_g_day.T,
        kg=fishes.kg.T,
        weight_g=np.nan_to_num(fishes.weight_g.T, nan=1.0),
        model=limits.leading(garden).oxygen_model,
        tank_l=litres.litres_of(garden).tanks,
        line_mg_l=limits.oxygen_wanted_mg_l(garden),
        critical_mg_l=max(fish.species(batch.species).oxygen_critical_mg_l for batch in garden.fish),
    )
    air = garden.air
    depth, stones = (USUAL_DEPTH_M, USUAL_STONES) if air is None else (air.depth_m, air.stones)
    found = _found(days, exchange_of(garden, now.draw, now.flow_l_h[:, 0]), now.draw, depth, stones)
    return tuple(day if stocked > 0.0 else None for day, stocked in zip(found, fishes.count, strict=True))


@dataclass(frozen=True, eq=False)
class _Days:
    """Days side by side, (days, members)."""

    water_c: Floats
    swing_c: Floats
    pressure_atm: float
    feed_g_day: Floats
    kg: Floats
    weight_g: Floats
    model: fish.OxygenModel
    tank_l: float
    line_mg_l: float
    critical_mg_l: float


@dataclass(frozen=True, eq=False)
class _Course:
    """What moves oxygen through the hours, (days, 24, members); stones_m3_h: of the garden's own stones."""

    moved: Floats
    gain: Floats
    use: Floats
    stones_m3_h: Floats
    stones_mg_l: Floats
    water_m3: float

    def mg_l(self, stones_m3_h: Floats) -> Floats:
        """Oxygen with other stones in the place of one's own."""
        more = stones_m3_h - self.stones_m3_h
        return hourly_mg_l(self.moved + more, self.gain + more * self.stones_mg_l, self.use, self.water_m3)


HALVINGS = 24


def _air_l_min(course: _Course, line_mg_l: float, per_l_min: Floats) -> Floats:
    """Air at depth with which the lowest hour of each day stands at the line, (days, members).

    per_l_min: water that a litre a minute brings to balance, m3/h. Infinite where stones lead below the line.
    """
    kept = (course.moved - course.stones_m3_h) * line_mg_l
    lacking = course.use - (course.gain - course.stones_m3_h * course.stones_mg_l - kept)
    each = per_l_min * (course.stones_mg_l - line_mg_l)
    with np.errstate(divide="ignore", invalid="ignore"):
        most = np.where(lacking > 0.0, np.where(each > 0.0, lacking / each, np.inf), 0.0).max(axis=1)
    # What holds the line in every hour by itself is enough; what the water has in store makes it less.
    low, width = np.zeros_like(most), np.where(np.isfinite(most), most, 0.0)
    for _ in range(HALVINGS):
        width = width / 2.0
        short = course.mg_l((low + width)[:, None] * per_l_min).min(axis=1) < line_mg_l
        low = low + width * short
    return np.where(np.isfinite(most), low + width, np.inf)


def _found(
    days: _Days, exchange: Exchange, sampled: Mapping[str, Floats], depth_m: float, stones: str
) -> list[AirDay]:
    water = hours.water_by_hour_c(days.water_c, days.swing_c)
    saturation = np.asarray(oxygen.saturation_mg_l(water, 0.0, days.pressure_atm))
    resting = (
        np.asarray(fish.oxygen_use_mg_kg_h(days.model, days.weight_g, days.water_c, "resting"))
        * days.kg
        / 1000.0
        * sampled["oxygen_use_factor"]
        * sampled["tank_film_factor"]
    )
    course = _Course(
        moved=np.asarray(exchange.m3_h(water)),
        gain=np.asarray(exchange.gain_g_h(water, saturation)),
        use=use_g_h(
            days.feed_g_day, resting, sampled["oxygen_per_feed_whole_kg_kg"], sampled["oxygen_peak_factor"]
        ),
        stones_m3_h=np.broadcast_to(exchange.stones_at_m3_h(water), water.shape),
        stones_mg_l=saturation * exchange.stones_share,
        water_m3=days.tank_l / 1000.0,
    )
    per_l_min = aeration.stones_m3_h(
        1.0, depth_m, sampled[aeration.STONE_COEFFICIENTS[stones]], sampled["alpha"]
    ) * aeration.THETA_AERATION ** (water - 20.0)
    air = _air_l_min(course, days.line_mg_l, per_l_min)
    mg_l = course.mg_l(course.stones_m3_h)
    clock = np.argsort((np.arange(HOURS) + FIRST_HOUR + 1) % HOURS, kind="stable")
    found = []
    for day in range(days.water_c.shape[0]):
        worst = int(np.argmin(np.median(mg_l[day], axis=1)))
        held = saturation[day, worst]
        found.append(
            AirDay(
                water_c=float(np.median(days.water_c[day])),
                oxygen_mg_l=band(mg_l[day][clock], axis=1),
                saturation_mg_l=float(np.median(held)),
                line_mg_l=days.line_mg_l,
                critical_mg_l=days.critical_mg_l,
                lowest_mg_l=band(mg_l[day].min(axis=0)),
                lowest_hour=(worst + FIRST_HOUR + 1) % HOURS,
                use_g_h=band(course.use[day].mean(axis=0)),
                peak_g_h=band(course.use[day].max(axis=0)),
                brought_g_h=_brought(exchange, water[day, worst], held, days.line_mg_l),
                pump_l_min=_band(air[day]),
                rated_l_min=_band(air[day] / sampled["air_rating_share"]),
            )
        )
    return found


def _band(values: Floats) -> Band:
    """A band of values of which some may be without end."""
    low, middle, high = (
        np.asarray(np.quantile(values, share, method="nearest")) for share in (0.1, 0.5, 0.9)
    )
    return Band(low, middle, high)


def _brought(exchange: Exchange, water_c: Floats, saturation: Floats, line_mg_l: float) -> dict[str, Band]:
    """What each brings at the line, g/h; water without any gain is left out."""
    deficit = saturation - line_mg_l
    stones = exchange.stones_at_m3_h(water_c) * (exchange.stones_share * saturation - line_mg_l)
    beds = exchange.beds_m3_h * (exchange.beds_share * saturation - line_mg_l)
    parts = {
        "surface": exchange.surface_m3_h * deficit,
        "fall": exchange.fall_at_m3_h(water_c) * deficit,
        "beds": beds,
        "stones": stones,
    }
    return {name: band(np.broadcast_to(value, deficit.shape)) for name, value in parts.items()}
