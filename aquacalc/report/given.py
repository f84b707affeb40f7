"""What a run is given: the garden's name, the options that win over its file, its log, the day of the run."""

import hashlib
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.garden import file
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Season
from aquacalc.logbook import read as simple
from aquacalc.logbook import today
from aquacalc.logbook.log import Log
from aquacalc.logbook.messy import mend
from aquacalc.logbook.today import Standing
from aquacalc.schedule import problems
from aquacalc.season import from_log
from aquacalc.season import problems as begin
from aquacalc.season.start import Start
from aquacalc.words import Reader

RUN_FILE = "season-plan.json"
SEASON_FILE = "season.npz"
DAYS_FILE = "season-days.csv"
TASKS_FILE = "season-tasks.csv"
CALENDAR_FILE = "season-tasks.ics"

TOLD = "> "
"""How a line begins by which the notebook tells whoever runs it how far it is."""

FEWEST_DAYS = 28
"""Days that a plan has at least which begins on a day of the reader's choice."""
UNITS = ("metric", "us")


@dataclass(frozen=True)
class Given:
    """A garden as a run reads it.

    digest, log_digest: of its file and of the log beside it, empty where there is none; log: as read;
    standing: what it tells of the first day of the season, None without a log and where a log begins later.
    """

    garden: Garden
    reader: Reader
    digest: str
    made: date
    log: Log | None = None
    standing: Standing | None = None
    log_digest: str = ""


def opened(garden: str, units: str = "", start: str = "", made: str = "") -> Given:
    """The garden of a name with the options of a run.

    garden: file, folder, `demo:NAME`, or empty for the one beside the notebook. units: `metric` or `us` in
    place of the file's own. start: first day of the plan, which then goes to the last day of the file's
    season, a year at most; made: day of the run; both as 2027-03-01, empty for the file's and today. Raises
    `InputError` with every problem: also where a species cannot live here, and where the log begins after
    `start`.
    """
    now = day(made, "made") or date.today()
    found = file.find(garden, today=now)
    own = found.garden
    if units and units not in UNITS:
        raise InputError(Problem("problem-choice", "units", units, UNITS))
    reader = replace(own.reader, units=units) if units else own.reader  # type: ignore[arg-type]  # checked above
    first = day(start, "start")
    season = own.season if first is None else _season(first, own.season)
    read_as = replace(own, reader=reader, season=season)
    if strange := problems.problems(read_as):
        raise InputError(strange)
    log = _log(found)
    standing = _standing(read_as, log, first is not None)
    if above := _feed_above(read_as, standing):
        raise InputError(above)
    return Given(read_as, reader, found.digest or "", now, log, standing, log_digest(found.path))


def log_digest(garden_file: Path) -> str:
    """Digest of the log beside a garden file; empty where there is none."""
    path = garden_file.with_name(simple.LOG)
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def _feed_above(garden: Garden, standing: Standing | None) -> list[Problem]:
    """A feed of the garden file or of the log that no fish of this garden eat."""
    measured = garden.last_measured("feed")
    noted = [("measured feed", measured.value)] if measured is not None else []
    if standing is not None and standing.feed is not None:
        noted.append((f"log.csv feed, {standing.feed.day.isoformat()}", standing.feed.value))
    return [problem for where, feed_g in noted for problem in begin.feed(garden, where, feed_g)]


def _season(first: date, own: Season) -> Season:
    end = min(own.end, first + timedelta(days=DAYS_PER_YEAR - 1))
    latest = own.end - timedelta(days=FEWEST_DAYS - 1)
    if first > latest:
        ends = (str(FEWEST_DAYS), own.end.isoformat(), latest.isoformat())
        raise InputError(Problem("problem-start-late", "start", first.isoformat(), ends))
    return Season(first, end)


def _log(found: GardenFile) -> Log | None:
    # Repairs do not stop a season, what is in doubt stays out of it, and an empty log says as little as none.
    try:
        mended = None if found.digest is None else mend.beside(found.path, found.garden)
    except InputError as error:
        if any(one.key != "problem-file-empty" for one in error.problems):
            raise
        return None
    return None if mended is None else mended.log


def _standing(garden: Garden, log: Log | None, by_choice: bool) -> Standing | None:
    """What the log tells of the first day.

    A log that begins later says nothing about it: that is no fault of a garden whose own season began before
    its log, but it is one of a day that was chosen. One without a row says as little as none.
    """
    if log is not None and log.rows and by_choice:
        return today.standing(garden, log, garden.season.start)
    return from_log.standing(garden, log)


def start(given: Given) -> Start:
    """What the season takes over from the log."""
    return from_log.start(given.garden, given.log, given.standing)


def day(text: str, where: str) -> date | None:
    """A date written as 2027-03-01; None for an empty text.

    >>> day("2027-03-01", "start")
    datetime.date(2027, 3, 1)
    """
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(Problem("problem-date", where, text)) from None
