"""When are the fish of size? A batch and the temperature of its water in; days, kilograms and feed out."""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

import numpy as np

from aquacalc import fish, words
from aquacalc.advice import trail as rests
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places, surroundings
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.pages import html, trail
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk, garden_of, reader_of
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.months import MonthsField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.season import alone
from aquacalc.season.alone import LONGEST_D, Grown, Question
from aquacalc.uncertainty import MEMBERS, Band, Floats, coefficient, draw

OWN, ONE, MONTHLY = "own", "one", "monthly"
ASKED = ("species", "count", "weight", "stocked", "final", "on", "water")
USUAL, WARM = 24.0, 40.0


@dataclass(frozen=True)
class Batch:
    """What was asked and what came out. on: a day that was asked for, and on_g: what one fish weighs then."""

    asked: Question
    grown: Grown
    on: date | None = None
    on_g: Band | None = None


def controls(reader: words.Reader, stocked: date, own_water: bool) -> dict[str, Field]:
    """The batch, and its water: that of the garden, one temperature, or one for each month."""
    say = words.say
    waters = [(say(f"panel-size-water-{key}", reader), key) for key in (OWN, ONE, MONTHLY)]
    return {
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "count": NumberField(say("panel-fish-count", reader), "", 30.0, reader, 1.0, 100_000.0),
        "weight": NumberField(
            say("panel-size-start", reader), "mass", 20.0, reader, 0.1, 20_000.0, shown_in=GRAMS
        ),
        "stocked": DateField(say("panel-size-stocked", reader), stocked, reader, stocked),
        "final": NumberField(
            say("panel-final-weight", reader), "mass", 450.0, reader, 1.0, 20_000.0, shown_in=GRAMS
        ),
        "on": DateField(say("panel-size-on", reader), None, reader, stocked, optional=True),
        "water": ChoiceField(
            say("panel-size-water", reader),
            waters if own_water else waters[1:],
            OWN if own_water else ONE,
            reader,
        ),
        "mean": NumberField(
            say("panel-water-c", reader), "temperature", USUAL, reader, 0.0, WARM, (0.0, WARM, 0.5)
        ),
        "months": MonthsField(
            say("panel-size-months", reader), "temperature", (USUAL,) * MONTHS_PER_YEAR, reader
        ),
    }


def compute(garden: Garden | None, values: Values) -> Batch:
    """How the batch grows."""
    asked = Question(
        species=values["species"],
        count=values["count"],
        weight_g=values["weight"],
        stocked=values["stocked"],
        final_g=values["final"],
        water_c=water_c(garden, values),
    )
    on = values["on"]
    if on is None:
        return Batch(asked, alone.grown(asked))
    days = (on - asked.stocked).days
    if not 0 <= days <= LONGEST_D:
        last = asked.stocked + timedelta(days=LONGEST_D)
        ends = (asked.stocked.isoformat(), last.isoformat())
        raise InputError(Problem("problem-size-day", "", on.isoformat(), ends))
    return Batch(asked, alone.grown(asked), on, alone.weights_on(asked, days))


def water_c(garden: Garden | None, values: Values) -> Floats:
    """Monthly water, (12,), or (members, 12) of a garden."""
    if values["water"] == OWN and garden is not None:
        sampled = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, MEMBERS)
        return surroundings.water_c(garden, sampled)
    return np.array(values["months"] if values["water"] == MONTHLY else (values["mean"],) * MONTHS_PER_YEAR)


def draw_batch(reader: words.Reader, batch: Batch) -> html.Html:
    """Days, fish, kilograms and feed, each as low, middle and high."""
    asked, found, say = batch.asked, batch.grown, words.say
    name = words.name("species", asked.species)
    final = words.quantity(asked.final_g, "mass", reader)
    if float(found.half_d.middle) > LONGEST_D and float(found.first_d.middle) > LONGEST_D:
        return answer(say("panel-size-never", reader, species=name, final=final))
    title = say(
        "panel-size-answer",
        reader,
        species=name,
        final=final,
        early=_day(asked, float(found.first_d.low), reader),
        middle=_day(asked, float(found.first_d.middle), reader),
        late=_day(asked, float(found.first_d.high), reader),
    )
    lines = [
        say("panel-size-grows", reader, share=words.quantity(found.grows, "share", reader)),
        say("panel-size-assumes", reader),
    ]
    if not fish.species(asked.species).eaten:
        lines.append(say("panel-size-not-eaten", reader, species=name))
    rest = trail.fold(rests.of_rows("species", [asked.species]), reader)
    head = [say(f"panel-size-{key}", reader) for key in ("what", "low", "middle", "high")]
    rows = [
        (say("panel-size-first", reader), *_days(asked, found.first_d, reader)),
        (say("panel-size-half", reader), *_days(asked, found.half_d, reader)),
        *_on(batch, reader),
        (say("panel-size-count", reader), *_amounts(found.count, "count", reader)),
        (say("panel-size-kg", reader), *_amounts(found.kg, "biomass", reader)),
        (say("panel-size-feed", reader), *_amounts(found.feed_kg, "biomass", reader)),
    ]
    return answer(title, lines, html.table(head, rows), rest)


def _on(batch: Batch, reader: words.Reader) -> list[tuple[str, ...]]:
    """The row of the day that was asked for, if one was."""
    if batch.on is None or batch.on_g is None:
        return []
    title = words.say("panel-size-on-row", reader, day=words.date(batch.on, reader))
    return [(title, *_amounts(batch.on_g, "fish_weight", reader))]


def _days(asked: Question, of: Band, reader: words.Reader) -> list[str]:
    return [_day(asked, float(days), reader) for days in (of.low, of.middle, of.high)]


def _day(asked: Question, days: float, reader: words.Reader) -> str:
    if days > LONGEST_D:
        return words.say("panel-size-later", reader)
    return words.date(asked.stocked + timedelta(days=math.floor(days + 0.5)), reader)


def _amounts(of: Band, kind: str, reader: words.Reader) -> list[str]:
    return [words.quantity(float(value), kind, reader) for value in (of.low, of.middle, of.high)]


def known(desk: Desk) -> dict[str, object]:
    """The garden's first batch, in its own water."""
    garden = desk.garden
    if not garden.fish:
        return {}
    batch = garden.fish[0]
    return {
        "species": batch.species,
        "count": float(batch.count),
        "weight": batch.weight_g,
        "stocked": batch.stocked,
        "final": batch.final_weight_g,
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    of = GardenFile.open(places.starter()).garden if desk is None else desk.garden

    def asked(values: Values) -> tuple[str, ...]:
        more = {ONE: ("mean",), MONTHLY: ("months",)}
        return (*ASKED, *more.get(values["water"], ()))

    made = Panel(
        "of-size",
        controls(reader, of.season.start, desk is not None),
        lambda values: compute(garden_of(desk), values),
        partial(draw_batch, reader),
        reader,
        asked=asked,
    )
    if desk is not None:
        desk.fill(made, known)
    return made
