"""A day's entries put into the log as a row of its own: seen before, written in one step, taken back after.

The file stays as its owner wrote it: the same separator, the same columns in the same order. A column that it
lacks is added at the end of its header; a row that does not reach so far is read as before.
"""

import csv
import io
import re
from codecs import BOM_UTF8
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from aquacalc import disk, kits, spreadsheet, units
from aquacalc.errors import InputError, Problem
from aquacalc.logbook.columns import DATE, WATER, Column
from aquacalc.logbook.messy import file, titles
from aquacalc.logbook.plan import Garden, scale_in_use

DIGITS = 4
TITLES = {parameter: title for title, (parameter, _) in reversed(WATER.items())}
TITLES |= {"feed": "feed", "top_up": "top-up"}
KINDS = dict(WATER.values()) | {"feed": "mass", "top_up": "volume", "weight": "mass"}


@dataclass(frozen=True)
class Entry:
    """One number. value: in the base unit of its kind, nitrogen as N. sign: `<`, `>` or nothing.

    parameter, subject: as in `Column`. typed: its digits as they were typed, for a log and a kit of which
    nobody knows what they count.
    """

    parameter: str
    value: float
    sign: str = ""
    subject: str = ""
    typed: str = ""


@dataclass(frozen=True)
class Row:
    """A row that may be written. before, after: the whole file; None where there was none."""

    path: Path
    before: bytes | None
    after: bytes
    header: tuple[str, ...]
    cells: tuple[str, ...]


def row(path: Path, garden: Garden, day: date, entries: Sequence[Entry], note: str = "") -> Row:
    """The row of a day, and the file with it; nothing is written yet.

    Raises `InputError` where there is nothing to keep, or the log cannot be read as text.
    """
    if not entries and not note:
        raise InputError(Problem("problem-nothing-to-keep"))
    before = path.read_bytes() if path.exists() else None
    text = file.text_of(path)[0] if before is not None else ""
    separator = file.separator_of(text) if text else ","
    # Where a comma marks decimals a point might be taken for a date.
    comma = separator == ";" and re.search(r"\d,\d", text) is not None
    lines = text.splitlines(keepends=True)
    at = next((k for k, line in enumerate(lines) if _is_header(line, separator)), None)
    if text and at is None:
        raise InputError(Problem("problem-log-no-header", "", str(path)))
    header = list(_cells(lines[at], separator)) if at is not None else [DATE]
    columns = [_column(title, garden) for title in header]
    cells = {next(k for k, one in enumerate(header) if titles.is_date(one)): day.isoformat()}
    for entry in entries:
        place = next((k for k, one in enumerate(columns) if one is not None and _holds(one, entry)), None)
        if place is None:
            header.append(_title(entry))
            columns.append(_column(header[-1], garden))
            place = len(header) - 1
        column = columns[place]
        assert column is not None
        cells[place] = _written(column, entry, garden, day)
        if comma:
            cells[place] = cells[place].replace(".", ",")
    if note:
        place = next((k for k, one in enumerate(columns) if one and one.parameter == "note"), len(header))
        header += ["note"] * (place == len(header))
        cells[place] = note
    ending = "\r\n" if "\r\n" in text else "\n"
    new = [cells.get(k, "") for k in range(len(header))]
    if at is None:
        lines = [_line(header, separator, ending)]
    elif len(header) > len(columns) or list(_cells(lines[at], separator)) != header:
        lines[at] = _line(header, separator, ending)
    if lines and not lines[-1].endswith(("\n", "\r")):
        lines[-1] += ending
    mark = BOM_UTF8 if before is not None and before.startswith(BOM_UTF8) else b""
    after = mark + "".join([*lines, _line(new, separator, ending)]).encode("utf-8")
    return Row(path, before, after, tuple(header), tuple(new))


def save(one: Row) -> None:
    """Write the row. Raises `InputError` where the log has changed since, or cannot be written."""
    if (one.path.read_bytes() if one.path.exists() else None) != one.before:
        raise InputError(Problem("problem-log-changed", "", str(one.path)))
    disk.replace_whole(one.path, one.after)


def take_back(one: Row) -> None:
    """Put the log back as it was. Raises `InputError` where it has changed since."""
    if not one.path.exists() or one.path.read_bytes() != one.after:
        raise InputError(Problem("problem-log-changed", "", str(one.path)))
    if one.before is None:
        one.path.unlink()
    else:
        disk.replace_whole(one.path, one.before)


def _is_header(line: str, separator: str) -> bool:
    return not line.lstrip("\"' ").startswith("#") and any(map(titles.is_date, _cells(line, separator)))


def _cells(line: str, separator: str) -> tuple[str, ...]:
    return tuple(next(csv.reader([line], delimiter=separator), ()))


def _line(cells: Sequence[str], separator: str, ending: str) -> str:
    written = io.StringIO(newline="")
    csv.writer(written, delimiter=separator, lineterminator=ending).writerow(map(spreadsheet.guarded, cells))
    return written.getvalue()


def _column(title: str, garden: Garden) -> Column | None:
    found = titles.title(title, garden)
    return None if found is None or found.bare else found.column


def _holds(column: Column, entry: Entry) -> bool:
    return (column.parameter, column.subject) == (entry.parameter, entry.subject)


def _written(column: Column, entry: Entry, garden: Garden, day: date) -> str:
    counted = column.as_counted_by(scale_in_use(garden, entry.parameter, day))
    if counted.basis == kits.NOT_KNOWN:
        return entry.typed
    return f"{entry.sign}{counted.shown(entry.value):.{DIGITS}g}"


def _title(entry: Entry) -> str:
    """The title of a new column, in base units."""
    if entry.parameter in ("count", "taken", "dead", "stocked"):
        word = "counted" if entry.parameter == "count" else entry.parameter
        return f"{entry.subject} {word}"
    kind = KINDS.get(entry.parameter, "mass")
    label = units.base(kind).label if kind else ""
    if entry.parameter in kits.NITROGEN:
        label = "mg/L as N"
    if entry.parameter == "weight":
        return f"{entry.subject} weight ({label})"
    name = TITLES.get(entry.parameter) or f"picked {entry.subject}"
    return f"{name} ({label})" if label else name
