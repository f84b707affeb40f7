"""What became of a log, in words: repairs, doubts, trends, and what happened."""

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import groupby

from aquacalc import words
from aquacalc.advice import log as advice
from aquacalc.garden.model import Garden
from aquacalc.logbook import trend
from aquacalc.logbook.mended import Doubt, Mended, Repair
from aquacalc.words import Reader

TRENDS = {"alkalinity": "alkalinity", "nitrate": "nitrogen", "ph": "ph", "tan": "nitrogen"}
"""Parameters whose trend is told, and their kinds of quantity."""

UNIT_GIVEN = ("log-repair-unit", "log-repair-other-unit")

LONGEST = 60
"""Letters of a cell that are quoted."""


def alike(found: Iterable[Repair | Doubt], reader: Reader) -> list[str]:
    """One sentence for all rows in which the same thing was found in the same column."""

    def same(one: Repair | Doubt) -> tuple[str, str, str]:
        # A cell that was given its unit is like those that were given the same one.
        unit = one.now.rpartition(" ")[2] if one.key in UNIT_GIVEN and isinstance(one, Repair) else ""
        return one.key, one.column, unit

    spoken = []
    for _, group in groupby(sorted(found, key=same), key=same):
        alike = list(group)
        line = sentence(alike[0], reader)
        if len(alike) > 1:
            rest = words.listed([str(one.row) for one in alike[1:]], reader)
            line = words.say("log-line-more", reader, line=line, rest=rest, rows=len(alike) - 1)
        spoken.append((alike[0].row, line))
    return [line for _, line in sorted(spoken, key=lambda one: one[0])]


def sentence(one: Repair | Doubt, reader: Reader) -> str:
    """A repair or a doubt in words, with its row and column."""
    was = _short(one.was)
    if isinstance(one, Repair):
        text = words.say(one.key, reader, was=was, now=_short(one.now))
    else:
        choices = words.listed(one.choices, reader, "or")
        text = words.say(one.key, reader, was=was, choices=choices)
        if one.choices and one.key not in ("log-doubt-copied", "log-doubt-fish"):
            text = words.say("log-line-choices", reader, sentence=text, choices=choices)
    if one.row == 0:
        return words.say("log-line-file", reader, sentence=text)
    if one.column:
        return words.say("log-line", reader, row=str(one.row), column=_short(one.column), sentence=text)
    return words.say("log-line-row", reader, row=str(one.row), sentence=text)


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else line[: LONGEST - 3] + "..."


def trends(garden: Garden, found: Mended, reader: Reader) -> Iterator[str]:
    """The trend of each parameter that has one."""
    day: date = found.log.rows[-1].day
    for parameter, kind in TRENDS.items():
        line = trend.of_log(found.log, garden, parameter, day)
        if line is None:
            continue
        name = words.say(f"word-{parameter}", reader)
        now = words.span(line.now_low, line.now_high, kind, reader)
        since = words.date(line.first, reader)
        if not (line.rising or line.falling):
            yield words.say("log-trend-level", reader, name=name, now=now, since=since)
            continue
        low, high = sorted((abs(line.slope_low), abs(line.slope_high)))
        week = words.span(low, high, kind, reader)
        key = "log-trend-rising" if line.rising else "log-trend-falling"
        yield words.say(key, reader, name=name, now=now, since=since, week=week)


def happened(one: advice.Happened, reader: Reader) -> str:
    """Something that happened, with its day."""
    day = words.date(one.day, reader)
    if one.key == "kit":
        return words.say("log-happened-kit", reader, day=day, subject=one.subject)
    key = "log-happened-stocked" if one.key == "stocked" else "log-happened-taken"
    return words.say(key, reader, day=day, subject=one.subject, count=str(one.count))
