"""The water of a tank through hours or days of weather, with a heater and without; options side by side.

The balance is that of `tank.HeatBalance`; here stands only its way through time. Arrays run (steps, ...).
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from aquacalc.climate import tank
from aquacalc.climate.tank import HeatBalance
from aquacalc.constants import HOURS_PER_DAY, SECONDS_PER_HOUR, Numbers
from aquacalc.possible import possible

Floats = NDArray[np.float64]

WARMEST_AIR_HOUR = 15
"""Clock hour at which the air is warmest. Common practice, no source."""
NOON = 12.0


@dataclass(frozen=True)
class Body:
    """Water and what it loses heat through; numbers, or arrays of options.

    top_m2, walls_m2: water surface, and walls and floor; wall_m2_k_w: resistance of what wraps them, and
    lid_m2_k_w of the lid, thickness over conductivity. wetness: as in `tank.heat_balance`.
    beds_w_k: heat through beds while they cycle, a degree. gain_w: pumps that stand in the water.
    """

    water_l: float
    stone_kg: float
    top_m2: float
    walls_m2: float
    wall_m2_k_w: Numbers
    lid_m2_k_w: Numbers
    wetness: Numbers
    beds_w_k: Numbers
    gain_w: Numbers = 0.0

    @property
    def capacity_j_k(self) -> float:
        """Heat that warms it by a degree."""
        return float(tank.heat_capacity_j_k(self.water_l, self.stone_kg))

    def walls_w_k(self) -> Numbers:
        """Heat through walls and floor, a degree. Exact, by resistances in a row; the films from memory."""
        return self.walls_m2 / (
            1.0 / tank.INNER_FILM_W_M2_K + self.wall_m2_k_w + 1.0 / tank.OUTER_FILM_W_M2_K
        )


@dataclass(frozen=True, eq=False)
class Air:
    """Weather by step, (steps, 1) or numbers: what reaches the tank of it. radiation: on the water, W/m2."""

    air_c: Numbers
    humidity_pct: Numbers
    wind_m_s: Numbers
    radiation_w_m2: Numbers
    sky_share: Numbers


def balance_of(body: Body, air: Air, beds_on: Numbers = 1.0) -> HeatBalance:
    """The balance of a body in its weather; beds_on: share of the time in which the beds cycle.

    Own reckoning, by heat balance.
    """
    return tank.heat_balance(
        air.air_c,
        air.humidity_pct,
        air.wind_m_s,
        air.radiation_w_m2,
        sky_share=air.sky_share,
        walls_w_m2_k=(body.walls_w_k() + body.beds_w_k * beds_on) / body.top_m2,
        wetness=body.wetness,
        gain_w_m2=body.gain_w / body.top_m2,
        lid_m2_k_w=body.lid_m2_k_w,
    )


@dataclass(frozen=True, eq=False)
class Course:
    """water_c: at the end of each step; heater_w: mean of each step."""

    water_c: Floats
    heater_w: Floats


def course(
    balance: HeatBalance,
    body: Body,
    start_c: Numbers,
    step_h: float = 1.0,
    setpoint_c: Numbers = -math.inf,
    heater_w: Numbers = 0.0,
) -> Course:
    """Water through steps of a balance whose arrays run (steps, ...).

    heater_w: the most that the heater gives; it keeps to its set point as far as it can. Each step runs along
    the exponential of its own tangent: second order, never unstable.
    Own reckoning, by heat balance.
    """
    shape = np.broadcast_shapes(
        *(
            np.shape(one)
            for one in (balance.gained_w_m2, balance.dry_w_m2_k, balance.wet_w_m2_kpa, balance.air_c)
        )
    )

    def by_step(values: Numbers) -> Floats:
        return np.broadcast_to(np.asarray(values, dtype=np.float64), shape)

    gained = by_step(balance.gained_w_m2)
    rows = zip(
        gained,
        by_step(balance.dry_w_m2_k),
        by_step(balance.wet_w_m2_kpa),
        by_step(balance.air_c),
        by_step(balance.vapour_kpa),
        strict=True,
    )
    now: Floats = np.broadcast_to(np.asarray(start_c, dtype=np.float64), shape[1:])
    water, heat = np.empty(shape), np.zeros(shape)
    span = step_h * SECONDS_PER_HOUR * body.top_m2 / body.capacity_j_k
    heated = bool(np.any(np.asarray(heater_w) > 0.0))
    for step, (given, dry, wet, air_c, vapour) in enumerate(rows):
        here = HeatBalance(given, dry, wet, air_c, vapour)
        loss = here.loss_w_m2_k(now)
        reach = -np.expm1(-loss * span) / loss
        unheated = now + here.net_w_m2(now) * reach
        if heated:
            wanted = np.clip((setpoint_c - unheated) / reach * body.top_m2, 0.0, heater_w)
            heat[step] = wanted
            unheated = unheated + wanted / body.top_m2 * reach
        now = unheated
        water[step] = now
    return Course(water, heat)


def hourly_air_c(high_c: Numbers, low_c: Numbers, clock: Floats) -> Floats:
    """Air between the extremes of a day, by clock hour: a sine, warmest at three.

    Common practice, no source.
    """
    found: Floats = np.asarray((high_c + low_c) / 2.0 + (high_c - low_c) / 2.0 * day_wave(clock))
    return found


def day_wave(clock: Floats) -> Floats:
    """The day of the air between its coldest (-1) and its warmest (1), by clock hour.

    Common practice, no source.
    """
    wave: Floats = np.cos(2.0 * math.pi * (clock - WARMEST_AIR_HOUR) / HOURS_PER_DAY)
    return wave


def hourly_sun(day_mean: Numbers, daylight_h: Numbers, clock: Floats) -> Floats:
    """A day's mean radiation spread over its daylight as half a sine, by clock hour, in its unit.

    Common practice, no source; over a whole day of hours the mean comes back but for the rounding of hours.
    """
    since = (clock - (NOON - daylight_h / 2.0)) / np.maximum(daylight_h, 1e-9)
    shape = np.where((since > 0.0) & (since < 1.0), np.sin(math.pi * np.clip(since, 0.0, 1.0)), 0.0)
    found: Floats = day_mean * HOURS_PER_DAY / np.maximum(daylight_h, 1e-9) * (math.pi / 2.0) * shape
    return found


@possible
def cylinder_m2(water_l: float, depth_m: float) -> tuple[float, float]:
    """Top, and wall with floor, of a round tank of that water and depth, m2. Exact, by geometry.

    >>> [round(one, 2) for one in cylinder_m2(1000.0, 0.8)]
    [1.25, 4.42]
    """
    top = water_l / 1000.0 / depth_m
    return top, top + 2.0 * math.sqrt(math.pi * top) * depth_m
