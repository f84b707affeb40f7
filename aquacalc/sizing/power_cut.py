"""The power cut: how long the oxygen of the fish tanks lasts, and what bridges the time until help.

Arrays of members go in and out. One function, `outage`, serves the balance of a garden, what is typed beside
a garden (`moved`) and what is typed without one (`alone`).
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from aquacalc import aeration, fish, power
from aquacalc.sizing.result import Outage, Reserve, Stocked
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, band, coefficient, draw
from aquacalc.water import oxygen

COEFFICIENTS = (
    *power.LEAD_COEFFICIENTS,
    "outage_start_saturation_share",
    "oxygen_use_factor",
    "tank_film_factor",
    "told_stock_factor",
    "backup_stone_transfer_share",
    "alpha",
    "beta",
    "air_power_w_l_min",
)
STONE_DEPTH_M = 1.0
"""The transfer share of backup stones is that of the whole depth, not of a metre."""


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


def _reserve(stocked: Stocked, hours: Floats, start_share: Floats | float) -> Reserve:
    """The reserve whose just-fed time is known."""
    start = np.broadcast_to(np.asarray(start_share * stocked.saturation_mg_l, dtype=np.float64), hours.shape)
    with np.errstate(divide="ignore", invalid="ignore"):
        fall = (start - stocked.critical_mg_l) / hours
    saturation = float(np.median(stocked.saturation_mg_l))
    return Reserve(start, fall, stocked.critical_mg_l, saturation, 1000.0 * stocked.tank_m3)


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


def outage(
    stocked: Stocked,
    draw: Mapping[str, Floats],
    hours_until_help: float,
    month: int = 0,
    backed: bool = False,
) -> Outage:
    """The clock of a power cut of these fish, and what closes the gap until someone can be there.

    draw: arrays of members by name, of `COEFFICIENTS`. air_l_min and battery_wh are zero where the fish last
    unaided until then. backed: a backup is named.
    """
    start_share = draw["outage_start_saturation_share"]
    hours = just_fed_hours(stocked, start_share)
    kg = np.broadcast_to(np.asarray(stocked.kg, dtype=np.float64), hours.shape)
    unaided = unaided_kg(kg, hours, hours_until_help)
    air = np.where(kg > unaided, air_l_min(stocked, draw), 0.0)
    watts = air * draw["air_power_w_l_min"]
    return Outage(
        month=month,
        water_c=float(np.median(stocked.water_c)),
        response_h=whole_minutes(float(band(fish.response_time_h(hours)).low)),
        danger_h=band(hours),
        hours_until_help=hours_until_help,
        fish_kg=float(np.median(kg)),
        unaided_kg=band(unaided),
        air_l_min=band(air),
        battery_wh=band(power.battery_wh(watts, hours_until_help, power.lead_with_inverter(draw))),
        backed=backed,
        stocked=stocked,
        reserve=_reserve(stocked, hours, start_share),
    )


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

    @property
    def saturation_mg_l(self) -> float:
        """Oxygen of this water where air and water are even."""
        return float(oxygen.saturation_mg_l(self.water_c, 0.0, oxygen.pressure_atm(self.altitude_m)))


def alone(asked: Question, members: int = MEMBERS, seed: int = SEED) -> Outage:
    """The power cut without a garden; `month` is 0. The stock that is told counts as a guess."""
    species = fish.species(asked.species)
    sampled = draw({name: coefficient(name) for name in COEFFICIENTS}, members, seed)
    stocked = Stocked(
        model=species.oxygen_model,
        weight_g=asked.weight_g,
        kg=asked.kg * sampled["told_stock_factor"],
        tank_m3=asked.tank_l / 1000.0,
        water_c=asked.water_c,
        saturation_mg_l=asked.saturation_mg_l,
        critical_mg_l=species.oxygen_critical_mg_l,
        use_factor=sampled["oxygen_use_factor"],
        film_factor=sampled["tank_film_factor"],
    )
    return outage(stocked, sampled, asked.hours_until_help)


def moved(known: Outage, told: Question, asked: Question, members: int, seed: int = SEED) -> Outage:
    """A garden's power cut with some of its numbers typed anew: the middle moves, the spread stays.

    told: the middle of what the garden knows. members, seed: those of its balance.
    """
    was, species = known.stocked, fish.species(asked.species)
    sampled = draw({name: coefficient(name) for name in COEFFICIENTS}, members, seed)
    stocked = replace(
        was,
        model=species.oxygen_model,
        weight_g=was.weight_g * (asked.weight_g / told.weight_g),
        kg=was.kg * (asked.kg / told.kg),
        tank_m3=asked.tank_l / 1000.0,
        water_c=was.water_c + (asked.water_c - told.water_c),
        saturation_mg_l=was.saturation_mg_l * (asked.saturation_mg_l / told.saturation_mg_l),
        critical_mg_l=was.critical_mg_l if asked.species == told.species else species.oxygen_critical_mg_l,
    )
    return outage(stocked, sampled, asked.hours_until_help, known.month, known.backed)
