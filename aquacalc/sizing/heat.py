"""The warmth of a loop through the year: what it is without a heater, what a heater draws, what saves most.

Arrays run (options, members); weather runs in steps of three hours over a usual year.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.climate import course, evaporation, loop, months, sun, tank
from aquacalc.climate.course import Air, Body
from aquacalc.climate.loop import Climate, Loop
from aquacalc.climate.tank import EXPOSURES
from aquacalc.constants import DAYS_PER_YEAR, HOURS_PER_DAY, MONTHS_PER_YEAR
from aquacalc.garden import surroundings
from aquacalc.uncertainty import MEMBERS, SEED, Band, Draw, Floats, band, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

TRIES = 40
"""Sampled loops of a heater's year: the spread is that of a few numbers, and a year of each is long."""
STEP_H = 3.0
HEATER_RESERVE = 1.5
"""Heater over the mean draw of the coldest month. Common practice, no source."""
ENOUGH_W = 1e6
SPIN_DAYS = 30
"""Days of December before the first of January, in which the water forgets how it began."""


@dataclass(frozen=True, eq=False)
class Warmth:
    """What a year makes of one way of building. free_c: water without a heater by month, (12,).

    With a heater: hold_w: its mean draw in the month in which it draws most; recover_w: with a reserve, and
    what brings back a fall of `FALL_K` in a day; kwh: by month; year_kwh. All zero without a wish.
    coldest: that month, or the one of the coldest water.
    """

    free_c: Band
    hold_w: Band
    recover_w: Band
    kwh: Band
    year_kwh: Band
    coldest: int


FALL_K = 5.0
"""Fall of the water that a heater should bring back in a day. Our own choice, no source."""


def wrapped(loop: Loop, insulation_m: float) -> Loop:
    """The same, covered, with insulation put on lid, walls and floor over what is there."""
    return replace(
        loop,
        insulation_m=loop.insulation_m + insulation_m,
        lid=True,
        lid_m=loop.lid_m + insulation_m,
    )


def resting(loop: Loop) -> Loop:
    """The same with beds that rest at night."""
    return replace(loop, night_rest=True)


Error = Callable[[Mapping[str, Floats]], Floats]
"""From a draw to how far each member's water lies from the balance, (members, months or 1)."""


def plain_error_k(sampled: Mapping[str, Floats]) -> Floats:
    """How a balance errs of which no thermometer tells more."""
    found: Floats = sampled["water_temperature_model_k"][:, None]
    return found


def sample(members: int = MEMBERS, seed: int = SEED) -> Draw:
    """What the warmth of a loop hangs on; each name is drawn as everywhere else."""
    return draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members, seed)


def ways(
    loops: Sequence[Loop],
    climate_of: Callable[[Mapping[str, Floats]], Climate],
    setpoint_c: float | None,
    heater_w: float = ENOUGH_W,
    members: int = TRIES,
    seed: int = SEED,
    error_k: Error = plain_error_k,
) -> tuple[Warmth, ...]:
    """A usual year of several ways of building, side by side, from the same tries.

    setpoint_c: None without a heater; heater_w: the most that it gives. The water without one is that of
    `loop.unheated_c`, as everywhere; members count the tries of the heater.
    """
    many = sample(MEMBERS if members > 1 else 1, seed)
    free = [loop.unheated_c(one, climate_of(many), many) + error_k(many) for one in loops]
    few = sample(members, seed)
    climate, off_k = climate_of(few), error_k(few)
    found = []
    for one, water_c in zip(loops, free, strict=True):
        drawn = np.zeros((MONTHS_PER_YEAR, members))
        body = loop.body_of(one, few, axes=0)
        if setpoint_c is not None:
            drawn = _drawn_w(one, body, climate, setpoint_c - off_k.mean(axis=1), heater_w)
        found.append(_warmth(water_c.T, drawn, body, setpoint_c is not None))
    return tuple(found)


_STEPS = int(HOURS_PER_DAY / STEP_H)
_SPIN = SPIN_DAYS * _STEPS


def _drawn_w(one: Loop, body: Body, climate: Climate, wish_c: Floats, heater_w: float) -> Floats:
    """Mean heat that holds a wish by month, (12, members): a usual year in steps of three hours."""
    air, clock = _year(climate, one.lid)
    balance = course.balance_of(body, air, 1.0 - one.night_rest * loop.at_night(clock)[:, None])
    start_c = np.maximum(float(np.mean(climate.mean_c)), wish_c)
    made = course.course(balance, body, start_c, STEP_H, wish_c, heater_w)
    return _by_month(made.heater_w[_SPIN:])


def _year(climate: Climate, lid: bool) -> tuple[Air, Floats]:
    """The weather of a usual year by step, (steps, members or 1), and the clock, (steps,).

    Some days of the year's end stand before it. The vapour of the air is that of the day's mean.
    """
    days = np.concatenate([np.arange(DAYS_PER_YEAR - SPIN_DAYS, DAYS_PER_YEAR), np.arange(DAYS_PER_YEAR)])
    warmer_k = np.reshape(climate.warmer_k, (1, 1, -1))

    def daily(monthly: Floats) -> Floats:
        found: Floats = months.monthly_to_daily(np.asarray(monthly, dtype=np.float64)[None, :])[0][days]
        return found[:, None, None]

    clock: Floats = (np.arange(_STEPS, dtype=np.float64) + 0.5) * STEP_H
    place = EXPOSURES[climate.cover]
    mean_c = daily(climate.mean_c) + warmer_k
    air_c = course.hourly_air_c(daily(climate.high_c), daily(climate.low_c), clock[None, :, None]) + warmer_k
    vapour_kpa = evaporation.saturation_pressure_kpa(mean_c) * daily(climate.humid_pct)
    humidity = np.clip(vapour_kpa / evaporation.saturation_pressure_kpa(air_c), 1.0, 100.0)
    light = sun.day_length_h(climate.latitude_deg, days)[:, None, None]
    radiation = np.maximum(daily(loop.on_water(climate.radiation_mj_m2_d, climate.cover, lid)), 0.0)
    sunshine = course.hourly_sun(radiation, np.maximum(light, 1.0), clock[None, :, None])
    wind = np.maximum(daily(climate.wind_m_s) * place.wind_share, place.least_wind_m_s)

    def steps(values: Floats) -> Floats:
        whole = np.broadcast_to(values, (days.size, _STEPS, values.shape[2]))
        return whole.reshape(-1, values.shape[2])

    air = Air(
        air_c=steps(air_c),
        humidity_pct=steps(humidity),
        wind_m_s=steps(wind),
        radiation_w_m2=steps(sunshine),
        sky_share=place.sky_share * (1.0 - lid),
    )
    return air, np.tile(clock, days.size)


def _by_month(values: Floats) -> Floats:
    """Means by month, (12, ...) from (steps, ...)."""
    daily = values.reshape(DAYS_PER_YEAR, _STEPS, *values.shape[1:]).mean(axis=1)
    position = months.month_of_day()
    return np.stack([daily[position == month].mean(axis=0) for month in range(MONTHS_PER_YEAR)])


def _warmth(free_c: Floats, mean_w: Floats, body: Body, heated: bool) -> Warmth:
    """Of one way: water without a heater and what the heater draws, (12, members)."""
    kwh = mean_w * np.array(months.DAYS_IN_MONTH)[:, None] * HOURS_PER_DAY / 1000.0
    coldest = int(np.argmax(np.median(mean_w, axis=1)) if heated else np.argmin(np.median(free_c, axis=1)))
    warming = tank.warming_wh(body.capacity_j_k, FALL_K) / HOURS_PER_DAY
    return Warmth(
        free_c=band(free_c, axis=1),
        hold_w=band(mean_w[coldest]),
        recover_w=band((HEATER_RESERVE * mean_w[coldest] + warming) * heated),
        kwh=band(kwh, axis=1),
        year_kwh=band(kwh.sum(axis=0)),
        coldest=coldest + 1,
    )


WARMEST_MONTH = 6.5
"""Place of the warmest time among the months of a northern year, from 0: mid-July. Common practice."""


def shape_of(latitude_deg: float) -> Floats:
    """A year as a sine: each month between the coldest (0) and the warmest (1)."""
    turned = WARMEST_MONTH + (MONTHS_PER_YEAR / 2.0 if latitude_deg < 0.0 else 0.0)
    at = np.arange(MONTHS_PER_YEAR) + 0.5 - turned
    shape: Floats = (1.0 + np.cos(2.0 * np.pi * at / MONTHS_PER_YEAR)) / 2.0
    found: Floats = (shape - shape.min()) / (shape.max() - shape.min())
    return found


def shape_of_garden(garden: Garden) -> Floats:
    """The garden's own months between the coldest (0) and the warmest (1)."""
    mean = surroundings.air_c(garden)
    span = float(np.ptp(mean))
    return (mean - mean.min()) / span if span > 0.0 else np.zeros(MONTHS_PER_YEAR)


def of_garden(garden: Garden, members: int = TRIES, seed: int = SEED) -> Warmth:
    """A usual year of the garden as it stands, with its heater if it has one."""
    heat = garden.heat
    (found,) = ways(
        [surroundings.loop_of(garden)],
        partial(surroundings.climate_of, garden),
        heat.setpoint_c,
        heat.heater_w or ENOUGH_W,
        members,
        seed,
        partial(surroundings.error_k, garden),
    )
    return found


def hours_day(garden: Garden) -> float:
    """Hours a day that the garden's heater runs, mean of a usual year; 0 where nothing tells it when to."""
    if garden.heat.setpoint_c is None or garden.heat.heater_w <= 0.0:
        return 0.0
    year_kwh = float(of_garden(garden).year_kwh.middle)
    return 1000.0 * year_kwh / garden.heat.heater_w / DAYS_PER_YEAR
