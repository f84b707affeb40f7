"""The header of a log: which column holds what, of which fish or crop, in which unit and on which basis.

A title is written as in the demo logs: the name of the column, and its unit in brackets. Columns of fish name
their batch, unless the garden has one only.

| column | unit in brackets |
| --- | --- |
| `date`, `time`, `note` | none |
| `water temperature` | needed |
| `pH` | none |
| `ammonia` or `TAN`, `nitrite`, `nitrate` | `mg/L as N` and the like; without `as N` the kit in use says |
| `alkalinity`, `hardness` | `dKH`, `mg/L CaCO3` and the like; without it the kit in use says |
| `oxygen`, `chlorine`, `chloride`, `iron` | mg/L where none stands there |
| `added salt`, `conductivity`, `feed`, `top-up` | needed |
| `BATCH counted` or `fish counted (BATCH)`, likewise `taken`, `dead`, `stocked` | none |
| `BATCH weight`: mean of a sample | needed |
| `picked CROP`, and a chemical by its name | needed |
"""

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from aquacalc import kits, tables, units
from aquacalc.errors import InputError, Problem
from aquacalc.logbook.limits import BASES
from aquacalc.logbook.plan import Garden

DATE = "date"
TIME = "time"
NOTE = "note"
NOT_READ = "not read"

POURED = ("ammonia_solution",)
"""Chemicals that are measured by volume; all others are weighed."""

CONCENTRATIONS = ("tan", "nitrite", "nitrate", "oxygen", "chlorine", "chloride", "iron")
"""Parameters that are mg/L where the header names no unit."""

WATER = {
    "water temperature": ("temperature", "temperature"),
    "pH": ("ph", ""),
    "ammonia": ("tan", "concentration"),
    "TAN": ("tan", "concentration"),
    "nitrite": ("nitrite", "concentration"),
    "nitrate": ("nitrate", "concentration"),
    "alkalinity": ("alkalinity", "alkalinity"),
    "hardness": ("hardness", "hardness"),
    "oxygen": ("oxygen", "concentration"),
    "chlorine": ("chlorine", "concentration"),
    "chloride": ("chloride", "concentration"),
    "added salt": ("added_salt", "concentration"),
    "iron": ("iron", "concentration"),
    "conductivity": ("conductivity", "conductivity"),
}
"""Titles of what is measured in the water: parameter, and kind of quantity (empty: a plain number)."""

FISH = {"counted": "count", "taken": "taken", "dead": "dead", "stocked": "stocked", "weight": "weight"}
"""Last words of the columns of fish, and their parameters."""

_BASIS = re.compile(r"(?P<unit>.*?)\s*(?:\bas\s+)?\b(?P<basis>N|NH3|NH4|NO2|NO3)(?P<n>-N)?", re.IGNORECASE)


@dataclass(frozen=True)
class Column:
    """One column.

    parameter: as in `Reading`, else `date`, `time`, `note` or `not read`. title: its name without the unit.
    kind: of quantity, empty where it is a plain number. subject: batch, crop or chemical.
    unit: None where the header names none. basis: what a concentration of nitrogen counts, empty where the
    header does not say.
    """

    parameter: str
    title: str
    kind: str = ""
    subject: str = ""
    unit: units.Unit | None = None
    basis: str = ""

    @property
    def in_water(self) -> bool:
        """Whether it holds readings of the water, which a test kit may bound on one side only."""
        return self.parameter in {parameter for parameter, _ in WATER.values()}

    @property
    def label(self) -> str:
        """The unit and basis of its numbers, as the header writes them; empty where it has none."""
        label = "" if self.unit is None else self.unit.label
        return f"{label} as {self.basis}" if self.basis in units.N_BASES else label

    def as_counted_by(self, scale: kits.Scale | None) -> "Column":
        """This column with what its header does not say taken from a kit, or marked as not known."""
        told = kits.NOT_KNOWN if scale is None else scale.basis
        if self.parameter in kits.NITROGEN and not self.basis:
            return replace(self, basis=told)
        if self.parameter in kits.IN_A_UNIT and self.unit is None:
            known = told != kits.NOT_KNOWN
            return replace(self, unit=units.unit(told)) if known else replace(self, basis=told)
        return self

    def value(self, text: str, where: str) -> float:
        """The number of a cell in the base unit, nitrogen as N; as typed where unit or basis is not known."""
        if self.unit is None:
            return units.read_number(text, where)
        value = units.read(text, self.kind, where, self.unit.key)
        return units.as_n(value, self.basis) if self.basis in units.N_BASES else value

    def shown(self, value: float) -> float:
        """A value as this column writes it; the inverse of `value`."""
        if self.unit is None:
            return value
        counted = units.from_n(value, self.basis) if self.basis in units.N_BASES else value
        return self.unit.from_base(counted)

    def written(self, inside: str) -> str:
        """The title with something in brackets behind it."""
        return f"{self.title} ({inside})"


def read(
    header: Sequence[str], garden: Garden, where: str
) -> tuple[tuple[Column | None, ...], list[Problem]]:
    """The columns of a header, and its problems; None for a column without a name.

    A column that cannot be understood is `NOT_READ`, so that the cells of the others are looked at.
    where: the place, for messages. Raises `InputError` where the first column is not the day.
    """
    known = _known(garden)
    problems: list[Problem] = []
    first = header[0].strip() if header else ""
    if _plain(first) != DATE:
        raise InputError(Problem("problem-log-first-column", where, first))
    found: list[Column | None] = [Column(DATE, DATE)]
    for title in header[1:]:
        try:
            found.append(_column(title, known, garden, where) if title.strip() else None)
        except InputError as error:
            problems += error.problems
            found.append(Column(NOT_READ, title))
    named = [(one.parameter, one.subject) for one in found if one and one.parameter != NOT_READ]
    for one in dict.fromkeys(name for name in named if named.count(name) > 1):
        titles = (column.title for column in found if column and (column.parameter, column.subject) == one)
        problems.append(Problem("problem-given-twice", where, " and ".join(titles)))
    return tuple(found), problems


def _plain(title: str) -> str:
    return " ".join(title.casefold().split())


def _known(garden: Garden) -> dict[str, Column]:
    """Every column that a log of this garden may have, by its plain title, in the order of being offered."""
    columns = [Column(DATE, DATE), Column(TIME, TIME)]
    columns += [Column(parameter, title, kind) for title, (parameter, kind) in WATER.items()]
    columns += [Column("feed", "feed", "mass"), Column("top_up", "top-up", "volume"), Column(NOTE, NOTE)]
    for batch in garden.fish:
        for word, parameter in FISH.items():
            kind = "mass" if parameter == "weight" else ""
            titles = [f"{batch.name} {word}", *([] if kind else [f"fish {word} ({batch.name})"])]
            if len(garden.fish) == 1:
                titles += [f"fish {word}", word]
            columns += [Column(parameter, title, kind, batch.name) for title in titles]
    for row in tables.load("crops"):
        columns += [Column("picked", f"picked {name}", "mass", row.key) for name in _names(row)]
    for row in tables.load("chemicals"):
        kind = "volume" if row.key in POURED else "mass"
        columns += [Column("dose", name, kind, row.key) for name in _names(row)]
    known: dict[str, Column] = {}
    for column in columns:
        known.setdefault(_plain(column.title), column)
    return known


def _names(row: tables.Row) -> tuple[str, ...]:
    """The ways to write a crop or a chemical: key, name, and name without what stands in brackets."""
    name = row.text("name")
    ways = (row.key.replace("_", " "), row.key, name, name.partition(" (")[0])
    return tuple(dict.fromkeys(way.casefold() for way in ways))


def _column(title: str, known: Mapping[str, Column], garden: Garden, where: str) -> Column:
    tidy = " ".join(title.split())
    name, bracket = tidy, ""
    column = known.get(_plain(tidy))
    if column is None and tidy.endswith(")") and "(" in tidy:
        name, _, bracket = (part.strip() for part in tidy[:-1].rpartition("("))
        column = known.get(_plain(name))
    if column is None:
        raise InputError(_unknown(tidy, name, known, garden, where))
    column = replace(column, title=name)
    if column.parameter in kits.NITROGEN:
        return _with_basis(column, bracket, tidy, where)
    return _with_unit(column, bracket, tidy, where)


def _unknown(tidy: str, name: str, known: Mapping[str, Column], garden: Garden, where: str) -> Problem:
    words = _plain(name).removeprefix("fish ")
    if words in FISH and len(garden.fish) > 1:
        return Problem(
            "problem-log-batch", where, tidy, tuple(f"{batch.name} {words}" for batch in garden.fish)
        )
    near = [*difflib.get_close_matches(_plain(tidy), known), *difflib.get_close_matches(_plain(name), known)]
    fish = (f"{batch.name} {word}" for batch in garden.fish for word in FISH)
    offered = (DATE, *WATER, "feed", "top-up", TIME, NOTE, *fish)
    return Problem("problem-unknown-name", where, tidy, offered, known[near[0]].title if near else "")


def _with_unit(column: Column, bracket: str, found: str, where: str) -> Column:
    if not column.kind:
        if bracket:
            raise InputError(Problem("problem-log-unit", where, found, (column.title,)))
        return column
    offered = tuple(column.written(one.label) for one in units.common(column.kind))
    if bracket:
        unit = _unit(bracket, column.kind)
        if unit is None:
            raise InputError(Problem("problem-log-unit", where, found, offered))
        return replace(column, unit=unit)
    if column.parameter in CONCENTRATIONS:
        return replace(column, unit=units.base(column.kind))
    if column.parameter not in kits.IN_A_UNIT:
        raise InputError(Problem("problem-log-unit-missing", where, found, offered))
    return column


def _with_basis(column: Column, bracket: str, found: str, where: str) -> Column:
    match = _BASIS.fullmatch(bracket)
    basis = "" if match is None else "N" if match["n"] else match["basis"].upper()
    in_unit = bracket if match is None else match["unit"]
    fitting = BASES[column.parameter]
    offered = tuple(column.written(f"mg/L as {one}") for one in fitting)
    # `NO3-N` is nitrogen, but only a column of nitrate counts it.
    counted = "" if match is None else match["basis"].upper()
    unit = _unit(in_unit, column.kind) if in_unit else units.base(column.kind)
    if unit is None or counted not in ("", *fitting):
        raise InputError(Problem("problem-log-unit", where, found, offered))
    return replace(column, unit=unit, basis=basis)


def _unit(text: str, kind: str) -> units.Unit | None:
    plain = _plain(text).replace(" /", "/").replace("/ ", "/")
    return next((one for one in units.of_kind(kind) if plain in (_plain(one.label), *one.names)), None)
