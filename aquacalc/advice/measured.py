"""What the grower measured, beside what would be reckoned in its place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from math import nan
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.advice.new_water import water_use
from aquacalc.climate import months
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden import litres, measured, surroundings
from aquacalc.season import from_log, rules
from aquacalc.season.setting import TAP_C
from aquacalc.sizing import alkalinity, balance, stock
from aquacalc.uncertainty import SEED, Floats, coefficient, draw
from aquacalc.water import carbonate

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden, Measured

KINDS = {
    "flow": "flow",
    "ph": "ph",
    "alkalinity": "alkalinity",
    "hardness": "hardness",
    "oxygen": "concentration",
    "chloride": "concentration",
    "conductivity": "conductivity",
    "water_temperature": "temperature",
    "fish_weight": "fish_weight",
    "feed": "feed",
    "bed_water": "volume",
    "water_use": "volume",
    "loop_volume": "volume",
}
"""Kind of quantity of each measurement as it is printed; water use in litres of a day."""


BEGINS_ONLY = ("hardness", "chloride")
"""Measurements that count as what a season begins with, and for nothing else."""


@dataclass(frozen=True)
class Counted:
    """One measurement beside what is reckoned in its place.

    value, reckoned: in the unit of `kind`; reckoned is NaN where nothing would be known. counts: whether it
    changed anything; where not, `key` says why; note: a text of what the season makes of it, or empty.
    """

    key: str
    subject: str
    value: float
    reckoned: float
    kind: str
    day: date | None
    counts: bool = True
    note: str = ""


def counted(garden: Garden) -> tuple[Counted, ...]:
    """The newest measurement of each thing, in the order of the file, with the middle that is reckoned."""
    newest = {(one.what, one.subject): one for one in sorted(garden.measured, key=_age)}
    if not newest:
        return ()
    found = []
    for one in garden.measured:
        if newest[(one.what, one.subject)] is one:
            found.append(_counted(garden, one))
    return tuple(found)


def older(garden: Garden) -> tuple[Counted, ...]:
    """What was measured again later, newest first; it no longer counts. The thermometer's days all do."""
    seen: set[tuple[str, str]] = set()
    found = []
    for one in sorted(garden.measured, key=_age, reverse=True):
        key = (one.what, one.subject)
        if key in seen and one.what != "water_temperature":
            value = one.value * HOURS_PER_DAY if one.what == "water_use" else one.value
            subject = _subject(garden, one)
            found.append(Counted(_key(one.what), subject, value, nan, KINDS[one.what], one.day, counts=False))
        seen.add(key)
    return tuple(found)


def _age(one: Measured) -> date:
    return one.day or date.min


def _counted(garden: Garden, one: Measured) -> Counted:
    subject = _subject(garden, one)
    bare = measured.without(garden, one.what, one.subject)
    reckoned = RECKONED[one.what](bare, one, subject)
    value = one.value * HOURS_PER_DAY if one.what == "water_use" else one.value
    kind, why_not = KINDS[one.what], _why_not(garden, one, reckoned)
    if why_not:
        return Counted(why_not, subject, value, reckoned, kind, one.day, counts=False)
    return Counted(_key(one.what), subject, value, reckoned, kind, one.day, note=_note(garden, one, reckoned))


def _key(what: str) -> str:
    return f"measured-{what.replace('_', '-')}"


def _subject(garden: Garden, one: Measured) -> str:
    """The name of the one thing that it may be of, where none is given."""
    only = {
        "bed_water": garden.beds[0].name if garden.beds else "",
        "fish_weight": garden.fish[0].name if garden.fish else "",
        "water_temperature": garden.tanks[0].name if garden.tanks else "",
    }
    return one.subject or only.get(one.what, "")


def _why_not(garden: Garden, one: Measured, reckoned: float) -> str:
    if one.what == "water_temperature" and (one.day, one.value) not in surroundings.readings_c(garden):
        return "measured-not-heated"
    if one.what == "feed" and not reckoned > 0.0:
        return "measured-not-eating"
    if one.what in BEGINS_ONLY and _too_late(garden, one):
        return f"measured-late-{one.what}"
    return ""


def _too_late(garden: Garden, one: Measured) -> bool:
    """Whether a season has begun before, so that it does not begin with it."""
    return one.day is not None and one.day > garden.season.start


def _note(garden: Garden, one: Measured, reckoned: float) -> str:
    """What the season makes of it, where that is not what the balance does."""
    if one.what == "feed" and one.value > reckoned:
        return "measured-note-more-than-eaten"
    if one.what in from_log.MEASURED and _too_late(garden, one):
        return "measured-note-late"
    return ""


def _sampled(garden: Garden) -> tuple[Mapping[str, Floats], Floats]:
    """Typical values, and the tank's usual year by day, (1, 365)."""
    sampled = draw(balance.triangles(garden), 1, SEED, stock.correlations(garden))
    return sampled, months.monthly_to_daily(surroundings.water_c(garden, sampled))


def _flow(bare: Garden, _: Measured, __: str) -> float:
    return float(balance.flow_l_h(bare, _sampled(bare)[0], 1, SEED)[0][0])


def _water_c(bare: Garden, one: Measured, _: str) -> float:
    assert one.day is not None
    return float(_sampled(bare)[1][0, months.day_of_year(one.day.month, one.day.day)])


def _weight_g(bare: Garden, one: Measured, subject: str) -> float:
    assert one.day is not None
    sampled, water_c = _sampled(bare)
    return float(stock.weight_g(bare, subject, one.day, water_c, sampled)[0])


def _feed_g_day(bare: Garden, one: Measured, _: str) -> float:
    assert one.day is not None
    sampled, water_c = _sampled(bare)
    return float(stock.appetite_g_day(bare, one.day, water_c, sampled)[0])


def _bed_l(bare: Garden, _: Measured, subject: str) -> float:
    return next(litres.full_l(bed) for bed in bare.beds if bed.name == subject)


def _use_l_d(bare: Garden, one: Measured, _: str) -> float:
    whole = water_use.of_garden(bare, 1).whole_l_d.middle
    return float(np.mean(whole) if one.day is None else whole[one.day.month - 1])


def _conductivity_us_cm(bare: Garden, _: Measured, __: str) -> float:
    """The one that goes with the ionic strength that a season takes from the top-up."""
    strength = float(rules.ionic_strength(rules.new_water(bare.top_up, TAP_C)))
    return strength / float(carbonate.ionic_strength_from_conductivity(1.0))


def _built_up(known: float | None) -> float:
    return nan if known is None else coefficient("start_build_up").typical * known


RECKONED: Mapping[str, Callable[[Garden, Measured, str], float]] = {
    "flow": _flow,
    "ph": lambda bare, _, __: bare.targets.ph,
    "alkalinity": lambda bare, _, __: alkalinity.kept_mg_l(bare),
    "oxygen": lambda bare, _, __: bare.targets.oxygen_mg_l,
    "hardness": lambda bare, _, __: _built_up(bare.top_up.hardness_mg_l),
    "chloride": lambda bare, _, __: _built_up(bare.top_up.chloride_mg_l),
    "conductivity": _conductivity_us_cm,
    "water_temperature": _water_c,
    "fish_weight": _weight_g,
    "feed": _feed_g_day,
    "bed_water": _bed_l,
    "water_use": _use_l_d,
    "loop_volume": lambda bare, _, __: litres.litres_of(bare).whole,
}
"""What is reckoned where a thing was not measured."""
