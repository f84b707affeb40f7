"""Readings of a start-up as intervals, how likely each member makes them, and what a log tells of it.

Concentrations are mg/L as N, alkalinity mg/L CaCO3. A kit of nitrate turns nitrate to nitrite and colours
that, so that it shows both together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, isfinite
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import kits, nitrogen, tables
from aquacalc.logbook import trend
from aquacalc.logbook.columns import POURED
from aquacalc.logbook.log import Log
from aquacalc.startup.case import Case, on_day
from aquacalc.startup.members import IONIC_STRENGTH, Course, Event, EventKey
from aquacalc.uncertainty import Floats
from aquacalc.water import carbonate

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

TOLD_ALKALINITY_MG_L = 20.0
"""From here on a pH and an alkalinity tell the carbon dioxide (our own choice)."""

Parameter = Literal["tan", "nitrite", "nitrate", "ph", "alkalinity", "temperature"]
PARAMETERS: tuple[Parameter, ...] = ("tan", "nitrite", "nitrate", "ph", "alkalinity", "temperature")
JUDGED: tuple[Parameter, ...] = ("tan", "nitrite", "nitrate")
"""Readings that weigh the members; the others say what drives them."""

OFFSET_MG_L, SPREAD, FLOOR = 0.1, 0.30, 1e-6
"""Readings are judged on ln(x + offset) with this spread, and none is less likely than the floor (nitrogen
reference, section 8; practice)."""
TYPED_SHARE = 0.1
"""A value without a scale stands for this share of it on both sides (common practice, no source)."""
CHANGE_SHARE = 0.1
"""Water added on one day from this share of the loop on counts as a partial change; less makes up for what
evaporated. Common practice, no source."""


@dataclass(frozen=True)
class Reading:
    """One reading: between which values the water lies; an open end is infinite. value: as it was read."""

    day: int
    parameter: Parameter
    low: float
    high: float
    value: float


UnusableKey = Literal["basis-not-known", "unit-not-known", "before-the-start"]


@dataclass(frozen=True)
class Unusable:
    """A reading that tells nothing, and why. text: as typed."""

    day: int
    parameter: str
    key: UnusableKey
    text: str = ""


def of_kit(
    day: int, parameter: Parameter, shown: float, scale: kits.Scale, dilution: float = 1.0
) -> Reading | None:
    """A reading on a kit's own scale; None where its basis or its steps are not known.

    dilution: 5 for one part of sample in five parts of water; it widens reading and steps alike.
    """
    span = kits.interval_inside(shown, scale, dilution)
    value = kits.as_inside(shown * dilution, scale)
    if span is None or value is None:
        return None
    return _bounded(Reading(day, parameter, span.low, span.high, value))


def of_value(day: int, parameter: Parameter, value: float, share: float = TYPED_SHARE) -> Reading:
    """A value without a scale, as by a photometer; as the workbook counts it."""
    half = share * abs(value)
    return _bounded(Reading(day, parameter, value - half, value + half, value))


def _bounded(reading: Reading) -> Reading:
    """A concentration that may be nothing is not bounded below."""
    if reading.parameter in ("ph", "temperature") or reading.low > 0.0:
        return reading
    return replace(reading, low=-inf)


# --- likelihood --------------------------------------------------------------------------------------------


def log_likelihoods(course: Course, readings: Sequence[Reading]) -> Floats:
    """Of every reading by each member, (readings, members); of what is not in `JUDGED`, nothing.

    Interval-censored: the chance that ln(x + 0.1), blurred by the spread, falls between both ends.
    """
    members = course.tan_mg_l.shape[1]
    judged = [one for one in readings if one.parameter in JUDGED]
    if not judged:
        return np.zeros((0, members))
    from scipy.special import ndtr

    days = np.array([one.day for one in judged])
    made = np.empty((len(judged), members))
    for parameter in JUDGED:
        rows = np.array([one.parameter == parameter for one in judged])
        if rows.any():
            made[rows] = shown(course, parameter)[days[rows]]
    middle = np.log(made + OFFSET_MG_L)
    low, high = (np.array([log_of(getattr(one, end)) for one in judged]) for end in ("low", "high"))
    chance = ndtr((high[:, None] - middle) / SPREAD) - ndtr((low[:, None] - middle) / SPREAD)
    found: Floats = np.log(np.maximum(chance, FLOOR))
    return found


def shown(course: Course, parameter: Parameter) -> Floats:
    """What a kit would find of a parameter in every member's water, by day."""
    if parameter == "nitrate":
        both: Floats = course.nitrate_mg_l + course.nitrite_mg_l
        return both
    found: Floats = {
        "tan": course.tan_mg_l,
        "nitrite": course.nitrite_mg_l,
        "ph": course.ph,
        "alkalinity": course.alkalinity_mg_l,
    }[parameter]
    return found


def log_of(end: float) -> float:
    """An end of a reading on the scale on which it is judged."""
    return float(np.log(end + OFFSET_MG_L)) if isfinite(end) else end


# --- from a log --------------------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Read:
    """What a log tells of a start-up, by day in order.

    readings: of all parameters. events: doses, feed, changes of water, and alkalinity where it was read.
    unusable: readings that tell nothing.
    """

    readings: tuple[Reading, ...]
    events: tuple[Event, ...]
    unusable: tuple[Unusable, ...]

    def until(self, day: int) -> Read:
        """The same up to a day, that day included."""
        return Read(
            tuple(one for one in self.readings if one.day <= day),
            tuple(one for one in self.events if one.day <= day),
            tuple(one for one in self.unusable if one.day <= day),
        )


def of_log(log: Log, garden: Garden, case: Case, nitrate: bool = False) -> Read:
    """A mended log as readings and events; its notes are not read.

    nitrate: whether it is judged. It is left out by itself, for nobody knows what was there before. Doses are
    spread over the case's litres, with the strength of the product on the garden's shelf.
    """
    readings: list[Reading] = []
    events: list[Event] = []
    unusable: list[Unusable] = []
    for parameter in PARAMETERS:
        if parameter == "nitrate" and not nitrate:
            continue
        for one in log.all(parameter):
            day = case.day_of(one.day)
            reason: UnusableKey | None = None
            if day < 0:
                reason = "before-the-start"
            elif one.basis == kits.NOT_KNOWN:
                reason = "basis-not-known"
            elif parameter in ("alkalinity", "temperature") and not one.unit:
                reason = "unit-not-known"
            if reason:
                unusable.append(Unusable(day, parameter, reason, one.text))
                continue
            if parameter == "temperature":
                readings.append(Reading(day, parameter, one.value, one.value, one.value))
                continue
            span = trend.interval(one, garden)
            read = _bounded(Reading(day, parameter, span.low, span.high, one.value))
            readings.append(read)
            if parameter == "alkalinity":
                events.append(Event(day, "alkalinity", max(read.low, 0.0), read.high))
    # Water is tested before it is dosed.
    events += _doses(log, garden, case)
    events.sort(key=lambda event: event.day)
    readings.sort(key=lambda one: (one.day, PARAMETERS.index(one.parameter)))
    return Read(tuple(readings), tuple(one for one in events if one.day >= 0), tuple(unusable))


def _doses(log: Log, garden: Garden, case: Case) -> list[Event]:
    """Chemicals, feed and changes of water."""
    told = garden.start_up
    shelf = {told.product: told.strength_pct / 100.0} if told.product and told.strength_pct else {}
    shelf |= {one.chemical: one.strength_pct / 100.0 for one in garden.products}
    chemicals = tables.load("chemicals")
    mg_l_per_g = 1000.0 / case.litres
    found: list[Event] = []

    def add(day: int, key: EventKey, amount: float) -> None:
        if amount > 0.0:
            found.append(Event(day, key, amount))

    for one in log.all("dose"):
        row, day = chemicals.row(one.subject), case.day_of(one.day)
        share = shelf.get(one.subject, 1.0)
        pure_g = share * (_weight_g(one.value, share) if one.subject in POURED else one.value)
        if row.text("kind") == "ammonia":
            # Urea turns to ammonia within about a day, and brings alkalinity as fish do; a solution at once.
            brings: dict[str, EventKey] = {"urea": "source", "ammonia_solution": "ammonia_water"}
            key = brings.get(one.subject, "ammonium_salt")
            add(day, key, pure_g * row.number("n_g_g") * mg_l_per_g)
        elif row.text("kind") == "base":
            eq_g = row.number("alkalinity_eq_mol") / row.number("molar_mass_g_mol")
            add(day, "carbonate", pure_g * eq_g * carbonate.MG_L_CACO3_PER_EQ_L / case.litres)
    for one in log.all("feed"):
        if one.value > 0.0:
            found.append(feed_event(case.day_of(one.day), one.value, case))
    for one in log.all("top_up"):
        share = one.value / case.litres
        if share >= CHANGE_SHARE:
            add(case.day_of(one.day), "change", min(share, 1.0))
    return found


def _weight_g(volume_l: float, strength: float) -> float:
    """Grams of an ammonia solution with this share of NH3 by weight."""
    return 1000.0 * volume_l * float(nitrogen.ammonia_density_g_ml(100.0 * strength))


def measured(case: Case, readings: Sequence[Reading]) -> Case:
    """The case with the temperatures and the pH that were read.

    Between two readings a straight line. After the last one the temperature goes on as the case has it, moved
    by the mean difference of what was read, and the pH follows from the alkalinity, with the carbon dioxide
    that the readings had.
    """
    warm = [one for one in readings if one.parameter == "temperature"]
    acid = [one for one in readings if one.parameter == "ph"]
    if warm:
        at, read = _series(warm)
        days = np.arange(max(case.water_c.size, int(at[-1]) + 2))
        usual = np.array([on_day(case.water_c, int(day)) for day in days])
        moved = usual + float(np.mean(read - usual[at.astype(int)]))
        water_c = np.where(days <= at[-1], np.interp(days, at, read), moved)
        case = replace(case, water_c=water_c)
    if acid:
        at, read = _series(acid)
        last = int(at[-1])
        case = replace(
            case,
            ph=np.interp(np.arange(last + 1), at, read),
            ph_until=last,
            carbon_dioxide_mg_l=_carbon_dioxide_mg_l(case, readings),
        )
    return case


def _carbon_dioxide_mg_l(case: Case, readings: Sequence[Reading]) -> float | None:
    """Median of what pH and alkalinity of the same day make; None where no day has both.

    A drop test tells little of alkalinity below `TOLD_ALKALINITY_MG_L`.
    """
    alkalinity = {one.day: one.value for one in readings if one.parameter == "alkalinity"}
    found = [
        float(
            carbonate.water(
                one.value, alkalinity[one.day], on_day(case.water_c, one.day), IONIC_STRENGTH
            ).carbon_dioxide_mg_l
        )
        for one in readings
        if one.parameter == "ph" and alkalinity.get(one.day, 0.0) >= TOLD_ALKALINITY_MG_L
    ]
    return float(np.clip(np.median(found), *carbonate.LIKELY_CARBON_DIOXIDE_MG_L)) if found else None


def _series(readings: Sequence[Reading]) -> tuple[Floats, Floats]:
    by_day = {one.day: one.value for one in readings}
    days = sorted(by_day)
    return np.array(days, dtype=np.float64), np.array([by_day[day] for day in days])


def feed_event(day: int, feed_g: float, case: Case) -> Event:
    """A day's feed as the ammonia-N that it gives off, by the share for sizing."""
    given = nitrogen.tan_production_g_day(feed_g, case.protein)
    return Event(day, "source", float(given) * 1000.0 / case.litres)
