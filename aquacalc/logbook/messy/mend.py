"""A messy log to a log that can be used: each repair and each doubt with its row, nothing lost in silence.

What is certain is repaired. What is not is a question: it stays out of the log and stands in the list of
doubts. The file itself is never written; `mended.write_clean` writes a clean one that `read.read` reads.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from statistics import median

from aquacalc.logbook import clock
from aquacalc.logbook import read as simple
from aquacalc.logbook.columns import DATE, NOTE, TIME, Column
from aquacalc.logbook.log import Log, Row
from aquacalc.logbook.mended import WHOLE_ROW, Doubt, Mended, Repair
from aquacalc.logbook.messy import cells as messy_cells
from aquacalc.logbook.messy import columns as messy_columns
from aquacalc.logbook.messy import days as messy_days
from aquacalc.logbook.messy import file as messy_file
from aquacalc.logbook.messy import titles as messy_titles
from aquacalc.logbook.messy.cells import Context, Mend
from aquacalc.logbook.messy.columns import Day, Report
from aquacalc.logbook.messy.file import Line, Order, Sheet
from aquacalc.logbook.messy.titles import Title
from aquacalc.logbook.plan import Garden, scale_in_use

GAP_DAYS = 14
GAP_TIMES = 2.5
"""A gap is longer than both, the second in steps of the log. Common practice, no source."""

MOST_PH_C = 12.0
"""A temperature up to here may be a pH that was written into the wrong column."""


def beside(garden_file: str | Path, garden: Garden, order: Order = "") -> Mended | None:
    """The mended log that lies beside a garden file or in its folder; None where there is none.

    order: as in `read`.
    """
    place = Path(garden_file).expanduser()
    path = (place if place.is_dir() else place.parent) / simple.LOG
    return read(path, garden, order) if path.is_file() else None


def read(path: str | Path, garden: Garden, order: Order = "") -> Mended:
    """The log of a file as people write it, with every repair and every doubt.

    garden: as in `read.read`. order: of dates that do not say it themselves; it wins over the file's line.
    Raises `InputError` only where there is nothing to mend: no file, no text, no column of days.
    """
    file = Path(path)
    sheet = messy_file.sheet(file)
    found: list[Repair | Doubt] = [*sheet.repairs, *sheet.doubts]
    titles, at = _titles(sheet, garden, found.append)
    titles, times_at = _times(sheet, titles, at)
    texts = {line.number: _cell(line, at) for line in sheet.lines}
    order = order or sheet.order or messy_days.order_of(list(texts.values()))
    days, day_repairs, day_doubts = messy_days.days(texts, sheet.header.cells[at], order)
    found += [*day_repairs, *day_doubts]
    context = Context(garden, order)
    rows = list(_rows(sheet, titles, days, times_at, context, found.append))
    for row in rows:
        if not row.time:
            row.time = clock.behind_date(texts[row.number])
            row.cells |= {times_at: row.time} if row.time else {}
    messy_columns.dates_that_may_be_two(rows, titles, found.append)
    rows = _in_order(rows, found.append)
    rows = _one_a_day(rows, titles, found.append)
    messy_columns.other_bases(rows, titles, garden, found.append)
    messy_columns.steps_of_new_tests(rows, titles, found.append)
    messy_columns.other_units(rows, titles, garden, found.append)
    messy_columns.copies(rows, found.append)
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


def _times(sheet: Sheet, titles: dict[int, Title], days_at: int) -> tuple[dict[int, Title], int]:
    """The columns and the position of the times, a column of their own where they stand behind the days."""
    for position, title in titles.items():
        if title.column.parameter == TIME:
            return titles, position
    position = len(sheet.header.cells)
    if any(clock.behind_date(_cell(line, days_at)) for line in sheet.lines):
        return {position: Title(Column(TIME, TIME), TIME, TIME), **titles}, position
    return titles, position


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
            if written := messy_titles.with_units(typed, garden):
                report(Doubt(row, typed, "log-doubt-column-unit", typed, written))
            else:
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
    sheet: Sheet,
    titles: dict[int, Title],
    days: dict[int, date],
    times_at: int,
    context: Context,
    report: Report,
) -> Iterator[Day]:
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
        row = Day(line.number, day)
        texts = _swapped(line, titles, day, context, report)
        if texts.get(times_at):
            row.time = _time(texts[times_at], titles[times_at].typed, line.number, report)
        if row.time:
            row.cells[times_at] = row.time
        hour = clock.hours(row.time)
        for position, title in titles.items():
            text = texts[position]
            if not text or position == times_at:
                continue
            if title.column.parameter == NOTE:
                row.note = text
                continue
            mend = mended(position, text, day)
            if mend.key.startswith("log-doubt"):
                report(Doubt(line.number, title.typed, mend.key, text, mend.choices))
                continue
            if len(mend.choices) > 1:
                row.dates[position] = replace(mend, key=text)
            elif mend.key:
                report(Repair(line.number, title.typed, mend.key, text, mend.text))
            if mend.key == "log-repair-basis" or any(map(str.isalpha, mend.text)):
                row.settled.add(position)
            if mend.reading is not None:
                row.cells[position] = mend.text
                row.readings[position] = mend.reading.at(day, hour)
        yield row


def _time(text: str, column: str, number: int, report: Report) -> str:
    """A time as 08:10; empty where it is none, or can be two."""
    found = clock.ways(text)
    if len(found) == 1:
        if found[0] != text:
            report(Repair(number, column, "log-repair-time", text, found[0]))
        return found[0]
    if text.casefold() in messy_cells.NOT_MEASURED:
        report(Repair(number, column, "log-repair-not-measured", text))
    else:
        report(Doubt(number, column, "log-doubt-time", text, found))
    return ""


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


def _in_order(rows: Sequence[Day], report: Report) -> list[Day]:
    for above, row in pairwise(rows):
        timed = row.time and above.time and row.day == above.day
        if row.day < above.day or (timed and row.hour < above.hour):
            moved = (f"{one.day.isoformat()} {one.time if timed else ''}".strip() for one in (row, above))
            report(Repair(row.number, WHOLE_ROW, "log-repair-order", *moved))
    return sorted(rows, key=lambda row: (row.day, row.hour))


def _one_a_day(rows: Sequence[Day], titles: dict[int, Title], report: Report) -> list[Day]:
    """Rows of one day and time put together; two times of a day are two rows."""
    kept: list[Day] = []
    asked: dict[tuple[date, str, int], list[str]] = {}
    for row in rows:
        if not kept or (kept[-1].day, kept[-1].time) != (row.day, row.time):
            kept.append(row)
            continue
        first = kept[-1]
        same = row.cells == first.cells and row.note in ("", first.note)
        differing = [at for at in row.cells if first.cells.get(at, row.cells[at]) != row.cells[at]]
        for at in row.cells:
            values = asked.get((row.day, row.time, at))
            if at in differing or values is not None:
                values = asked.setdefault((row.day, row.time, at), [first.cells.get(at, "")])
                values.append(row.cells[at])
                choices = tuple(dict.fromkeys(value for value in values if value))
                key = "log-doubt-day-twice"
                report(Doubt(row.number, titles[at].typed, key, row.cells[at], choices))
                first.drop(at)
            elif at not in first.cells:
                first.cells[at], first.readings[at] = row.cells[at], row.readings[at]
                first.settled |= row.settled & {at}
        if row.note and row.note != first.note:
            first.note = "; ".join(note for note in (first.note, row.note) if note)
        key = "log-repair-duplicate" if same else "log-repair-merged"
        if not differing:
            report(Repair(row.number, WHOLE_ROW, key, row.day.isoformat(), str(first.number)))
    return kept


# --- the log ------------------------------------------------------------------------------------------------


def _without_strange_fish(
    name: str, rows: Sequence[Day], titles: dict[int, Title], garden: Garden, report: Report
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


def _place(where: str, numbers: dict[str, Day]) -> Day:
    return next(row for start, row in numbers.items() if where.startswith(start))


def _row(row: Day) -> Row:
    hour = clock.hours(row.time)
    found = (row.readings[at] for at in sorted(row.readings))
    readings = tuple(one if one.hour == hour else one.at(one.day, hour) for one in found)
    return Row(row.day, readings, row.note, row.number, row.time)


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
