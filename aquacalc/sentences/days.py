"""Days in words: one, from one to another, several; and the months of a season."""

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from aquacalc import words
from aquacalc.agenda.when import SURE_DAYS
from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.harvest import spans
from aquacalc.season.result import SeasonRun
from aquacalc.words import Reader

SURE_WEEKS = SURE_DAYS // DAYS_PER_WEEK
"""Weeks from the first day on that are told as one number; what lies beyond is told as a range."""


def months(run: SeasonRun) -> tuple[tuple[date, date], ...]:
    """First and last day of each calendar month of a season; the first and the last may be short."""
    return tuple((run.date(of.start), run.date(of.stop - 1)) for _, of in spans.months(run))


def span(first: date, last: date, reader: Reader) -> str:
    """From a day to a day; one day where both are the same, the month once where they share it.

    >>> [span(date(2027, 4, 3), last, Reader()) for last in (date(2027, 4, 9), date(2027, 5, 2))]
    ['3 to 9 Apr', '3 Apr to 2 May']
    """
    if first == last:
        return words.day(first, reader)
    if (first.year, first.month) == (last.year, last.month):
        return _of_month(
            words.say("range", reader, low=str(first.day), high=str(last.day)), first.month, reader
        )
    return words.say("range", reader, low=words.day(first, reader), high=words.day(last, reader))


def between(first: date, last: date, reader: Reader) -> str:
    """Days between which something happens, as part of a sentence.

    >>> between(date(2027, 4, 3), date(2027, 4, 9), Reader())
    'between 3 Apr and 9 Apr'
    """
    if first == last:
        return words.say("when-day", reader, day=words.day(first, reader))
    return words.say("day-between", reader, first=words.day(first, reader), last=words.day(last, reader))


def listed(found: Sequence[tuple[date, date]], reader: Reader) -> str:
    """Several days or spans; the month once for single days that share it.

    >>> listed([(date(2027, 4, day), date(2027, 4, day)) for day in (3, 9)], Reader())
    '3, 9 Apr'
    """
    texts = []
    for (several, _), group in groupby(found, key=lambda one: (one[0] != one[1], one[0].replace(day=1))):
        own = list(group)
        if several:
            texts += [span(first, last, reader) for first, last in own]
        else:
            numbers = ", ".join(str(first.day) for first, _ in own)
            texts.append(_of_month(numbers, own[0][0].month, reader))
    return ", ".join(texts)


def _of_month(numbers: str, month: int, reader: Reader) -> str:
    key = "day-of-month-us" if reader.units == "us" else "day-of-month"
    return words.say(key, reader, days=numbers, month=words.month(month, reader, short=True))
