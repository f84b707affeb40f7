"""What does this reading mean, and what now? Readings in, as the kit shows them; level and actions out."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, Protocol

import ipywidgets as widgets

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.advice.reading import actions, fish, given
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden
from aquacalc.logbook.keep import Entry
from aquacalc.logbook.typed import SIGNS
from aquacalc.pages import html, kit, reading_sheet, style, trail
from aquacalc.pages.reading_sheet import Told
from aquacalc.pages.style import Paper
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, garden_of, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, TextField, alert
from aquacalc.panels.frame.keeping import Keeping
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.water import logged
from aquacalc.panels.water.logged import Logged
from aquacalc.sentences import reading

READINGS = {
    "tan": "tan",
    "ph": "ph",
    "temp": "temperature",
    "kh": "alkalinity",
    "oxygen": "oxygen",
    "nitrite": "nitrite",
    "nitrate": "nitrate",
    "gh": "hardness",
    "chlorine": "chlorine",
    "chloride": "chloride",
    "ec": "conductivity",
    "salt": "added_salt",
}
"""Fields by the names of the command, and their parameters."""

EXAMPLE = {"tan": "2", "ph": "7.6", "temp": "26 C", "kh": "120 mg/L CaCO3"}
"""Stands in the fields where no log tells, so that there is an answer to look at."""

OWN, OTHER = "own", "other"
READING_WIDTH = "15.5em"

# Names take one line or two; their boxes stand in line all the same, where several stand side by side.
MAIN = ("signs", "tan", "ph", "temp", "kh", "oxygen", "nitrite", "nitrate")
"""What is asked first: what most kits hold."""
STYLE = """<style>@container (min-width:860px) {
.aq-reading .aq-field .widget-label{display:flex;align-items:flex-end;min-height:2.8em}
}</style>"""


class Saved(Protocol):
    """Files that were written."""

    @property
    def html(self) -> Path:
        """The page."""

    @property
    def pdf(self) -> Path | None:
        """The page for a printer, where one could be made."""


Save = Callable[[str, str, Paper], Saved]
"""Writes a page under a name for a paper; `report.one_page.save`."""


class ReadingField(TextField):
    """A reading as it is written down: a number, its unit or basis where known; empty where not measured."""

    def typed(self, change: dict[str, Any]) -> None:
        """Take any text; what cannot be read is told with the answer."""
        if not self._busy:
            self.accept()


_DIGITS = re.compile(r"[<>]?\s*\d+(?:[.,]\d+)?")
NOT_SEEN = ""


def controls(reader: words.Reader, garden: Garden | None = None) -> dict[str, Field]:
    """What the fish show, a field for each reading; then whose water it is, fish, litres, new water."""
    say = words.say
    signs = [(say("desk-signs-none", reader), NOT_SEEN)]
    signs += [(say(f"word-sign-{one.replace(' ', '-')}", reader), one) for one in fish.SIGNS_OFFERED]
    fields: dict[str, Field] = {"signs": ChoiceField(say("desk-signs", reader), signs, NOT_SEEN, reader)}
    for name in READINGS:
        fields[name] = ReadingField("", "", reader)
    for field in fields.values():
        field.widget.layout.max_width = READING_WIDTH
    if garden is not None:
        whose = [(say("desk-whose-own", reader, garden=garden.name), OWN)]
        whose.append((say("desk-whose-other", reader), OTHER))
        fields["whose"] = ChoiceField(say("desk-whose", reader), whose, OWN, reader)
    fields["fish"] = ChoiceField(say("panel-species", reader), _fish(reader, garden), "", reader)
    fields["litres"] = ReadingField(say("reading-field-litres", reader), "", reader)
    fields["new-water"] = ReadingField(say("desk-new-water", reader), "", reader)
    return fields


def _fish(reader: words.Reader, garden: Garden | None) -> list[tuple[str, str]]:
    """The garden's own fish, where a garden counts; warm or cold water; every species."""
    own = "reading-fish-not-told" if garden is None else "reading-fish-own"
    warmth = [(words.say(f"reading-fish-{one}", reader), one) for one in fish.WARMTH]
    return [(words.say(own, reader), ""), *warmth, *lists.species()]


def _label(parameter: str, reader: words.Reader, garden: Garden | None) -> str:
    name = words.say(f"word-{parameter.replace('_', '-')}", reader)
    if garden is None:
        return name
    counts = kit.label(kit.scale_of(garden, parameter))
    return words.say("reading-field-kit", reader, name=name, counts=counts) if counts else name


def counted_garden(desk: Desk | None, values: Values) -> Garden | None:
    """The garden whose kit, fish, litres and shelf count; None for another tank."""
    return None if values.get("whose", OWN) == OTHER else garden_of(desk)


def compute(desk: Desk | None, values: Values) -> Told:
    """The readings judged, with the garden's kit, fish and shelf where there is one."""
    garden = counted_garden(desk, values)
    typed = [f"{name}={text}" for name, text in values.items() if name != "whose" and text]
    found = actions.answer(given.read(typed, garden))
    return Told(found, "" if garden is None else garden.name)


def draw(reader: words.Reader, said: str, told: Told) -> html.Html:
    """Status and values, actions in their order, reasons, what not to do, what to repeat and to tell.

    said: where the readings in the fields come from; empty once they were typed.
    """
    found, judged = told.answer, told.answer.judgement
    now, later = reading.now(found, reader), reading.later(found, reader)
    avoided = [reading.warned_shortly(one, reader) for one in reading.pertinent(found)]
    never = reading.never(found, reader)
    return answer(
        reading_sheet.status(found, reader),
        [said, reading_sheet.judged_for(found, reader), reading.in_short(found, reader)],
        _part("reading-do" if now else "reading-order", _counted(now or later, 1), reader),
        html.paragraph(reading.again(found, reader)),
        _part("reading-then", _counted(later if now else [], 1 + len(now)), reader),
        _part("reading-not", html.listing([*avoided, never] if never else avoided), reader),
        wide(reading_sheet.readings(found, reader)),
        _part("reading-why", html.listing(reading_sheet.reasons(found, reader)), reader),
        _part("reading-ask", html.listing(reading_sheet.notes(judged.asked, reader)), reader),
        _part("reading-assumed", html.listing(reading_sheet.notes(judged.assumed, reader)), reader),
        html.paragraph(words.say("reading-cautions", reader)),
        trail.fold(rests.of_judgement(judged), reader),
    )


def _counted(texts: Sequence[str], first: int) -> html.Html:
    """Steps in order, counted on from a number."""
    if not texts:
        return html.Html("")
    return html.element("ol", *(html.element("li", text) for text in texts), start=str(first))


def _part(head: str, body: html.Html, reader: words.Reader) -> html.Html:
    """A heading and what stands under it; nothing where nothing does."""
    if not body:
        return body
    return html.join(html.element("p", html.element("b", words.say(head, reader))), body)


class ReadingPanel(Panel):
    """The panel of a reading: what cannot be read is told under its own field, and the last answer stays.

    told: the answer that is shown; `on_answer` functions run after each new one. save: writes the answer on
    one page; without it there is no button.
    """

    def __init__(self, desk: Desk | None, save: Save | None = None) -> None:
        reader = reader_of(desk)
        self.desk, self.save = desk, save
        self.told: Told | None = None
        self._listeners: list[Callable[[], None]] = []
        fields = controls(reader, garden_of(desk))
        self._logged = None if desk is None else logged.last(desk.log, desk.garden, reader)
        self._filled: dict[str, str] = _first(self._logged)
        for name, text in self._filled.items():
            fields[name].set(text)
        self._relabel(fields, reader)
        if "whose" in fields:
            fields["whose"].on_change(self._whose_changed)
        super().__init__(
            "reading", fields, partial(compute, desk), partial(draw, reader, ""), reader, main=MAIN
        )
        below: list[widgets.Widget] = [widgets.HTML(STYLE)]
        if desk is not None:
            below.append(Keeping(desk, self.entries))
        if save is not None:
            self.button = widgets.Button(
                description=words.say("desk-print", reader), layout=widgets.Layout(width="auto")
            )
            self.button.on_click(self.print_page)
            self.saved = widgets.HTML()
            below += [self.button, self.saved]
        self.left.children = (*self.left.children, *below)

    def on_answer(self, listener: Callable[[], None]) -> None:
        """Call `listener` after each new answer."""
        self._listeners.append(listener)

    def refresh(self) -> None:
        """Answer from the fields; what cannot be read is told under its field, and the last answer stays."""
        if not any(self.values[name] for name in ("signs", *READINGS)):
            self._refused(())
            self._stale(words.say("desk-nothing", self.reader))
            return
        try:
            told = self.compute(self.values)
        except InputError as error:
            self._refused(error.problems)
            return
        for field in self.fields.values():
            field.sentence.value = ""
        from_log = self._untouched and self._logged is not None
        self.told = replace(told, logged=self._logged.day) if from_log and self._logged else told
        self._answered(draw(self.reader, self._whence(), self.told))
        for listener in self._listeners:
            listener()

    def entries(self) -> list[Entry]:
        """The readings of the answer that is shown, for the log of the garden that it is about."""
        if self.refused or self.told is None:
            raise InputError(Problem("problem-keep-refused"))
        if "whose" in self.fields and self.fields["whose"].value == OTHER:
            raise InputError(Problem("problem-keep-other"))
        if self._untouched:
            raise InputError(Problem("problem-keep-old"))
        found = []
        for name, parameter in READINGS.items():
            if self.fields[name].value == self._filled.get(name, ""):
                continue  # of an earlier day
            measure = self.told.answer.judgement.given.measures.get(parameter)
            if measure is not None:
                text = self.fields[name].value
                # The log has oxygen in mg/L, whatever the meter shows.
                digits = None if "%" in text else _DIGITS.search(text)
                typed = digits[0] if digits else ""
                found.append(Entry(parameter, measure.value, SIGNS[measure.beyond], typed=typed))
        return found

    def print_page(self, _: Any = None) -> None:
        """Write the answer on one page, and say where it lies; an answer to other entries is not written."""
        if self.told is None or self.save is None:
            return
        if self.refused:
            self.saved.value = alert([words.say("desk-print-refused", self.reader)])
            return
        paper = style.paper_of(self.reader)
        page = reading_sheet.document(self.told, self.reader, date.today(), paper)
        written = self.save(page, "reading", paper)
        name, folder = written.html.name, str(written.html.parent)
        said = words.say("desk-saved-html", self.reader, page=name, folder=folder)
        if written.pdf is not None:
            said = words.say("desk-saved", self.reader, page=name, pdf=written.pdf.name, folder=folder)
        self.saved.value = html.element("p", said, role="status")

    def garden_changed(self) -> None:
        """Name the fields by the kit of the garden at hand, and answer anew."""
        self._relabel(self.fields, self.reader)
        self.refresh()

    @property
    def _untouched(self) -> bool:
        """Whether the readings still are those that stood in the fields at first."""
        own = self.fields["whose"].value == OWN if "whose" in self.fields else True
        return own and all(self.fields[name].value == self._filled.get(name, "") for name in READINGS)

    def _whence(self) -> str:
        """Where the readings in the fields come from."""
        say = words.say
        if not self._untouched:
            return ""
        if self._logged is not None:
            return say("desk-filled", self.reader, day=words.date(self._logged.day, self.reader))
        if self.desk is not None and self.desk.log_problems:
            why = words.problem(self.desk.log_problems[0], self.reader)
            return f"{say('desk-log-refused', self.reader, problem=why)} {say('desk-example', self.reader)}"
        return say("desk-example", self.reader)

    def _refused(self, problems: tuple[Problem, ...]) -> None:
        """Each sentence under its field; those of no field above the answer."""
        under: dict[str, list[str]] = {}
        for problem in problems:
            name = problem.where if problem.where in self.fields else ""
            named = replace(problem, where=self.fields[name].label) if name else problem
            under.setdefault(name, []).append(words.problem(named, self.reader))
        for name, field in self.fields.items():
            field.sentence.value = alert(under[name]) if name in under else ""
        self._stale(words.say("panel-stale", self.reader), *under.get("", ()))

    def _whose_changed(self) -> None:
        garden = counted_garden(self.desk, self.values)
        # What the log of the garden filled in is no reading of another tank.
        for name, text in self._filled.items():
            if garden is None and self.fields[name].value == text:
                self.fields[name].set("")
            elif garden is not None and not self.fields[name].value:
                self.fields[name].set(text)
        fish = self.fields["fish"]
        assert isinstance(fish, ChoiceField)
        fish.offer(_fish(self.reader, garden), fish.value)
        self._relabel(self.fields, self.reader)

    def _relabel(self, fields: Mapping[str, Field], reader: words.Reader) -> None:
        values = {"whose": fields["whose"].value} if "whose" in fields else {}
        garden = counted_garden(self.desk, values)
        for name, parameter in READINGS.items():
            field = fields[name]
            assert isinstance(field, ReadingField)
            field.label = field.box.description = _label(parameter, reader, garden)


def _first(found: Logged | None) -> dict[str, str]:
    """What stands in the fields at first: the last row of the log, else an example."""
    if found is None:
        return dict(EXAMPLE)
    return {name: found.typed[one] for name, one in READINGS.items() if one in found.typed}


def first_step(told: Told, reader: words.Reader | None = None) -> str:
    """What is to be done first, in words."""
    reader = reader or words.Reader()
    steps = [*reading.now(told.answer, reader), *reading.later(told.answer, reader)]
    return steps[0] if steps else reading.again(told.answer, reader)


def panel(desk: Desk | None = None, save: Save | None = None) -> ReadingPanel:
    """The panel; with a garden it follows its kit, fish, litres and shelf. save: see `ReadingPanel`."""
    made = ReadingPanel(desk, save)
    if desk is not None:
        desk.follow(made.garden_changed)
    return made
