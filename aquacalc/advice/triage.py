"""What to do when something goes wrong: a sign to steps in order, as keys and amounts, no sentence.

What is to be done comes before what is to be measured, and what to measure before what it may be. The signs
and their steps stand in `data/symptoms.csv`. No answer holds a dose of a medicine; fish that look ill are
for a fish-health professional.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

from aquacalc import tables
from aquacalc.advice import shelf
from aquacalc.advice.finding import Amount
from aquacalc.advice.reading.action import Action
from aquacalc.advice.reading.actions import Answer
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.judge import sizes, temperature
from aquacalc.judge.levels import Level, worst
from aquacalc.sizing.result import Outage
from aquacalc.tables import Row
from aquacalc.water import chlorine

COLD_ROOT_C = 15.0
"""Roots colder than this make leaves look short of phosphorus. Common practice, no source."""

LED_BY: Mapping[str, str] = MappingProxyType(
    {
        "ammonia_high": "tan",
        "nitrite_high": "nitrite",
        "ph_floor": "ph",
        "heat": "temperature",
        "cold": "temperature",
        "chlorine_in": "chlorine",
    }
)
"""Signs that are readings themselves: where it was read, the steps are those that a reading asks for."""
SOURCE_FIRST = ("close-tap",)
"""What stops a trouble at its source, before all that a reading asks for."""
UNTIL_TAN = ("hold-ph",)
"""What holds beside a reading as long as ammonia was not read."""

CHANGES = ("change", "change-litres")
OTHER_WATER = ("change-other", "change-other-ph", "change-no-gain")
FEED = ("feed", "feed-none", "feed-part", "feed-less", "feed-base", "feed-warm")
OF_EVERY_SIGN = ("oxygen", "signs-air", "signs-measure", "air", "nitrite-air")
"""Actions after a reading, by their keys: a change of water, how much feed, what each sign says by itself."""

Kind = Literal["do", "measure"]

# Fuller texts of a step, the fullest first, each with the amounts that it needs beside those of `ALWAYS`.
FULLER: Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]] = MappingProxyType(
    {
        "act-within": (("here", ("response",)),),
        "change-part": (
            ("dosed", ("litres", "dose", "chemical", "chlorine")),
            ("litres", ("litres",)),
        ),
        "dechlorinate": (("ran-in", ("ran_in_dose", "ran_in", "chemical", "chlorine")),),
        "shade": (("here", ("stress",)),),
        "beds-night": (("here", ("feed_stop", "lowest")),),
    }
)
ALWAYS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "change-part": ("share", "step"),
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
    species: the fish that bears least. ran_in_l: untreated water that ran in. read_share: of the water, to be
    changed as a reading asks.
    """

    water_l: float = math.nan
    response_h: float = math.nan
    chlorine_mg_l: float = math.nan
    dechlorinator: str = chlorine.USUAL_REAGENT
    strength: float = 1.0
    species: str = ""
    ran_in_l: float = math.nan
    read_share: float = math.nan


NOTHING_KNOWN = Place()
NOTHING_MEASURED: Mapping[str, Level] = MappingProxyType({})


@dataclass(frozen=True)
class Step:
    """One step: a key of the catalogue, with its amounts; or what a reading asks for, and then no key."""

    kind: Kind
    key: str
    amounts: tuple[Amount, ...] = ()
    action: Action | None = None


@dataclass(frozen=True)
class Cause:
    """Something that it may be; `level` is that of its reading, `not known` without one."""

    key: str
    level: Level = "not known"


@dataclass(frozen=True)
class Triage:
    """The answer to a sign: before all, steps in order, likely causes in order, never, and whom to tell.

    answer: to what was read; None where nothing was.
    """

    sign: str
    subject: str
    title: str
    before: str
    steps: tuple[Step, ...]
    likely: tuple[Cause, ...]
    never: tuple[str, ...]
    after: tuple[str, ...]
    sources: tuple[str, ...]
    answer: Answer | None = None


def signs() -> tuple[str, ...]:
    """Keys of all signs, in the order of the table."""
    return tables.load("symptoms").keys()


def triage_of(sign: str, place: Place = NOTHING_KNOWN, answer: Answer | None = None) -> Triage:
    """The answer to a sign; `InputError` with the nearest sign where there is no such one.

    answer: to what was read. A change of water is of the size that it asks for; and where the sign itself is
    a reading, its steps are those of the answer, in their order.

    >>> [step.key for step in triage_of("gasping").steps][:2]
    ['triage-do-air', 'triage-do-feed-off']
    """
    row = tables.load("symptoms").row(sign)
    known = amounts(place if answer is None else with_answer(place, answer))
    read = NOTHING_MEASURED if answer is None else levels_of(answer.judgement)
    return Triage(
        sign=row.key,
        subject=row.text("subject"),
        title=f"triage-sign-{row.text('sign')}",
        before=BEFORE[row.text("subject")],
        steps=(
            *_done(row, known, answer),
            *(_step("measure", name, known) for name in row.listed("then_measure")),
        ),
        likely=_causes(row, read),
        never=tuple(f"triage-never-{name}" for name in row.listed("never")),
        after=AFTER[row.text("subject")],
        sources=row.listed("source"),
        answer=answer,
    )


def _done(row: Row, known: Mapping[str, Amount], answer: Answer | None) -> Iterator[Step]:
    """What is done: by the sign alone, or as the reading asks that the sign is."""
    names = row.listed("first_do")
    if answer is None or LED_BY.get(row.key) not in answer.judgement.given.measures:
        done = () if answer is None else answer.actions
        other = next((one for one in done if one.key in OTHER_WATER), None)
        for name in names:
            if other is not None and name == "change-part":
                # The water at hand would harm: the reading says which to change instead.
                yield Step("do", "", action=other)
            else:
                yield _step("do", name, known)
        return
    blind = "tan" not in answer.judgement.given.measures
    yield from (_step("do", name, known) for name in names if name in SOURCE_FIRST)
    yield from (Step("do", "", action=one) for one in answer.actions)
    if not answer.actions:
        yield Step("do", "triage-do-nothing-read")
    yield from (_step("do", name, known) for name in names if blind and name in UNTIL_TAN)


def amounts(place: Place) -> dict[str, Amount]:
    """All amounts that the place gives, by name; those that it does not give are left out."""
    share = sizes.LEAST_SHARE if math.isnan(place.read_share) else place.read_share
    part_l = share * place.water_l
    found = {
        "step": (sizes.CHANGE_STEP_K, "temperature_difference"),
        "rate": (sizes.SLOWLY_K_H, "temperature_difference"),
        "root": (COLD_ROOT_C, "temperature"),
        "response": (place.response_h, "time"),
        "litres": (part_l, "volume"),
        "chlorine": (place.chlorine_mg_l if place.chlorine_mg_l > 0.0 else math.nan, "concentration"),
        "dose": (dechlorinator_g(place, part_l), "dose"),
        "ran_in": (place.ran_in_l, "volume"),
        "ran_in_dose": (dechlorinator_g(place, place.ran_in_l), "dose"),
        "share": (share, "share"),
    }
    if place.species:
        row = tables.load("species").row(place.species)
        found |= {
            "stress": (row.number("t_stress_high_c"), "temperature"),
            "feed_stop": (row.number("t_feed_stop_low_c"), "temperature"),
            "lowest": (temperature.lowest_c((row,)), "temperature"),
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
    per_gram = shelf.removes_g_g(place.dechlorinator, place.strength)
    return float(chlorine.reagent_g(place.chlorine_mg_l, new_water_l, per_gram))


def _step(kind: Kind, name: str, known: Mapping[str, Amount]) -> Step:
    always = ALWAYS.get(name, ())
    for fuller, needed in FULLER.get(name, ()):
        if all(one in known for one in needed):
            return Step(
                kind, f"triage-{kind}-{name}-{fuller}", tuple(known[one] for one in (*needed, *always))
            )
    return Step(kind, f"triage-{kind}-{name}", tuple(known[one] for one in always))


def levels_of(found: Judgement) -> dict[str, Level]:
    """Causes by name with the level of what was read of them; what was not read is left out."""
    given = found.given
    read: dict[str, Level] = {
        name: one.level for name in ("oxygen", "nitrite", "chlorine") if (one := found.of(name)) is not None
    }
    ammonia = [one.level for name in ("tan", "unionised_ammonia") if (one := found.of(name)) is not None]
    if ammonia:
        read["ammonia"] = worst(ammonia)
    warmth = found.of("temperature")
    if warmth is not None:
        lines = [row.numbers.get("t_stress_high_c", math.inf) for row in given.species]
        warm = warmth.value > min(lines)
        told = warmth.level in ("fine", "not known")
        read["heat"] = warmth.level if warm or told else "fine"
        read["cold"] = "fine" if warm else warmth.level
    return read


def with_answer(place: Place, answer: Answer) -> Place:
    """The place with the share of water that a reading asks to change."""
    for one in answer.actions:
        if one.key in CHANGES and math.isnan(place.read_share):
            place = replace(place, read_share=one.amounts[0].number)
    return place


def not_told(found: Triage, answer: Answer) -> Answer:
    """The answer to a reading without what the steps of a sign say already: feed, air, change."""
    steps = {step.key for step in found.steps}
    said = [step.action for step in found.steps if step.action is not None]
    told = set(OF_EVERY_SIGN)
    if any(key.startswith("triage-do-change-part") for key in steps):
        told |= set(CHANGES)
    if "triage-do-feed-off" in steps:
        told |= set(FEED)
    left = (one for one in answer.actions if one.key not in told and one not in said)
    return replace(answer, actions=tuple(left))


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
    product = shelf.dechlorinator(garden.products)
    rows = [tables.load("species").row(batch.species) for batch in garden.fish]
    tender = max(rows, key=lambda row: row.number("do_critical_mg_l"), default=None)
    return Place(
        water_l=litres.litres_of(garden).whole,
        response_h=math.nan if outage is None else outage.response_h,
        chlorine_mg_l=garden.top_up.chlorine_max_mg_l,
        dechlorinator=product.chemical if product else chlorine.USUAL_REAGENT,
        strength=shelf.share_pure(product),
        species="" if tender is None else tender.key,
    )
