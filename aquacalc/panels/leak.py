"""Water runs out: how long it lasts, and what to do first."""

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.advice import triage as advice
from aquacalc.advice.triage import Place
from aquacalc.garden import litres
from aquacalc.hydraulics import leaks
from aquacalc.pages import html
from aquacalc.panels import triage
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer

HOURS_PER_DAY = 24.0
A_MINUTE = {"metric": "l_min", "us": "us_gpm"}


@dataclass(frozen=True)
class Loss:
    """How long the water lasts, what a day's loss is of it, and what would be usual."""

    hours: float
    share_day: float
    usual_share_day: float
    place: Place
    garden: str


def controls(reader: words.Reader) -> dict[str, Field]:
    """Water, what runs out, what runs in."""
    say = words.say
    return {
        "water": NumberField(say("panel-leak-water", reader), "volume", 1000.0, reader, 1.0, 1e6),
        "loss": NumberField(
            say("panel-leak-loss", reader), "flow", 600.0, reader, 0.0, 1e5, shown_in=A_MINUTE
        ),
        "inflow": NumberField(
            say("panel-leak-inflow", reader), "flow", 0.0, reader, 0.0, 1e5, shown_in=A_MINUTE
        ),
    }


def compute(desk: Desk | None, values: Values) -> Loss:
    """Hours until all is gone."""
    return Loss(
        hours=leaks.hours_left(values["water"], values["loss"], values["inflow"]),
        share_day=HOURS_PER_DAY * values["loss"] / values["water"],
        usual_share_day=leaks.USUAL_LOSS_SHARE_DAY[1],
        place=triage.of_garden(desk),
        garden="" if desk is None else desk.garden.name,
    )


def draw(reader: words.Reader, found: Loss) -> html.Html:
    """The time large; then what a slow leak is told by; then the steps."""
    if math.isinf(found.hours):
        title = words.say("panel-leak-holds", reader)
        lines = []
    else:
        title = words.say("panel-leak-answer", reader, time=words.quantity(found.hours, "time", reader))
        lines = [
            words.say("panel-leak-half", reader, half=words.quantity(found.hours / 2.0, "time", reader)),
            words.say("panel-leak-falls", reader),
        ]
    usual = words.quantity(found.usual_share_day, "share", reader)
    if found.share_day > found.usual_share_day:
        lines.append(words.say("panel-leak-more", reader, usual=usual))
    else:
        lines.append(words.say("panel-leak-usual", reader, usual=usual))
    steps = advice.of("leak", found.place)
    return answer(title, [words.say(steps.before, reader), *lines], triage.shown(reader, steps, found.garden))


def told(desk: Desk) -> dict[str, object]:
    """All water that circulates."""
    return {"water": litres.of(desk.garden).whole}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("leak", controls(reader), partial(compute, desk), partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, told)
    return made
