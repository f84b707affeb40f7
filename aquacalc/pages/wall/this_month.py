"""One sheet a month for the wall: feed by week, when feeding stops, tests, the month's jobs, what we did."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

import numpy as np

from aquacalc import fish, tables, words
from aquacalc.agenda import ration
from aquacalc.agenda.jobs import Entry
from aquacalc.agenda.ration import Ration
from aquacalc.pages import jobs, kit
from aquacalc.pages.html import LINE_BREAK, Html, element, join, paragraph, shortened, table, ticks
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import routine
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days, empty_beds, rations

MOST_BATCHES = 2
"""Batches whose feed stands in columns of their own; more have a row each."""
NAME_LETTERS = 16
READINGS = ("ph", "tan", "nitrite", "nitrate", "alkalinity", "oxygen")
JOB_LINES, FEWEST_JOB_LINES = 12, 4
JOB_LETTERS = 60
"""Lines that a sheet has for jobs, and letters of one; what does not fit is counted."""
SHEET_LINES, ROW_LINES, TEXT_LETTERS = 24, 1.2, 72
"""Lines that the shorter paper has for feed, its rules and jobs, as printed; lines that a row of the feed
takes up; letters of a line of its rules."""
FIRST = ("stock", "fast", "take", "other_water", "feed_stop", "feed_again", "test", "change", "supplement")
"""Keys of jobs that stand before what is sown, picked and cleared: that has a sheet of its own."""
READY = ("pick", "pick_once", "of_size")
"""Keys of what may be ready, in one line."""
MOST_LINES = 24
"""Lines to write on; those that the sheet has no room for are cut off with it."""
ACT = 1
"""Place of `act today` among the limits of a reading."""


def sheets(plan: Plan) -> Html:
    """A sheet for each month of the season."""
    run = plan.season
    if run is None:
        return Html("")
    entries = jobs.entries(plan)
    return join(
        *(
            _sheet(plan, run, jobs.within(entries, first, last), first, last)
            for first, last in days.months(run)
        )
    )


def _sheet(plan: Plan, run: SeasonRun, entries: Sequence[Entry], first: date, last: date) -> Html:
    fed = _feed_table(plan, first, last)
    told = [
        *_away(plan, first, last),
        *_rules(plan, first, last),
        *_stops(plan, run, first, last),
        *_empty(plan, first, last),
    ]
    above = ROW_LINES * fed.count("<tr>") + sum(-(-len(text) // TEXT_LETTERS) for text in told)
    room = min(max(int(SHEET_LINES - above), FEWEST_JOB_LINES), JOB_LINES)
    return sheet(
        plan,
        _title(plan, first, last),
        fed,
        *map(paragraph, told),
        element("h2", plan.say("month-tests")),
        _tests(plan),
        element("h2", plan.say("month-jobs")),
        _jobs(plan, entries, room),
        element("h2", plan.say("month-did")),
        *(element("div", "", class_="rule") for _ in range(MOST_LINES)),
        class_="month",
    )


def _title(plan: Plan, first: date, last: date) -> str:
    """The month and what its days ask for: from the leanest to the richest day, of all fish."""
    month = {"month": words.month(first.month, plan.reader), "year": str(first.year)}
    grams = () if plan.agenda is None else plan.agenda.fed_g_day(first, last)
    rations_ = () if plan.agenda is None else plan.agenda.rations
    if not any(grams) and any(one.start_up and one.touches(first, last) for one in rations_):
        return plan.say("month-title-start-up", **month)
    if not any(grams):
        return plan.say("month-title-none", **month)
    fed = words.span(min(one for one in grams if one > 0.0), max(grams), "feed", plan.reader)
    return plan.say("month-title", feed=fed, **month)


def _away(plan: Plan, first: date, last: date) -> Iterator[str]:
    """Absences of the month, which the feed already knows."""
    for one in plan.garden.away:
        if one.start <= last and one.end >= first:
            yield plan.say("month-away", days=days.span(one.start, one.end, plan.reader))


# --- feed ------------------------------------------------------------------------------------------------


def _feed_table(plan: Plan, first: date, last: date) -> Html:
    """The ration of each batch: a column each and a row for every span of days; of many a row each."""
    if plan.agenda is None:
        return Html("")
    spans_of_days = ration.boundaries(plan.agenda.rations, first, last)
    if not spans_of_days:
        return Html("")
    there = [batch for batch in plan.garden.fish if _given(plan, batch.name, spans_of_days)]
    told = [days.span(*one, plan.reader) for one in spans_of_days]
    cells = {batch.name: [_amount(plan, batch.name, begin) for begin, _ in spans_of_days] for batch in there}
    if len(there) > MOST_BATCHES:
        head = [plan.say("month-batch"), *told]
        return table(
            head, ((shortened(one.name, NAME_LETTERS), *cells[one.name]) for one in there), "write feed"
        )
    head = [plan.say("month-week"), *(_head(plan, one.name) for one in there), plan.say("month-fed")]
    rows = ((span, *(cells[one.name][row] for one in there), "") for row, span in enumerate(told))
    return table(head, rows, "write feed")


def _given(plan: Plan, batch: str, found: Sequence[tuple[date, date]]) -> bool:
    return any(_ration(plan, batch, begin) is not None for begin, _ in found)


def _ration(plan: Plan, batch: str, day: date) -> Ration | None:
    found = () if plan.agenda is None else plan.agenda.on(day)
    return next((one for one in found if one.batch == batch), None)


def _head(plan: Plan, name: str) -> Html:
    own = [shortened(name, NAME_LETTERS), LINE_BREAK] if len(plan.garden.fish) > 1 else []
    return join(*own, plan.say("month-day"))


def _amount(plan: Plan, batch: str, day: date) -> str:
    """The ration of a day, as a bag while somebody else is there."""
    found = _ration(plan, batch, day)
    if found is None:
        return plan.say("year-no-figure")
    if found.away == "":
        return plan.say("month-nobody")
    told = rations.amount(found, plan.reader)
    return told if found.away is None or not found.grams > 0.0 else plan.say("month-bag", amount=told)


def _rules(plan: Plan, first: date, last: date) -> Iterator[str]:
    """When there is more and when less, and what oxygen and filter carry."""
    if plan.agenda is None or not any(plan.agenda.fed_g_day(first, last)):
        return
    rules = ration.steps(fish.species(batch.species) for batch in plan.garden.fish)
    yield _led(plan, "raise", plan.say("month-raise-what", eaten=str(rules.eaten_min)))
    lower = plan.say(
        "month-lower-what",
        left=str(rules.left_min),
        oxygen=plan.quantity(rules.oxygen_mg_l, "concentration"),
        sudden=plan.quantity(rules.change_c, "temperature_difference"),
    )
    yield _led(plan, "lower", lower)
    cap = plan.agenda.cap_g_day(first, last)
    if cap is not None:
        key = "month-cap-own" if cap >= plan.garden.care.most_feed_g_day else "month-cap"
        yield plan.say(key, cap=plan.quantity(cap, "dose"))


def _led(plan: Plan, key: str, text: str) -> Html:
    """A rule, led by what it asks for."""
    return join(element("b", plan.say(f"month-{key}")), f" {text}")


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
        yield _led(plan, "stop", f"{stops} {meals}".rstrip())


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


def _empty(plan: Plan, first: date, last: date) -> Iterator[str]:
    """Places that heat, cold, the dark or frost empties from this month on, and what to sow there."""
    for one in () if plan.agenda is None else plan.agenda.kept_out:
        if first <= one.first <= last and one.instead:
            bed = shortened(one.bed, NAME_LETTERS)
            yield _led(plan, "empty", empty_beds.kept_out(one, bed, plan.reader))


# --- tests and jobs --------------------------------------------------------------------------------------


def _tests(plan: Plan) -> Html:
    """From which reading on to act, as the kit shows it, with room for the month's readings."""
    head = [plan.say("routine-head"), plan.say("month-act"), plan.say("month-readings")]
    limits = {name: routine.limits(plan, name)[ACT] for name in READINGS}
    rows = [(element("b", words.say(f"word-{name}", plan.reader)), text, "") for name, text in limits.items()]
    ends = any(kit.PAST_END in text for text in limits.values())
    note = paragraph(plan.say("month-past-end", mark=kit.PAST_END)) if ends else ""
    return join(table(head, rows, "write tests"), note)


def _jobs(plan: Plan, entries: Sequence[Entry], lines_of_sheet: int = JOB_LINES) -> Html:
    """The jobs of a month in so many lines; fish that come are told even where it takes more."""
    ready = [one for one in entries if one.key in READY]
    first = [one for one in entries if one.key in FIRST]
    rest = [one for one in entries if one.key not in (*READY, *FIRST)]
    lines = [jobs.line(job, plan) for job in jobs.jobs_of(first, plan)]
    if ready:
        names = "; ".join(jobs.line(job, plan) for job in jobs.jobs_of(ready, plan))
        lines.append(plan.say("month-ready", jobs=names))
    lines += [jobs.line(job, plan) for job in jobs.jobs_of(rest, plan)]
    needed = [-(-len(text) // JOB_LETTERS) for text in lines]
    room = lines_of_sheet - (sum(needed) > lines_of_sheet)
    told = []
    stocked = [one for one in first if one.key == "stock"]
    always = {jobs.line(job, plan) for job in jobs.jobs_of(stocked, plan)}
    for text, height in zip(lines, needed, strict=True):
        # What does not fit leaves its room to what follows.
        if height <= room or text in always:
            told.append(text)
            room -= height
    if len(told) < len(lines):
        told.append(plan.say("month-more-jobs", count=len(lines) - len(told)))
    return ticks(told or [plan.say("month-no-jobs")])
