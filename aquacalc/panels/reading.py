"""What does this reading mean, and what now? Readings in, as the kit shows them; level and actions out."""

from functools import partial
from typing import Any

from aquacalc import words
from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden.model import Garden
from aquacalc.pages import html, kit, reading
from aquacalc.panels import lists
from aquacalc.panels.desk import Desk, garden_of, reader_of
from aquacalc.panels.fields import ChoiceField, Field, TextField
from aquacalc.panels.frame import Panel, Values, answer

READINGS = {
    "tan": "tan",
    "ph": "ph",
    "temp": "temperature",
    "oxygen": "oxygen",
    "nitrite": "nitrite",
    "nitrate": "nitrate",
    "kh": "alkalinity",
    "gh": "hardness",
    "chlorine": "chlorine",
    "chloride": "chloride",
    "ec": "conductivity",
}
"""Fields by the names of the command, and their parameters."""

EXAMPLE = {"tan": "2", "ph": "7.6", "temp": "26 C"}
"""Stands in the fields at first, so that there is an answer to look at."""


class ReadingField(TextField):
    """A reading as it is written down: a number, its unit or basis where known; empty where not measured."""

    def typed(self, change: dict[str, Any]) -> None:
        """Take any text; what cannot be read is told with the answer."""
        if not self._busy:
            self.accept()


def controls(reader: words.Reader, garden: Garden | None = None) -> dict[str, Field]:
    """A field for each reading, named with what the garden's kit counts; the fish; the litres."""
    fields: dict[str, Field] = {
        name: ReadingField(_label(parameter, reader, garden), EXAMPLE.get(name, ""), reader)
        for name, parameter in READINGS.items()
    }
    own = "reading-fish-not-told" if garden is None else "reading-fish-own"
    fish = [(words.say(own, reader), "")]
    fish += [(words.say(f"reading-fish-{warmth}", reader), warmth) for warmth in given.WARMTH]
    fields["fish"] = ChoiceField(words.say("panel-species", reader), [*fish, *lists.species()], "", reader)
    fields["litres"] = ReadingField(words.say("reading-field-litres", reader), "", reader)
    return fields


def _label(parameter: str, reader: words.Reader, garden: Garden | None) -> str:
    name = words.say(f"word-{parameter}", reader)
    if garden is None:
        return name
    counts = kit.label(kit.scale_of(garden, parameter))
    return words.say("reading-field-kit", reader, name=name, counts=counts) if counts else name


def compute(desk: Desk | None, values: Values) -> Answer:
    """The readings judged, with the garden's kit, fish and shelf where there is one."""
    typed = [f"{name}={text}" for name, text in values.items() if text]
    return actions.answer(given.read(typed, garden_of(desk)))


def draw(reader: words.Reader, found: Answer) -> html.Html:
    """Status and values, actions in their order, reasons, what not to do, what to repeat and to tell."""
    head = [words.say(f"reading-head-{name}", reader) for name in ("reading", "value", "level")]
    judged = found.judgement
    done = [html.element("li", text) for text in reading.actions(found, reader)]
    told = (
        " ".join((f"{title}.", why, instead))
        for title, why, instead in (reading.warned(one, reader) for one in found.warned)
    )
    return answer(
        reading.status(found, reader),
        [reading.judged_for(found, reader), reading.again(found, reader)],
        html.table(head, reading.rows(found, reader)),
        _part("reading-do", html.element("ol", *done) if done else html.Html(""), reader),
        _part("reading-why", html.listing(reading.reasons(found, reader)), reader),
        _part("reading-not", html.listing(told), reader),
        _part("reading-ask", html.listing(reading.notes(judged.asked, reader)), reader),
        _part("reading-assumed", html.listing(reading.notes(judged.assumed, reader)), reader),
        html.paragraph(words.say("reading-cautions", reader)),
    )


def _part(head: str, body: html.Html, reader: words.Reader) -> html.Html:
    """A heading and what stands under it; nothing where nothing does."""
    if not body:
        return body
    return html.join(html.element("p", html.element("b", words.say(head, reader))), body)


def panel(desk: Desk | None = None) -> Panel:
    """The panel; with a garden it follows its kit, fish, litres and shelf."""
    reader = reader_of(desk)
    fields = controls(reader, garden_of(desk))
    made = Panel("reading", fields, partial(compute, desk), partial(draw, reader), reader)
    if desk is not None:
        desk.follow(made.refresh)
    return made
