"""Findings of a log: where the water stands, where it goes, what cannot be, what was, fish.

What is now comes first, then what cannot be, then what is over.
"""

import math
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from aquacalc import kits, nitrogen, tables
from aquacalc.advice import log_checks, log_past
from aquacalc.advice.finding import Amount, Finding, ordered
from aquacalc.advice.log_past import DEAD_SHARE_DAY, DEAD_SHARE_WEEK, FEWEST_DEAD
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.judge import lines
from aquacalc.judge.levels import Level
from aquacalc.logbook import own, stock, today, trend
from aquacalc.logbook.log import Log, Reading
from aquacalc.logbook.plan import corrected
from aquacalc.logbook.today import Standing
from aquacalc.tables import Row

MOST_FINDINGS = 3
"""So many are said first."""

MOST_BY_FEED = 1.5
"""A fall of alkalinity that is so many times what the feed uses up has another cause. Our own choice."""

SOON_DAYS = 7
"""A line that may be reached within a week is acted on today. Common practice, no source."""

SOURCES = ("TRADE",)


def of_log(garden: Garden, log: Log, day: date | None = None) -> tuple[Finding, ...]:
    """Findings of a log on a day, the most urgent first.

    day: entries up to then count; the last day of the log where not given. An empty log has no findings.
    """
    if not log.rows or (day is not None and log.rows[0].day > day):
        return ()
    on = log.rows[-1].day if day is None else day
    standing = today.standing(garden, log, on)
    species = species_of(garden, standing)
    present = [
        *_now(garden, log, standing, species),
        *_trends(garden, log, on, species),
        *_by_feed(garden, log, on),
        *_deaths(garden, log, on),
        *_lost(garden, log, on),
    ]
    checked = log_checks.findings(garden, log, on)
    old = on - timedelta(days=kits.OLDEST_DAYS)
    present += [one for when, one in checked if when >= old]
    past = log_past.findings(garden, log, on, species)
    return (*ordered(present), *past, *(one for when, one in checked if when < old))


def species_of(garden: Garden, standing: Standing) -> list[Row]:
    """The species that are there by the log, else those that are planned; without a row twice."""
    there = {one.batch for one in standing.fish}
    kept = [batch for batch in garden.fish if batch.name in there] or list(garden.fish)
    return [tables.load("species").row(key) for key in dict.fromkeys(batch.species for batch in kept)]


# --- where the water stands ---------------------------------------------------------------------------------


def _now(garden: Garden, log: Log, standing: Standing, species: Sequence[Row]) -> Iterator[Finding]:
    day, water = standing.day, standing.water

    def told(key: str, parameter: str, kind: str, more: tuple[Amount, ...] = ()) -> Iterator[Finding]:
        last = log.last(parameter, day)
        assert last is not None
        reading = corrected(last, garden)
        ph, warmth = (water[name].value if name in water else math.nan for name in ("ph", "water_c"))
        level = log_past.level(parameter, reading, ph, warmth, species)
        if level not in ("fine", "not known"):
            yield Finding(key, "", level, (*_value(reading, kind), *more), (), SOURCES)

    # Without fish, ammonia and nitrite are what a filter is started with.
    fish = log_past.fish_are_there(garden, log, day)
    if fish and "tan_mg_l" in water and "ph" in water and "water_c" in water:
        at = Amount("ph", water["ph"].value, "ph")
        yield from told("finding-ammonia-log-now", "tan", "nitrogen", (at,))
    if fish and "nitrite_mg_l" in water:
        yield from told("finding-nitrite-log-now", "nitrite", "nitrogen")
    if fish and "oxygen_mg_l" in water:
        yield from told("finding-oxygen-log-now", "oxygen", "concentration")
    if "ph" in water:
        if water["ph"].value <= _line("ph_low", "watch_from") + 1e-9:
            last = log.last("ph", day)
            bound = "below" if last is not None and last.beyond == "below" else "value"
            yield from told("finding-ph-log-low", "ph", "ph", (Amount("bound", bound, "text"),))
        elif fish:
            yield from told("finding-ph-log-high", "ph", "ph")
    alkalinity = water.get("alkalinity_mg_l")
    if alkalinity is not None and alkalinity.value <= _line("alkalinity_low", "watch_from"):
        yield from told("finding-alkalinity-log-low", "alkalinity", "alkalinity")


def _value(reading: Reading, kind: str) -> tuple[Amount, ...]:
    # A reading at the upper end of its scale is a least value.
    value = (
        Amount("value", reading.value, kind, reading.value, math.inf)
        if reading.beyond == "above"
        else Amount("value", reading.value, kind)
    )
    day = Amount("day", reading.day.isoformat(), "date")
    if kind in ("nitrogen", "alkalinity"):
        return value, day, Amount("own", own.text(reading, reading.value), "text")
    return value, day


def _line(key: str, column: str) -> float:
    return tables.load("water_limits").row(key).number(column)


# --- where it goes ------------------------------------------------------------------------------------------


def nitrate_line_mg_l(species: Sequence[Row]) -> float:
    """Nitrate as N to act on, for the strictest of some species; for warm-water fish where there are none."""
    if not species:
        return _line("nitrate_high_warm", "act_from")
    return lines.begins_at("nitrate", "act today", species)


def _trends(garden: Garden, log: Log, day: date, species: Sequence[Row]) -> Iterator[Finding]:
    for parameter, kind, line in (
        ("alkalinity", "alkalinity", _line("alkalinity_low", "act_from")),
        ("ph", "ph", _line("ph_low", "act_from")),
        ("nitrate", "nitrogen", nitrate_line_mg_l(species)),
    ):
        found = trend.of_log(log, garden, parameter, day)
        if found is None:
            continue
        falls = parameter != "nitrate"
        typed = log.last(parameter, day)
        # What is there already is told as a level.
        if falls != (line < found.now) or typed is None or (falls and typed.value <= line):
            continue
        reached = trend.reaches(found, line)
        if reached is None:
            continue
        early, late = reached
        level: Level = "act today" if (early - day).days <= SOON_DAYS else "watch"
        owns = (
            ()
            if parameter == "ph"
            else (
                Amount("own_line", own.text(typed, line), "text"),
                Amount("own_now", own.text(typed, found.now_low, found.now_high), "text"),
            )
        )
        amounts = (
            *owns,
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
    most_week = 7.0 * used_mg / litres.litres_of(garden).whole
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
