"""Water, air and light of a garden by month: arrays of shape (members, 12), January first.

They follow from the monthly climate and drawn coefficients; `COEFFICIENTS` names those.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.climate import months, sun, tank
from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR, Numbers
from aquacalc.garden import litres
from aquacalc.uncertainty import Floats, coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import Cover, Garden

COEFFICIENTS = (
    "water_temperature_model_k",
    "tank_offset_open_k",
    "tank_offset_shade_k",
    "tank_offset_greenhouse_k",
    "tank_offset_indoors_k",
    "greenhouse_air_offset_k",
    "greenhouse_light",
    "windowsill_light",
    "light_mol_per_mj",
)
SHADE_LIGHT = 0.5
"""Sunlight that half shade leaves for crops. Common practice, no source."""
HEATER_SWING_K = 1.0
"""A heated tank within this of its set point is held there. Common practice, no source."""
INDOORS_DAYS_K = 1.0
"""How far a day's water indoors lies from its month, standard deviation; out of doors it is taken as that of
the air, since a reading has its hour too. Our own choice, no source."""
CALM_WIND_M_S = 2.0
"""Wind taken where it is not known: FAO 56 advises 2 m/s."""


def air_c(garden: Garden) -> Floats:
    """Monthly mean air of the weather, (12,)."""
    climate = garden.site.climate
    mean: Floats = (np.array(climate.air_max_c) + np.array(climate.air_min_c)) / 2.0
    return mean


def growing_air_c(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Air where the crops stand: warmer than the weather in a greenhouse, else as given."""
    return _where_crops_stand(garden, air_c(garden), draw)


def growing_night_c(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Mean lowest air of a day where the crops stand; a greenhouse warms the night as it warms the mean."""
    return _where_crops_stand(garden, np.array(garden.site.climate.air_min_c), draw)


def _where_crops_stand(garden: Garden, outside_c: Floats, draw: Mapping[str, Floats]) -> Floats:
    warmer = draw["greenhouse_air_offset_k"] * (garden.site.cover == "greenhouse")
    air: Floats = outside_c + warmer[:, None]
    return air


def radiation_mj_m2_d(garden: Garden) -> Floats:
    """Sunlight of the weather, (12,): as given, else from latitude and the daily range of the air."""
    site = garden.site
    if site.climate.radiation_mj_m2_d is not None:
        return np.array(site.climate.radiation_mj_m2_d)
    above = months.monthly_means(sun.extraterrestrial_mj_m2_d(site.latitude_deg, np.arange(DAYS_PER_YEAR)))
    estimated = sun.radiation_from_temperature(
        np.array(site.climate.air_max_c), np.array(site.climate.air_min_c), above
    )
    radiation: Floats = np.minimum(estimated, sun.clear_sky_mj_m2_d(above, site.altitude_m))
    return radiation


def light_mol_m2_d(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Daily light over the beds, sun and lamps."""
    cover = garden.site.cover
    share = {
        "open": np.ones_like(draw["greenhouse_light"]),
        "shade": np.full_like(draw["greenhouse_light"], SHADE_LIGHT),
        "greenhouse": draw["greenhouse_light"],
        "indoors": draw["windowsill_light"],
    }[cover]
    outside = sun.daily_light_mol_m2_d(
        radiation_mj_m2_d(garden)[None, :], draw["light_mol_per_mj"][:, None], share[:, None]
    )
    lamps = sun.lamp_light_mol_m2_d(garden.light.ppfd_umol_m2_s, garden.light.hours)
    return np.asarray(outside + lamps)


def time_constant_h(garden: Garden) -> float:
    """Hours in which the circulating water follows the air: heat in it against heat through its surface."""
    surface = sum(one.surface_m2 for one in garden.tanks) + sum(
        bed.area_m2 for bed in garden.beds if not bed.holds_medium
    )
    per_m2 = tank.surface_coefficient_w_m2_k(20.0, 0.1) + tank.USUAL_WALLS_W_M2_K
    capacity = tank.heat_capacity_j_k(litres.litres_of(garden).whole)
    return float(tank.time_constant_h(capacity, per_m2 * max(surface, 0.1)))


def swing_c(garden: Garden) -> Floats:
    """Half of the water's daily range by month, (12,): that of the air, damped by the tank."""
    climate = garden.site.climate
    range_k = np.maximum(np.array(climate.air_max_c) - np.array(climate.air_min_c), 0.0)
    swing: Floats = tank.damping(time_constant_h(garden)) * range_k / 2.0
    return swing


def water_c(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Water of the fish tanks: by the heat balance where the humidity is known, else by the cover's offset.

    A warm member is warm all year: the model's error is one value a member. Thermometer readings move it and
    narrow it. Never below a heater's set point.
    """
    site = garden.site
    outside = air_c(garden)
    if site.climate.humidity_pct is None:
        around = outside[None, :]
        offset: Numbers = draw[_offset_name(site.cover)][:, None]
    else:
        around = growing_air_c(garden, draw)
        wind = site.climate.wind_m_s or (CALM_WIND_M_S,) * MONTHS_PER_YEAR
        offset = tank.tank_offset_k(
            around,
            site.cover,
            np.array(site.climate.humidity_pct),
            np.array(wind),
            radiation_mj_m2_d(garden),
            lid=all(one.lid for one in garden.tanks) or garden.heat.cover,
        )
    error = _as_read(garden, around + offset, draw["water_temperature_model_k"][:, None])
    return np.asarray(tank.tank_temperature_monthly_c(around, offset, error, garden.heat.setpoint_c))


def readings_c(garden: Garden) -> tuple[tuple[date, float], ...]:
    """Days and readings of the thermometer that tell how the model errs.

    What a heater holds tells nothing of the water without it.
    """
    held = garden.heat.setpoint_c
    return tuple(
        (one.day, one.value)
        for one in garden.measured
        if one.what == "water_temperature" and one.day is not None
        if held is None or one.value > held + HEATER_SWING_K
    )


def _as_read(garden: Garden, usual_c: Floats, error_k: Floats) -> Floats:
    """The model's error of each member once the thermometer has been read, (members, months or 1).

    A normal law for the error and one for a day's weather: readings draw the error towards what they say and
    narrow it, the more of them the more. Readings of one week count once, for their weather is the same.
    """
    read = readings_c(garden)
    if not read:
        return error_k
    middle = np.median(usual_c, axis=0, keepdims=True)
    daily = months.monthly_to_daily(middle)[0]
    misses = [value - daily[months.day_of_year(day.month, day.day)] for day, value in read]
    weeks = len({day.isocalendar()[:2] for day, _ in read})
    spread = coefficient("water_temperature_model_k").variance
    if garden.site.climate.humidity_pct is None:
        spread += coefficient(_offset_name(garden.site.cover)).variance
    days = INDOORS_DAYS_K if garden.site.cover == "indoors" else coefficient("air_anomaly_sd_k").typical
    gain = spread / (spread + days**2 / weeks)
    own = usual_c - middle + error_k
    found: Floats = own * np.sqrt(1.0 - gain) + gain * np.mean(misses) - (usual_c - middle)
    return found


def _offset_name(cover: Cover) -> str:
    return f"tank_offset_{cover}_k"
