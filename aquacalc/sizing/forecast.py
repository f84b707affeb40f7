"""Water of the next days hour by hour, from the air that a forecast tells, and what each deed takes off.

Arrays run (hours, members).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc.climate import course, evaporation, loop, months, spell, sun
from aquacalc.climate.course import Air
from aquacalc.climate.loop import Loop
from aquacalc.climate.tank import EXPOSURES, LID_SUN_SHARE, Cover
from aquacalc.constants import DAYS_PER_YEAR, HOURS_PER_DAY, SECONDS_PER_HOUR
from aquacalc.garden import surroundings
from aquacalc.judge import temperature
from aquacalc.judge.levels import Level
from aquacalc.sizing import heat
from aquacalc.sizing.heat import Error
from aquacalc.tables import Row
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

Kind = Literal["heat", "cold"]
Sky = Literal["clear", "half", "overcast"]

SUN: Mapping[Sky, float] = {"clear": 1.0, "half": 0.6, "overcast": 0.25}
"""Share of a clear day's sun. Common practice, no source."""
SHADE_SHARE = 0.3
"""Sun that a dense cloth or a board over tank and beds lets through. Common practice, no source."""
BOTTLE_HOURS = (10.0, 18.0)
"""Clock hours between which ice is laid in. Our own choice, no source."""
BOTTLE_KG = 2.0
"""Ice in a bottle of two litres. By definition."""
DEEDS: Mapping[Kind, tuple[str, ...]] = {
    "heat": ("shade", "night", "rest", "bottles"),
    "cold": ("lid", "day", "rest"),
}
"""What can be done at once: shade, beds that run by night or by day alone, beds at rest, ice, a lid."""
MOST_DAYS = 5
MOST_BOTTLES = 500.0
USUAL_CLOCK = 8.0
"""Hour at which a thermometer is read in the morning. Common practice, no source."""


@dataclass(frozen=True)
class Day:
    """Highest and lowest air of a day, as foretold for the place of the tank."""

    high_c: float
    low_c: float


@dataclass(frozen=True)
class Asked:
    """A loop before the days that come. clock: hour of the first day at which the water was at `water_c`.

    bottles: of frozen water, each day. day_of_year: of the first day, for the sun; wind of the weather, m/s.
    """

    loop: Loop
    cover: Cover
    days: Sequence[Day]
    water_c: float
    clock: float
    sky: Sky
    humidity_pct: float
    wind_m_s: float
    latitude_deg: float
    day_of_year: int
    bottles: float


@dataclass(frozen=True, eq=False)
class Way:
    """Water of one way, (hours,): its peak, its lowest and the hour of each, from the first midnight."""

    water_c: Band
    peak_c: Band
    peak_h: float
    lowest_c: Band
    lowest_h: float


@dataclass(frozen=True, eq=False)
class Forecast:
    """hours: since the first midnight, (hours,). ways: `now`, each deed by itself, `all` of them.

    line_c: of these fish, the most that they want or where feeding stops; passes_h: hour at which the middle
    passes it, NaN where it does not. level: of the end that counts, on its worse side.
    """

    kind: Kind
    hours: Floats
    ways: Mapping[str, Way]
    line_c: float
    passes_h: float
    level: Level


def forecast(
    asked: Asked,
    fish: Row,
    members: int = MEMBERS,
    seed: int = SEED,
    error_k: Error = heat.plain_error_k,
) -> Forecast:
    """The days hour by hour as things are, with each deed, and with all of them, from the same tries.

    fish: a row of the species; heat or cold is told, whichever comes nearer to it. error_k: how far the
    balance of this loop lies off, as its thermometer told. Own reckoning, by heat balance; what a forecast
    errs is common practice, no source.
    """
    kind = kind_of(asked, fish)
    sampled = heat.sample(members, seed)
    missed_k = draw({"forecast_air_error_k": coefficient("forecast_air_error_k")}, members, seed)
    off_k = error_k(sampled).mean(axis=1) + missed_k["forecast_air_error_k"]
    hours = np.arange(np.ceil(asked.clock), HOURS_PER_DAY * len(asked.days)) + 0.5
    ways = {}
    for name, deeds in _sets(kind, asked):
        water = _water_c(asked, deeds, sampled, off_k, hours)
        ways[name] = Way(
            water_c=band(water, axis=1),
            peak_c=band(water.max(axis=0)),
            peak_h=float(hours[int(np.argmax(np.median(water, axis=1)))]),
            lowest_c=band(water.min(axis=0)),
            lowest_h=float(hours[int(np.argmin(np.median(water, axis=1)))]),
        )
    now, line = ways["now"], fish.number("t_stress_high_c" if kind == "heat" else "t_feed_stop_low_c")
    worst = now.peak_c.high if kind == "heat" else now.lowest_c.low
    passes = _first_hour_beyond(now, hours, line, kind)
    return Forecast(kind, hours, ways, line, passes, temperature.level(float(worst), (fish,)))


def _sets(kind: Kind, asked: Asked) -> list[tuple[str, tuple[str, ...]]]:
    """Names of the ways and the deeds of each; what changes nothing in this loop is left out."""
    able = {
        "shade": EXPOSURES[asked.cover].sun_share > 0.0 and not asked.loop.lid,
        "night": asked.loop.beds_m2 > 0.0,
        "day": asked.loop.beds_m2 > 0.0,
        "rest": asked.loop.beds_m2 > 0.0,
        "bottles": asked.bottles > 0.0,
        "lid": not asked.loop.lid,
    }
    deeds = tuple(one for one in DEEDS[kind] if able[one])
    # Beds either run for half of the day or rest: together count those that go on working.
    every = tuple(one for one in deeds if one != "rest")
    return [("now", ()), *((one, (one,)) for one in deeds), *([("all", every)] if len(every) > 1 else [])]


def _water_c(
    asked: Asked, deeds: tuple[str, ...], sampled: Mapping[str, Floats], off_k: Floats, hours: Floats
) -> Floats:
    clock = hours % HOURS_PER_DAY
    lid = asked.loop.lid or "lid" in deeds
    built = replace(asked.loop, lid=lid, night_rest=False)
    body = loop.body_of(built, sampled, axes=0)
    night: Floats = loop.at_night(clock)
    on: Floats = np.ones(hours.size)
    if asked.loop.night_rest or "day" in deeds:
        on = 1.0 - night
    if "night" in deeds:
        on = night
    if "rest" in deeds:
        on = np.zeros(hours.size)
    ice_w: Floats = np.zeros(hours.size)
    if "bottles" in deeds:
        noon = (clock > BOTTLE_HOURS[0]) & (clock < BOTTLE_HOURS[1])
        melt_j = asked.bottles * BOTTLE_KG * spell.cold_of_ice_j_kg(asked.water_c)
        ice_w = np.where(noon, melt_j, 0.0) / ((BOTTLE_HOURS[1] - BOTTLE_HOURS[0]) * SECONDS_PER_HOUR)
    air = _air(asked, hours, SHADE_SHARE if "shade" in deeds else 1.0, lid)
    body = replace(body, gain_w=body.gain_w - ice_w[:, None])
    balance = course.balance_of(body, air, on[:, None])
    # The whole balance lies off by what it errs: it is followed beside the water, and added again.
    return off_k + course.course(balance, body, asked.water_c - off_k).water_c


def _air(asked: Asked, hours: Floats, shade: float, lid: bool) -> Air:
    """Weather by hour, (hours, 1); the vapour of the air is that of the day's mean."""
    at = np.minimum((hours // HOURS_PER_DAY).astype(int), len(asked.days) - 1)
    clock, place = hours % HOURS_PER_DAY, EXPOSURES[asked.cover]
    # From one day's lowest to its highest, and after that hour down to the next day's lowest.
    low = np.array([one.low_c for one in asked.days])
    next_low = np.append(low[1:], low[-1])
    high = np.array([one.high_c for one in asked.days])
    lowest = np.where(clock < course.WARMEST_AIR_HOUR, low[at], next_low[at])
    air_c = course.hourly_air_c(high[at], lowest, clock)
    vapour = evaporation.saturation_pressure_kpa((high[at] + low[at]) / 2.0) * asked.humidity_pct
    day = np.array([asked.day_of_year % DAYS_PER_YEAR])
    above = float(sun.extraterrestrial_mj_m2_d(asked.latitude_deg, day)[0])
    clear = float(sun.clear_sky_mj_m2_d(above)) * sun.W_M2_PER_MJ_M2_D
    daily = clear * SUN[asked.sky] * place.sun_share * shade * (LID_SUN_SHARE if lid else 1.0)
    light = max(float(sun.day_length_h(asked.latitude_deg, day)[0]), 1.0)
    return Air(
        air_c=air_c[:, None],
        humidity_pct=np.clip(vapour / evaporation.saturation_pressure_kpa(air_c), 1.0, 100.0)[:, None],
        wind_m_s=max(asked.wind_m_s * place.wind_share, place.least_wind_m_s),
        radiation_w_m2=course.hourly_sun(daily, light, clock)[:, None],
        sky_share=place.sky_share * (1.0 - lid),
    )


def _first_hour_beyond(way: Way, hours: Floats, line_c: float, kind: Kind) -> float:
    """Hour since the first midnight at which the middle passes a line; NaN where it does not.

    By definition.
    """
    middle = np.asarray(way.water_c.middle)
    beyond = middle > line_c if kind == "heat" else middle < line_c
    return float(hours[int(np.argmax(beyond))]) if beyond.any() else float("nan")


def beyond_k(asked: Asked, row: Row) -> dict[Kind, float]:
    """By how much the air of these days goes beyond the lines of a fish. By definition."""
    return {
        "heat": max(one.high_c for one in asked.days) - row.number("t_stress_high_c"),
        "cold": row.number("t_feed_stop_low_c") - min(one.low_c for one in asked.days),
    }


def kind_of(asked: Asked, row: Row) -> Kind:
    """Whether heat or cold is what these days may bring to fish: the line that their air comes nearer to."""
    over = beyond_k(asked, row)
    return "heat" if over["heat"] > over["cold"] else "cold"


def of_garden(
    garden: Garden, days: Sequence[Day], water_c: float | None, sky: Sky, bottles: float, today: date
) -> Asked:
    """The days before a garden; its water is that of the usual month where none was read."""
    typical = heat.sample(members=1)
    climate, month = surroundings.climate_of(garden, typical), today.month - 1
    warmer = float(np.ravel(climate.warmer_k)[0])
    usual_c = float(surroundings.water_c(garden, typical)[0, month])
    return Asked(
        loop=surroundings.loop_of(garden),
        cover=climate.cover,
        days=[Day(one.high_c + warmer, one.low_c + warmer) for one in days],
        water_c=max(usual_c, 0.0) if water_c is None else water_c,
        clock=USUAL_CLOCK,
        sky=sky,
        humidity_pct=float(climate.humid_pct[month]),
        wind_m_s=float(climate.wind_m_s[month]),
        latitude_deg=climate.latitude_deg,
        day_of_year=months.day_of_year(today.month, today.day),
        bottles=bottles,
    )
