"""A small table typed row by row: one row a line, cells parted by semicolons."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import ipywidgets as widgets

from aquacalc import tables, units, words
from aquacalc.errors import InputError, Problem
from aquacalc.panels.frame.fields import LABEL_STYLE, Field

Row = tuple[float | str, ...]


@dataclass(frozen=True)
class Column:
    """A column: its name, its kind of quantity (empty for a plain number, `text` for a name), its ends."""

    name: str
    kind: str
    low: float = 0.0
    high: float = 1e9


class RowsField(Field):
    """Rows of a table in one box; a bare number counts in the unit that the reader is shown.

    most: how many rows are taken.
    """

    def __init__(
        self,
        label: str,
        columns: Sequence[Column],
        value: Sequence[Row],
        reader: words.Reader,
        most: int = 12,
    ) -> None:
        self.columns, self.most = tuple(columns), most
        self._value: tuple[Row, ...] = ()
        self.box = widgets.Textarea(
            description=_headed(label, columns, reader),
            continuous_update=False,
            rows=5,
            style=LABEL_STYLE,
            layout=widgets.Layout(width="98%", height="auto", flex_flow="column"),
        )
        self.box.add_class("widget-text")
        super().__init__(label, reader, [self.box])
        self.set(value)
        self.box.observe(self.typed, "value")

    @property
    def value(self) -> tuple[Row, ...]:
        """The rows, numbers in the base unit of their column."""
        return self._value

    def set(self, value: Sequence[Row]) -> None:
        """Put rows in."""
        self._value, self.problem, self.sentence.value = tuple(tuple(row) for row in value), None, ""
        self._busy = True
        self.box.value = "\n".join(self._line(row) for row in self._value)
        self._busy = False

    def _line(self, row: Row) -> str:
        return "; ".join(
            str(cell) if isinstance(cell, str) else words.number(_shown(cell, column, self.reader), 4)
            for cell, column in zip(row, self.columns, strict=True)
        )

    def typed(self, change: dict[str, Any]) -> None:
        """Read all rows; the first cell that cannot be read is told with its row."""
        if self._busy:
            return
        lines = [line for line in str(change["new"]).splitlines() if line.strip()]
        try:
            if len(lines) > self.most:
                raise InputError(Problem("problem-rows-many", self.label, str(len(lines)), (str(self.most),)))
            self._value = tuple(self._read(number, line) for number, line in enumerate(lines, start=1))
        except InputError as error:
            self.refuse(error.problems)
            return
        self.accept()

    def _read(self, number: int, line: str) -> Row:
        parts = [part.strip() for part in line.split(";")]
        if len(parts) != len(self.columns):
            names = tuple(column.name for column in self.columns)
            raise InputError(Problem("problem-row-cells", f"{self.label} {number}", line.strip(), names))
        return tuple(
            self._cell(number, part, column) for part, column in zip(parts, self.columns, strict=True)
        )

    def _cell(self, number: int, text: str, column: Column) -> float | str:
        where = f"{self.label} {number}, {column.name}"
        if column.kind == "text":
            return text
        if not column.kind:
            value = units.read_number(text, where)
        else:
            value = units.read(text, column.kind, where, _unit(column, self.reader))
        if not column.low <= value <= column.high:
            ends = [words.number(_shown(end, column, self.reader), 4) for end in (column.low, column.high)]
            label = units.unit(_unit(column, self.reader)).label if column.kind else ""
            raise InputError(Problem("problem-range", where, text, (*ends, label)))
        return value


def _unit(column: Column, reader: words.Reader) -> str:
    return tables.load("quantities").row(column.kind).text(reader.units)


def _shown(value: float, column: Column, reader: words.Reader) -> float:
    return units.to(value, _unit(column, reader)) if column.kind else value


def _headed(label: str, columns: Sequence[Column], reader: words.Reader) -> str:
    named = [
        words.say("panel-rows-column", reader, name=one.name, unit=units.unit(_unit(one, reader)).label)
        if one.kind not in ("", "text")
        else one.name
        for one in columns
    ]
    return words.say("panel-rows-label", reader, label=label, columns="; ".join(named))
