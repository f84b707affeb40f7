"""Untreated tap water ran in: how much chlorine that is, and how many grams take it out."""

from dataclasses import dataclass, replace
from functools import partial

from aquacalc import words
from aquacalc.advice import triage as advice
from aquacalc.advice.triage import Place
from aquacalc.judge.lines import begins_at
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.trouble import triage
from aquacalc.uncertainty import coefficient
from aquacalc.water import chlorine


@dataclass(frozen=True)
class RanIn:
    """Chlorine in the loop after mixing, grams against it, ammonia that chloramine would leave there, low and
    high."""

    chlorine_mg_l: float
    dose_g: float
    ammonia_mg_l: tuple[float, float]
    place: Place
    garden: str


def controls(reader: words.Reader) -> dict[str, Field]:
    """What ran in, into how much, with how much chlorine, and what takes it out."""
    fields = triage.place_fields(reader)
    fields["water"] = NumberField(words.say("panel-whole-water", reader), "volume", 1000.0, reader, 1.0, 1e6)
    ran_in = NumberField(words.say("panel-ran-in", reader), "volume", 100.0, reader, 0.1, 1e6)
    return {"ran_in": ran_in, **fields}


def compute(desk: Desk | None, values: Values) -> RanIn:
    """All of what ran in counts at the supplier's stated maximum."""
    place = replace(triage.place(values, triage.of_garden(desk)), ran_in_l=values["ran_in"])
    mixed = float(
        chlorine.after_mixing_mg_l(
            values["chlorine"], values["ran_in"], max(values["water"], values["ran_in"])
        )
    )
    freed = coefficient("ammonia_freed_per_chloramine")
    low, high = (float(chlorine.ammonia_freed_mg_l(mixed, per)) for per in (freed.low, freed.high))
    return RanIn(
        chlorine_mg_l=mixed,
        dose_g=advice.dechlorinator_g(place, values["ran_in"]),
        ammonia_mg_l=(low, high),
        place=place,
        garden="" if desk is None else desk.garden.name,
    )


def draw(reader: words.Reader, found: RanIn) -> html.Html:
    """The grams large; beneath them what the loop holds; then the steps."""
    if not found.place.chlorine_mg_l > 0.0:
        return answer(words.say("panel-chlorine-none", reader), [words.say("panel-chlorine-ask", reader)])
    steps = advice.triage_of("chlorine_in", found.place)
    title = words.say(
        "panel-chlorine-answer",
        reader,
        dose=words.quantity(found.dose_g, "dose", reader),
        name=words.name("chemical", found.place.dechlorinator),
    )
    lines = [
        words.say(steps.before, reader),
        words.say(
            "panel-chlorine-mixed",
            reader,
            mixed=words.quantity(found.chlorine_mg_l, "concentration", reader),
            limit=words.quantity(begins_at("chlorine", "emergency"), "concentration", reader),
        ),
        words.say(
            "panel-chlorine-ammonia",
            reader,
            ammonia=words.span(*found.ammonia_mg_l, "nitrogen", reader),
        ),
    ]
    gap = html.paragraph(words.say("panel-top-up-gap", reader))
    return answer(title, lines, triage.shown(reader, steps, found.garden), gap)


def told(desk: Desk) -> dict[str, object]:
    """Water and chlorine of the garden; the product on its shelf."""
    return {name: value for name, value in triage.told(desk).items() if name != "species"}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("chlorine-in", controls(reader), partial(compute, desk), partial(draw, reader), reader)
    triage.answer_first(made, ("ran_in",))
    if desk is not None:
        desk.fill(made, told)
    return made
