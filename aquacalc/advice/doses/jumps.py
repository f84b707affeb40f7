"""A day's base given at once, in parts, or by drip: how high pH and un-ionised ammonia jump before carbon
dioxide from fish and air has answered; and what aiming at a higher pH costs.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import tables
from aquacalc.advice.doses.answer import Plan
from aquacalc.advice.doses.request import place_of
from aquacalc.constants import HOURS_PER_DAY, MG_CACO3_PER_MEQ, Numbers
from aquacalc.garden import litres
from aquacalc.garden.model import BaseHow, Garden, Targets
from aquacalc.judge import lines, ration
from aquacalc.season import basing
from aquacalc.season.result import SeasonRun
from aquacalc.tables import Row
from aquacalc.uncertainty import Band, band
from aquacalc.water import ammonia, carbonate, dosing

EACH_TAN_MG_L = 1.0
"""Total ammonia, as N, for which a price is told where none was read."""
HALF = 0.5
"""Share of the tries from which on a sheet counts on a job."""
AT_ONCE: Mapping[BaseHow, float] = {
    "once": 1.0,
    "parts": 1.0 / len(basing.PART_HOURS),
    "drip": 1.0 / HOURS_PER_DAY,
}
"""Share of a day's base that meets the water at once; of a drip what an hour brings."""


@dataclass(frozen=True)
class Jump:
    """Right after the first portion: pH and un-ionised ammonia, mg/L as N."""

    ph: Numbers
    unionised_mg_l: Numbers


def jump(
    before: carbonate.Water,
    tan_mg_l: Numbers,
    day_mg_l: Numbers,
    carbon_mmol_mg: Numbers,
    how: BaseHow,
) -> Jump:
    """What the first portion of a day's base makes of a water in which nothing is exchanged with the air yet.

    day_mg_l: alkalinity of the day, mg/L CaCO3; carbon_mmol_mg: inorganic carbon that comes with each mg of
    it, mmol. Equilibrium.

    >>> before = carbonate.water(6.8, 18.0, 25.0, 0.009)
    >>> [round(float(jump(before, 1.0, 10.0, 0.0, how).ph), 1) for how in ("once", "parts", "drip")]
    [9.4, 7.0, 6.8]
    """
    rise = AT_ONCE[how] * np.asarray(day_mg_l)
    ph = before.plus(rise, rise * carbon_mmol_mg).ph
    return Jump(ph, tan_mg_l * np.asarray(ammonia.unionised_fraction(ph, before.temperature_c)))


def jumps(
    before: carbonate.Water, tan_mg_l: float, day_mg_l: float, carbon_mmol_mg: float
) -> dict[BaseHow, Jump]:
    """The three ways of giving a day's base to a water; arguments as for `jump`. Equilibrium."""
    return {how: jump(before, tan_mg_l, day_mg_l, carbon_mmol_mg, how) for how in AT_ONCE}


def of_season(run: SeasonRun, garden: Garden) -> dict[BaseHow, Jump]:
    """The three ways of giving what the season gives, each on its worst day with fish, in the middle of the
    tries that give any. Nothing where fewer than half of them do. Equilibrium."""
    shelf = basing.bases(garden)
    # A run keeps single precision, in which no pH is found.
    names = ("base_eq", "base_first_eq", "fish_kg", "ph", "alkalinity_mg_l", "water_c", "tan_mg_l")
    day = {name: run.daily[name].astype(np.float64) for name in names}
    given = (day["base_eq"] > 0.0) & (day["fish_kg"] > 0.0)
    if not shelf or float(np.mean(given.any(axis=1))) < HALF:
        return {}
    first = day["base_first_eq"]
    carbon = first * shelf[0].carbon_mol_eq + (day["base_eq"] - first) * shelf[-1].carbon_mol_eq
    mg = day["base_eq"] / litres.litres_of(garden).whole * carbonate.MG_L_CACO3_PER_EQ_L
    per_mg = carbon[given] / day["base_eq"][given] * 1000.0 / carbonate.MG_L_CACO3_PER_EQ_L
    before = carbonate.water(day["ph"][given], day["alkalinity_mg_l"][given], day["water_c"][given])
    found: dict[BaseHow, Jump] = {}
    for how in AT_ONCE:
        after = jump(before, day["tan_mg_l"][given], mg[given], per_mg, how)
        found[how] = Jump(_worst(after.ph, given), _worst(after.unionised_mg_l, given))
    return found


def _worst(values: Numbers, given: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> float:
    whole = np.zeros(given.shape)
    whole[given] = values
    highest: Band = band(whole.max(axis=1)[given.any(axis=1)])
    return float(highest.middle)


@dataclass(frozen=True)
class Price:
    """What a target pH asks for: un-ionised ammonia, mg/L as N, at the ammonia that is there; the share of
    the ration that a look at it leaves; alkalinity that holds it, mg/L CaCO3, and g of the base for that."""

    ph: float
    tan_mg_l: float
    unionised_mg_l: float
    ration: float
    alkalinity_mg_l: float
    grams: float


def dearer(made: Plan) -> tuple[Price, Price] | None:
    """The usual target and the higher one that a plan is for; None where it is not for a higher pH.

    Where no ammonia was read, each 1 mg/L of it.
    """
    asked, usual = made.request, Targets().base_to_ph
    if asked.goal != "ph" or asked.wished <= usual + lines.NEAR_TARGET_PH:
        return None
    tan = EACH_TAN_MG_L if math.isnan(asked.tan_mg_l) else asked.tan_mg_l
    fish = (tables.load("species").row(asked.species),)
    dioxide = place_of(asked).usual_carbon_dioxide_mg_l
    each = float(dosing.grams_for_alkalinity(made.chemical, 1.0, asked.volume_l, asked.strength))
    low, high = (price(ph, tan, asked.temperature_c, dioxide, fish, each) for ph in (usual, asked.wished))
    return low, high


def of_plan(made: Plan) -> dict[BaseHow, Jump]:
    """The three ways of giving the first day's base of a plan; nothing where it gives none, or only what
    dissolves slowly."""
    if made.first is None or made.refusal is not None or "slow" in made.cautions:
        return {}
    day = min(made.rise_mg_l, made.first.rise_mg_l * made.a_day)
    tan = 0.0 if math.isnan(made.request.tan_mg_l) else made.request.tan_mg_l
    carbon = made.chemical.carbon_mol_eq / MG_CACO3_PER_MEQ
    return jumps(place_of(made.request).water, tan, day, carbon)


def price(
    target_ph: float,
    tan_mg_l: float,
    temperature_c: float,
    dioxide_mg_l: float,
    fish: Sequence[Row],
    grams_mg_l: float = 0.0,
) -> Price:
    """The price of a target pH in a water of some total ammonia and free carbon dioxide, mg/L.

    grams_mg_l: g of the base for each mg/L of alkalinity in the whole water.

    Equilibrium; the ration by the ladder of the judge.
    """
    unionised = float(tan_mg_l * ammonia.unionised_fraction(target_ph, temperature_c))
    line = lines.begins_at("unionised_ammonia", "act today", fish)
    place = int(ration.one_look(np.float64(unionised / line)))
    held = carbonate.alkalinity_at_carbon_dioxide_mg_l(target_ph, dioxide_mg_l, temperature_c)
    alkalinity = float(held)
    return Price(target_ph, tan_mg_l, unionised, ration.LEVELS[place], alkalinity, grams_mg_l * alkalinity)
