"""A messy log after mending: what can be used, each repair, each doubt, and the clean file."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from aquacalc import disk, spreadsheet
from aquacalc.logbook.log import Log

CLEAN, LIST = "log.clean.csv", "log.repairs.csv"
"""Names of the clean file and of the list of repairs and doubts."""

WHOLE_ROW = ""
"""Column of a repair or a doubt that is about a row or about the whole file."""


@dataclass(frozen=True)
class Repair:
    """Something that was certain.

    row: of the file as a spreadsheet counts it, 0 for the whole file. column: title as typed, empty for the
    row. key: of the catalogue, `log-repair-...`. was: as typed; now: as it was read.
    """

    row: int
    column: str
    key: str
    was: str
    now: str = ""


@dataclass(frozen=True)
class Doubt:
    """Something that only the grower can settle; it is not in the log.

    row, column, was: as in `Repair`. key: `log-doubt-...`. choices: what it may be, as it would be typed;
    empty where nothing is near.
    """

    row: int
    column: str
    key: str
    was: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Mended:
    """A log that was mended.

    log: its rows keep the numbers of the file. header, cells: the clean table, one line a row of the log.
    gaps: spans without an entry, first and last day without one.
    """

    log: Log
    repairs: tuple[Repair, ...]
    doubts: tuple[Doubt, ...]
    header: tuple[str, ...]
    cells: tuple[tuple[str, ...], ...]
    gaps: tuple[tuple[date, date], ...] = ()

    @property
    def changed(self) -> bool:
        """Whether the clean file differs from what was typed."""
        return bool(self.repairs or self.doubts)


def write_clean(mended: Mended, folder: str | Path) -> Path:
    """Write `log.clean.csv`, which the simple reader reads, into a folder; an older one is replaced whole.

    Raises `InputError` (`problem-cannot-write`) where the folder cannot be written.
    """
    return _write([mended.header, *mended.cells], Path(folder) / CLEAN)


def write_list(rows: Sequence[Sequence[str]], folder: str | Path) -> Path:
    """Write `log.repairs.csv` into a folder as `write_clean` does. rows: its header and its lines."""
    return _write(rows, Path(folder) / LIST)


def _write(rows: Sequence[Sequence[str]], target: Path) -> Path:
    disk.replace_whole(target, spreadsheet.text(rows).encode())
    return target
