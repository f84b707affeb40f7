"""Findings of a log: where the water stands, where it goes, which readings cannot go together, lost fish."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from aquacalc import nitrogen, tables
from aquacalc.advice import levels
from aquacalc.advice.finding import Amount, Finding, Level, ordered, worst
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.logbook import stock, today, trend
from aquacalc.logbook.log import Log
from aquacalc.logbook.today import Known, Standing
from aquacalc.tables import Row
from aquacalc.water import carbonate

MOST_FINDINGS = 3
"""So many are said first."""

DEAD_SHARE_DAY, DEAD_SHARE_WEEK = 0.01, 0.05
"""Share of a batch that dies in a day, or in a week, from which it is no usual loss. Common practice."""

FEWEST_DEAD = 2
"""A single fish is no wave of deaths, however few there are; our own choice."""

MOST_BY_FEED = 1.5
"""A fall of alkalinity that is so many times what the feed uses up has another cause. Our own choice."""

SOON_DAYS = 7
"""A line that may be reached within a week is acted on today. Common practice, no source."""

TEST_DAYS, TEST_DAYS_ACT = 7, 1
"""Days to the next test: every week, and the next day while something is to be acted on."""

USUAL_C = 25.0
"""Where no temperature was read; the implied carbon dioxide hardly depends on it. Our own choice."""

SOURCES = ("TRADE",)

HappenedKey = Literal["stocked", "taken", "kit"]


@dataclass(frozen=True)
class Happened:
    """Something that may explain a step in the readings. subject: the batch or the kit; count: of fish."""

    day: date
    key: HappenedKey
    subject: str
    count: int = 0


def of_log(garden: Garden, log: Log, day: date | None = None) -> tuple[Finding, ...]:
    """Findings of a log on a day, the most urgent first.

    day: entries up to then count; the last day of the log where not given. An empty log has no findings.
    """
    if not log.rows or (day is not None and log.rows[0].day > day):
        return ()
    on = log.rows[-1].day if day is None else day
    standing = today.standing(garden, log, on)
    species = _species(garden, standing)
    return ordered(
        [
            *_now(standing, species),
            *_trends(garden, log, on, species),
            *_by_feed(garden, log, on),
            *_together(standing),
            *_deaths(garden, log, on),
            *_lost(garden, log, on),
        ]
    )


def next_test(log: Log, findings: Sequence[Finding]) -> date | None:
    """The day of the next test; None where nothing was tested yet."""
    tested = [one.day for parameter in ("ph", "tan", "nitrite", "alkalinity") for one in log.all(parameter)]
    if not tested:
        return None
    urgent = any(one.level in ("emergency", "act today") for one in findings)
    return max(tested) + timedelta(days=TEST_DAYS_ACT if urgent else TEST_DAYS)


def happened(garden: Garden, log: Log) -> tuple[Happened, ...]:
    """Stockings, harvests of fish and changes of kits, in order of days, as log and garden file tell them."""
    found = [
        Happened(one.day, key, batch.name, round(one.value))
        for batch in garden.fish
        for key in ("stocked", "taken")
        for one in stock.of_batch(log, batch, key)
        if one.value > 0.0
    ]
    if log.rows:
        begin, end = log.rows[0].day, log.rows[-1].day
        for kit in garden.kits:
            if kit.start is not None and begin < kit.start <= end:
                found.append(Happened(kit.start, "kit", kit.name))
    return tuple(sorted(found, key=lambda one: one.day))


def _species(garden: Garden, standing: Standing) -> list[Row]:
    """The species that are there by the log, else those that are planned; without a row twice."""
    there = {one.batch for one in standing.fish}
    kept = [batch for batch in garden.fish if batch.name in there] or list(garden.fish)
    return [tables.load("species").row(key) for key in dict.fromkeys(batch.species for batch in kept)]


# --- where the water stands ---------------------------------------------------------------------------------


def _now(standing: Standing, species: Sequence[Row]) -> Iterator[Finding]:
    water = standing.water
    ph, warmth = water.get("ph"), water.get("water_c")
    tan = water.get("tan_mg_l")
    # Without fish, ammonia and nitrite are what a filter is started with.
    fish = bool(standing.fish)
    if fish and tan is not None and ph is not None and warmth is not None:
        level = worst(levels.of_ammonia(tan.value, ph.value, warmth.value, one) for one in species)
        at = Amount("ph", ph.value, "ph")
        yield from _told("finding-ammonia-log-now", level, tan, "nitrogen", (at,))
    if fish and (nitrite := water.get("nitrite_mg_l")) is not None:
        level = worst(levels.of_water("nitrite", nitrite.value, one) for one in species)
        yield from _told("finding-nitrite-log-now", level, nitrite, "nitrogen")
    if fish and (oxygen := water.get("oxygen_mg_l")) is not None:
        level = worst(levels.of_oxygen(oxygen.value, one) for one in species)
        yield from _told("finding-oxygen-log-now", level, oxygen, "concentration")
    if ph is not None:
        level = worst(levels.of_water("ph", ph.value, one) for one in species)
        low = ph.value < _line("ph_low", "watch_from") + 1e-9
        if low:
            yield from _told("finding-ph-log-low", level, ph, "ph")
        elif fish:
            yield from _told("finding-ph-log-high", level, ph, "ph")
    alkalinity = water.get("alkalinity_mg_l")
    if alkalinity is not None and alkalinity.value <= _line("alkalinity_low", "watch_from"):
        level = worst(levels.of_water("alkalinity", alkalinity.value, one) for one in species)
        yield from _told("finding-alkalinity-log-low", level, alkalinity, "alkalinity")


def _told(
    key: str, level: Level, known: Known, kind: str, more: tuple[Amount, ...] = ()
) -> Iterator[Finding]:
    if level == "fine":
        return
    # A reading at the upper end of its scale is a least value.
    value = (
        Amount("value", known.value, kind, known.value, math.inf)
        if known.beyond == "above"
        else Amount("value", known.value, kind)
    )
    amounts = (value, Amount("day", known.day.isoformat(), "date"), *more)
    yield Finding(key, "", level, amounts, (), SOURCES)


def _line(key: str, column: str) -> float:
    return tables.load("water_limits").row(key).number(column)


# --- where it goes ------------------------------------------------------------------------------------------


def _trends(garden: Garden, log: Log, day: date, species: Sequence[Row]) -> Iterator[Finding]:
    nitrate = min(
        (
            row.number("act_from")
            for one in species
            for row in tables.load("water_limits")
            if row.text("parameter") == "nitrate"
            and row.text("side") == "above"
            and row.text("group") in levels.groups(one)
        ),
        default=_line("nitrate_high_warm", "act_from"),
    )
    for parameter, kind, line in (
        ("alkalinity", "alkalinity", _line("alkalinity_low", "act_from")),
        ("ph", "ph", _line("ph_low", "act_from")),
        ("nitrate", "nitrogen", nitrate),
    ):
        found = trend.of_log(log, garden, parameter, day)
        if found is None:
            continue
        falls = parameter != "nitrate"
        if falls != (line < found.now):
            continue
        reached = trend.reaches(found, line)
        if reached is None:
            continue
        early, late = reached
        level: Level = "act today" if (early - day).days <= SOON_DAYS else "watch"
        amounts = (
            Amount("line", line, kind),
            Amount("now", found.now, kind, found.now_low, found.now_high),
            Amount("readings", float(found.count), "number"),
            Amount("begin", found.first.isoformat(), "date"),
        )
        if late is None:
            key = {
                "alkalinity": "finding-alkalinity-log-may-reach",
                "ph": "finding-ph-log-may-reach",
                "nitrate": "finding-nitrate-log-may-reach",
            }[parameter]
            early_only = Amount("early", early.isoformat(), "date")
            yield Finding(key, "", level, (*amounts, early_only), (), SOURCES)
        else:
            key = {
                "alkalinity": "finding-alkalinity-log-reaches",
                "ph": "finding-ph-log-reaches",
                "nitrate": "finding-nitrate-log-reaches",
            }[parameter]
            until = max(late, early + timedelta(days=1))
            between = (
                Amount("early", early.isoformat(), "date"),
                Amount("late", until.isoformat(), "date"),
            )
            yield Finding(key, "", level, (*amounts, *between), (), SOURCES, early, until)


def _by_feed(garden: Garden, log: Log, day: date) -> Iterator[Finding]:
    """Alkalinity that falls faster than the feed of these weeks can use up."""
    found = trend.of_log(log, garden, "alkalinity", day)
    if found is None or not found.falling:
        return
    fed = [one.value for one in log.all("feed") if found.first <= one.day <= found.last]
    if len(fed) < trend.FEWEST:
        return
    feed_g_day = sum(fed) / len(fed)
    nitrogen_g = nitrogen.feed_nitrogen_g_day(feed_g_day, garden.protein_fraction())
    dissolved_mg = 1000.0 * float(nitrogen_g * nitrogen.partition().dissolved)
    # Plants give some of it back, so that this is the most.
    used_mg = -sum(
        float(nitrogen.alkalinity_change_mg(process, dissolved_mg))
        for process in ("ammonia_added", "ammonia_oxidised")
    )
    most_week = 7.0 * used_mg / litres.of(garden).whole
    slowest, fastest = -found.slope_high, -found.slope_low
    if slowest <= MOST_BY_FEED * most_week:
        return
    amounts = (
        Amount("fall", -found.slope, "alkalinity", slowest, fastest),
        Amount("most", most_week, "alkalinity"),
        Amount("feed", feed_g_day, "feed"),
        Amount("begin", found.first.isoformat(), "date"),
    )
    yield Finding("finding-alkalinity-log-faster", "", "watch", amounts, (), ("TRADE", "OWN"))


# --- readings that cannot go together -----------------------------------------------------------------------


def _together(standing: Standing) -> Iterator[Finding]:
    """pH and alkalinity of one day that ask for a carbon dioxide that no such water has."""
    ph, alkalinity = standing.water.get("ph"), standing.water.get("alkalinity_mg_l")
    if ph is None or alkalinity is None or ph.day != alkalinity.day or alkalinity.value <= 0.0:
        return
    if ph.beyond or alkalinity.beyond:
        return
    warmth = standing.water.get("water_c")
    at_c = USUAL_C if warmth is None else min(max(warmth.value, 0.0), 40.0)
    implied = float(carbonate.carbon_dioxide_mg_l(ph.value, alkalinity.value, at_c))
    bounds = tables.load("input_bounds").row("implied_carbon_dioxide")
    if bounds.number("warn_low") <= implied <= bounds.number("warn_high"):
        return
    amounts = (
        Amount("ph", ph.value, "ph"),
        Amount("alkalinity", alkalinity.value, "alkalinity"),
        Amount("implied", max(implied, 0.0), "concentration"),
        Amount("day", ph.day.isoformat(), "date"),
    )
    yield Finding("finding-readings-log-disagree", "", "not known", amounts, (), ("TRADE", "OWN"))


# --- fish ---------------------------------------------------------------------------------------------------


def _deaths(garden: Garden, log: Log, day: date) -> Iterator[Finding]:
    """Deaths of the last week: in a day, and in all."""
    begin = day - timedelta(days=6)
    for batch in garden.fish:
        dead = [one for one in stock.of_batch(log, batch, "dead", day) if one.day >= begin]
        number = round(sum(one.value for one in dead))
        left = stock.number(log, batch, day)
        if not number or left is None:
            continue
        there = max(left + number, number)
        most = max(dead, key=lambda one: one.value)
        amounts = (
            Amount("dead", float(number), "number"),
            Amount("there", float(there), "number"),
            Amount("share", number / there, "share"),
        )
        if number >= FEWEST_DEAD and number / there >= DEAD_SHARE_WEEK:
            level: Level = "emergency"
        elif most.value / there >= DEAD_SHARE_DAY or number / there >= DEAD_SHARE_WEEK:
            level = "act today"
        else:
            continue
        last = max(one.day for one in dead if one.value > 0.0)
        first = min(one.day for one in dead if one.value > 0.0)
        yield Finding("finding-fish-log-deaths", batch.name, level, amounts, (), SOURCES, first, last)


def _lost(garden: Garden, log: Log, day: date) -> Iterator[Finding]:
    """Fish that a count misses: fewer than were stocked, less those noted as dead or taken."""
    for batch in garden.fish:
        counts = stock.of_batch(log, batch, "count", day)
        if not counts:
            continue
        last = counts[-1]
        expected = stock.expected(log, batch, last.day)
        if expected is None:
            continue
        died = round(sum(one.value for one in stock.of_batch(log, batch, "dead", last.day)))
        missing = expected - died - round(last.value)
        if missing == 0:
            continue
        amounts = (
            Amount("counted", last.value, "number"),
            Amount("should", float(max(expected - died, 0)), "number"),
            Amount("day", last.day.isoformat(), "date"),
        )
        key = "finding-fish-log-fewer" if missing > 0 else "finding-fish-log-more"
        yield Finding(key, batch.name, "watch", amounts, (), SOURCES)
