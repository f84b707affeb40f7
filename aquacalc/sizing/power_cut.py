"""The power cut: how long the oxygen of the fish tanks lasts, and what bridges the time until help.

Arrays of members go in and out; `alone` answers from eight numbers, without a garden.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from aquacalc import aeration, fish, power
from aquacalc.sizing.result import Outage, Reserve
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw
from aquacalc.water import oxygen

COEFFICIENTS = (
    *power.LEAD_COEFFICIENTS,
    "outage_start_saturation_share",
    "oxygen_use_factor",
    "tank_film_factor",
    "backup_stone_transfer_share",
    "alpha",
    "beta",
    "air_power_w_l_min",
)
STONE_DEPTH_M = 1.0
"""The transfer share of backup stones is that of the whole depth, not of a metre."""


@dataclass(frozen=True)
class Stocked:
    """Fish in still tank water; numbers or arrays that broadcast.

    use_factor and film_factor: fish beside the mean of their kind, and film and sludge beside the fish.
    """

    model: fish.OxygenModel
    weight_g: Floats | float
    kg: Floats | float
    tank_m3: float
    water_c: Floats | float
    saturation_mg_l: Floats | float
    critical_mg_l: float
    use_factor: Floats | float
    film_factor: Floats | float


def just_fed_hours(stocked: Stocked, start_share: Floats | float) -> Floats:
    """Hours until the critical oxygen after all stops: fish just fed, tank water only, still surface.

    start_share: oxygen at the start as a share of saturation.
    """
    use = fish.oxygen_use_mg_kg_h(stocked.model, stocked.weight_g, stocked.water_c, "just_fed")
    return fish.hours_to_critical(
        start_share * stocked.saturation_mg_l,
        stocked.critical_mg_l,
        use * stocked.use_factor,
        stocked.kg / stocked.tank_m3,
        stocked.film_factor,
    )


@dataclass(frozen=True)
class Now:
    """What is known at the moment. oxygen_mg_l: None where nobody measured it. fed_h: hours since the last
    meal, None where that is not known, which counts as just fed. off_h: hours since all stopped.
    """

    oxygen_mg_l: float | None = None
    fed_h: float | None = None
    off_h: float = 0.0


@dataclass(frozen=True, eq=False)
class Clock:
    """Hours from now until a line of oxygen and until the critical one; 0 where it is reached.

    act_h: half of the short end of the last: somebody must have acted by then. use_g_h: what fish, film and
    sludge breathe in an hour.
    """

    act_h: float
    line_h: Band
    critical_h: Band
    use_g_h: Band


JUST_FED_H, DIGESTED_H = 6.0, 24.0
"""Until when fish count as just fed, and from when as resting. Common practice, no source."""


def state_of(fed_h: float | None) -> fish.State:
    """How fish breathe so many hours after a meal; just fed where nobody knows.

    >>> state_of(None), state_of(10.0), state_of(30.0)
    ('just_fed', 'fed', 'resting')
    """
    if fed_h is None or fed_h < JUST_FED_H:
        return "just_fed"
    return "fed" if fed_h < DIGESTED_H else "resting"


def reserve_of(
    hours: Floats, start_mg_l: Floats | float, critical_mg_l: float, saturation_mg_l: float, tank_l: float
) -> Reserve:
    """The reserve whose just-fed time is known."""
    start = np.broadcast_to(np.asarray(start_mg_l, dtype=np.float64), hours.shape)
    with np.errstate(divide="ignore", invalid="ignore"):
        fall = (start - critical_mg_l) / hours
    return Reserve(start, fall, critical_mg_l, saturation_mg_l, tank_l)


def clock(reserve: Reserve, now: Now, line_mg_l: float) -> Clock:
    """The clock from now. What was measured goes before what is reckoned; the fall stays that of these fish.

    line_mg_l: a line above the critical oxygen. With nothing known it is the just-fed time of the outage.
    """
    fall = reserve.fall_mg_l_h * fish.use_against_just_fed(state_of(now.fed_h))

    def left_h(to_mg_l: float) -> Floats:
        with np.errstate(divide="ignore", invalid="ignore"):
            if now.oxygen_mg_l is not None:
                hours = (now.oxygen_mg_l - to_mg_l) / fall
            else:
                hours = (reserve.start_mg_l - to_mg_l) / fall - now.off_h
        result: Floats = np.maximum(hours, 0.0)
        return result

    critical = left_h(reserve.critical_mg_l)
    return Clock(
        act_h=whole_minutes(float(band(fish.response_time_h(critical)).low)),
        line_h=band(left_h(line_mg_l)),
        critical_h=band(critical),
        use_g_h=band(fall * reserve.tank_l / 1000.0),
    )


def whole_minutes(hours: float) -> float:
    """A time below an hour cut to whole minutes, never rounded up.

    >>> round(60 * whole_minutes(9.9 / 60))
    9
    """
    return math.floor(60.0 * hours + 1e-9) / 60.0 if hours < 1.0 else hours


def unaided_kg(kg: Floats | float, just_fed_h: Floats, hours_until_help: float) -> Floats:
    """Fish whose response time reaches until someone can be there, kg."""
    # Without exchange the time is inversely proportional to the kilograms.
    result: Floats = kg * fish.response_time_h(just_fed_h) / hours_until_help
    return result


def air_l_min(stocked: Stocked, draw: Mapping[str, Floats]) -> Floats:
    """Air at the stones that holds the fish at their critical oxygen while all else is stopped, L/min."""
    use = fish.oxygen_use_mg_kg_h(stocked.model, stocked.weight_g, stocked.water_c, "fed")
    needed_g_h = use * stocked.use_factor * stocked.kg * stocked.film_factor / 1000.0
    result = aeration.air_for_oxygen_l_min(
        needed_g_h,
        STONE_DEPTH_M,
        draw["backup_stone_transfer_share"],
        stocked.water_c,
        stocked.critical_mg_l,
        stocked.saturation_mg_l,
        draw["alpha"],
        draw["beta"],
    )
    return np.asarray(result)


@dataclass(frozen=True)
class Question:
    """A power cut at one tank: what a person beside it can tell."""

    species: str
    kg: float
    weight_g: float
    tank_l: float
    water_c: float
    altitude_m: float
    hours_until_help: float


def alone(asked: Question, members: int = MEMBERS, seed: int = SEED) -> Outage:
    """The clock of a power cut and what closes the gap, without a garden; `month` is 0.

    air_l_min and battery_wh are zero where the fish last unaided until someone can be there.
    """
    species = fish.species(asked.species)
    sampled = draw({name: coefficient(name) for name in COEFFICIENTS}, members, seed)
    stocked = Stocked(
        model=species.oxygen_model,
        weight_g=asked.weight_g,
        kg=asked.kg,
        tank_m3=asked.tank_l / 1000.0,
        water_c=asked.water_c,
        saturation_mg_l=float(
            oxygen.saturation_mg_l(asked.water_c, 0.0, oxygen.pressure_atm(asked.altitude_m))
        ),
        critical_mg_l=species.oxygen_critical_mg_l,
        use_factor=sampled["oxygen_use_factor"],
        film_factor=sampled["tank_film_factor"],
    )
    hours = just_fed_hours(stocked, sampled["outage_start_saturation_share"])
    unaided = unaided_kg(asked.kg, hours, asked.hours_until_help)
    air = np.where(asked.kg > unaided, air_l_min(stocked, sampled), 0.0)
    battery = power.battery_wh(
        air * sampled["air_power_w_l_min"], asked.hours_until_help, power.lead_with_inverter(sampled)
    )
    return Outage(
        month=0,
        water_c=asked.water_c,
        response_h=whole_minutes(float(band(fish.response_time_h(hours)).low)),
        danger_h=band(hours),
        hours_until_help=asked.hours_until_help,
        fish_kg=asked.kg,
        unaided_kg=band(unaided),
        air_l_min=band(air),
        battery_wh=band(battery),
        backed=False,
        reserve=reserve_of(
            hours,
            sampled["outage_start_saturation_share"] * stocked.saturation_mg_l,
            stocked.critical_mg_l,
            float(stocked.saturation_mg_l),
            asked.tank_l,
        ),
    )
