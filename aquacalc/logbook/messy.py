"""A messy log to a log that can be used: each repair and each doubt with its row, nothing lost in silence.

What is certain is repaired. What is not is a question: it stays out of the log and stands in the list of
doubts. The file itself is never written; `mended.write_clean` writes a clean one that `read.read` reads.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from statistics import median

from aquacalc import kits, units
from aquacalc.logbook import messy_cells, messy_days, messy_file, messy_titles
from aquacalc.logbook import read as simple
from aquacalc.logbook.columns import DATE, NOTE, WATER
from aquacalc.logbook.log import Log, Reading, Row
from aquacalc.logbook.mended import WHOLE_ROW, Doubt, Mended, Repair
from aquacalc.logbook.messy_cells import Context, Mend
from aquacalc.logbook.messy_file import Line, Sheet
from aquacalc.logbook.messy_titles import Title
from aquacalc.logbook.plan import Garden, scale_in_use

COPIED_ROWS = 4
COPIED_READINGS = 4
"""So many rows on end with the same readings, temperature among them, look like copies of the first. Common
practice, no source."""

GAP_DAYS = 14
GAP_TIMES = 3.0
"""A gap is longer than both, the second in steps of the log. Common practice, no source."""

MOST_PH_C = 12.0
"""A temperature up to here may be a pH that was written into the wrong column."""

NEW_TEST = re.compile(r"\b(?:kits?|strips?|test kits?|NO[23]-?N|as N)\b", re.IGNORECASE)
"""What a note says of a new test."""

STEP_WITHIN = 1.25
"""A step that is so near to the factor of a basis may be one; the steps of cards are coarser than that."""

Report = Callable[[Repair | Doubt], None]


def beside(garden_file: str | Path, garden: Garden) -> Mended | None:
    """The mended log that lies beside a garden file or in its folder; None where there is none."""
    place = Path(garden_file).expanduser()
    path = (place if place.is_dir() else place.parent) / simple.LOG
    return read(path, garden) if path.is_file() else None


@dataclass
class _Day:
    """One row while it is put together: cells and readings by the position of their column."""

    number: int
    day: date
    cells: dict[int, str] = field(default_factory=dict)
    readings: dict[int, Reading] = field(default_factory=dict)
    note: str = ""

    def drop(self, position: int) -> None:
        """Leave a cell out of the log."""
        self.cells.pop(position, None)
        self.readings.pop(position, None)


def read(path: str | Path, garden: Garden) -> Mended:
    """The log of a file as people write it, with every repair and every doubt.

    garden: as in `read.read`. Raises `InputError` only where there is nothing to mend: no file, no text, no
    column of days.
    """
    file = Path(path)
    sheet = messy_file.sheet(file)
    found: list[Repair | Doubt] = [*sheet.repairs, *sheet.doubts]
    titles, at = _titles(sheet, garden, found.append)
    texts = {line.number: _cell(line, at) for line in sheet.lines}
    order = sheet.order or messy_days.order_of(list(texts.values()))
    days, day_repairs, day_doubts = messy_days.days(texts, sheet.header.cells[at], order)
    found += [*day_repairs, *day_doubts]
    context = Context(garden, order)
    rows = list(_rows(sheet, titles, days, context, found.append))
    rows = _in_order(rows, found.append)
    rows = _one_a_day(rows, titles, found.append)
    _other_bases(rows, titles, garden, found.append)
    _steps_of_new_tests(rows, titles, found.append)
    _other_units(rows, titles, garden, found.append)
    _copies(rows, found.append)
    log = _without_strange_fish(file.name, rows, titles, garden, found.append)
    kept = [position for position, title in titles.items() if title.column.parameter != NOTE]
    notes = any(row.note for row in rows)
    header = (DATE, *(titles[position].clean for position in kept), *(["note"] if notes else []))
    cells = tuple(
        (
            row.day.isoformat(),
            *(row.cells.get(position, "") for position in kept),
            *([row.note] if notes else []),
        )
        for row in rows
    )
    found.sort(key=lambda one: one.row)
    return Mended(
        log,
        tuple(one for one in found if isinstance(one, Repair)),
        tuple(one for one in found if isinstance(one, Doubt)),
        header,
        cells,
        _gaps([row.day for row in rows]),
    )


def _cell(line: Line, position: int) -> str:
    return line.cells[position] if position < len(line.cells) else ""


# --- columns -----------------------------------------------------------------------------------------------


def _titles(sheet: Sheet, garden: Garden, report: Report) -> tuple[dict[int, Title], int]:
    """The columns that are read, by position, and the position of the days."""
    row, cells = sheet.header.number, sheet.header.cells
    at = next(position for position, cell in enumerate(cells) if messy_titles.is_date(cell))
    if at:
        report(Repair(row, cells[at], "log-repair-date-column", cells[at]))
    titles: dict[int, Title] = {}
    seen: set[tuple[str, str]] = set()
    for position, typed in enumerate(cells):
        if position == at:
            continue
        if not typed:
            held = [line for line in sheet.lines if _cell(line, position)]
            for line in held:
                report(Doubt(line.number, WHOLE_ROW, "log-doubt-no-title", _cell(line, position)))
            continue
        title = messy_titles.title(typed, garden)
        if title is None:
            report(Doubt(row, typed, "log-doubt-column", typed, messy_titles.nearest(typed)))
            continue
        name = (title.column.parameter, title.column.subject)
        if name in seen:
            report(Doubt(row, typed, "log-doubt-column-twice", typed))
            continue
        seen.add(name)
        if " ".join(typed.split()) != title.clean and not title.bare:
            report(Repair(row, typed, "log-repair-title", typed, title.clean))
        titles[position] = title
    return titles, at


# --- rows --------------------------------------------------------------------------------------------------


def _rows(
    sheet: Sheet, titles: dict[int, Title], days: dict[int, date], context: Context, report: Report
) -> Iterator[_Day]:
    hundredths = {position: _has_hundredths(sheet, position) for position in titles}
    contexts = {position: replace(context, hundredths=hundredths[position]) for position in titles}
    known: dict[tuple[int, str, int], Mend] = {}

    def mended(position: int, text: str, day: date) -> Mend:
        # A text means the same for as long as the kit stays the same; logs repeat themselves.
        scale = scale_in_use(context.garden, titles[position].column.parameter, day)
        key = (position, text, id(scale))
        if key not in known:
            known[key] = messy_cells.mend(text, titles[position], day, contexts[position])
        return known[key]

    note_at = next((at for at, one in titles.items() if one.column.parameter == NOTE), -1)
    width = len(sheet.header.cells)
    for line in sheet.lines:
        day = days.get(line.number)
        if day is None:
            continue
        if any(line.cells[width:]):
            if note_at != width - 1 or not _is_text(line.cells[note_at]):
                typed = ", ".join(cell for cell in line.cells if cell)
                report(Doubt(line.number, WHOLE_ROW, "log-doubt-cells", typed))
                continue
            note = ", ".join(cell for cell in line.cells[note_at:] if cell)
            report(Repair(line.number, sheet.header.cells[note_at], "log-repair-note", note, note))
            line = Line(line.number, (*line.cells[:note_at], note))
        row = _Day(line.number, day)
        texts = _swapped(line, titles, day, context, report)
        for position, title in titles.items():
            text = texts[position]
            if not text:
                continue
            if title.column.parameter == NOTE:
                row.note = text
                continue
            mend = mended(position, text, day)
            if mend.key.startswith("log-doubt"):
                report(Doubt(line.number, title.typed, mend.key, text, mend.choices))
                continue
            if mend.key:
                report(Repair(line.number, title.typed, mend.key, text, mend.text))
            if mend.reading is not None:
                row.cells[position] = mend.text
                row.readings[position] = replace(mend.reading, day=day)
        yield row


def _is_text(cell: str) -> bool:
    return bool(cell) and not any(sign.isdigit() for sign in cell[:1]) and any(map(str.isalpha, cell))


def _has_hundredths(sheet: Sheet, position: int) -> bool:
    """Whether a number of the column is written with two decimals."""
    for line in sheet.lines:
        _, mark, rest = _cell(line, position).replace(",", ".").partition(".")
        if mark and len(rest) == 2 and rest.isdigit():
            return True
    return False


def _swapped(
    line: Line, titles: dict[int, Title], day: date, context: Context, report: Report
) -> dict[int, str]:
    """The cells of a row, pH and temperature changed over where as typed neither can be the other's."""
    texts = {position: _cell(line, position) for position in titles}
    by_name = {title.column.parameter: position for position, title in titles.items()}
    ph, warm = by_name.get("ph"), by_name.get("temperature")
    if ph is None or warm is None or titles[warm].bare or not texts[ph] or not texts[warm]:
        return texts

    def can(text: str, position: int) -> bool:
        return messy_cells.fits(text, titles[position], day, context.garden)

    # A pH first, so that rows that are as they should be cost one look.
    if _quick(texts[ph]) <= MOST_PH_C or not _quick(texts[warm]) <= MOST_PH_C:
        return texts
    if not can(texts[ph], ph) and can(texts[ph], warm) and can(texts[warm], ph):
        was = f"{titles[ph].typed} {texts[ph]}, {titles[warm].typed} {texts[warm]}"
        texts[ph], texts[warm] = texts[warm], texts[ph]
        now = f"{titles[ph].typed} {texts[ph]}, {titles[warm].typed} {texts[warm]}"
        report(Repair(line.number, WHOLE_ROW, "log-repair-swapped", was, now))
    return texts


def _quick(text: str) -> float:
    """A plain number; what is none lies nowhere."""
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return float("nan")


def _in_order(rows: Sequence[_Day], report: Report) -> list[_Day]:
    for above, row in pairwise(rows):
        if row.day < above.day:
            moved = (row.day.isoformat(), above.day.isoformat())
            report(Repair(row.number, WHOLE_ROW, "log-repair-order", *moved))
    return sorted(rows, key=lambda row: row.day)


def _one_a_day(rows: Sequence[_Day], titles: dict[int, Title], report: Report) -> list[_Day]:
    kept: list[_Day] = []
    asked: dict[tuple[date, int], list[str]] = {}
    for row in rows:
        if not kept or kept[-1].day != row.day:
            kept.append(row)
            continue
        first = kept[-1]
        same = row.cells == first.cells and row.note in ("", first.note)
        differing = [at for at in row.cells if first.cells.get(at, row.cells[at]) != row.cells[at]]
        for at in row.cells:
            values = asked.get((row.day, at))
            if at in differing or values is not None:
                values = asked.setdefault((row.day, at), [first.cells.get(at, "")])
                values.append(row.cells[at])
                choices = tuple(dict.fromkeys(value for value in values if value))
                key = "log-doubt-day-twice"
                report(Doubt(row.number, titles[at].typed, key, row.cells[at], choices))
                first.drop(at)
            elif at not in first.cells:
                first.cells[at], first.readings[at] = row.cells[at], row.readings[at]
        if row.note and row.note != first.note:
            first.note = "; ".join(note for note in (first.note, row.note) if note)
        key = "log-repair-duplicate" if same else "log-repair-merged"
        if not differing:
            report(Repair(row.number, WHOLE_ROW, key, row.day.isoformat(), str(first.number)))
    return kept


# --- what only the whole column shows ----------------------------------------------------------------------


def _other_bases(rows: Sequence[_Day], titles: dict[int, Title], garden: Garden, report: Report) -> None:
    """Readings of a later kit whose numbers count something else than the header says."""
    for position, title in titles.items():
        column = title.column
        if column.parameter not in kits.NITROGEN or not column.basis:
            continue
        bases = {
            scale.basis
            for kit in garden.kits
            for scale in kit.scales
            if scale.parameter == column.parameter and scale.basis != kits.NOT_KNOWN
        }
        if len(bases) < 2 or column.basis not in bases:
            continue
        for row in rows:
            scale = scale_in_use(garden, column.parameter, row.day)
            text = row.cells.get(position, "")
            if not text or scale is None or scale.basis in (column.basis, kits.NOT_KNOWN):
                continue
            if row.readings[position].value == 0.0:
                continue
            choices = (f"{text} as {column.basis}", f"{text} as {scale.basis}")
            report(Doubt(row.number, title.typed, "log-doubt-kit-basis", text, choices))
            row.drop(position)


def _steps_of_new_tests(rows: Sequence[_Day], titles: dict[int, Title], report: Report) -> None:
    """Nitrogen that steps by the factor between ion and nitrogen in a row whose note tells of a new test.

    From there on nobody knows what the numbers count, up to the next note about a test.
    """
    for position, title in titles.items():
        ions = {"nitrate": "NO3", "nitrite": "NO2"}
        if title.column.parameter not in ions:
            continue
        factor = units.N_BASES[ions[title.column.parameter]]
        before, unknown = 0.0, False
        for row in rows:
            reading = row.readings.get(position)
            if NEW_TEST.search(row.note):
                unknown = reading is not None and _steps_by(factor, before, reading.value)
            if reading is None or reading.value == 0.0:
                continue
            if unknown:
                text, ion = row.cells[position], ions[title.column.parameter]
                choices = (f"{text} as {ion}", f"{text} as N")
                report(Doubt(row.number, title.typed, "log-doubt-basis-step", text, choices))
                row.drop(position)
            else:
                before = reading.value


def _steps_by(factor: float, before: float, after: float) -> bool:
    if before <= 0.0 or after <= 0.0:
        return False
    step = max(before / after, after / before)
    return factor / STEP_WITHIN <= step <= factor * STEP_WITHIN


def _other_units(rows: Sequence[_Day], titles: dict[int, Title], garden: Garden, report: Report) -> None:
    """Alkalinity in dKH that is so far above the rest of its column that it may be mg/L."""
    for position, title in titles.items():
        if title.column.parameter != "alkalinity":
            continue
        values = [row.readings[position].value for row in rows if position in row.readings]
        middle = median(values) if len(values) >= COPIED_ROWS else 0.0
        for row in rows:
            reading = row.readings.get(position)
            if reading is None or not middle > 0.0:
                continue
            scale = scale_in_use(garden, "alkalinity", row.day)
            column = title.column.as_counted_by(scale)
            if column.unit is None or column.unit.key != "dkh":
                continue
            # Much of it may come with a dose; beyond this it is rare in any water.
            far = reading.value > messy_cells.TIMES_THE_REST * middle
            if far and column.shown(reading.value) > messy_cells.RARE_DKH:
                text = row.cells[position]
                choices = (f"{text} dKH", f"{text} mg/L CaCO3")
                report(Doubt(row.number, title.typed, "log-doubt-other-unit", text, choices))
                row.drop(position)


def _copies(rows: Sequence[_Day], report: Report) -> None:
    """Readings that are the same in row after row: the first stays, the copies are asked for."""
    start = 0
    while start < len(rows):
        end = start + 1
        first = _water(rows[start])
        while end < len(rows) and _water(rows[end]) == first:
            end += 1
        warm = any(rows[start].readings[at].parameter == "temperature" for at in first)
        if end - start >= COPIED_ROWS and len(first) >= COPIED_READINGS and warm:
            for row in rows[start + 1 : end]:
                typed = ", ".join(first.values())
                report(Doubt(row.number, WHOLE_ROW, "log-doubt-copied", typed, (str(rows[start].number),)))
                for position in first:
                    row.drop(position)
        start = end


def _water(row: _Day) -> dict[int, str]:
    """The cells of a row that were measured in the water."""
    return {at: row.cells[at] for at, one in row.readings.items() if one.parameter in IN_WATER}


IN_WATER = frozenset(parameter for parameter, _ in WATER.values())


def _without_strange_fish(
    name: str, rows: Sequence[_Day], titles: dict[int, Title], garden: Garden, report: Report
) -> Log:
    """The log, without entries by which more fish are gone than there were."""
    while True:
        log = Log(name, tuple(_row(row) for row in rows))
        problems = simple.fish_that_are_not_there(log, garden)
        if not problems:
            return log
        # One at a time, the earliest: without it the later ones may fit.
        numbers = {f"{name} row {row.number} ": row for row in rows}
        first = min(problems, key=lambda one: _place(one.where, numbers).day)
        row = _place(first.where, numbers)
        batch, parameter = next(
            (batch.name, gone)
            for batch in garden.fish
            for gone in simple.GONE
            if first.where.endswith(f" {batch.name} {gone}")
        )
        at = next(
            at for at, one in row.readings.items() if (one.subject, one.parameter) == (batch, parameter)
        )
        report(Doubt(row.number, titles[at].typed, "log-doubt-fish", row.cells[at], first.allowed))
        row.drop(at)


def _place(where: str, numbers: dict[str, _Day]) -> _Day:
    return next(row for start, row in numbers.items() if where.startswith(start))


def _row(row: _Day) -> Row:
    readings = tuple(row.readings[at] for at in sorted(row.readings))
    return Row(row.day, readings, row.note, row.number)


def _gaps(days: Sequence[date]) -> tuple[tuple[date, date], ...]:
    """Spans without an entry that are long for this log."""
    steps = [(below - above).days for above, below in pairwise(days)]
    if not steps:
        return ()
    longest = max(GAP_DAYS, GAP_TIMES * median(steps))
    one = timedelta(days=1)
    return tuple(
        (above + one, below - one) for above, below in pairwise(days) if (below - above).days > longest
    )
