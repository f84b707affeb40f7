"""The one model of the water's warmth: a loop in its climate, by month, where nothing heats it.

Months run along the last axis, members before it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from aquacalc.climate import course, sun, tank
from aquacalc.climate.course import Air, Body
from aquacalc.climate.tank import EXPOSURES, LID_SUN_SHARE, Cover
from aquacalc.constants import HOURS_PER_DAY, Numbers

Floats = NDArray[np.float64]

COEFFICIENTS = (
    "bed_heat_loss_w_m2_k",
    "evaporation_activity_quiet",
    "evaporation_activity_aerated",
    "cover_evaporation_cut",
    "tank_offset_open_k",
    "tank_offset_shade_k",
    "tank_offset_greenhouse_k",
    "tank_offset_indoors_k",
)
SHELL_M2_K_W = 0.003 / 0.45
"""Three millimetres of polyethylene (from memory)."""
FOAM_W_M_K = 0.036
"""Conductivity of expanded polystyrene (from memory); wet it insulates much worse."""
NIGHT = (20.0, 8.0)
"""Clock hours between which beds rest that are left out at night. Our own choice, no source."""
USUAL_HUMIDITY_PCT = 60.0
"""Where it is not known. Common practice, no source."""
LOSS_AT_C = 20.0
"""Water at which the loss of a degree is taken; it grows with warmth by evaporation."""


@dataclass(frozen=True, eq=False)
class Climate:
    """A usual year by month, (12,). high_c, low_c, wind and radiation (MJ/m2/d) are those of the weather.

    humidity_pct: None where it is not known. warmer_k: by how much the air at the tank is warmer, a number or
    (members,).
    """

    high_c: Floats
    low_c: Floats
    humidity_pct: Floats | None
    wind_m_s: Floats
    radiation_mj_m2_d: Floats
    latitude_deg: float
    cover: Cover
    warmer_k: Numbers = 0.0

    @property
    def mean_c(self) -> Floats:
        """Mean air of the weather."""
        found: Floats = (self.high_c + self.low_c) / 2.0
        return found

    @property
    def humid_pct(self) -> Floats:
        """Humidity, the usual one where it is not known."""
        return (
            np.full(self.high_c.shape, USUAL_HUMIDITY_PCT) if self.humidity_pct is None else self.humidity_pct
        )


@dataclass(frozen=True)
class Loop:
    """A loop as it stands, or as it could.

    insulation_m: of walls and floor, conductivity_w_m_k of it. lid: whether the water is covered; lid_m:
    insulation of the lid. beds_m2: plan of beds that cycle. night_rest: whether they rest at night.
    aerated: whether stones stir the surface. gain_w: pumps in the water.
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


def bare(loop: Loop) -> Loop:
    """The same tank without lid, insulation, bubbles and pumps, its beds never at rest."""
    return replace(loop, insulation_m=0.0, lid=False, lid_m=0.0, night_rest=False, aerated=False, gain_w=0.0)


def body_of(loop: Loop, sampled: Mapping[str, Floats], axes: int = 1) -> Body:
    """What exchanges heat in a loop, with `axes` axes after that of the members.

    Own reckoning; the pool equation counts evaporation of a quiet surface as a half.
    """

    def members(name: str) -> Floats:
        return sampled[name].reshape(-1, *[1] * axes)

    activity = members("evaporation_activity_aerated" if loop.aerated else "evaporation_activity_quiet")
    return Body(
        water_l=loop.water_l,
        stone_kg=0.0,
        top_m2=loop.top_m2,
        walls_m2=loop.walls_m2,
        wall_m2_k_w=SHELL_M2_K_W + loop.insulation_m / loop.conductivity_w_m_k,
        lid_m2_k_w=loop.lid * loop.lid_m / loop.conductivity_w_m_k,
        wetness=2.0 * activity * (1.0 - loop.lid * members("cover_evaporation_cut")),
        beds_w_k=loop.beds_m2 * members("bed_heat_loss_w_m2_k"),
        gain_w=loop.gain_w,
    )


def at_night(clock: Floats) -> Floats:
    """1 in the hours in which beds may rest, by clock hour. By definition."""
    return ((clock >= NIGHT[0]) | (clock < NIGHT[1])).astype(np.float64)


def unheated_c(loop: Loop, climate: Climate, sampled: Mapping[str, Floats], heater_w: float = 0.0) -> Floats:
    """Water by month where nothing holds it, (members, 12): by the heat balance.

    Where the humidity is not known, by the usual offset of a bare tank under its cover, moved by what lid,
    insulation, bubbles and pumps change in air of usual humidity. heater_w: a heater that runs all day.
    Own reckoning, by heat balance.
    """
    built = _settled_c(loop, climate, sampled, heater_w)
    if climate.humidity_pct is not None:
        return built
    offset = sampled[f"tank_offset_{climate.cover}_k"][:, None]
    found: Floats = climate.mean_c + offset + built - _settled_c(bare(loop), climate, sampled)
    return found


def _settled_c(loop: Loop, climate: Climate, sampled: Mapping[str, Floats], heater_w: float = 0.0) -> Floats:
    """Where the balance of each month's mean weather comes to rest."""
    body, place = body_of(loop, sampled), EXPOSURES[climate.cover]
    clock = np.arange(HOURS_PER_DAY) + 0.5
    awake = 1.0 - loop.night_rest * at_night(clock)
    # Beds that work by day alone meet the warm half of the day's air.
    day_k = climate.high_c - climate.low_c
    warm_k = np.sum(awake * course.day_wave(clock)) / np.sum(awake) * day_k / 2.0
    beds_w_k = body.beds_w_k * np.mean(awake)
    air = Air(
        air_c=climate.mean_c + np.reshape(climate.warmer_k, (-1, 1)),
        humidity_pct=climate.humid_pct,
        wind_m_s=np.maximum(climate.wind_m_s * place.wind_share, place.least_wind_m_s),
        radiation_w_m2=on_water(climate.radiation_mj_m2_d, climate.cover, loop.lid),
        sky_share=place.sky_share * (1.0 - loop.lid),
    )
    given_w = body.gain_w + heater_w + beds_w_k * warm_k
    settled: Floats = np.asarray(
        course.balance_of(replace(body, gain_w=given_w), air, float(np.mean(awake))).settled_c()
    )
    return settled


def on_water(radiation_mj_m2_d: Floats, cover: Cover, lid: bool) -> Floats:
    """Sunlight on the water, W/m2, daily mean. What gets through is common practice, no source."""
    share = EXPOSURES[cover].sun_share * (LID_SUN_SHARE if lid else 1.0)
    found: Floats = np.maximum(radiation_mj_m2_d, 0.0) * sun.W_M2_PER_MJ_M2_D * share
    return found


def time_constant_h(loop: Loop, climate: Climate, sampled: Mapping[str, Floats]) -> Floats:
    """Hours in which the water follows the air, (members,), in the year's mean wind. By definition."""
    body, place = body_of(loop, sampled, axes=0), EXPOSURES[climate.cover]
    wind = max(float(np.mean(climate.wind_m_s)) * place.wind_share, place.least_wind_m_s)
    balance = course.balance_of(body, Air(LOSS_AT_C, USUAL_HUMIDITY_PCT, wind, 0.0, 0.0))
    found: Floats = np.asarray(
        tank.time_constant_h(body.capacity_j_k, body.top_m2 * balance.loss_w_m2_k(LOSS_AT_C))
    )
    return found
