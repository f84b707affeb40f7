"""Troubles of the last year that a log shows and that are over by its last entries."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from aquacalc import kits
from aquacalc.advice import log_water
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.log_water import Water
from aquacalc.garden.model import Garden
from aquacalc.judge import lines, temperature
from aquacalc.judge.levels import SEVERITY, Level, worst
from aquacalc.judge.water import judge
from aquacalc.logbook import own, stock
from aquacalc.logbook.log import Log, Reading, Row

PAST_DAYS = 365
"""So far back troubles are told. Our own choice."""

SAME_DAYS = 30
"""Bad readings that are no further apart belong to one trouble. Common practice, no source."""

DEAD_SHARE_DAY, DEAD_SHARE_WEEK = 0.01, 0.05
"""Share of a batch that dies in a day, or in a week, from which it is no usual loss. Common practice."""

FEWEST_DEAD = 2
"""A single fish is no wave of deaths, however few there are; our own choice."""

SOURCES = ("TRADE",)

KINDS = {
    **dict.fromkeys(kits.NITROGEN, "nitrogen"),
    **dict.fromkeys(("oxygen", "chlorine", "carbon_dioxide"), "concentration"),
    "temperature": "temperature",
    "alkalinity": "alkalinity",
    "added_salt": "salt",
    "ph": "ph",
}
"""What is told of the past, and its kind of quantity; un-ionised ammonia is told as ammonia."""

PAST = {
    ("oxygen", True): "finding-oxygen-log-past",
    ("chlorine", False): "finding-chlorine-log-past",
    ("tan", False): "finding-ammonia-log-past",
    ("nitrite", False): "finding-nitrite-log-past",
    ("nitrate", False): "finding-nitrate-log-past",
    ("temperature", False): "finding-temperature-log-hot-past",
    ("temperature", True): "finding-temperature-log-cold-past",
    ("ph", True): "finding-ph-log-past",
    ("ph", False): "finding-ph-log-high-past",
    ("alkalinity", True): "finding-alkalinity-log-past",
    ("added_salt", False): "finding-salt-log-past",
    ("carbon_dioxide", False): "finding-dioxide-log-past",
}
"""Findings by what was bad, and whether there was too little of it."""

COMES_AND_GOES = (("ph", False), ("carbon_dioxide", False))
"""What moves with every dose, season and time of day: told of the past only where it was an emergency."""

ONE_DRAW = 1
"""Levels rest on no range."""

DEATH = ("dead", "died", "dying", "deaths", "death", "lost fish", "killed")
"""Words by which a note tells of dead fish."""


@dataclass(frozen=True)
class Bad:
    """A reading that was to be acted on: its value as the workbook counts it, and as it was typed if it was.

    low: whether it was too little of it, of what can be both.
    """

    day: date
    value: float
    level: Level
    low: bool
    typed: Reading | None = None


@dataclass(frozen=True)
class Episode:
    """Readings in a row that were to be acted on: the worst of them, its level, and how many there were."""

    parameter: str
    first: date
    last: date
    worst: Bad
    level: Level
    count: int


def episodes(garden: Garden, log: Log, day: date) -> list[Episode]:
    """Troubles in the year before a day, without those that the newest reading still shows."""
    begin = day - timedelta(days=PAST_DAYS)
    recent = Log(log.name, tuple(row for row in log.rows if begin <= row.day <= day))
    found: list[Episode] = []
    open_: dict[str, list[Bad]] = {}

    def close(parameter: str) -> None:
        if bad := open_.pop(parameter, None):
            found.append(_episode(parameter, bad))

    for row, water in log_water.waters(garden, recent, log):
        for parameter, bad in _judged(row, water):
            known = open_.get(parameter)
            if known and bad is not None and (bad.day - known[-1].day).days > SAME_DAYS:
                close(parameter)
            if bad is None:
                close(parameter)
            else:
                open_.setdefault(parameter, []).append(bad)
    for parameter, readings in list(open_.items()):
        if (day - readings[-1].day).days > kits.OLDEST_DAYS:
            close(parameter)
    return [one for one in _joined(found) if not _explained(one, found)]


def _judged(row: Row, water: Water) -> Iterator[tuple[str, Bad | None]]:
    """Each thing that was read in a row: bad, or None where it was not; what is not known is left out."""
    found = judge(water.given.facts, ONE_DRAW)
    read = {one.parameter: one for one in row.readings}
    if {"ph", "alkalinity"} & set(read):
        read.setdefault("carbon_dioxide", read.get("ph") or read["alkalinity"])
    levels = {one.parameter: one for one in found.judged}
    for parameter, reading in read.items():
        mine = levels.get(parameter)
        if parameter not in KINDS or mine is None:
            continue
        level = mine.level
        if parameter == "tan":
            level = worst((level, levels["unionised_ammonia"].level))
        if level == "not known":
            continue
        low = _too_low(parameter, mine.value, water)
        usual = (parameter, low) in COMES_AND_GOES and level != "emergency"
        if usual or level not in ("act today", "emergency"):
            yield parameter, None
        else:
            typed = reading if reading.parameter == parameter else None
            yield parameter, Bad(row.day, mine.value, level, low, typed)


def _too_low(parameter: str, value: float, water: Water) -> bool:
    if parameter == "temperature":
        return not temperature.is_hot(value, water.given.species)
    if parameter == "ph":
        return value <= lines.begins_at("ph", "act today", above=False)
    return parameter in ("oxygen", "alkalinity")


def _episode(parameter: str, found: Sequence[Bad]) -> Episode:
    one = min(found, key=lambda bad: (-SEVERITY.index(bad.level), bad.value if bad.low else -bad.value))
    return Episode(parameter, found[0].day, found[-1].day, one, one.level, len(found))


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


def findings(garden: Garden, log: Log, day: date) -> list[Finding]:
    """What is over, as findings: troubles of the water, deaths, and notes that tell of deaths."""
    told = [_finding(one) for one in episodes(garden, log, day)]
    return [*_deaths(garden, log, day), *told, *_notes(log, day)]


def _finding(one: Episode) -> Finding:
    value, kind = one.worst.value, KINDS[one.parameter]
    typed = one.worst.typed
    least = typed is not None and typed.beyond == "above"
    amounts = [
        Amount("value", value, kind, value, math.inf) if least else Amount("value", value, kind),
        Amount("day", one.worst.day.isoformat(), "date"),
        Amount("readings", float(one.count), "number"),
        Amount("own", own.text(typed, value), "text"),
    ]
    key = PAST[one.parameter, one.worst.low]
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
