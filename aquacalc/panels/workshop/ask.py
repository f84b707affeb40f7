"""One exercise after the other with this garden's numbers; what is typed is marked by what answers it."""

from dataclasses import dataclass
from functools import partial
from typing import cast

from aquacalc import words
from aquacalc.pages import html
from aquacalc.pages.workshop import exercise_sheets
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.workshop import exercises
from aquacalc.workshop.audience import AUDIENCES, Audience
from aquacalc.workshop.exercises import Exercise, Mark

MOST, LARGEST = 30.0, 1e9


@dataclass(frozen=True)
class Asked:
    """An exercise, how many there are, and what an answer is worth; None without one."""

    exercise: Exercise
    number: int
    count: int
    mark: Mark | None


def controls(reader: words.Reader) -> dict[str, Field]:
    """Whom it is for, which exercise, the seed of its numbers, and the answer."""

    def number(name: str, value: float | None, low: float, high: float) -> NumberField:
        label = words.say(f"panel-ask-{name}", reader)
        return NumberField(label, "", value, reader, low, high, optional=value is None)

    ages = [(words.say(f"workshop-audience-{one}", reader), one) for one in AUDIENCES]
    return {
        "audience": ChoiceField(words.say("panel-ask-audience", reader), ages, "12-15", reader),
        "number": number("number", 1.0, 1.0, MOST),
        "typed": number("typed", None, 0.0, LARGEST),
        "seed": number("seed", 1.0, 0.0, LARGEST),
    }


def compute(desk: Desk, values: Values) -> Asked:
    """The exercise of that number, the last one where there are fewer, and its mark."""
    audience = cast("Audience", values["audience"])
    drawn = exercises.draw(desk.garden, desk.balance, audience, desk.reader, int(values["seed"]))
    number = min(int(values["number"]), len(drawn))
    one, typed = drawn[number - 1], values["typed"]
    shown = words.convert(1.0, one.answer.kind, desk.reader)
    return Asked(one, number, len(drawn), None if typed is None else exercises.mark(one, typed / shown))


def draw(reader: words.Reader, found: Asked) -> html.Html:
    """What is asked, the unit of the answer, what it is worth; how it is worked once it is right."""
    one = found.exercise
    unit = words.unit(one.answer.kind, reader)
    lines = [words.say("panel-ask-which", reader, number=str(found.number), count=str(found.count))]
    if unit:
        lines.append(words.say("panel-ask-unit", reader, unit=unit))
    if found.mark is not None:
        lines.append(words.say(f"exercise-mark-{found.mark}", reader))
    worked = exercise_sheets.working(one, reader)
    return answer(exercise_sheets.asked(one, reader), lines, html.paragraph(worked if _done(found) else ""))


def _done(found: Asked) -> bool:
    return found.mark == "right"


def panel(desk: Desk) -> Panel:
    """The panel, with the numbers of the garden at hand."""
    return Panel(
        "ask",
        controls(desk.reader),
        partial(compute, desk),
        partial(draw, desk.reader),
        desk.reader,
        main=("audience", "number", "typed"),
    )
