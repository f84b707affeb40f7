"""A day in a panel: typed, or stepped by a week."""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import ipywidgets as widgets

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden
from aquacalc.panels.frame.fields import LABEL_STYLE, Field

EARLIEST = date(1990, 1, 1)
WEEK = timedelta(days=7)
LEAST_LETTERS = 3


def read_day(text: str, label: str, near: date, reader: words.Reader) -> date:
    """A day as people write it: `2027-04-10`, `10 April 2027`, `Apr 10`.

    near: without a year the one nearest to this day is meant. Figures alone (`4/10/2027`) are refused, since
    they name another day elsewhere. Raises `InputError`.
    """
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        pass
    numbers = [int(number) for number in re.findall(r"\d+", text)]
    names = [word.lower() for word in re.findall(r"[^\W\d_]+", text)]
    months = [
        month
        for month in range(1, 13)
        for name in names
        if len(name) >= LEAST_LETTERS and words.month(month, reader).lower().startswith(name)
    ]
    if len(months) != 1 or len(names) != 1 or not 1 <= len(numbers) <= 2:
        raise InputError(Problem("problem-day-words", label, text.strip()))
    years = [numbers[1]] if len(numbers) == 2 else [near.year - 1, near.year, near.year + 1]
    try:
        found = [date(year, months[0], numbers[0]) for year in years]
    except ValueError:
        raise InputError(Problem("problem-day-words", label, text.strip())) from None
    return min(found, key=lambda day: abs((day - near).days))


def not_past(garden: Garden, today: date) -> date:
    """The first day that may be planned: today, but any in an invented garden, whose year may be over."""
    return EARLIEST if garden.invented else today


def coming(day: date, earliest: date) -> date:
    """A day, or the same of the first later year in which it is not too early."""
    while day < earliest:
        day = (day - timedelta(days=day.month == 2 and day.day == 29)).replace(year=day.year + 1)
    return day


class DateField(Field):
    """A day in a text box, with buttons for a week earlier and a week later.

    near: where an empty box begins when a button is pressed, and what a day without a year is near to;
    optional: an empty box is None. earliest, latest: what lies outside is refused.
    """

    def __init__(
        self,
        label: str,
        value: date | None,
        reader: words.Reader,
        near: date,
        optional: bool = False,
        earliest: date = EARLIEST,
        latest: date = date(2100, 12, 31),
    ) -> None:
        self.near, self.optional, self.earliest, self.latest = near, optional, earliest, latest
        self._value = value
        self.box = widgets.Text(
            description=label,
            continuous_update=False,
            style=LABEL_STYLE,
            layout=widgets.Layout(width="auto", flex="1 1 9em", min_width="9em"),
        )
        self.earlier = self._step("panel-week-earlier", -WEEK, reader)
        self.later = self._step("panel-week-later", WEEK, reader)
        row = widgets.HBox(
            [self.box, self.earlier, self.later],
            layout=widgets.Layout(flex_flow="row wrap", align_items="flex-end", width="100%"),
        )
        row.add_class("aq-date")
        super().__init__(label, reader, [row])
        self.set(value)
        self.box.observe(self.typed, "value")

    def _step(self, key: str, by: timedelta, reader: words.Reader) -> widgets.Button:
        button = widgets.Button(description=words.say(key, reader), layout=widgets.Layout(width="auto"))
        button.on_click(lambda _: self.stepped(by))
        return button

    @property
    def value(self) -> date | None:
        """The day, None where the box is empty."""
        return self._value

    @property
    def written(self) -> date | None:
        """The day as the garden file has it."""
        return self._value

    def set(self, value: date | None) -> None:
        """Put a day in."""
        self._value, self.problem, self.sentence.value = value, None, ""
        self._busy = True
        self.box.value = "" if value is None else words.date(value, self.reader)
        self._busy = False

    def takes(self, value: Any) -> bool:
        """A day between the ends; none only where the field may be empty."""
        return (
            self.optional
            if value is None
            else isinstance(value, date) and self.earliest <= value <= self.latest
        )

    def stepped(self, by: timedelta) -> None:
        """Move the day."""
        moved = (self._value or self.near) + by
        if not self.earliest <= moved <= self.latest:
            self.refuse(self._out_of_range(moved.isoformat()))
            return
        self.set(moved)
        self.accept()

    def typed(self, change: dict[str, Any]) -> None:
        """Read what was typed."""
        if self._busy:
            return
        text = str(change["new"])
        if self.optional and not text.strip():
            self.set(None)
            self.accept()
            return
        try:
            found = read_day(text, self.label, self._value or self.near, self.reader)
        except InputError as error:
            self.refuse(error.problems)
            return
        if not self.earliest <= found <= self.latest:
            self.refuse(self._out_of_range(text.strip()))
            return
        self.set(found)
        self.accept()

    def _out_of_range(self, found: str) -> Sequence[Problem]:
        ends = (words.date(self.earliest, self.reader), words.date(self.latest, self.reader), "")
        return [Problem("problem-range", self.label, found, ends)]
