"""Several numbers of one kind in one box, as many as there are."""

import re
from collections.abc import Sequence
from typing import Any

import ipywidgets as widgets

from aquacalc import units, words
from aquacalc.errors import InputError, Problem
from aquacalc.panels.frame.fields import LABEL_STYLE, Field, first_unit

# Between numbers stand semicolons, line ends, or a comma and a space; else spaces that no unit follows.
_MARKED = re.compile(r"[;\n]|,\s")
_SPACED = re.compile(r"\s+(?=[-\d.,])")


def parts(text: str) -> list[str]:
    """The numbers of a text, each with the unit behind it.

    >>> parts("62 71,5 58"), parts("62 g 0.07 kg"), parts("1 lb 3 oz; 1 lb")
    (['62', '71,5', '58'], ['62 g', '0.07 kg'], ['1 lb 3 oz', '1 lb'])
    """
    split = _MARKED if _MARKED.search(text.strip()) else _SPACED
    return [part.strip() for part in split.split(text.strip()) if part.strip()]


class SeveralField(Field):
    """Numbers of one kind; a unit behind one of them counts for it alone, the chosen one for the rest.

    low, high: ends of each, in the base unit. most: how many are taken. An empty box is none.
    """

    def __init__(
        self,
        label: str,
        kind: str,
        value: Sequence[float],
        reader: words.Reader,
        low: float,
        high: float,
        most: int,
        shown_in: dict[str, str] | None = None,
    ) -> None:
        self.kind, self.low, self.high, self.most = kind, low, high, most
        self._value = tuple(value)
        self.box = widgets.Textarea(
            description=label,
            continuous_update=False,
            rows=3,
            style=LABEL_STYLE,
            layout=widgets.Layout(width="98%", height="auto", flex_flow="column"),
        )
        self.box.add_class("widget-text")
        self.unit = widgets.Dropdown(
            options=[(unit.label, unit.key) for unit in units.common(kind)],
            value=first_unit(kind, reader, shown_in or {}),
            description=words.say("panel-unit", reader),
            style=LABEL_STYLE,
            layout=widgets.Layout(width="8em"),
        )
        super().__init__(label, reader, [self.box, self.unit])
        self.set(value)
        self.box.observe(self.typed, "value")
        self.unit.observe(self.unit_chosen, "value")

    @property
    def value(self) -> tuple[float, ...]:
        """The numbers in the base unit."""
        return self._value

    def set(self, value: Sequence[float]) -> None:
        """Put numbers in the base unit in."""
        self._value, self.problem, self.sentence.value = tuple(value), None, ""
        self._busy = True
        self.box.value = "; ".join(words.number(units.to(one, self.unit.value), 4) for one in self._value)
        self._busy = False

    def unit_chosen(self, change: dict[str, Any]) -> None:
        """Read the numbers anew in the unit that was chosen: it says what was on the scales."""
        if not self._busy:
            self._read(str(self.box.value))

    def typed(self, change: dict[str, Any]) -> None:
        """Read all numbers; the first that cannot be read is told with its place."""
        if not self._busy:
            self._read(str(change["new"]))

    def _read(self, text: str) -> None:
        found = parts(text)
        try:
            if len(found) > self.most:
                raise InputError(Problem("problem-rows-many", self.label, str(len(found)), (str(self.most),)))
            self._value = tuple(self._number(number, part) for number, part in enumerate(found, start=1))
        except InputError as error:
            self.refuse(error.problems)
            return
        self.accept()

    def _number(self, number: int, text: str) -> float:
        where = f"{self.label} {number}"
        value = units.read(text, self.kind, where, self.unit.value)
        if not self.low <= value <= self.high:
            ends = (words.number(units.to(end, self.unit.value), 4) for end in (self.low, self.high))
            raise InputError(
                Problem("problem-range", where, text, (*ends, units.unit(self.unit.value).label))
            )
        return value
