"""What to do when something goes wrong: a sign to steps in order, as keys and amounts, no sentence.

What is to be done comes before what is to be measured, and what to measure before what it may be. The signs
and their steps stand in `data/symptoms.csv`. No answer holds a dose of a medicine; fish that look ill are
for a fish-health professional.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from aquacalc import tables
from aquacalc.advice import levels
from aquacalc.advice.finding import Amount, Level
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.sizing.result import Outage
from aquacalc.tables import Row
from aquacalc.water import chlorine

PART_SHARE = 1.0 / 3.0
"""Share of the water that is changed at once in trouble; a quarter to a half. Common practice, no source."""
CHANGE_STEP_K = 2.0
"""Most that new water may be warmer or colder than the tank. Common practice, no source."""
SLOWLY_K_H = 1.0
"""Most that a tank is cooled or warmed in an hour. Common practice, no source."""
COLD_ROOT_C = 15.0
"""Roots colder than this make leaves look short of phosphorus. Common practice, no source."""
UNKNOWN_CHLORINE_MG_L = 4.0
"""Highest yearly mean that a supplier in the United States may have: EPA limit for residuals (read-2nd)."""
USUAL_DECHLORINATOR = "thiosulfate_pentahydrate"

Kind = Literal["do", "measure"]

# Fuller texts of a step, the fullest first, each with the amounts that it needs beside those of `ALWAYS`.
FULLER: Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]] = MappingProxyType(
    {
        "act-within": (("here", ("response",)),),
        "change-part": (("dosed", ("litres", "dose", "chemical", "chlorine")), ("litres", ("litres",))),
        "dechlorinate": (("ran-in", ("ran_in_dose", "ran_in", "chemical", "chlorine")),),
        "shade": (("here", ("stress",)),),
        "beds-night": (("here", ("feed_stop", "lowest")),),
    }
)
ALWAYS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "change-part": ("step",),
        "slowly": ("rate",),
        "warm-slowly": ("rate",),
        "warm-roots": ("root",),
        "root-warm": ("root",),
    }
)

BEFORE: Mapping[str, str] = MappingProxyType(
    {
        "fish": "triage-before-power",
        "machine": "triage-before-power",
        "water": "triage-before-power",
        "plants": "triage-before-plants",
    }
)
"""What stands over all steps: electricity comes before water."""

AFTER: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "fish": ("triage-after-professional", "triage-after-report", "triage-after-gloves"),
        "machine": ("triage-after-gloves",),
        "water": ("triage-after-professional", "triage-after-gloves"),
        "plants": ("triage-after-growth",),
    }
)
"""Whom to ask and tell, and what people must look after."""


@dataclass(frozen=True)
class Place:
    """What is known of a tank and its water; NaN or empty where nothing is.

    water_l: all that circulates. response_h: time to act in when all stops. chlorine_mg_l: the supplier's
    stated maximum. dechlorinator: a key of `data/chemicals.csv`. strength: its share of the pure chemical.
    species: the fish that bears least. ran_in_l: untreated water that ran in.
    """

    water_l: float = math.nan
    response_h: float = math.nan
    chlorine_mg_l: float = math.nan
    dechlorinator: str = USUAL_DECHLORINATOR
    strength: float = 1.0
    species: str = ""
    ran_in_l: float = math.nan


@dataclass(frozen=True)
class Readings:
    """What was measured, NaN where it was not; nitrite and ammonia (TAN) as N, total chlorine as Cl2."""

    oxygen_mg_l: float = math.nan
    temperature_c: float = math.nan
    tan_mg_l: float = math.nan
    ph: float = math.nan
    nitrite_mg_l: float = math.nan
    chlorine_mg_l: float = math.nan


NOTHING_KNOWN = Place()
NOTHING_MEASURED = Readings()


@dataclass(frozen=True)
class Step:
    """One step: a key of the catalogue, with its amounts."""

    kind: Kind
    key: str
    amounts: tuple[Amount, ...] = ()


@dataclass(frozen=True)
class Cause:
    """Something that it may be; `level` is that of its reading, `not known` without one."""

    key: str
    level: Level = "not known"


@dataclass(frozen=True)
class Triage:
    """The answer to a sign: before all, steps in order, likely causes in order, never, and whom to tell."""

    sign: str
    subject: str
    title: str
    before: str
    steps: tuple[Step, ...]
    likely: tuple[Cause, ...]
    never: tuple[str, ...]
    after: tuple[str, ...]
    sources: tuple[str, ...]


def signs() -> tuple[str, ...]:
    """Keys of all signs, in the order of the table."""
    return tables.load("symptoms").keys()


def of(sign: str, place: Place = NOTHING_KNOWN, readings: Readings = NOTHING_MEASURED) -> Triage:
    """The answer to a sign; `InputError` with the nearest sign where there is no such one.

    >>> [step.key for step in of("gasping").steps][:2]
    ['triage-do-air', 'triage-do-feed-off']
    """
    row = tables.load("symptoms").row(sign)
    known = amounts(place)
    return Triage(
        sign=row.key,
        subject=row.text("subject"),
        title=f"triage-sign-{row.text('sign')}",
        before=BEFORE[row.text("subject")],
        steps=(
            *(_step("do", name, known) for name in row.listed("first_do")),
            *(_step("measure", name, known) for name in row.listed("then_measure")),
        ),
        likely=_causes(row, judged(readings, place.species)),
        never=tuple(f"triage-never-{name}" for name in row.listed("never")),
        after=AFTER[row.text("subject")],
        sources=row.listed("source"),
    )


def amounts(place: Place) -> dict[str, Amount]:
    """All amounts that the place gives, by name; those that it does not give are left out."""
    part_l = PART_SHARE * place.water_l
    found = {
        "step": (CHANGE_STEP_K, "temperature_difference"),
        "rate": (SLOWLY_K_H, "temperature_difference"),
        "root": (COLD_ROOT_C, "temperature"),
        "response": (place.response_h, "time"),
        "litres": (part_l, "volume"),
        "chlorine": (place.chlorine_mg_l if place.chlorine_mg_l > 0.0 else math.nan, "concentration"),
        "dose": (dechlorinator_g(place, part_l), "dose"),
        "ran_in": (place.ran_in_l, "volume"),
        "ran_in_dose": (dechlorinator_g(place, place.ran_in_l), "dose"),
    }
    if place.species:
        row = tables.load("species").row(place.species)
        found |= {
            "stress": (row.number("t_stress_high_c"), "temperature"),
            "feed_stop": (row.number("t_feed_stop_low_c"), "temperature"),
            "lowest": (levels.lowest_c(row), "temperature"),
        }
    held = {name: Amount(name, value, kind) for name, (value, kind) in found.items() if not math.isnan(value)}
    return held | {"chemical": Amount("chemical", place.dechlorinator, "chemical")}


def dechlorinator_g(place: Place, new_water_l: float) -> float:
    """Grams of the dechlorinator for an amount of new water, NaN where litres or chlorine are not known.

    >>> round(dechlorinator_g(Place(chlorine_mg_l=2.0), 150.0), 2)
    2.1
    """
    if not place.chlorine_mg_l > 0.0:
        return math.nan
    per_gram = tables.load("chemicals").row(place.dechlorinator).number("dechlorination_default_g_g")
    return float(chlorine.reagent_g(place.chlorine_mg_l, new_water_l, per_gram / place.strength))


def _step(kind: Kind, name: str, known: Mapping[str, Amount]) -> Step:
    always = ALWAYS.get(name, ())
    for fuller, needed in FULLER.get(name, ()):
        if all(one in known for one in needed):
            return Step(
                kind, f"triage-{kind}-{name}-{fuller}", tuple(known[one] for one in (*needed, *always))
            )
    return Step(kind, f"triage-{kind}-{name}", tuple(known[one] for one in always))


def judged(readings: Readings, species: str = "") -> dict[str, Level]:
    """Causes by name with the levels of their readings; only chlorine can be judged without a species.

    Any chlorine that a test shows is an emergency: its first step lies past what fish bear.
    """
    found: dict[str, Level] = {}
    if not math.isnan(readings.chlorine_mg_l):
        found["chlorine"] = "emergency" if readings.chlorine_mg_l > 0.0 else "not known"
    if species:
        row = tables.load("species").row(species)
        warmth = levels.of_temperature(readings.temperature_c, row)
        warm = readings.temperature_c > row.number("t_stress_high_c")
        found |= {
            "oxygen": levels.of_oxygen(readings.oxygen_mg_l, row),
            "nitrite": levels.of_water("nitrite", readings.nitrite_mg_l, row),
            "ammonia": levels.of_ammonia(readings.tan_mg_l, readings.ph, readings.temperature_c, row),
            "heat": warmth if warm or warmth in ("fine", "not known") else "fine",
            "cold": "fine" if warm else warmth,
        }
    return found


def _causes(row: Row, by_name: Mapping[str, Level]) -> tuple[Cause, ...]:
    def placed() -> Iterator[tuple[int, Cause]]:
        for name in row.listed("likely"):
            level = by_name.get(name, "not known")
            # What a reading confirms goes first, what it speaks against last; the rest stays in order.
            rank = {"emergency": 0, "act today": 1, "fine": 3}.get(level, 2)
            yield rank, Cause(f"triage-likely-{name}", level)

    return tuple(cause for _, cause in sorted(placed(), key=lambda pair: pair[0]))


def known(garden: Garden, outage: Outage | None) -> Place:
    """What a garden tells. outage: that of its balance, None where it has no fish."""
    shelf = [
        product
        for product in garden.products
        if tables.load("chemicals").row(product.chemical).text("kind") == "dechlorinator"
    ]
    rows = [tables.load("species").row(batch.species) for batch in garden.fish]
    tender = max(rows, key=lambda row: row.number("do_critical_mg_l"), default=None)
    return Place(
        water_l=litres.of(garden).whole,
        response_h=math.nan if outage is None else outage.response_h,
        chlorine_mg_l=garden.top_up.chlorine_max_mg_l,
        dechlorinator=shelf[0].chemical if shelf else USUAL_DECHLORINATOR,
        strength=shelf[0].strength_pct / 100.0 if shelf else 1.0,
        species="" if tender is None else tender.key,
    )
