"""What a run is given: the garden's name, the options that win over its file, and the day of the run."""

from dataclasses import replace
from datetime import date, timedelta

from aquacalc.errors import InputError, Problem
from aquacalc.garden import file
from aquacalc.garden.model import Garden, Season
from aquacalc.words import Reader

RUN_FILE = "season-plan.json"
DAYS_OF_PLAN = 365
UNITS = ("metric", "us")


def opened(garden: str, units: str = "", start: str = "", made: str = "") -> tuple[Garden, Reader, str]:
    """The garden of a name as a run reads it, its reader, and the digest of its file.

    garden: file, folder, `demo:NAME`, or empty for the one beside the notebook. units: `metric` or `us` in
    place of the file's own. start: first day of the plan, made: day of the run, as 2027-03-01; empty for the
    file's and today. Raises `InputError` with every problem.
    """
    today = day(made, "made") or date.today()
    found = file.find(garden, today=today)
    own = found.garden
    if units and units not in UNITS:
        raise InputError(Problem("problem-choice", "units", units, UNITS))
    reader = replace(own.reader, units=units) if units else own.reader  # type: ignore[arg-type]  # checked above
    first = day(start, "start")
    season = Season(first, first + timedelta(days=DAYS_OF_PLAN - 1)) if first else own.season
    return replace(own, reader=reader, season=season), reader, found.digest or ""


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
