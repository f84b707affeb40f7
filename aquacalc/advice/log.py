"""What a log says: where the water stands, where it goes, what cannot be, what was, fish.

Where the water stands is the answer to a reading of the same facts. Then come findings: what is now, then
what is over.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from aquacalc import kits, nitrogen
from aquacalc.advice import log_checks, log_past, log_water
from aquacalc.advice.finding import Amount, Finding, changes_of_water, ordered
from aquacalc.advice.log_past import DEAD_SHARE_DAY, DEAD_SHARE_WEEK, FEWEST_DEAD
from aquacalc.advice.log_water import Water
from aquacalc.advice.reading import actions, fish
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.judge import lines
from aquacalc.judge.levels import Level, worst
from aquacalc.judge.water import JUDGED, Unjudged
from aquacalc.logbook import own, stock, trend
from aquacalc.logbook.log import Log
from aquacalc.tables import Row

MOST_FINDINGS = 3
"""So many are said first."""

MOST_BY_FEED = 1.5
"""A fall of alkalinity that is so many times what the feed uses up has another cause. Our own choice."""

SOON_DAYS = 7
"""A line that may be reached within a week is acted on today. Common practice, no source."""

HELPS = ("hardness", "chloride", "conductivity")
"""Readings without lines of their own, which help to judge the others."""

SOURCES = ("TRADE",)


@dataclass(frozen=True)
class Told:
    """What a log says on a day.

    water, answer: the newest readings, and what they ask for; None where none is new enough. findings: all
    else that holds now, the most urgent first. past: what is over.
    """

    day: date
    water: Water | None
    answer: Answer | None
    findings: tuple[Finding, ...]
    past: tuple[Finding, ...]

    @property
    def level(self) -> Level:
        """The most urgent of the newest readings and of what is found beside them."""
        by_readings: Level = "not known" if self.answer is None else self.answer.judgement.level
        return worst((by_readings, *(one.level for one in self.findings)))

    @property
    def calm(self) -> bool:
        """Whether everything that was read was judged and is fine, and nothing else is to be told."""
        return (
            self.answer is not None
            and self.water is not None
            and not (self.findings or self.past)
            and not self.answer.actions
            and self.answer.judgement.level == "fine"
            and not (self.without_lines or self.water.food)
        )

    @property
    def without_lines(self) -> tuple[str, ...]:
        """Parameters that were read in these weeks and for which nobody has a line."""
        read = () if self.water is None else self.water.days
        return tuple(name for name in read if name not in (*JUDGED, *HELPS))

    @property
    def unjudged(self) -> tuple[Unjudged, ...]:
        """What could not be judged, and why, but for what a filter without fish lives on and for added salt,
        which nobody measures."""
        if self.answer is None or self.water is None:
            return ()
        said = (*self.water.food, "unionised_ammonia", "added_salt")
        return tuple(one for one in self.answer.judgement.unjudged if one.parameter not in said)


def told_by(garden: Garden, log: Log, day: date | None = None) -> Told | None:
    """What a log says on a day; None where it holds no entry up to then.

    day: entries up to then count; the last day of the log where not given.
    """
    if not log.rows or (day is not None and log.rows[0].day > day):
        return None
    on = log.rows[-1].day if day is None else day
    water = log_water.water_on(garden, log, on)
    species = species_of(garden, log, on)
    present = [
        *_trends(garden, log, on, species),
        *_by_feed(garden, log, on),
        *_deaths(garden, log, on),
        *_lost(garden, log, on),
    ]
    checked = log_checks.findings(garden, log, on)
    old = on - timedelta(days=kits.OLDEST_DAYS)
    present += [one for when, one in checked if when >= old]
    past = [*log_past.findings(garden, log, on), *(one for when, one in checked if when < old)]
    answer = actions.answer(water.given) if water is not None and water.given.measures else None
    return Told(on, water, answer, ordered(present), tuple(past))


def species_of(garden: Garden, log: Log, day: date) -> tuple[Row, ...]:
    """The fish whose lines are asked on a day; a stand-in of cold water where the garden has none."""
    _, batches = log_water.lives_in(garden, log, day)
    return fish.of_garden(replace(garden, fish=batches))


# --- where it goes ------------------------------------------------------------------------------------------


def lines_to_act(species: Sequence[Row]) -> Mapping[str, float]:
    """Where readings that drift are acted on, for the strictest of some species; nitrate where it rises."""
    return {
        "alkalinity": lines.begins_at("alkalinity", "act today", species, above=False),
        "ph": lines.begins_at("ph", "act today", species, above=False),
        "nitrate": lines.begins_at("nitrate", "act today", species),
    }


def _trends(garden: Garden, log: Log, day: date, species: Sequence[Row]) -> Iterator[Finding]:
    for parameter, line in lines_to_act(species).items():
        kind = "nitrogen" if parameter == "nitrate" else parameter
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
            *(changes_of_water("most") if parameter == "nitrate" else ()),
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
