"""A log file to a `Log`: simple, well-formed logs, with every problem of the others.

CSV in UTF-8 with a header (`columns` says what it may hold) and a row a day from old to new, or a row for
each time of a day; days are written as 2027-03-01, times as 08:10. A blank cell was not measured. Readings of
the water may be `<0.3`, `>6`, or a range as `1-2`.
"""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from aquacalc import kits, spreadsheet, units
from aquacalc.errors import InputError, Problem
from aquacalc.logbook import clock, columns, stock
from aquacalc.logbook.columns import Column
from aquacalc.logbook.limits import BASES, limits
from aquacalc.logbook.log import Beyond, Log, Reading, Row
from aquacalc.logbook.plan import Garden, scale_in_use

LOG = "log.csv"
"""Name of the log that lies beside a garden file."""

COUNTS = ("count", "taken", "dead", "stocked")
"""Parameters that are whole numbers."""

GONE = ("taken", "dead")

AT_STEP = 0.005
"""A number so near to a step of a scale, as a share of it, is that step; conversions round."""

RANGE = re.compile(r"([0-9]+(?:\.[0-9]+)?)-([0-9]+(?:\.[0-9]+)?)(?:\s+(\D*))?")
"""A reading typed as a range, as `1-2` or `1-2 ppm`."""

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_SWALLOWED = re.compile(rf"\n\s*{_DAY.pattern}\s*,")


@dataclass(frozen=True)
class _Line:
    """A row of the file: its number as a spreadsheet counts it, and its cells."""

    number: int
    cells: tuple[str, ...]


def beside(garden_file: str | Path, garden: Garden) -> Log | None:
    """The log that lies beside a garden file; None where there is none.

    garden_file: the file (`GardenFile.path`) or its folder. Raises what `read` raises, and `InputError`
    (`problem-file-missing`) where there is no such file or folder.
    """
    place = Path(garden_file).expanduser()
    if not place.exists():
        raise InputError(Problem("problem-file-missing", "", str(garden_file)))
    path = (place if place.is_dir() else place.parent) / LOG
    return read(path, garden) if path.is_file() else None


def read(path: str | Path, garden: Garden) -> Log:
    """The log of a file, in base units and with nitrogen as N.

    garden: has the names of the batches, and the kits that say what numbers count where the header does not.
    Raises `InputError` with every problem of the file.
    """
    file = Path(path)
    header, lines = _lines(_text(file), file.name)
    named, problems = columns.read(header, garden, f"{file.name} row 1")
    times_at = next((at for at, one in enumerate(named) if one and one.parameter == columns.TIME), 0)
    days, day_problems = _days(lines, file.name, times_at)
    rows = []
    for line in lines:
        problems += day_problems.get(line.number, ())
        day = days.get(line.number)
        # Cells of a row without a day are looked at, too, so that one slip does not hide another.
        row, found = _row(line, named, day or date.max, garden, file.name)
        problems += found
        if day is not None:
            rows.append(row)
    log = Log(file.name, tuple(rows))
    problems = problems or fish_that_are_not_there(log, garden)
    if problems:
        raise InputError(problems)
    return log


# --- the file ----------------------------------------------------------------------------------------------


def _text(path: Path) -> str:
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise InputError(Problem("problem-file-missing", "", str(path))) from None
    except OSError as error:
        reason = (error.strerror or str(error),)
        raise InputError(Problem("problem-file-unreadable", "", str(path), reason)) from error
    except UnicodeDecodeError:
        raise InputError(Problem("problem-file-not-text", "", str(path))) from None
    if "\0" in text:
        raise InputError(Problem("problem-file-not-text", "", str(path)))
    if not text.strip():
        raise InputError(Problem("problem-file-empty", "", str(path)))
    return text


def _lines(text: str, name: str) -> tuple[tuple[str, ...], list[_Line]]:
    """Header, and the rows that hold anything."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    found: list[_Line] = []
    try:
        for number, cells in enumerate(reader, start=1):
            if any(_SWALLOWED.search(cell) for cell in cells):
                # The quotation mark was closed rows further on, and they would vanish in one cell.
                raise InputError(Problem("problem-log-quote", f"{name} row {number}"))
            found.append(_Line(number, tuple(spreadsheet.unguarded(cell.strip()) for cell in cells)))
    except csv.Error:
        raise InputError(Problem("problem-log-quote", f"{name} row {len(found) + 1}")) from None
    header = found[0].cells
    return header, [line for line in found[1:] if any(line.cells)]


# --- days --------------------------------------------------------------------------------------------------


def _days(
    lines: Sequence[_Line], name: str, times_at: int
) -> tuple[dict[int, date], dict[int, list[Problem]]]:
    """The day of each row, and what is wrong with days; both by the number of the row.

    times_at: position of the column of times, 0 where there is none.
    """
    days: dict[int, date] = {}
    problems: dict[int, list[Problem]] = {}
    first_row: dict[tuple[date, str], int] = {}
    above: date | None = None
    odd = [line for line in lines if line.cells[0] and not _DAY.fullmatch(line.cells[0])]
    if odd:
        problems[odd[0].number] = [_other_form(odd, name)]
    for line in lines:
        where, text = f"{name} row {line.number} date", line.cells[0]
        if text and not _DAY.fullmatch(text):
            continue
        try:
            day = date.fromisoformat(text)
        except ValueError:
            key = "problem-date" if text else "problem-missing"
            problems[line.number] = [Problem(key, where, text)]
            continue
        days[line.number] = day
        at = (day, line.cells[times_at] if 0 < times_at < len(line.cells) else "")
        if at in first_row:
            problems[line.number] = [Problem("problem-log-day-twice", where, text, (str(first_row[at]),))]
        elif above is not None and day < above:
            problems[line.number] = [Problem("problem-log-order", where, text, (above.isoformat(),))]
        first_row.setdefault(at, line.number)
        above = day
    return days, problems


def _other_form(odd: Sequence[_Line], name: str) -> Problem:
    # A spreadsheet writes all its days in one form, so one sentence speaks for all rows.
    where, text = f"{name} row {odd[0].number} date", odd[0].cells[0]
    if len(odd) == 1:
        return Problem("problem-date", where, text)
    return Problem("problem-log-dates", where, text, (str(len(odd) - 1),))


# --- cells -------------------------------------------------------------------------------------------------


def _row(
    line: _Line, named: Sequence[Column | None], day: date, garden: Garden, name: str
) -> tuple[Row, list[Problem]]:
    readings: list[Reading] = []
    problems: list[Problem] = []
    note = time = ""
    for position, text in enumerate(line.cells[1:], start=1):
        if not text:
            continue
        if position >= len(named):
            rest = ", ".join(cell for cell in line.cells[position:] if cell)
            problems.append(Problem("problem-log-cells", f"{name} row {line.number}", rest))
            break
        column = named[position]
        if column is None:
            where = f"{name} row {line.number}"
            problems.append(Problem("problem-log-column-unnamed", where, text, (str(position + 1),)))
        elif column.parameter == columns.NOTE:
            note = text
        elif column.parameter == columns.TIME:
            if clock.is_plain(text):
                time = text
            else:
                problems.append(Problem("problem-log-time", f"{name} row {line.number} time", text))
        elif column.parameter != columns.NOT_READ:
            try:
                readings.append(
                    reading(text, column, day, garden, f"{name} row {line.number} {column.title}")
                )
            except InputError as error:
                problems += error.problems
    hour = clock.hours(time)
    if hour is not None:
        readings = [replace(one, hour=hour) for one in readings]
    return Row(day, tuple(readings), note, line.number, time), problems


def reading(text: str, column: Column, day: date, garden: Garden, where: str) -> Reading:
    """What a cell of a column says. Raises `InputError` where it cannot be read or cannot be."""
    scale = scale_in_use(garden, column.parameter, day) if column.in_water else None
    column = column.as_counted_by(scale)
    beyond: Beyond = ""
    number, half = text, 0.0
    if column.in_water and text[0] in "<>":
        beyond = "below" if text[0] == "<" else "above"
        number = text[1:].strip() or text
    if column.in_water and (ends := RANGE.fullmatch(text)):
        value, half = _range(ends, column, where)
    else:
        value = column.value(number, where)
    if column.parameter in COUNTS and value != round(value):
        raise InputError(Problem("problem-not-whole", where, text))
    low, high = _ends(column)
    if not low <= value <= high:
        said = (_said(column.shown(low)), _said(column.shown(high)), column.label)
        raise InputError(Problem("problem-range", where, text, said))
    if scale is not None and not beyond and not half:
        beyond = _at_end(value, column, scale)
    unit = units.base(column.kind).key if column.unit is not None else ""
    basis = "N" if column.basis in units.N_BASES else column.basis
    own_unit = "" if column.unit is None else column.unit.key
    return Reading(
        day,
        column.parameter,
        value,
        unit,
        basis,
        beyond,
        text,
        column.subject,
        half=half,
        own_unit=own_unit,
        own_basis=column.basis,
    )


def _range(ends: re.Match[str], column: Column, where: str) -> tuple[float, float]:
    """Middle and half-width of a range; an end that cannot be is refused."""
    low, high = (column.value(f"{ends[number]} {ends[3] or ''}".strip(), where) for number in (1, 2))
    lowest, highest = _ends(column)
    if low > high or not lowest <= low <= high <= highest:
        said = (_said(column.shown(lowest)), _said(column.shown(highest)), column.label)
        raise InputError(Problem("problem-range", where, ends[0], said))
    return (low + high) / 2.0, (high - low) / 2.0


def _ends(column: Column) -> tuple[float, float]:
    ends = limits(column.parameter)
    if column.parameter in kits.NITROGEN and column.basis == kits.NOT_KNOWN:
        # Numbers are highest where they count the ion; beyond that none is possible, whatever they count.
        ion = BASES[column.parameter][-1]
        return units.from_n(ends.low, ion), units.from_n(ends.high, ion)
    return ends.low, ends.high


def _said(end: float) -> str:
    """Four digits, never as a power of ten."""
    return f"{float(f'{end:.4g}'):.6f}".rstrip("0").rstrip(".")


def _at_end(value: float, column: Column, scale: kits.Scale) -> Beyond:
    """Whether a reading is the last step of a card on either side, where the water may lie beyond it.

    Numbers outside the card were read in some other way, as in a diluted sample, and are values. A card that
    begins with 0 has no end there.
    """
    in_kit = kits.as_shown(value, scale)
    shown = column.shown(value) if in_kit is None else in_kit
    step = next((one for one in scale.steps if abs(shown - one) <= AT_STEP * abs(one)), 0.0)
    span = kits.interval(step, scale) if step else None
    if span is None or not span.at_end:
        return ""
    return "below" if step == scale.steps[0] else "above"


# --- fish --------------------------------------------------------------------------------------------------


def fish_that_are_not_there(log: Log, garden: Garden) -> list[Problem]:
    """Rows in which more fish of a batch are gone than there were."""
    problems = []
    for batch in garden.fish:
        own = log.about(batch.name)
        for gone in (one for parameter in GONE for one in own.all(parameter) if one.value > 0.0):
            left = stock.number(own, batch, gone.day)
            if left is not None and left < 0:
                row = next(row.number for row in own.rows if gone in row.readings)
                there = max(round(gone.value) + left, 0)
                where = f"{log.name} row {row} {batch.name} {gone.parameter}"
                problems.append(Problem("problem-log-fish", where, gone.text, (str(there),)))
    return problems
