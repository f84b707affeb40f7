"""The tables of `data/`: text files with a source in each row, checked when they are read.

`data/columns.csv` says what each column of each table may hold. A fault in a packaged table is a fault of
the project, never of the grower, and therefore a plain exception that names file, line, key, column, value
and limits. Asking a table for a name that it does not hold is an `InputError`, because the name was typed.
"""

import csv
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from aquacalc.errors import InputError, Problem

DATA = Path(__file__).with_name("data")

MARKS = ("read", "read-2nd", "computed", "memory", "practice")
"""How a value is known; weakest last. A mixed mark is written as its weakest."""

KINDS = ("key", "text", "number", "mark", "source", "choice", "choices")

SEPARATOR = "; "

# What a line of columns.csv says; this file cannot be described by itself before it is read.
RULES_HEADER = (
    "table",
    "column",
    "kind",
    "low",
    "high",
    "required",
    "choices",
    "unit",
    "meaning",
    "source",
    "mark",
)


class TableFault(ValueError):  # noqa: N818  (a fault of the project, never an error of the reader)
    """A packaged table does not hold what `columns.csv` promises."""


@dataclass(frozen=True)
class Rule:
    """What one column may hold. Limits count, and are infinite where none is given."""

    column: str
    kind: str
    low: float
    high: float
    required: bool
    choices: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """Columns of a table that share marks and sources: the values first, then how they are known."""

    values: tuple[str, ...]
    marks: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Cited:
    """A source where it is cited. reference: its key with the place in it; mark: how the value is known."""

    reference: str
    mark: str


@dataclass(frozen=True)
class Row:
    """One row: its key, its line in the file, its cells as text, its numbers as floats."""

    key: str
    line: int
    cells: Mapping[str, str]
    numbers: Mapping[str, float]

    def text(self, column: str) -> str:
        """The cell as it stands in the file; empty where it is blank."""
        return self.cells[column]

    def number(self, column: str) -> float:
        """The cell as a number; NaN where it is blank (not found, never zero)."""
        return self.numbers[column]

    def listed(self, column: str) -> tuple[str, ...]:
        """The parts of a cell that holds several, joined by `; `; none where it is blank."""
        return parts(self.cells[column])


@dataclass(frozen=True)
class Table:
    """One table, its rows in the order of the file."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]

    def keys(self) -> tuple[str, ...]:
        """The keys of all rows, in the order of the file."""
        return tuple(row.key for row in self.rows)

    def row(self, key: str) -> Row:
        """The row of a key; `InputError` (`problem-unknown-name`) with the nearest key where there is none.

        >>> load("coefficients").row("air_rating_share").text("unit")
        'fraction'
        """
        for row in self.rows:
            if row.key == key:
                return row
        known = self.keys()
        import difflib  # only a slip needs it

        nearest = difflib.get_close_matches(key, known, n=1)
        raise InputError(
            Problem("problem-unknown-name", self.name, key, known, nearest[0] if nearest else "")
        )

    def __iter__(self) -> Iterator[Row]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)


def parts(cell: str) -> tuple[str, ...]:
    """The parts of a cell that are joined by `; `.

    >>> parts("FAO56:T12; SR28")
    ('FAO56:T12', 'SR28')
    """
    return tuple(part.strip() for part in cell.split(SEPARATOR.strip()) if part.strip())


def source_key(reference: str) -> str:
    """The key of a reference to a source, without the place in it.

    >>> source_key("FAO56:T12")
    'FAO56'
    """
    return reference.partition(":")[0]


def weakest(marks: tuple[str, ...]) -> str:
    """The weakest of several marks.

    >>> weakest(("read", "practice", "memory"))
    'practice'
    """
    return max(marks, key=MARKS.index)


@cache
def groups(name: str) -> tuple[Group, ...]:
    """The columns of a packaged table after its key, by the marks and sources that they share.

    Columns of values follow one another up to their marks and sources, with which their notes stand; what
    stands behind the last of them belongs to them.

    >>> groups("meals")[0].marks
    ('mark',)
    """
    kinds = {rule.column: rule.kind for rule in _rules(name, DATA)}
    found: list[list[str]] = [[]]
    for column, kind in list(kinds.items())[1:]:
        closed = any(kinds[one] in ("mark", "source") for one in found[-1])
        if closed and kind not in ("mark", "source") and not column.endswith(("note", "notes")):
            found.append([])
        found[-1].append(column)
    while len(found) > 1 and not any(kinds[one] in ("mark", "source") for one in found[-1]):
        found[-2:] = [found[-2] + found[-1]]

    def of_kind(columns: list[str], *wanted: str) -> tuple[str, ...]:
        return tuple(one for one in columns if kinds[one] in wanted)

    values = tuple(kind for kind in KINDS if kind not in ("mark", "source"))
    return tuple(Group(of_kind(one, *values), of_kind(one, "mark"), of_kind(one, "source")) for one in found)


def cited(name: str, row: Row, column: str = "") -> tuple[Cited, ...]:
    """The sources of a row of a packaged table, each with the weakest mark of the values it stands for.

    column: where it is named, only the sources of that value and of those that share them.

    >>> [one.mark for one in cited("water_limits", load("water_limits").row("tan_class_a"))]
    ['memory']
    """
    found = []
    for group in groups(name):
        marks = tuple(mark for column in group.marks if (mark := row.text(column)))
        if marks and (not column or column in group.values):
            references = (one for column in group.sources for one in row.listed(column))
            found += [Cited(one, weakest(marks)) for one in references]
    return tuple(found)


def cited_whole(references: Iterable[str]) -> tuple[Cited, ...]:
    """References that stand for no single row, each with the mark of its source."""
    sources = load("sources")
    return tuple(Cited(one, sources.row(source_key(one)).text("mark")) for one in references)


@cache
def load(name: str) -> Table:
    """A packaged table, read and checked once; raises `TableFault` where it is not as promised."""
    return read(name, DATA)


@cache
def read(name: str, folder: Path) -> Table:
    """The table `name`.csv of a folder that also holds `columns.csv` and `sources.csv`."""
    if name == "columns":
        return _columns(folder)
    rules = _rules(name, folder)
    known = frozenset() if name == "sources" else frozenset(read("sources", folder).keys())
    file = f"{name}.csv"
    header, lines = _lines(folder / file)
    _check_header(file, header, tuple(rule.column for rule in rules))
    rows = []
    for line, cells in lines:
        texts = dict(zip(header, cells, strict=True))
        key = cells[0]
        numbers = {}
        for rule in rules:
            place = f"{file} line {line} ({key}): {rule.column}"
            value = _checked(rule, texts[rule.column], place, known)
            if rule.kind == "number":
                numbers[rule.column] = value
        rows.append(Row(key, line, texts, numbers))
    _check_keys(file, rows)
    return Table(name, header, tuple(rows))


def _columns(folder: Path) -> Table:
    # The first two columns together name a rule, so the key is made of both.
    header, lines = _lines(folder / "columns.csv")
    _check_header("columns.csv", header, RULES_HEADER)
    rows = []
    for line, cells in lines:
        texts = dict(zip(header, cells, strict=True))
        key = f"{texts['table']}.{texts['column']}"
        if texts["kind"] not in KINDS:
            raise TableFault(
                f"columns.csv line {line} ({key}): kind is {texts['kind']!r}, allowed {', '.join(KINDS)}."
            )
        limits = {
            bound: _number(texts[bound], f"columns.csv line {line} ({key}): {bound}")
            if texts[bound]
            else open_end
            for bound, open_end in (("low", -math.inf), ("high", math.inf))
        }
        rows.append(Row(key, line, texts, limits))
    _check_keys("columns.csv", rows)
    return Table("columns", header, tuple(rows))


def _rules(name: str, folder: Path) -> tuple[Rule, ...]:
    rules = tuple(
        Rule(
            row.text("column"),
            row.text("kind"),
            row.number("low"),
            row.number("high"),
            row.text("required") == "yes",
            row.listed("choices"),
        )
        for row in read("columns", folder)
        if row.text("table") == name
    )
    if not rules or rules[0].kind != "key":
        raise TableFault(f"columns.csv: table {name} has no first column of kind key.")
    return rules


def _lines(path: Path) -> tuple[tuple[str, ...], list[tuple[int, tuple[str, ...]]]]:
    if not path.is_file():
        raise TableFault(f"{path.name}: there is no such table.")
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file)
        header = tuple(next(reader, ()))
        lines = []
        for cells in reader:
            if len(cells) != len(header):
                raise TableFault(
                    f"{path.name} line {reader.line_num}: {len(cells)} cells, the header has {len(header)}."
                )
            lines.append((reader.line_num, tuple(cell.strip() for cell in cells)))
    return header, lines


def _check_header(file: str, header: tuple[str, ...], expected: tuple[str, ...]) -> None:
    if header == expected:
        return
    for found, promised in zip(header, expected, strict=False):
        if found != promised:
            raise TableFault(f"{file} line 1: column {found!r} stands where {promised!r} should.")
    raise TableFault(f"{file} line 1: {len(header)} columns, {len(expected)} promised.")


def _check_keys(file: str, rows: list[Row]) -> None:
    seen: dict[str, int] = {}
    for row in rows:
        if row.key in seen:
            raise TableFault(
                f"{file} line {row.line} ({row.key}): the key stands on line {seen[row.key]} already."
            )
        seen[row.key] = row.line


def _number(cell: str, place: str) -> float:
    try:
        return float(cell)
    except ValueError:
        raise TableFault(f"{place} is {cell!r}, not a number.") from None


def _checked(rule: Rule, cell: str, place: str, sources: frozenset[str]) -> float:
    """The number of a cell (NaN for a blank one, and for cells that are no numbers)."""
    if not cell:
        if rule.required or rule.kind == "key":
            raise TableFault(f"{place} is empty.")
        return math.nan
    if rule.kind == "number":
        value = _number(cell, place)
        # Written this way round so that NaN does not slip through.
        if not (rule.low <= value <= rule.high and math.isfinite(value)):
            raise TableFault(f"{place} is {cell}, allowed {rule.low:g} to {rule.high:g}.")
        return value
    allowed = MARKS if rule.kind == "mark" else rule.choices
    if rule.kind in {"mark", "choice"} and cell not in allowed:
        raise TableFault(f"{place} is {cell!r}, allowed {', '.join(allowed)}.")
    if rule.kind == "choices":
        for part in parts(cell):
            if part not in allowed:
                raise TableFault(f"{place} holds {part!r}, allowed {', '.join(allowed)}.")
    if rule.kind == "source":
        for part in parts(cell):
            if source_key(part) not in sources:
                raise TableFault(f"{place} is {part!r}, which does not stand in sources.csv.")
    return math.nan
