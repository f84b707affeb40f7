"""Weather of a season by day: a usual year, moved by each member's own errors and anomalies.

Arrays have the shape (days, members), the first day of the season first.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from aquacalc import crops
from aquacalc.climate import anomaly, evaporation, months, sun, tank
from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR
from aquacalc.garden import surroundings
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    *surroundings.COEFFICIENTS,
    "air_anomaly_sd_k",
    "greenhouse_evapotranspiration",
    "indoor_evapotranspiration_l_m2_d",
    "mean_kc_staggered",
    "evaporation_activity_covered",
    "evaporation_activity_quiet",
    "evaporation_activity_aerated",
    "cover_evaporation_cut",
)
USUAL_ROOM_HUMIDITY_PCT = 50.0
"""Humidity of a room where it is not known (practice)."""
LEAST_CLEAR_SKY_MJ_M2_D = 0.1
"""In the polar night there is no clear sky to compare with; nothing is divided by zero."""
DAYS_OF_SPIN = 30
"""Days before the first one in which the water takes on the weather's anomaly."""


@dataclass(frozen=True, eq=False)
class Weather:
    """One season's surroundings, (days, members).

    air_c: mean of the growing space; range_k: from lowest to highest air of a day; water_c: daily mean of the
    tank; swing_c: half of the water's daily range; light_mol_m2_d; tank_l_d: evaporation of open water;
    et0_mm_d: of crops, where the beds are.
    """

    air_c: Floats
    range_k: Floats
    water_c: Floats
    swing_c: Floats
    light_mol_m2_d: Floats
    tank_l_d: Floats
    et0_mm_d: Floats

    def later(self, days: int) -> Weather:
        """The same without its first days."""
        return Weather(**{name: values[days:] for name, values in vars(self).items()})


Days = np.ndarray[tuple[int], np.dtype[np.int64]]


def day_of_year(first: date, days: int) -> Days:
    """Place in the year (0 to 364) of each day; the last of a leap year counts as the day before it."""
    return np.array(
        [min((first + timedelta(days=n)).timetuple().tm_yday, DAYS_PER_YEAR) - 1 for n in range(days)],
        dtype=np.int64,
    )


@dataclass(frozen=True, eq=False)
class Outdoors:
    """The usual weather outdoors, (days, 1); humidity is None where it is not known."""

    high_c: Floats
    low_c: Floats
    wind_m_s: Floats
    humidity_pct: Floats | None
    radiation_mj_m2_d: Floats
    above_mj_m2_d: Floats


def outdoors(garden: Garden, at: Days) -> Outdoors:
    """The usual weather of the garden's place on days of the year."""
    climate = garden.site.climate

    def spread(monthly: ArrayLike) -> Floats:
        return _daily(np.asarray(monthly, dtype=np.float64)[None, :], at)

    wind = climate.wind_m_s or (surroundings.CALM_WIND_M_S,) * MONTHS_PER_YEAR
    humidity = climate.humidity_pct
    return Outdoors(
        high_c=spread(climate.air_max_c),
        low_c=spread(climate.air_min_c),
        wind_m_s=np.maximum(spread(wind), 0.0),
        humidity_pct=None if humidity is None else np.clip(spread(humidity), 1.0, 100.0),
        radiation_mj_m2_d=np.maximum(spread(surroundings.radiation_mj_m2_d(garden)), 0.0),
        above_mj_m2_d=sun.extraterrestrial_mj_m2_d(garden.site.latitude_deg, at)[:, None],
    )


def weather_of(
    garden: Garden, draw: Mapping[str, Floats], first: date, days: int, seed: int, anomalies: bool
) -> Weather:
    """The weather of every member; without `anomalies` a usual year."""
    members = draw["water_temperature_model_k"].size
    at = day_of_year(first, days)
    air = _daily(surroundings.growing_air_c(garden, draw), at)
    water = _daily(surroundings.water_c(garden, draw), at)
    usual = outdoors(garden, at)
    constant_h = surroundings.time_constant_h(garden)
    if anomalies and garden.site.cover != "indoors":
        stream = np.random.default_rng([seed, zlib.crc32(b"air anomaly")])
        whole = anomaly.daily_k(stream, DAYS_OF_SPIN + days, members, draw["air_anomaly_sd_k"])
        air = air + whole[DAYS_OF_SPIN:]
        water = water + anomaly.followed_k(whole, constant_h)[DAYS_OF_SPIN:]
    held = surroundings.held_c(garden, draw)
    if held is not None:
        water = np.maximum(water, _daily(held, at))
    water = np.maximum(water, 0.0)
    range_k = np.maximum(usual.high_c - usual.low_c, 0.0)
    swing = tank.damping(constant_h) * range_k / 2.0
    light = np.maximum(_daily(surroundings.light_mol_m2_d(garden, draw), at), 0.0)
    return Weather(
        air_c=air,
        range_k=np.broadcast_to(range_k, water.shape),
        water_c=water,
        swing_c=np.broadcast_to(swing, water.shape),
        light_mol_m2_d=np.broadcast_to(light, water.shape),
        tank_l_d=_tank_l_d(garden, draw, usual, water, air),
        et0_mm_d=np.broadcast_to(_et0_mm_d(garden, draw, usual), water.shape),
    )


def _daily(monthly: Floats, at: Days) -> Floats:
    """(members, 12) to (days, members)."""
    return np.ascontiguousarray(months.monthly_to_daily(monthly)[:, at].T)


def _et0_mm_d(garden: Garden, draw: Mapping[str, Floats], usual: Outdoors) -> Floats:
    """What a full canopy drinks where the beds are; Penman-Monteith where the humidity is known."""
    cover = garden.site.cover
    if cover == "indoors":
        lamps = draw["indoor_evapotranspiration_l_m2_d"]
        return np.broadcast_to(lamps, (usual.high_c.shape[0], lamps.size))
    if usual.humidity_pct is None:
        open_air = evaporation.et0_hargreaves(usual.high_c, usual.low_c, usual.above_mj_m2_d)
    else:
        mean_c = (usual.high_c + usual.low_c) / 2.0
        vapour_kpa = usual.humidity_pct / 100.0 * evaporation.saturation_pressure_kpa(mean_c)
        air = evaporation.Day(usual.high_c, usual.low_c, usual.wind_m_s, vapour_kpa)
        clear = sun.clear_sky_mj_m2_d(usual.above_mj_m2_d, garden.site.altitude_m)
        net = evaporation.net_radiation(
            air, usual.radiation_mj_m2_d, np.maximum(clear, LEAST_CLEAR_SKY_MJ_M2_D)
        )
        open_air = evaporation.et0_penman_monteith(air, net, garden.site.altitude_m)
    share = {
        "open": np.ones(1),
        "shade": np.full(1, surroundings.SHADE_LIGHT),
        "greenhouse": draw["greenhouse_evapotranspiration"],
    }[cover]
    found: Floats = np.maximum(open_air, 0.0) * share
    return found


def _tank_l_d(
    garden: Garden, draw: Mapping[str, Floats], usual: Outdoors, water: Floats, air: Floats
) -> Floats:
    """Evaporation of the tanks: by vapour pressures where the humidity is known, else 1.05 times ET0."""
    cover = garden.site.cover
    place = tank.EXPOSURES[cover]
    activity = draw["evaporation_activity_aerated" if garden.air else "evaporation_activity_quiet"]
    at_surface = np.maximum(usual.wind_m_s * place.wind_share, place.least_wind_m_s)
    humidity = USUAL_ROOM_HUMIDITY_PCT if cover == "indoors" else None
    total = np.zeros_like(water)
    for one in garden.tanks:
        known = humidity if usual.humidity_pct is None else usual.humidity_pct
        if known is None:
            et0 = evaporation.et0_hargreaves(usual.high_c, usual.low_c, usual.above_mj_m2_d)
            lost = evaporation.crop_water_l_d(one.surface_m2, crops.OPEN_WATER_KC, et0)
        else:
            lost = evaporation.surface_evaporation_l_d(
                one.surface_m2, water, air, known, at_surface, activity
            )
        covered = one.lid or garden.heat.cover
        total = total + (lost * (1.0 - draw["cover_evaporation_cut"]) if covered else lost)
    return total
