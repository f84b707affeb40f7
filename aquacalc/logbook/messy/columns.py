"""What only a whole column of a messy log shows: kits that count otherwise, other units, copies, dates."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from statistics import median

from aquacalc import kits, units
from aquacalc.logbook import clock
from aquacalc.logbook.columns import WATER
from aquacalc.logbook.log import Reading
from aquacalc.logbook.mended import WHOLE_ROW, Doubt, Repair
from aquacalc.logbook.messy import cells as messy_cells
from aquacalc.logbook.messy.cells import Mend
from aquacalc.logbook.messy.titles import Title
from aquacalc.logbook.plan import Garden, scale_in_use

IN_WATER = frozenset(parameter for parameter, _ in WATER.values())

COPIED_ROWS = 4
COPIED_READINGS = 4
"""So many rows on end with the same readings, temperature among them, look like copies of the first. Common
practice, no source."""

NEW_TEST = re.compile(r"\b(?:kits?|strips?|test kits?|NO[23]-?N|as N)\b", re.IGNORECASE)
"""What a note says of a new test."""

STEP_WITHIN = 1.25
"""A step that is so near to the factor of a basis may be one; the steps of cards are coarser than that."""

MEASURED = re.compile(r"\bmeasured\b", re.IGNORECASE)
"""What a note says of readings that look like copies and are none."""

Report = Callable[[Repair | Doubt], None]


@dataclass
class Day:
    """One row while it is put together: cells and readings by the position of their column.

    settled: cells that say themselves what they count. dates: cells from which a spreadsheet made a date, as
    they were mended.
    """

    number: int
    day: date
    cells: dict[int, str] = field(default_factory=dict)
    readings: dict[int, Reading] = field(default_factory=dict)
    note: str = ""
    time: str = ""
    settled: set[int] = field(default_factory=set)
    dates: dict[int, Mend] = field(default_factory=dict)

    @property
    def hour(self) -> float:
        """Of the time; before every other where there is none."""
        found = clock.hours(self.time)
        return -1.0 if found is None else found

    def drop(self, position: int) -> None:
        """Leave a cell out of the log."""
        self.cells.pop(position, None)
        self.readings.pop(position, None)


def dates_that_may_be_two(rows: Sequence[Day], titles: dict[int, Title], report: Report) -> None:
    """Numbers out of which a spreadsheet made a date: certain unless another is nearer to the rest."""
    for position, title in titles.items():
        dated = [row for row in rows if position in row.dates]
        others = [row.readings[position] for row in rows if position in row.readings]
        rest = [one.value for one in others if one.text not in {row.cells[position] for row in dated}]
        for row in dated:
            mend, taken = row.dates[position], row.readings[position].value
            shown = [title.column.shown(one) for one in (taken, *([median(rest)] if rest else []))]
            nearer = [
                one
                for one in mend.choices
                if rest and abs(float(one) - shown[1]) < abs(shown[0] - shown[1]) - 1e-9
            ]
            if nearer:
                report(Doubt(row.number, title.typed, "log-doubt-spreadsheet-date", mend.key, mend.choices))
                row.drop(position)
            else:
                key = "log-repair-spreadsheet-date"
                report(Repair(row.number, title.typed, key, mend.key, mend.text))


def other_bases(rows: Sequence[Day], titles: dict[int, Title], garden: Garden, report: Report) -> None:
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
            if position in row.settled:
                continue
            if row.readings[position].value == 0.0:
                continue
            choices = (f"{text} as {column.basis}", f"{text} as {scale.basis}")
            report(Doubt(row.number, title.typed, "log-doubt-kit-basis", text, choices))
            row.drop(position)


def steps_of_new_tests(rows: Sequence[Day], titles: dict[int, Title], report: Report) -> None:
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
            if unknown and position not in row.settled:
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


def other_units(rows: Sequence[Day], titles: dict[int, Title], garden: Garden, report: Report) -> None:
    """Alkalinity in dKH that is so far above the rest of its column that it may be mg/L."""
    for position, title in titles.items():
        if title.column.parameter != "alkalinity":
            continue
        values = [row.readings[position].value for row in rows if position in row.readings]
        middle = median(values) if len(values) >= COPIED_ROWS else 0.0
        for row in rows:
            reading = row.readings.get(position)
            if reading is None or not middle > 0.0 or position in row.settled:
                continue
            scale = scale_in_use(garden, "alkalinity", row.day)
            column = title.column.as_counted_by(scale)
            # Without a unit it may be either: what stands out is asked as well.
            if column.unit is not None and column.unit.key != "dkh":
                continue
            # Much of it may come with a dose; beyond this it is rare in any water.
            far = reading.value > messy_cells.TIMES_THE_REST * middle
            if far and column.shown(reading.value) > messy_cells.RARE_DKH:
                text = row.cells[position]
                choices = (f"{text} dKH", f"{text} mg/L CaCO3")
                report(Doubt(row.number, title.typed, "log-doubt-other-unit", text, choices))
                row.drop(position)


def copies(rows: Sequence[Day], report: Report) -> None:
    """Readings that are the same in row after row: the first stays, the copies are asked for."""
    start = 0
    while start < len(rows):
        end = start + 1
        first = _water(rows[start])
        while end < len(rows) and _water(rows[end]) == first and not MEASURED.search(rows[end].note):
            end += 1
        warm = any(rows[start].readings[at].parameter == "temperature" for at in first)
        if end - start >= COPIED_ROWS and len(first) >= COPIED_READINGS and warm:
            for row in rows[start + 1 : end]:
                typed = ", ".join(first.values())
                report(Doubt(row.number, WHOLE_ROW, "log-doubt-copied", typed, (str(rows[start].number),)))
                for position in first:
                    row.drop(position)
        start = end


def _water(row: Day) -> dict[int, str]:
    """The cells of a row that were measured in the water."""
    return {at: row.cells[at] for at, one in row.readings.items() if one.parameter in IN_WATER}
