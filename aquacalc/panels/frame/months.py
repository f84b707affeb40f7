"""Twelve monthly numbers in a small table, a box a month, in one unit."""

from collections.abc import Sequence
from functools import partial
from typing import Any

import ipywidgets as widgets

from aquacalc import units, words
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.pages import html
from aquacalc.panels.frame import digits
from aquacalc.panels.frame.fields import Field, text_box, unit_list


class MonthsField(Field):
    """Twelve numbers of one kind. Twelve in one box, parted by semicolons or spaces, fill all."""

    def __init__(self, label: str, kind: str, value: Sequence[float], reader: words.Reader) -> None:
        self.kind = kind
        self._value = tuple(value)
        self._refused: dict[int, tuple[Problem, ...]] = {}
        months = range(1, MONTHS_PER_YEAR + 1)
        self.boxes = [text_box(words.month(month, reader, short=True)) for month in months]
        self.unit = unit_list(kind, reader, {})
        table = widgets.Box(self.boxes)
        table.add_class("aq-months")
        super().__init__(label, reader, [widgets.HTML(html.element("span", label)), self.unit, table])
        self.widget.add_class("aq-twelve")
        self.set(value)
        for month, box in enumerate(self.boxes):
            box.tooltip = f"{label}: {words.month(month + 1, reader)}"
            box.observe(partial(self.typed, month), "value")
        self.unit.observe(self.unit_chosen, "value")

    @property
    def value(self) -> tuple[float, ...]:
        """The twelve numbers in the base unit of their kind."""
        return self._value

    @property
    def written(self) -> list[float]:
        """The twelve numbers in the chosen unit."""
        return [round(units.to(one, self.unit.value), 6) for one in self._value]

    def set(self, value: Sequence[float]) -> None:
        """Put twelve values in the base unit in."""
        self._value, self.problem, self.sentence.value = tuple(value), None, ""
        self._refused = {}
        self._show()

    def unit_chosen(self, change: dict[str, Any]) -> None:
        """Show the same values in another unit."""
        if self.problem is None:
            self.set(self._value)

    def typed(self, month: int, change: dict[str, Any]) -> None:
        """Read what was typed into the box of a month, counted from 0."""
        if self._busy:
            return
        text = str(change["new"])
        parts = [part for part in (text.split(";") if ";" in text else text.split()) if part.strip()]
        try:
            if len(parts) == MONTHS_PER_YEAR:
                self._value, self._refused = tuple(self._read(part) for part in parts), {}
                self._show()
            else:
                read = self._read(text)
                self._value = (*self._value[:month], read, *self._value[month + 1 :])
                self._refused.pop(month, None)
        except InputError as error:
            self._refused[month] = error.problems
        if self._refused:
            self.refuse([problem for one in self._refused.values() for problem in one])
        else:
            self.accept()

    def _read(self, text: str) -> float:
        return units.read(text, self.kind, self.label, self.unit.value)

    def _show(self) -> None:
        self._busy = True
        for box, one in zip(self.boxes, self._value, strict=True):
            box.value = digits.as_written(units.to(one, self.unit.value), self.kind)
        self._busy = False
