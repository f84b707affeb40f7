"""The warmth of a loop through the year: what it is without a heater, what a heater draws, what saves most.

Arrays run (options, members); weather runs in steps of three hours over a usual year.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.climate import course, months, sun, tank
from aquacalc.climate.course import Air, Body
from aquacalc.climate.tank import EXPOSURES, LID_SUN_SHARE, Cover
from aquacalc.constants import DAYS_PER_YEAR, HOURS_PER_DAY, MONTHS_PER_YEAR
from aquacalc.garden import litres, surroundings
from aquacalc.uncertainty import SEED, Band, Floats, band, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    "bed_heat_loss_w_m2_k",
    "evaporation_activity_quiet",
    "evaporation_activity_aerated",
    "cover_evaporation_cut",
)
TRIES = 40
"""Sampled loops: the spread is that of two numbers, and a year of each is long."""
STEP_H = 3.0
SHELL_M2_K_W = 0.003 / 0.45
"""Three millimetres of polyethylene (from memory)."""
FOAM_W_M_K = 0.036
"""Conductivity of expanded polystyrene (from memory); wet it insulates much worse."""
NIGHT = (20.0, 8.0)
"""Clock hours between which beds rest that are left out at night. Our own choice, no source."""
HEATER_RESERVE = 1.5
"""Heater over the mean draw of the coldest month. Common practice, no source."""
ENOUGH_W = 1e6
CALM_WIND_M_S = surroundings.CALM_WIND_M_S
USUAL_HUMIDITY_PCT = 60.0
"""Where it is not known. Common practice, no source."""
SPIN_DAYS = 30
"""Days of December before the first of January, in which the water forgets how it began."""


@dataclass(frozen=True, eq=False)
class Climate:
    """A usual year where the tank stands, by month, (12,); radiation outdoors, MJ/m2/d."""

    high_c: Floats
    low_c: Floats
    humidity_pct: Floats
    wind_m_s: Floats
    radiation_mj_m2_d: Floats
    latitude_deg: float
    cover: Cover


@dataclass(frozen=True)
class Loop:
    """A loop as it stands, or as it could.

    depth_m: of the tank's water. insulation_m: of walls and floor, conductivity_w_m_k of it. lid: whether the
    water is covered; lid_m: insulation of the lid. beds_m2: plan of beds that cycle. night_rest: whether they
    rest at night. aerated: whether stones stir the surface. gain_w: pumps in the water.
    """

    water_l: float
    top_m2: float
    walls_m2: float
    insulation_m: float
    conductivity_w_m_k: float
    lid: bool
    lid_m: float
    beds_m2: float
    night_rest: bool
    aerated: bool
    gain_w: float = 0.0


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


def ways(
    loops: Sequence[Loop],
    climate: Climate,
    setpoint_c: float | None,
    heater_w: float = ENOUGH_W,
    members: int = TRIES,
    seed: int = SEED,
) -> tuple[Warmth, ...]:
    """A usual year of several ways of building, side by side, from the same tries.

    setpoint_c: None without a heater; heater_w: the most that it gives.
    """
    sampled = draw({name: coefficient(name) for name in COEFFICIENTS}, members, seed)
    first, count = loops[0], len(loops)
    # With a heater each way runs twice side by side: without it, and with it.
    runs = [*loops] if setpoint_c is None else [*loops, *loops]

    def each(values: Sequence[float]) -> Floats:
        return np.array(values, dtype=np.float64)[:, None]

    covered = each([one.lid for one in runs])
    body = Body(
        water_l=first.water_l,
        stone_kg=0.0,
        top_m2=first.top_m2,
        walls_m2=first.walls_m2,
        wall_m2_k_w=each([SHELL_M2_K_W + one.insulation_m / one.conductivity_w_m_k for one in runs]),
        lid_m2_k_w=each([one.lid * one.lid_m / one.conductivity_w_m_k for one in runs]),
        wetness=_wetness(sampled, first.aerated) * (1.0 - covered * sampled["cover_evaporation_cut"]),
        beds_w_k=first.beds_m2 * sampled["bed_heat_loss_w_m2_k"],
        gain_w=first.gain_w,
    )
    air, clock = _year(climate)
    air = replace(
        air,
        radiation_w_m2=air.radiation_w_m2 * np.where(covered, LID_SUN_SHARE, 1.0),
        sky_share=air.sky_share * (1.0 - covered),
    )
    night = ((clock >= NIGHT[0]) | (clock < NIGHT[1]))[:, None, None]
    balance = course.balance_of(body, air, 1.0 - night * each([one.night_rest for one in runs]))
    wish_c = -np.inf if setpoint_c is None else setpoint_c
    heaters = each([heater_w * (n >= count) for n in range(len(runs))])
    start_c = float(np.mean(climate.high_c + climate.low_c)) / 2.0
    made = course.course(balance, body, start_c, STEP_H, wish_c, heaters)
    free = _by_month(made.water_c[_SPIN:, :count])
    drawn = _by_month(made.heater_w[_SPIN:, -count:])
    return tuple(_warmth(free[:, n], drawn[:, n], body, setpoint_c is not None) for n in range(count))


_STEPS = int(HOURS_PER_DAY / STEP_H)
_SPIN = SPIN_DAYS * _STEPS


def _wetness(sampled: Mapping[str, Floats], aerated: bool) -> Floats:
    """Evaporation against a quiet surface, which the pool equation counts as a half."""
    found: Floats = 2.0 * sampled["evaporation_activity_aerated" if aerated else "evaporation_activity_quiet"]
    return found


def _year(climate: Climate) -> tuple[Air, Floats]:
    """The weather of a usual year and the clock, by step, with some days of the year's end before it."""
    days = np.concatenate([np.arange(DAYS_PER_YEAR - SPIN_DAYS, DAYS_PER_YEAR), np.arange(DAYS_PER_YEAR)])

    def daily(monthly: Floats) -> Floats:
        found: Floats = months.monthly_to_daily(np.asarray(monthly, dtype=np.float64)[None, :])[0][days]
        return found[:, None]

    clock: Floats = (np.arange(_STEPS, dtype=np.float64) + 0.5) * STEP_H
    place = EXPOSURES[climate.cover]
    air_c = course.hourly_air_c(daily(climate.high_c), daily(climate.low_c), clock[None, :])
    light = sun.day_length_h(climate.latitude_deg, days)[:, None]
    radiation = np.maximum(daily(climate.radiation_mj_m2_d), 0.0) * sun.W_M2_PER_MJ_M2_D * place.sun_share
    sunshine = course.hourly_sun(radiation, np.maximum(light, 1.0), clock[None, :])
    wind = np.maximum(daily(climate.wind_m_s) * place.wind_share, place.least_wind_m_s)

    def steps(values: Floats) -> Floats:
        whole = np.broadcast_to(values, (days.size, _STEPS)).reshape(-1)
        return whole[:, None, None]

    air = Air(
        air_c=steps(air_c),
        humidity_pct=steps(np.clip(daily(climate.humidity_pct), 1.0, 100.0)),
        wind_m_s=steps(wind),
        radiation_w_m2=steps(sunshine),
        sky_share=place.sky_share,
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


def climate_of(garden: Garden) -> Climate:
    """The usual year where the garden's tank stands."""
    site = garden.site
    warmer = coefficient("greenhouse_air_offset_k").typical * (site.cover == "greenhouse")
    humidity = site.climate.humidity_pct or (USUAL_HUMIDITY_PCT,) * MONTHS_PER_YEAR
    wind = site.climate.wind_m_s or (CALM_WIND_M_S,) * MONTHS_PER_YEAR
    return Climate(
        high_c=np.array(site.climate.air_max_c) + warmer,
        low_c=np.array(site.climate.air_min_c) + warmer,
        humidity_pct=np.array(humidity, dtype=np.float64),
        wind_m_s=np.array(wind, dtype=np.float64),
        radiation_mj_m2_d=surroundings.radiation_mj_m2_d(garden),
        latitude_deg=site.latitude_deg,
        cover=site.cover,
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


def loop_of(garden: Garden) -> Loop:
    """The garden's loop as it stands: its fish tanks as one, its media beds."""
    top = sum(one.surface_m2 for one in garden.tanks)
    walls = sum(course.cylinder_m2(one.volume_l, one.depth_m)[1] for one in garden.tanks)
    insulation = garden.heat.insulation_mm / 1000.0
    lid = garden.heat.cover or all(one.lid for one in garden.tanks)
    return Loop(
        water_l=litres.litres_of(garden).whole,
        top_m2=top,
        walls_m2=walls,
        insulation_m=insulation,
        conductivity_w_m_k=FOAM_W_M_K,
        lid=lid,
        lid_m=0.0,
        beds_m2=sum(bed.area_m2 for bed in garden.beds),
        night_rest=garden.heat.night_bypass,
        aerated=garden.air is not None,
        gain_w=sum(pump.power_w * pump.count * pump.share_on for pump in garden.pumps),
    )


def of_garden(garden: Garden, members: int = TRIES, seed: int = SEED) -> Warmth | None:
    """What the garden's heater draws in a usual year; None where it has none."""
    heat = garden.heat
    if heat.setpoint_c is None or heat.heater_w <= 0.0:
        return None
    (found,) = ways([loop_of(garden)], climate_of(garden), heat.setpoint_c, heat.heater_w, members, seed)
    return found


def hours_day(garden: Garden) -> float:
    """Hours a day that the garden's heater runs, mean of a usual year; 0 where nothing tells it when to."""
    found = of_garden(garden)
    if found is None:
        return 0.0
    return 1000.0 * float(found.year_kwh.middle) / garden.heat.heater_w / DAYS_PER_YEAR
