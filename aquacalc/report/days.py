"""The season as CSV: `season-days.csv` holds its numbers day by day, `season-tasks.csv` what is to be done.

Always metric, so that files of several gardens can lie side by side. UTF-8, commas, days as 2027-03-01, a
point before decimals, an empty cell where there is nothing, an apostrophe before a name that begins like a
formula.
"""

import math
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from aquacalc import spreadsheet, words
from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Garden
from aquacalc.harvest import days
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import tasks
from aquacalc.words import Reader

DIGITS = 4
MOST_DECIMALS = 9
"""Significant digits of a number, more than are known; what is smaller than the last decimal is nothing."""

TASKS = ("date", "last", "what", "subject", "place", "count", "grams", "moved_from")


def write_days(run: SeasonRun, path: Path) -> None:
    """One row a day: the columns of `harvest.days.table`."""
    table = days.table(run)
    rows = ([day.date().isoformat(), *map(_number, one)] for day, *one in table.itertuples(index=False))
    path.write_text(spreadsheet.text([list(table.columns), *rows]), "utf-8", newline="\n")


def write_tasks(entries: Iterable[Entry], garden: Garden, reader: Reader, path: Path) -> None:
    """One row an entry: date, last, what, subject, place, count, grams, moved_from.

    date, last: the first and the last day, the same where it is one; grams: feed in g/day, of a crop what the
    batch yields in all, of fish the weight of one.
    """
    metric = replace(reader, units="metric")
    rows = (_row(entry, garden, metric) for entry in entries)
    path.write_text(spreadsheet.text([TASKS, *rows]), "utf-8", newline="\n")


def _row(entry: Entry, garden: Garden, reader: Reader) -> list[str]:
    return [
        entry.day.isoformat(),
        entry.last.isoformat(),
        plain(tasks.what(entry, garden, reader)),
        plain(words.name("crop", entry.subject) if entry.of_crop else entry.subject),
        plain(entry.place),
        "" if math.isnan(entry.count) else str(round(entry.count)),
        _number(entry.grams),
        "" if entry.moved_from is None else entry.moved_from.isoformat(),
    ]


def plain(text: str) -> str:
    """A text on one line, in characters that every program shows, with ordinary spaces.

    >>> plain("25\\u00a0°C, tank\\x07 1")
    '25 °C, tank  1'
    """
    return "".join(letter if letter.isprintable() else " " for letter in text)


def _number(value: float) -> str:
    """A number without an exponent.

    >>> [_number(value) for value in (1234.56, 0.000123456, 12.0, float("nan"), 123456.0, -1e-12)]
    ['1235', '0.0001235', '12', '', '123500', '0']
    """
    if math.isnan(value):
        return ""
    text = f"{float(f'{value:.{DIGITS - 1}e}'):.{MOST_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
