"""One sheet a month for the wall: feed by week, when feeding stops, tests, the month's jobs, what we did."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import pandas as pd

from aquacalc import fish, tables, words
from aquacalc.harvest import spans, weeks
from aquacalc.harvest.tasks import SURE_DAYS, Entry
from aquacalc.pages import bands, jobs, kit
from aquacalc.pages.html import LINE_BREAK, Html, element, join, paragraph, shortened, table, ticks
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import routine
from aquacalc.schedule import feed
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days, spoons
from aquacalc.uncertainty import Band

MOST_BATCHES = 2
"""Batches whose feed stands in columns of their own; of more the feed is told together."""
NAME_LETTERS = 16
READINGS = ("ph", "tan", "nitrite", "nitrate", "alkalinity", "oxygen")
JOB_LINES = 12
JOB_LETTERS = 60
"""Lines that a sheet has for jobs, and letters of one; what does not fit is counted."""
READY = ("pick", "pick_once", "of_size")
"""Keys of what may be ready, in one line."""
MANY_SPOONS = 10.0
MOST_LINES = 24
"""Lines to write on; those that the sheet has no room for are cut off with it."""
ACT = 1
"""Place of `act today` among the limits of a reading."""
LEAST_G = 0.5
"""Less feed than that in a day is none."""


@dataclass(frozen=True)
class Fed:
    """Feed of a batch, or of all together, week by week: g a day, and what a spoon of its bag holds."""

    name: str
    starts: tuple[date, ...]
    grams: tuple[Band, ...]
    spoons_g: tuple[float, ...]


def sheets(plan: Plan) -> Html:
    """A sheet for each month of the season."""
    run = plan.season
    if run is None:
        return Html("")
    fed, entries = _fed(plan, run), jobs.entries(plan)
    return join(
        *(
            _sheet(plan, run, fed, jobs.within(entries, first, last), first, last)
            for first, last in days.months(run)
        )
    )


def _sheet(
    plan: Plan, run: SeasonRun, fed: Sequence[Fed], entries: Sequence[Entry], first: date, last: date
) -> Html:
    return sheet(
        plan,
        _title(plan, fed, first, last),
        _feed_table(plan, run, fed, first, last),
        *map(paragraph, [*_away(plan, first, last), *_stops(plan, run, first, last)]),
        element("h2", plan.say("month-tests")),
        _tests(plan),
        element("h2", plan.say("month-jobs")),
        _jobs(plan, entries),
        element("h2", plan.say("month-did")),
        *(element("div", "", class_="rule") for _ in range(MOST_LINES)),
        class_="month",
    )


def _title(plan: Plan, fed: Sequence[Fed], first: date, last: date) -> str:
    """The month and what its days ask for: from the leanest to the richest week, of all fish."""
    month = {"month": words.month(first.month, plan.reader), "year": str(first.year)}
    weeks_of = [
        week for one in fed[:1] for week, start in enumerate(one.starts) if _touches(start, first, last)
    ]
    low = sum(min(float(one.grams[week].low) for week in weeks_of) for one in fed)
    high = sum(max(float(one.grams[week].high) for week in weeks_of) for one in fed)
    if high < LEAST_G:
        return plan.say("month-title-none", **month)
    found = Band(np.asarray(low), np.asarray(low), np.asarray(high))
    return plan.say("month-title", feed=bands.span(found, "feed", plan.reader), **month)


def _touches(start: date, first: date, last: date) -> bool:
    """Whether a week has days in the month."""
    return start <= last and start + timedelta(days=spans.WEEK_DAYS - 1) >= first


def _away(plan: Plan, first: date, last: date) -> Iterator[str]:
    """Absences of the month, which the feed already knows."""
    for one in plan.garden.away:
        if one.start <= last and one.end >= first:
            yield plan.say("month-away", days=days.span(one.start, one.end, plan.reader))


# --- feed ------------------------------------------------------------------------------------------------


def _fed(plan: Plan, run: SeasonRun) -> list[Fed]:
    """Feed by batch; of many batches together."""
    if len(plan.garden.fish) > MOST_BATCHES:
        whole = weeks.weeks(run, plan.garden)
        return [_of("", whole.assign(spoon_g=feed.spoon_g(plan.garden)))]
    by_batch = weeks.by_batch(run, plan.garden)
    found = []
    for batch in plan.garden.fish:
        own = by_batch[by_batch["batch"] == batch.name]
        found.append(_of(batch.name if len(plan.garden.fish) > 1 else "", own))
    return found


def _of(name: str, rows: pd.DataFrame) -> Fed:
    ends = (rows[f"feed_{end}_g_day"].to_numpy(dtype=np.float64) for end in ("low", "middle", "high"))
    return Fed(
        name,
        tuple(start.date() for start in rows["week_start"]),
        tuple(Band(*one) for one in zip(*ends, strict=True)),
        tuple(float(spoon) for spoon in rows["spoon_g"]),
    )


def _feed_table(plan: Plan, run: SeasonRun, fed: Sequence[Fed], first: date, last: date) -> Html:
    if not fed:
        return Html("")
    head = [plan.say("month-week"), *(_head(plan, one) for one in fed), plan.say("month-fed")]
    rows = []
    for week, start in enumerate(fed[0].starts):
        if _touches(start, first, last):
            end = start + timedelta(days=spans.WEEK_DAYS - 1)
            shown = days.span(max(start, run.first), min(end, run.date(run.days - 1)), plan.reader)
            rows.append((shown, *(_ration(plan, run, one, week) for one in fed), ""))
    return table(head, rows, "write feed")


def _head(plan: Plan, one: Fed) -> Html:
    return join(*([shortened(one.name, NAME_LETTERS), LINE_BREAK] if one.name else []), plan.say("month-day"))


def _ration(plan: Plan, run: SeasonRun, one: Fed, week: int) -> str:
    """Grams and spoons for a day: a number in the first weeks, then a range."""
    grams, spoon_g = one.grams[week], one.spoons_g[week]
    low, middle, high = float(grams.low), float(grams.middle), float(grams.high)
    if run.day(one.starts[week]) < SURE_DAYS:
        low = high = middle
    if high < LEAST_G:
        return plan.say("month-no-feed")
    low = 0.0 if low < LEAST_G else low
    told = words.span(low, high, "ratio", plan.reader)
    if not feed.in_spoons(high, spoon_g) > 0.0:
        return told
    said = list(dict.fromkeys(_spoons(feed.in_spoons(end, spoon_g)) for end in (low, high)))
    told_spoons = said[0] if len(said) == 1 else plan.say("range", low=said[0], high=said[1])
    return plan.say("month-ration", grams=told, spoons=told_spoons)


def _spoons(count: float) -> str:
    """Spoons in halves and quarters; many of them are whole.

    >>> _spoons(2.5), _spoons(0.25), _spoons(12.5), _spoons(0.0)
    ('2½', '¼', '12', '0')
    """
    whole, quarters = divmod(round(4 * count) if count < MANY_SPOONS else 4 * round(count), 4)
    return f"{whole or ''}{spoons.QUARTERS[quarters]}" or "0"


def _stops(plan: Plan, run: SeasonRun, first: date, last: date) -> Iterator[str]:
    """Meals a day, and the water temperatures at which feeding is halved and stops, one text a species."""
    for key in dict.fromkeys(batch.species for batch in plan.garden.fish):
        species = fish.species(key)
        stops = plan.say(
            "month-stops",
            species=species.name,
            cold=plan.quantity(species.corners.feed_stop_low_c, "temperature"),
            half=plan.quantity(species.warm_limit_c, "temperature"),
            warm=plan.quantity(species.no_feed_from_c, "temperature"),
        )
        meals = _meals(plan, run, key, first, last)
        yield f"{meals} {stops}" if meals else stops


def _meals(plan: Plan, run: SeasonRun, species: str, first: date, last: date) -> str:
    """How many meals fish of the month's mean weight take; nothing where there are none."""
    own = [place for place, batch in enumerate(plan.garden.fish) if batch.species == species]
    weights = run.typical["fish.weight_g"][own, run.day(first) : run.day(last) + 1]
    known = weights[~np.isnan(weights)]
    if not known.size:
        return ""
    weight_g = float(known.mean())
    row = next(
        row
        for row in tables.load("meals")
        if row.number("weight_from_g") <= weight_g < row.number("weight_below_g")
    )
    low, high = (words.number(row.number(f"meals_{end}")) for end in ("low", "high"))
    return plan.say("month-meals", meals=low if low == high else plan.say("range", low=low, high=high))


# --- tests and jobs --------------------------------------------------------------------------------------


def _tests(plan: Plan) -> Html:
    """From which reading on to act, as the kit shows it, with room for the month's readings."""
    head = [plan.say("routine-head"), plan.say("month-act"), plan.say("month-readings")]
    limits = {name: routine.limits(plan, name)[ACT] for name in READINGS}
    rows = [(element("b", words.say(f"word-{name}", plan.reader)), text, "") for name, text in limits.items()]
    ends = any(kit.PAST_END in text for text in limits.values())
    note = paragraph(plan.say("month-past-end", mark=kit.PAST_END)) if ends else ""
    return join(table(head, rows, "write tests"), note)


def _jobs(plan: Plan, entries: Sequence[Entry]) -> Html:
    ready = [one for one in entries if one.key in READY]
    lines = [jobs.line(job, plan) for job in jobs.jobs_of((one for one in entries if one not in ready), plan)]
    if ready:
        names = "; ".join(jobs.line(job, plan) for job in jobs.jobs_of(ready, plan))
        lines.insert(0, plan.say("month-ready", jobs=names))
    told, room = [], JOB_LINES
    for number, text in enumerate(lines):
        needed = -(-len(text) // JOB_LETTERS)
        if needed > room - (number + 1 < len(lines)):
            told.append(plan.say("month-more-jobs", count=len(lines) - number))
            break
        told.append(text)
        room -= needed
    return ticks(told or [plan.say("month-no-jobs")])
