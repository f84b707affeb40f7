"""Troubles of the last year that a log shows and that are over by its last entries."""

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from aquacalc import kits
from aquacalc.advice.finding import Amount, Finding
from aquacalc.garden.model import Garden
from aquacalc.judge import ammonia, lines, oxygen
from aquacalc.judge.levels import SEVERITY, Level, worst
from aquacalc.logbook import own, stock
from aquacalc.logbook.log import Log, Reading
from aquacalc.logbook.plan import corrected
from aquacalc.tables import Row

PAST_DAYS = 365
"""So far back troubles are told. Our own choice."""

SAME_DAYS = 30
"""Bad readings that are no further apart belong to one trouble. Common practice, no source."""

FED_DAYS = 21
"""Feed that was given so many days ago tells that there were fish, whatever the garden file plans."""

DEAD_SHARE_DAY, DEAD_SHARE_WEEK = 0.01, 0.05
"""Share of a batch that dies in a day, or in a week, from which it is no usual loss. Common practice."""

FEWEST_DEAD = 2
"""A single fish is no wave of deaths, however few there are; our own choice."""

SOURCES = ("TRADE",)

KINDS = {"tan": "nitrogen", "nitrite": "nitrogen", "oxygen": "concentration", "ph": "ph"}
ALL = ("tan", "nitrite", "oxygen", "alkalinity", "ph")

DEATH = ("dead", "died", "dying", "deaths", "death", "lost fish", "killed")
"""Words by which a note tells of dead fish."""


@dataclass(frozen=True)
class Episode:
    """Readings in a row that were to be acted on: the worst of them, its level, and how many there were."""

    parameter: str
    first: date
    last: date
    worst: Reading
    level: Level
    count: int


def fish_are_there(garden: Garden, log: Log, day: date) -> bool:
    """Whether there are fish on a day, by counts and plan, or because feed was given in the weeks before."""
    if any(stock.number(log, batch, day) for batch in garden.fish):
        return True
    begin = day - timedelta(days=FED_DAYS)
    for one in reversed(log.all("feed")):
        if one.day < begin:
            return False
        if one.day <= day and one.value > 0.0:
            return True
    return False


def level(parameter: str, reading: Reading, ph: float, warmth_c: float, species: Sequence[Row]) -> Level:
    """The level of a reading for the strictest of some species; a bound on the harmless side is fine."""
    if reading.basis == kits.NOT_KNOWN and reading.value != 0.0:
        return "not known"
    if reading.beyond == ("below" if parameter in ("tan", "nitrite") else "above"):
        return "fine"
    if parameter == "tan":
        found = (ammonia.level(reading.value, ph, warmth_c, (one,)) for one in species)
    elif parameter == "oxygen":
        found = (oxygen.level(reading.value, (one,)) for one in species)
    else:
        found = (lines.level(parameter, reading.value, (one,)) for one in species)
    kept = [one for one in found if one != "not known"]
    return worst(kept) if kept else "not known"


def episodes(garden: Garden, log: Log, day: date, species: Sequence[Row]) -> list[Episode]:
    """Troubles in the year before a day, without those that the newest reading still shows."""
    found: list[Episode] = []
    begin = day - timedelta(days=PAST_DAYS)
    recent = Log(log.name, tuple(row for row in log.rows if begin <= row.day <= day))
    ph, warmth = (_Last(recent.all(name)) for name in ("ph", "temperature"))
    for parameter in ALL:
        readings = [corrected(one, garden) for one in recent.all(parameter)]
        open_: list[tuple[Reading, Level]] = []
        for one in readings:
            high_ph = parameter == "ph" and one.value > 7.0
            fishless = parameter in ("tan", "nitrite", "oxygen") and not fish_are_there(garden, log, one.day)
            told = level(parameter, one, ph.before(one.day), warmth.before(one.day), species)
            if not high_ph and not fishless and told in ("act today", "emergency"):
                if open_ and (one.day - open_[-1][0].day).days > SAME_DAYS:
                    found.append(_episode(parameter, open_))
                    open_ = []
                open_.append((one, told))
            elif open_ and told != "not known":
                found.append(_episode(parameter, open_))
                open_ = []
        if open_ and (day - open_[-1][0].day).days > kits.OLDEST_DAYS:
            found.append(_episode(parameter, open_))
    return [one for one in _joined(found) if not _explained(one, found)]


class _Last:
    """The newest value up to a day."""

    def __init__(self, readings: Sequence[Reading]) -> None:
        self.readings, self.days = readings, [one.day for one in readings]

    def before(self, day: date) -> float:
        """NaN where there is none that is new enough."""
        at = bisect_right(self.days, day) - 1
        if at < 0 or (day - self.days[at]).days > kits.OLDEST_DAYS:
            return math.nan
        return self.readings[at].value


def _episode(parameter: str, found: Sequence[tuple[Reading, Level]]) -> Episode:
    high = parameter in ("tan", "nitrite")
    one, _ = (max if high else min)(found, key=lambda pair: pair[0].value)
    told = max((level for _, level in found), key=SEVERITY.index)
    return Episode(parameter, found[0][0].day, found[-1][0].day, one, told, len(found))


def _joined(found: Sequence[Episode]) -> list[Episode]:
    """The most severe first, the newer of two that are alike; of each parameter only the worst."""
    by_rank = sorted(found, key=lambda one: (-SEVERITY.index(one.level), -one.last.toordinal()))
    kept: dict[str, Episode] = {}
    for one in by_rank:
        kept.setdefault(one.parameter, one)
    return list(kept.values())


def _explained(one: Episode, found: Sequence[Episode]) -> bool:
    """Whether a low pH is the end of an alkalinity that was used up."""
    days = timedelta(days=SAME_DAYS)
    return one.parameter == "ph" and any(
        other.parameter == "alkalinity" and other.first - days <= one.last and one.first <= other.last + days
        for other in found
    )


def findings(garden: Garden, log: Log, day: date, species: Sequence[Row]) -> list[Finding]:
    """What is over, as findings: troubles of the water, deaths, and notes that tell of deaths."""
    told = [_finding(one) for one in episodes(garden, log, day, species)]
    return [*_deaths(garden, log, day), *told, *_notes(log, day)]


def _finding(one: Episode) -> Finding:
    key = {
        "tan": "finding-ammonia-log-past",
        "nitrite": "finding-nitrite-log-past",
        "oxygen": "finding-oxygen-log-past",
        "ph": "finding-ph-log-past",
        "alkalinity": "finding-alkalinity-log-past",
    }[one.parameter]
    value, kind = one.worst.value, KINDS.get(one.parameter, "alkalinity")
    above = Amount("value", value, kind, value, math.inf)
    amounts = [
        above if one.worst.beyond == "above" else Amount("value", value, kind),
        Amount("day", one.worst.day.isoformat(), "date"),
        Amount("readings", float(one.count), "number"),
    ]
    if one.parameter not in ("ph", "oxygen"):
        amounts.append(Amount("own", own.text(one.worst, value), "text"))
    return Finding(key, "", "watch", tuple(amounts), (), SOURCES, one.first, one.last)


def _deaths(garden: Garden, log: Log, day: date) -> Iterator[Finding]:
    """The worst week of deaths that lies further back than a week, one a batch."""
    begin, end = day - timedelta(days=PAST_DAYS), day - timedelta(days=7)
    for batch in garden.fish:
        told = stock.of_batch(log, batch, "dead", end)
        dead = [one for one in told if one.value > 0.0 and one.day >= begin]
        weeks = []
        for last in dead:
            week = [one for one in dead if last.day - timedelta(days=6) <= one.day <= last.day]
            number = round(sum(one.value for one in week))
            there = max((stock.number(log, batch, last.day) or 0) + number, number)
            most = max(one.value for one in week)
            many = most / there >= DEAD_SHARE_DAY or number / there >= DEAD_SHARE_WEEK
            if many and number >= FEWEST_DEAD:
                weeks.append((number / there, number, there, week[0].day, last.day))
        if weeks:
            share, number, there, first, final = max(weeks)
            amounts = (
                Amount("dead", float(number), "number"),
                Amount("there", float(there), "number"),
                Amount("share", share, "share"),
            )
            key = "finding-fish-log-deaths-past"
            yield Finding(key, batch.name, "watch", amounts, (), SOURCES, first, final)


def _notes(log: Log, day: date) -> Iterator[Finding]:
    """The newest note that tells of dead fish while no column counts them."""
    if any(one.value > 0.0 for one in log.all("dead")):
        return
    begin = day - timedelta(days=PAST_DAYS)
    told = [
        (when, note)
        for when, note in log.notes
        if begin <= when <= day and any(word in note.casefold() for word in DEATH)
    ]
    if told:
        when, note = told[-1]
        amounts = (Amount("note", note, "text"), Amount("day", when.isoformat(), "date"))
        yield Finding("finding-fish-log-noted", "", "watch", amounts, (), SOURCES)
