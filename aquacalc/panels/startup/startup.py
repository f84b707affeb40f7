"""When can the fish come? A start-up of this garden: method, curve, dates, readings that narrow it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import lru_cache

import ipywidgets as widgets

from aquacalc import kits, words
from aquacalc.charts import startup as charts
from aquacalc.charts.picture import svg
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.pages import html, kit, startup, startup_doses
from aquacalc.pages.startup import Made
from aquacalc.pages.wall import startup_sheet
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import ChoiceField, NumberField, alert
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.panels.startup.startup_fields import (
    BY_LOG,
    RARE,
    asked,
    choice_of,
    controls,
    first_day,
    fish_in,
    label,
    place_of,
    product_of,
)
from aquacalc.startup import doses, methods, plan, readings
from aquacalc.startup.methods import Place
from aquacalc.startup.plan import Choice, StartUp
from aquacalc.startup.readings import Reading

KEPT = 12
MANY = 2000
TYPED = ("tan", "nitrite")

Told = Callable[[int, int], None]


class Worked:
    """Start-ups of a garden, each worked out once."""

    def __init__(self, tell: Told) -> None:
        self.tell = tell
        self.of = lru_cache(maxsize=KEPT)(self._of)

    def _of(self, garden: Garden, log: Log | None, choice: Choice, members: int) -> StartUp:
        return plan.of_garden(garden, log, choice, members, self.tell)


class StartUpPanel(Panel):
    """The start-up of the garden at hand; other panels of its notebook follow it.

    start: as it is shown. made: it, its first fish and its reader, for pages.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.typed: list[tuple[date, str, float, float]] = []
        self.members = plan.MEMBERS
        self.line, self.said = widgets.HTML(), widgets.HTML(layout=widgets.Layout(width="100%"))
        self.worked = Worked(self.told)
        self.start: StartUp | None = None
        self._followers: list[Callable[[], None]] = []
        super().__init__(
            "start-up",
            controls(desk),
            self.computed,
            self.drawn,
            desk.reader,
            (self._more_fields(), self._entries(), self._more(), self.line),
            asked=self.asked_now,
        )
        # The answer is read first; fields and picture stand beneath it.
        self.head.children = (self.said,)
        self.more_fields.observe(self.refresh_after, "value")
        desk.follow(self.garden_changed)

    def asked_now(self, values: Values) -> list[str]:
        """Fields that are shown; those that are rarely changed only where they are wanted."""
        folded: tuple[str, ...] = () if self.more_fields.value else RARE
        if product_of(values) == doses.SOLUTION:
            folded = tuple(one for one in folded if one != "strength")
        # A field whose entry cannot be used stays in sight.
        return [one for one in asked(values) if one not in folded or self.fields[one].problem is not None]

    def refresh_after(self, _change: object = None) -> None:
        """Show more or fewer fields."""
        self.refresh()

    def _stale(self, *sentences: str) -> None:
        super()._stale(*sentences)
        self.said.add_class("aq-old")

    # --- working out

    def told(self, day: int, last: int) -> None:
        """Say how far the tries are."""
        share = words.quantity(round(day / last, 1), "share", self.reader)
        tries = words.number(self.members, digits=9)
        text = words.say("panel-startup-progress", self.reader, share=share, tries=tries)
        self.line.value = html.element("p", text, role="status")

    def computed(self, values: Values) -> StartUp:
        """The start-up of the fields, weighed by the readings."""
        choice = choice_of(values)
        place = place_of(self.desk, values)
        if choice.method == "fish":
            choice = replace(choice, fish_feed_g_day=fish_in(self.desk, choice, place).feed_g_day[1])
        start = self.worked.of(self.desk.garden, self.log(values), choice, self.members)
        return plan.with_readings(start, self._as_readings(start)) if self.typed else start

    def log(self, values: Values) -> Log | None:
        """The log beside the garden, where it shall count."""
        return self.desk.log if values["by"] == BY_LOG else None

    def plain(self, values: Values) -> StartUp:
        """The same without any reading."""
        return self.worked.of(self.desk.garden, None, choice_of(values), self.members)

    def made(self, start: StartUp) -> Made:
        """What pages are made from."""
        carried = plan.carried_kg(self.desk.balance)
        first = plan.first_of(start, self.desk.garden, carried)
        limits = self.fish_limits() if start.choice.method == "fish" else None
        return Made(self.desk.garden, start, self.reader, first, limits)

    def place(self) -> Place:
        """What decides between methods here."""
        return place_of(self.desk, self.values)

    def advised(self) -> methods.Method:
        """The method for this place and this shelf."""
        told = self.desk.garden.start_up.product
        shelf = {one.chemical for one in self.desk.garden.products} | ({told} if told else set())
        return methods.advised(self.place(), shelf)

    def fish_limits(self) -> methods.FishIn:
        """Feed and stop values of a start with fish."""
        return fish_in(self.desk, choice_of(self.values), self.place())

    def follow(self, follower: Callable[[], None]) -> None:
        """Call `follower` whenever another start-up is shown."""
        self._followers.append(follower)

    def garden_changed(self) -> None:
        """Begin anew with the garden at hand."""
        self.typed = []
        self.fields["first"].set(first_day(self.desk))
        self.refresh()

    # --- drawing

    def drawn(self, start: StartUp) -> html.Html:
        """The picture, the dates, the readings, the sheet to print; the answer stands above the fields."""
        self.start = start
        self.said.remove_class("aq-old")
        made = self.made(start)
        values = self.values
        read = bool(start.forecast.readings)
        lines = [*self._not_used(), *startup_doses.now(made)]
        if self.desk.garden.invented:
            lines.insert(0, words.say("panel-invented", self.reader))
        if self.desk.garden.start_up.state == "new":
            lines += startup.planned_fish(made)
        else:
            first = words.date(start.first, self.reader)
            lines.append(words.say("startup-running", self.reader, first=first))
        lines += [next_look(start, self.reader), *self._unusable(start)]
        self.said.value = answer(startup.title(made) + words.say("full-stop", self.reader), lines)
        told = startup.told(made, self.plain(values) if read else None)
        page = svg(charts.course(start, self.reader, ""))
        self.line.value = ""
        for follower in self._followers:
            follower()
        return html.element(
            "div",
            *map(html.paragraph, told),
            self._typed_list(),
            figure(page, charts.course_on_phone(start, self.reader)),
            startup.dates(made),
            html.element("p", startup_sheet.link(made, date.today())),
            class_="aq-result",
        )

    def _not_used(self) -> list[str]:
        """That another garden than the reader's own is shown, or that the log could not be read."""
        reader = self.reader
        own = [
            words.say("panel-startup-other-garden", reader, problem=words.problem(one, reader))
            for one in self.desk.problems[:1]
        ]
        log = [
            words.say("panel-startup-log-refused", reader, problem=words.problem(one, reader))
            for one in self.desk.log_problems[:1]
        ]
        return own + log

    def _unusable(self, start: StartUp) -> list[str]:
        if start.read is None:
            return []
        found = {(one.key, one.parameter): one for one in start.read.unusable}
        return [
            words.say(
                f"panel-startup-unusable-{key}",
                self.reader,
                name=words.say(f"word-{parameter}", self.reader),
                day=words.date(start.case.date_of(one.day), self.reader),
            )
            for (key, parameter), one in found.items()
        ]

    def _typed_list(self) -> html.Html:
        if not self.typed:
            return html.Html("")
        said = [
            words.say(
                "panel-startup-typed",
                self.reader,
                day=words.day(day, self.reader),
                name=words.say(f"word-{parameter}", self.reader),
                value=words.number(value, 3),
            )
            for day, parameter, value, _ in self.typed
        ]
        return html.join(
            html.paragraph(words.say("panel-startup-typed-head", self.reader)), html.listing(said)
        )

    # --- readings

    def _entries(self) -> widgets.Widget:
        reader = self.reader_of()
        say = words.say
        self.read_day = DateField(
            say("panel-startup-read-day", reader), None, reader, first_day(self.desk), True
        )
        self.read = {
            name: NumberField(label(self.desk, name), "", None, reader, 0.0, 500.0, optional=True)
            for name in TYPED
        }
        thin = [(say(f"panel-startup-thin-{n}", reader), str(n)) for n in (1, 5, 10)]
        self.thin = ChoiceField(say("panel-startup-thin", reader), thin, "1", reader)
        add = widgets.Button(
            description=say("panel-startup-add", reader), layout=widgets.Layout(width="auto")
        )
        take = widgets.Button(
            description=say("panel-startup-take", reader), layout=widgets.Layout(width="auto")
        )
        add.on_click(self.added)
        take.on_click(self.taken)
        self.read_problem = widgets.HTML()
        row = widgets.Box(
            [self.read_day.widget, *(one.widget for one in self.read.values()), self.thin.widget],
            layout=widgets.Layout(flex_flow="row wrap", width="100%"),
        )
        return widgets.VBox(
            [
                widgets.HTML(html.paragraph(say("panel-startup-read-how", reader))),
                row,
                self.read_problem,
                widgets.HBox([add, take], layout=widgets.Layout(flex_flow="row wrap")),
            ]
        )

    def _more(self) -> widgets.Widget:
        tries = words.number(MANY, digits=9)
        text = words.say("panel-startup-more", self.reader_of(), tries=tries)
        self.more = widgets.Button(description=text, layout=widgets.Layout(width="auto"))
        self.more.on_click(self.pressed)
        return self.more

    def _more_fields(self) -> widgets.Widget:
        self.more_fields = widgets.Checkbox(
            description=words.say("panel-startup-more-fields", self.reader_of()),
            indent=False,
            layout=widgets.Layout(width="auto"),
        )
        return self.more_fields

    def reader_of(self) -> words.Reader:
        """For whom the panel is made; before its frame stands."""
        return self.desk.reader

    def pressed(self, _button: object = None) -> None:
        """Work with many tries from now on."""
        self.members, self.more.disabled = MANY, True
        self.refresh()

    def added(self, _button: object = None) -> None:
        """Take the readings of a day in, and answer at once."""
        day, found = self.read_day.value, {name: field.value for name, field in self.read.items()}
        before = list(self.typed)
        problems = []
        if day is None:
            problems.append(Problem("problem-missing", self.read_day.label))
        if all(value is None for value in found.values()):
            problems.append(Problem("problem-missing", label(self.desk, TYPED[0])))
        if not problems and day is not None:
            thinned = float(self.thin.value)
            self.typed += [
                (day, name, float(value), thinned) for name, value in found.items() if value is not None
            ]
            try:
                if self.start is not None:
                    plan.with_readings(self.start, self._as_readings(self.start))
            except InputError as error:
                self.typed, problems = before, list(error.problems)
        self.read_problem.value = (
            alert(words.problem(one, self.reader) for one in problems) if problems else ""
        )
        if not problems:
            for field in self.read.values():
                field.set(None)
            self.refresh()

    def taken(self, _button: object = None) -> None:
        """Take the last day's readings out again."""
        if self.typed:
            last = self.typed[-1][0]
            self.typed = [one for one in self.typed if one[0] != last]
            self.refresh()

    def _as_readings(self, start: StartUp) -> list[Reading]:
        return [
            as_reading(self.desk.garden, start, day, name, value, thinned)
            for day, name, value, thinned in self.typed
        ]


def as_reading(
    garden: Garden, start: StartUp, day: date, parameter: str, shown: float, dilution: float
) -> Reading:
    """A typed reading as what the kit leaves open; as N where no kit is described.

    shown: what the thinned sample read. Raises `InputError` where the kit does not tell its basis.
    """
    scale = kit.scale_of(garden, parameter)
    on = start.case.day_of(day)
    name: readings.Parameter = "tan" if parameter == "tan" else "nitrite"
    if not scale.steps and not kits.basis_is_known(scale):
        return readings.of_value(on, name, shown * dilution)
    found = readings.of_kit(on, name, shown, scale, dilution)
    if found is None:
        raise InputError(Problem("problem-startup-basis-nitrogen", f"kit.{parameter}"))
    return found


def next_look(start: StartUp, reader: words.Reader) -> str:
    """The next day to look, and what to test on it."""
    look = plan.looks(start, 2)[1 if start.forecast.readings else 0]
    tests = [words.say(f"word-{one}", reader) for one in look.tests]
    day = words.date(look.day, reader)
    return words.say("panel-startup-look", reader, day=day, tests=words.listed(tests, reader))


def panel(desk: Desk) -> StartUpPanel:
    """The panel; it follows the garden."""
    return StartUpPanel(desk)
