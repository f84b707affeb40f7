"""Water, air and light of a garden by month: arrays of shape (members, 12), January first.

They follow from the monthly climate and drawn coefficients; `COEFFICIENTS` names those.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.climate import course, loop, months, sun, tank
from aquacalc.climate.loop import Climate, Loop
from aquacalc.constants import DAYS_PER_YEAR, MONTHS_PER_YEAR
from aquacalc.garden import litres
from aquacalc.uncertainty import Floats, coefficient

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

COEFFICIENTS = (
    "water_temperature_model_k",
    *loop.COEFFICIENTS,
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
LEAST_SURFACE_M2 = 0.1
"""A loop without open water is reckoned with this much."""
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


def loop_of(garden: Garden) -> Loop:
    """The garden's loop as it stands: its fish tanks as one, and its beds."""
    top = max(sum(one.surface_m2 for one in garden.tanks), LEAST_SURFACE_M2)
    return Loop(
        water_l=litres.litres_of(garden).whole,
        top_m2=top,
        walls_m2=sum(course.cylinder_m2(one.volume_l, one.depth_m)[1] for one in garden.tanks),
        insulation_m=garden.heat.insulation_mm / 1000.0,
        conductivity_w_m_k=loop.FOAM_W_M_K,
        lid=garden.heat.cover or all(one.lid for one in garden.tanks),
        lid_m=0.0,
        beds_m2=sum(bed.area_m2 for bed in garden.beds),
        night_rest=garden.heat.night_bypass,
        aerated=garden.air is not None,
        gain_w=sum(pump.power_w * pump.count * pump.share_on for pump in garden.pumps),
    )


def climate_of(garden: Garden, draw: Mapping[str, Floats]) -> Climate:
    """The usual year where the garden's tank stands."""
    site = garden.site
    humidity = site.climate.humidity_pct
    return Climate(
        high_c=np.array(site.climate.air_max_c),
        low_c=np.array(site.climate.air_min_c),
        humidity_pct=None if humidity is None else np.array(humidity, dtype=np.float64),
        wind_m_s=np.array(site.climate.wind_m_s or (CALM_WIND_M_S,) * MONTHS_PER_YEAR, dtype=np.float64),
        radiation_mj_m2_d=radiation_mj_m2_d(garden),
        latitude_deg=site.latitude_deg,
        cover=site.cover,
        warmer_k=draw["greenhouse_air_offset_k"] * (site.cover == "greenhouse"),
    )


def time_constant_h(garden: Garden) -> float:
    """Hours in which the circulating water follows the air: heat in it against heat that it loses."""
    typical = {name: np.array([coefficient(name).typical]) for name in COEFFICIENTS}
    return float(loop.time_constant_h(loop_of(garden), climate_of(garden, typical), typical)[0])


def swing_c(garden: Garden) -> Floats:
    """Half of the water's daily range by month, (12,): that of the air, damped by the tank."""
    climate = garden.site.climate
    range_k = np.maximum(np.array(climate.air_max_c) - np.array(climate.air_min_c), 0.0)
    swing: Floats = tank.damping(time_constant_h(garden)) * range_k / 2.0
    return swing


def water_c(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Water of the fish tanks: by the heat balance of the loop as built, held as far as its heater goes.

    A warm member is warm all year: the model's error is one value a member. Thermometer readings move it and
    narrow it.
    """
    free = loop.unheated_c(loop_of(garden), climate_of(garden, draw), draw) + error_k(garden, draw)
    held = held_c(garden, draw)
    return free if held is None else np.maximum(free, held)


def held_c(garden: Garden, draw: Mapping[str, Floats]) -> Floats | None:
    """What the heater holds by month, (members, 12): its set point, or as far as its power goes.

    None without a heater; where its power is not known it is taken as enough.
    """
    heat = garden.heat
    if heat.setpoint_c is None:
        return None
    shape = (draw["water_temperature_model_k"].size, MONTHS_PER_YEAR)
    if heat.heater_w <= 0.0:
        return np.full(shape, heat.setpoint_c)
    reach = loop.unheated_c(loop_of(garden), climate_of(garden, draw), draw, heat.heater_w)
    return np.minimum(reach + error_k(garden, draw), heat.setpoint_c)


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


def error_k(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """The model's error of each member once the thermometer has been read, (members, months or 1).

    A normal law for the error and one for a day's weather: readings draw the error towards what they say and
    narrow it, the more of them the more. Readings of one week count once, for their weather is the same.
    """
    plain_k: Floats = draw["water_temperature_model_k"][:, None]
    read = readings_c(garden)
    if not read:
        return plain_k
    usual_c = loop.unheated_c(loop_of(garden), climate_of(garden, draw), draw)
    middle = np.median(usual_c, axis=0, keepdims=True)
    daily = months.monthly_to_daily(middle)[0]
    misses = [value - daily[months.day_of_year(day.month, day.day)] for day, value in read]
    weeks = len({day.isocalendar()[:2] for day, _ in read})
    spread = coefficient("water_temperature_model_k").variance
    if garden.site.climate.humidity_pct is None:
        spread += coefficient(f"tank_offset_{garden.site.cover}_k").variance
    days = INDOORS_DAYS_K if garden.site.cover == "indoors" else coefficient("air_anomaly_sd_k").typical
    gain = spread / (spread + days**2 / weeks)
    own = usual_c - middle + plain_k
    found: Floats = own * np.sqrt(1.0 - gain) + gain * np.mean(misses) - (usual_c - middle)
    return found
