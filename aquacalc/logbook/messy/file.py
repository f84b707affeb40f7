"""The bytes of a messy log to rows of cells: encoding, separator, quotation marks, lines that are no rows."""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from aquacalc import spreadsheet
from aquacalc.errors import InputError, Problem
from aquacalc.logbook.mended import WHOLE_ROW, Doubt, Repair
from aquacalc.logbook.messy import titles

Order = Literal["", "day-month", "month-day"]
"""In which order dates are written that do not say it themselves; empty where nobody told."""

SEPARATORS = (";", "\t", ",")
WORKBOOKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
"""How files of spreadsheets begin, whatever their name ends in."""
MARKS = ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"), (b"\xef\xbb\xbf", "utf-8-sig"))
_ORDER = re.compile(r"#\s*dates?\s*[:=]\s*(day|month)\s*[-/ ]\s*(month|day)\b", re.IGNORECASE)
_NEW_ROW = re.compile(r"[\r\n]\s*\d{1,4}[-./]\d{1,2}[-./]\d{1,4}\s*[,;\t]")


@dataclass(frozen=True)
class Line:
    """A row: its number as a spreadsheet counts it, and its cells without spaces around them."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Sheet:
    """A file in rows. order: of its dates, as a line `# dates: day-month` declares it."""

    header: Line
    lines: tuple[Line, ...]
    order: Order
    repairs: tuple[Repair, ...]
    doubts: tuple[Doubt, ...]


def sheet(path: Path) -> Sheet:
    """The rows of a file. Raises `InputError` where it cannot be read, is empty, or has no column of days."""
    text, repairs = text_of(path)
    separator = separator_of(text)
    if separator != ",":
        shown = {";": ";", "\t": "tab"}[separator]
        repairs.append(Repair(0, WHOLE_ROW, "log-repair-separator", shown, ","))
    doubts: list[Doubt] = []
    order: Order = ""
    header: Line | None = None
    lines: list[Line] = []
    above: Line | None = None
    for line in _rows(text, separator, repairs):
        typed = separator.join(line.cells).strip(separator + " ")
        if not typed:
            repairs.append(Repair(line.number, WHOLE_ROW, "log-repair-blank-row", ""))
        elif typed.startswith("#"):
            declared = _order(typed)
            if declared:
                order = declared
            else:
                repairs.append(Repair(line.number, WHOLE_ROW, "log-repair-comment", typed))
        elif header is not None:
            lines.append(line)
        elif any(titles.is_date(cell) for cell in line.cells):
            header = line
        else:
            above = above or line
            doubts.append(Doubt(line.number, WHOLE_ROW, "log-doubt-above-header", typed))
    if header is None:
        found = separator.join(above.cells) if above else ""
        raise InputError(Problem("problem-log-no-header", path.name, found))
    # Blank rows at the end of a file are no gaps in it.
    last = lines[-1].number if lines else header.number
    kept = tuple(one for one in repairs if one.key != "log-repair-blank-row" or one.row < last)
    return Sheet(header, tuple(lines), order, kept, tuple(doubts))


def _order(typed: str) -> Order:
    match = _ORDER.match(typed)
    if match is None or match[1].lower() == match[2].lower():
        return ""
    return "day-month" if match[1].lower() == "day" else "month-day"


def text_of(path: Path) -> tuple[str, list[Repair]]:
    """The text of a file in whatever a spreadsheet writes, and what was mended. `InputError` for no text."""
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise InputError(Problem("problem-file-missing", "", str(path))) from None
    except OSError as error:
        reason = (error.strerror or str(error),)
        raise InputError(Problem("problem-file-unreadable", "", str(path), reason)) from error
    if raw.startswith(WORKBOOKS):
        raise InputError(Problem("problem-file-workbook", "", str(path)))
    encoding = next((name for mark, name in MARKS if raw.startswith(mark)), "utf-8")
    repairs = []
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        # Spreadsheets of western systems; it decides about signs such as the degree only, never about digits.
        encoding = "cp1252"
        text = raw.decode(encoding, "replace")
    if "\0" in text:
        raise InputError(Problem("problem-file-not-text", "", str(path)))
    if not text.strip():
        raise InputError(Problem("problem-file-empty", "", str(path)))
    if encoding == "utf-8-sig":
        repairs.append(Repair(0, WHOLE_ROW, "log-repair-mark", ""))
    elif encoding != "utf-8":
        repairs.append(Repair(0, WHOLE_ROW, "log-repair-encoding", encoding))
    return text.removeprefix("\ufeff"), repairs


def separator_of(text: str) -> str:
    """The separator of the header, the first line that names a column of days."""
    for line in text.splitlines():
        if line.lstrip("\"' ").startswith("#"):
            continue
        for separator in SEPARATORS:
            cells = line.split(separator)
            if len(cells) > 1 and any(titles.is_date(cell.strip(" \"'")) for cell in cells):
                return separator
    return ","


def _rows(text: str, separator: str, repairs: list[Repair]) -> Iterator[Line]:
    whole = _strict(text, separator)
    if whole is not None:
        yield from whole
        return
    # A quotation mark stands alone somewhere: each line of the file is a row then, so that none vanishes.
    for number, typed in enumerate(re.split(r"\r\n|\r|\n", text), start=1):
        line = _strict(typed, separator)
        if line is None or len(line) != 1:
            if not typed:
                yield Line(number, ())
                continue
            repairs.append(Repair(number, WHOLE_ROW, "log-repair-quote", typed, typed.replace('"', "")))
            yield Line(number, tuple(cell.strip() for cell in typed.replace('"', "").split(separator)))
        else:
            yield Line(number, line[0].cells)


def _strict(text: str, separator: str) -> list[Line] | None:
    """The rows where every quotation mark is closed and none swallows the rows below; else None."""
    found = []
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, delimiter=separator)
    try:
        for number, cells in enumerate(reader, start=1):
            if any(_NEW_ROW.search(cell) for cell in cells):
                return None
            found.append(Line(number, tuple(spreadsheet.unguarded(cell.strip()) for cell in cells)))
    except csv.Error:
        return None
    return found
