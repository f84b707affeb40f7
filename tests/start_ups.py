"""Start-ups of the nitrogen reference (section 5) on the season's own hourly step.

A cubic metre, so that grams are mg/L; the pH is logged or follows from alkalinity and carbon dioxide; oxygen
is held where it is by an exchange that nothing can move.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

import numpy as np

from aquacalc import film, nitrogen
from aquacalc.constants import KELVIN_0_C, MG_CACO3_PER_MEQ, MOLAR_MASS_CO2_G_MOL, Numbers
from aquacalc.nitrogen import Kinetics
from aquacalc.season.hour import HOURS, Hour, Rates, Speeds, Water, advance, speeds
from aquacalc.startup import case, members, milestones
from aquacalc.startup.rule import P1
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, carbonate

HELD_M3 = 1e9
EQ_PER_MG_L = 1.0 / MG_CACO3_PER_MEQ
"""Equivalents in a cubic metre for a mg/L of CaCO3."""
DIOXIDE_MG_L = 3.0

Dose = tuple[float, float]
"""A rise of TAN and one of alkalinity, mg/L."""


def rates(kinetics: Kinetics | None = None) -> Rates:
    """No gas and no crops: nothing but the two steps."""
    k = kinetics or Kinetics.typical()
    return Rates(
        kinetics=k,
        half_acid=10.0**-k.ph_half_low,
        half_basic=10.0**-k.ph_half_high,
        denitrified_in_films=0.0,
        denitrified_per_mineralised=0.0,
        oxygen_spared_g_g=0.0,
        root_return=0.5,
        breathed_carbon_mol_g=0.0,
        solids_oxygen_g_g_n=0.0,
        low_oxygen_decay=0.15,
    )


def hour(
    temperature_c: float,
    source_mg_l_d: float = 0.0,
    oxygen_mg_l: float = 6.5,
    litres: float = 1000.0,
    film_m2_l: float = 0.125,
    kinetics: Kinetics | None = None,
    parts: int = 1,
) -> Hour:
    """What drives an hour, or each of its `parts`: the same equations with smaller rates."""
    k = kinetics or Kinetics.typical()
    surface = film.Surface(film_m2_l * litres, 0.8)
    first, second = (film.film_of(step, [surface], temperature_c, k) for step in nitrogen.STEPS)
    return Hour(
        ammonia_warmth=nitrogen.temperature_factor(k.ammonia.theta_growth, temperature_c) / parts,
        nitrite_warmth=nitrogen.temperature_factor(k.nitrite.theta_growth, temperature_c) / parts,
        ammonia_decay_1_h=nitrogen.decay_1_d("ammonia", temperature_c, k) / HOURS / parts,
        nitrite_decay_1_h=nitrogen.decay_1_d("nitrite", temperature_c, k) / HOURS / parts,
        ammonia_most_g_d=first.most_g_d,
        nitrite_most_g_d=second.most_g_d,
        ammonia_transfer_m3_d=first.transfer_m3_d / parts,
        nitrite_transfer_m3_d=second.transfer_m3_d / parts,
        mineralisation_1_h=0.0,
        constants=carbonate.constants_at(temperature_c, 0.003),
        ammonia_ka=10.0 ** -ammonia.pka(temperature_c),
        nitrous_ka=nitrogen.nitrous_acid_ka(temperature_c),
        excreted_g=source_mg_l_d * litres / 1000.0 / HOURS / parts,
        solids_in_g=0.0,
        fish_oxygen_g=0.0,
        uptake_g=0.0,
        oxygen_gain_g=oxygen_mg_l * HELD_M3,
        oxygen_exchange_m3=HELD_M3,
        carbon_exchange_m3=0.0,
        carbon_in_air_mol_m3=0.01,
        evaporated_l=0.0,
        base_eq=0.0,
        carbon_in_mol=0.0,
    )


def begin(
    tan_mg_l: Numbers, alkalinity_mg_l: Numbers, capacity_mg_l_d: Numbers, litres: float = 1000.0
) -> Water:
    """A water without nitrite and nitrate, both capacities alike."""
    grams = litres / 1000.0
    nothing = 0.0 * capacity_mg_l_d
    return Water(
        tan_g=tan_mg_l * grams + nothing,
        nitrite_g=nothing,
        nitrate_g=nothing,
        solids_n_g=nothing,
        alkalinity_eq=alkalinity_mg_l * EQ_PER_MG_L * grams + nothing,
        carbon_mol=5.0 * grams + nothing,
        oxygen_g=6.5 * grams + nothing,
        ammonia_oxidisers_g_d=capacity_mg_l_d * grams,
        nitrite_oxidisers_g_d=capacity_mg_l_d * grams,
        water_l=litres + nothing,
    )


def dosed(water: Water, tan_mg_l: Numbers, alkalinity_mg_l: Numbers) -> Water:
    """The water after a salt of ammonia and a carbonate."""
    grams = water.water_l / 1000.0
    return water._replace(
        tan_g=water.tan_g + tan_mg_l * grams,
        alkalinity_eq=water.alkalinity_eq + alkalinity_mg_l * EQ_PER_MG_L * grams,
    )


def alkalinity_mg_l(water: Water) -> Numbers:
    """Alkalinity, mg/L CaCO3."""
    return water.alkalinity_eq / water.water_l * carbonate.MG_L_CACO3_PER_EQ_L


def ph_from_alkalinity(water: Water, temperature_c: float) -> Numbers:
    """The formula of the reference, with its own first constant, at 3 mg/L of carbon dioxide."""
    kelvin = temperature_c + KELVIN_0_C
    pk1 = 3404.71 / kelvin + 0.032786 * kelvin - 14.8435
    milliequivalents = alkalinity_mg_l(water) / MG_CACO3_PER_MEQ
    return pk1 + np.log10(milliequivalents / (DIOXIDE_MG_L / MOLAR_MASS_CO2_G_MOL))


def a_day(
    water: Water,
    before: Speeds | None,
    driven: Hour,
    fixed: Rates,
    ph: Callable[[Water], Numbers],
    parts: int,
) -> tuple[list[Water], Speeds]:
    """The water after each hour of a day, and the last speeds. before: those of the hour ahead of it."""
    found = []
    for number in range(HOURS * parts):
        now = speeds(water, driven, fixed, hydrogen=10.0 ** -ph(water))
        water, _ = advance(water, now, before or now, driven, fixed)
        before = now
        if (number + 1) % parts == 0:
            found.append(water)
    return found, now


# The worked examples


@dataclass(frozen=True)
class Example:
    """One worked example: what it begins with and what is dosed on which day."""

    temperature_c: float
    ph: float | None
    tan_mg_l: float
    alkalinity_mg_l: float
    days: int
    doses: Mapping[int, Dose]
    source_mg_l_d: float = 0.0
    capacity_mg_l_d: float = 0.003


_SALT = dict.fromkeys((12, 14, 16, 30, 31, 32, 33, 34), (2.0, 0.0))
_C = Example(25.0, 7.4, 0.0, 150.0, 60, {}, source_mg_l_d=0.2944)
EXAMPLES = {
    "A": Example(25.0, 7.5, 3.0, 150.0, 40, {**_SALT, 16: (2.0, 60.0), 33: (2.0, 60.0)}),
    "B": Example(25.0, None, 3.0, 40.0, 60, {12: (2.0, 0.0), 14: (2.0, 0.0)}),
    "B rescued": Example(25.0, None, 3.0, 40.0, 60, {12: (2.0, 0.0), 13: (0.0, 80.0), 14: (2.0, 0.0)}),
    "C": _C,
    "C 15": replace(_C, temperature_c=15.0, alkalinity_mg_l=300.0, days=90),
    "C 20": replace(_C, temperature_c=20.0, alkalinity_mg_l=300.0),
    "C 28": replace(_C, temperature_c=28.0, alkalinity_mg_l=300.0),
    "C seeded": replace(_C, capacity_mg_l_d=0.5),
}


@cache
def course(name: str, parts: int = 1) -> tuple[Water, ...]:
    """The water at every hour of an example, just before any dose."""
    example = EXAMPLES[name]

    def ph(water: Water) -> Numbers:
        return ph_from_alkalinity(water, example.temperature_c) if example.ph is None else example.ph

    driven = hour(example.temperature_c, example.source_mg_l_d, parts=parts)
    found = [begin(example.tan_mg_l, example.alkalinity_mg_l, example.capacity_mg_l_d)]
    before = None
    for day in range(example.days):
        water = found[-1]
        if day in example.doses:
            water, before = dosed(water, *example.doses[day]), None
        hours, before = a_day(water, before, driven, rates(), ph, parts)
        found += hours
    return tuple(found)


READ: Mapping[str, Callable[[Water], Numbers]] = {
    "tan": lambda water: water.tan_g,
    "nitrite": lambda water: water.nitrite_g,
    "nitrate": lambda water: water.nitrate_g,
    "alkalinity": alkalinity_mg_l,
    "first": lambda water: water.ammonia_oxidisers_g_d,
    "second": lambda water: water.nitrite_oxidisers_g_d,
    "ph": lambda water: ph_from_alkalinity(water, 25.0),
}


def example(name: str, day: int, what: str, parts: int = 1) -> float:
    """A cell of an example's table."""
    return float(READ[what](course(name, parts)[HOURS * day]))


def peak(name: str, what: str) -> tuple[float, float]:
    """Day and height of the highest value: a parabola through the three hours about it."""
    values = np.array([READ[what](water) for water in course(name)])
    at = int(values.argmax())
    left, top, right = values[at - 1 : at + 2]
    off = 0.5 * (left - right) / (left - 2.0 * top + right)
    return (at + off) / HOURS, top - 0.25 * (left - right) * off


def falls_through(name: str, what: str, value: float, from_day: float = 0.0) -> float:
    """Day on which a quantity falls below a value, between two hours along a straight line."""
    values = np.array([READ[what](water) for water in course(name)])
    first = int(from_day * HOURS)
    at = first + int(np.argmax(values[first:] < value))
    return float((at - (value - values[at]) / (values[at - 1] - values[at])) / HOURS)


def quick_estimate_d(tan_mg_l: float = 3.0) -> float:
    """Day on which TAN crashes, by growth alone, at 25 C with the start of example A."""
    k = Kinetics.typical()
    water = begin(tan_mg_l, 150.0, 0.003)
    now = speeds(water, hour(25.0), rates(), hydrogen=10.0**-7.5)
    used = now.nitritation * water.tan_g
    growth = k.ammonia.growth_1_d * used / 0.003 - nitrogen.decay_1_d("ammonia", 25.0, k)
    return float(np.log(1.0 + tan_mg_l * growth / used) / growth)


# Rule P1: a look once a day


@dataclass(frozen=True)
class Timeline:
    """Days by rule P1, and doses after the first until then; arrays of members, infinite if not reached."""

    tan_low: Numbers
    nitrite_peak: Numbers
    nitrite_low: Numbers
    complete: Numbers
    doses: Numbers


def timeline(
    capacity_mg_l_d: Numbers,
    temperature_c: float,
    ph: float = 7.5,
    first_tan_mg_l: float = 3.0,
    days: int = 110,
    **kinetics: float,
) -> Timeline:
    """A fishless start-up by rule P1. kinetics: as `growth_nitrite_oxidisers_per_d=0.4`, by coefficient."""
    begun = case.typed(
        1000.0, temperature_c, date(2027, 3, 1), film_m2=125.0, ph=ph, alkalinity_mg_l=P1.full_alkalinity_mg_l
    )
    both = np.atleast_1d(np.asarray(capacity_mg_l_d, dtype=np.float64))
    drawn = members.members_of(both, both, kinetics=_kinetics(**kinetics))
    first = [members.Event(0, "ammonium_salt", first_tan_mg_l)]
    course = members.run(begun, drawn, first, days, rule=P1, rule_from=1)
    found = milestones.milestones_of(course)
    later = (np.arange(days + 1)[:, None] > 0) & (np.arange(days + 1)[:, None] < found.complete)
    return Timeline(
        found.ammonia_clear,
        found.nitrite_peak,
        found.nitrite_clear,
        found.complete,
        ((course.tan_dosed > 0.0) & later).sum(axis=0),
    )


def day_of(what: str, capacity_mg_l_d: float, temperature_c: float, **changed: float) -> float:
    """One day of a timeline."""
    return float(getattr(_one(capacity_mg_l_d, temperature_c, **changed), what)[0])


@cache
def _one(capacity_mg_l_d: float, temperature_c: float, **changed: float) -> Timeline:
    return timeline(capacity_mg_l_d, temperature_c, **changed)


def _kinetics(**changed: float) -> Kinetics:
    names = nitrogen.KINETIC_COEFFICIENTS
    assert set(changed) <= set(names)
    return nitrogen.kinetics({name: coefficient(name).typical for name in names} | changed)


def steady(load_g_m2_d: float, temperature_c: float, ph: float, days: int = 150) -> Water:
    """A film under an even load until nothing changes, with all the alkalinity that it wants.

    It begins grown in: ammonia that a bare film leaves there would stop the second step.
    """
    source = load_g_m2_d * 1000.0 * 0.125
    water, before = begin(0.0, 1e6, 40.0), None
    for _ in range(days):
        hours, before = a_day(water, before, hour(temperature_c, source), rates(), lambda _: ph, 1)
        water = hours[-1]
    return water
