"""A sheet a month for the wall, months without feed on one sheet: feed, jobs and tests by week, and the rules
by which feed is raised, lowered and stopped."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

import numpy as np

from aquacalc import fish, tables, words
from aquacalc.agenda import appetite, ration
from aquacalc.agenda.appetite import Appetite
from aquacalc.agenda.ration import Ration
from aquacalc.pages.html import LINE_BREAK, Html, element, join, paragraph, shortened, table
from aquacalc.pages.plan import Plan, sheet
from aquacalc.pages.wall import weeks
from aquacalc.pages.wall.weeks import Span, Week
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days, empty_beds, rations

MOST_COLUMNS = 2
"""Batches whose feed stands in columns of their own; that of more stands in one column, a line each."""
NAME_LETTERS = 16
JOB_LETTERS = {0: 54, 1: 40, 2: 22}
"""Letters of a line of jobs, by the columns of feed beside it."""
FEED_LETTERS = 14
SHEET_MM, LINE_MM, ROW_MM, HEAD_MM = 236.0, 6.0, 1.4, 16.0
"""Of the shorter paper, as printed: what is left under the title; a line; what a row takes beside its lines;
the head of the weeks."""
TEXT_LETTERS, TEXT_MM = 82, 1.5
APPETITE_MM = 14.0
MOST_LINES = 24
"""Lines to write on; those that the sheet has no room for are cut off with it."""


@dataclass(frozen=True)
class Column:
    """Batches that are given the same on every day of a sheet."""

    batches: tuple[str, ...]
    cells: tuple[str, ...]


def sheets(plan: Plan) -> Html:
    """The sheets of the season's months."""
    run = plan.season
    if run is None:
        return Html("")
    return join(*(_sheet(plan, run, first, last) for first, last in spans(plan, run)))


def spans(plan: Plan, run: SeasonRun) -> tuple[Span, ...]:
    """First and last day of each sheet: a month, or months without feed that follow each other and have
    room."""
    found: list[Span] = []
    for fed, group in groupby(days.months(run), key=lambda month: _fed(plan, *month)):
        for first, last in group:
            if found and not fed and found[-1][1] < first and not _fed(plan, *found[-1]):
                whole = (found[-1][0], last)
                lines = sum(LINE_MM * week.lines(JOB_LETTERS[0]) + ROW_MM for week in _weeks(plan, *whole))
                if lines + _height_mm(_told(plan, run, *whole)) <= SHEET_MM - HEAD_MM:
                    found[-1] = whole
                    continue
            found.append((first, last))
    return tuple(found)


def _fed(plan: Plan, first: date, last: date) -> bool:
    return plan.agenda is not None and any(
        (one.grams > 0.0 or one.start_up) and one.touches(first, last) for one in plan.agenda.rations
    )


def _sheet(plan: Plan, run: SeasonRun, first: date, last: date) -> Html:
    found = _weeks(plan, first, last)
    columns = _columns(plan, found)
    told, tables_ = _told(plan, run, first, last), _appetite(plan, first, last)
    below = _height_mm(told) + (APPETITE_MM + LINE_MM * tables_.count("<tr>")) * bool(tables_)
    return sheet(
        plan,
        _title(plan, first, last),
        _table(plan, found, columns, SHEET_MM - HEAD_MM - below),
        tables_,
        *map(paragraph, told),
        element("h2", plan.say("month-did")),
        *(element("div", "", class_="rule") for _ in range(MOST_LINES)),
        class_="month",
    )


def _told(plan: Plan, run: SeasonRun, first: date, last: date) -> list[str]:
    """What stands under the tables: absences, rules of feeding, beds that fall empty."""
    return [
        *_away(plan, first, last),
        *_rules(plan, first, last),
        *_stops(plan, run, first, last),
        *_empty(plan, first, last),
    ]


def _height_mm(told: Sequence[str]) -> float:
    return sum(LINE_MM * -(-len(text) // TEXT_LETTERS) + TEXT_MM for text in told)


def _title(plan: Plan, first: date, last: date) -> str:
    """The month and what its days ask for: from the leanest to the richest day, of all fish."""
    names = [
        plan.say("month-name", month=words.month(day.month, plan.reader), year=str(day.year))
        for day in (first, last)
    ]
    month = {"month": names[0]}
    if names[0] != names[1]:
        month = {"month": plan.say("range", low=names[0], high=names[1])}
    grams = () if plan.agenda is None else plan.agenda.fed_g_day(first, last)
    if not any(grams):
        return plan.say("month-title-start-up" if _fed(plan, first, last) else "month-title-none", **month)
    fed = words.span(min(one for one in grams if one > 0.0), max(grams), "feed", plan.reader)
    return plan.say("month-title", feed=fed, **month)


def _away(plan: Plan, first: date, last: date) -> Iterator[str]:
    """Absences of the month, which the feed already knows."""
    for one in plan.garden.away:
        if one.start <= last and one.end >= first:
            yield plan.say("month-away", days=days.span(one.start, one.end, plan.reader))


# --- weeks -----------------------------------------------------------------------------------------------


def _weeks(plan: Plan, first: date, last: date) -> list[Week]:
    """The weeks of a sheet with what is done in them; without feed calm weeks are one."""
    found = () if plan.agenda is None else plan.agenda.rations
    if _fed(plan, first, last):
        return list(weeks.weeks(plan, weeks.split(plan, first, last, ration.boundaries(found, first, last))))
    return list(weeks.weeks(plan, weeks.calm(plan, weeks.split(plan, first, last, ()))))


def _columns(plan: Plan, found: Sequence[Week]) -> tuple[Column, ...]:
    """What the batches are given in each week, those that get the same together; none without feed."""
    if not found or not _fed(plan, found[0].first, found[-1].last):
        return ()
    groups: dict[tuple[str, ...], list[str]] = {}
    for batch in plan.garden.fish:
        given = [_ration(plan, batch.name, week.first) for week in found]
        if any(given):
            groups.setdefault(tuple(_amount(plan, one) for one in given), []).append(batch.name)
    return tuple(Column(tuple(names), cells) for cells, names in groups.items())


def _ration(plan: Plan, batch: str, day: date) -> Ration | None:
    found = () if plan.agenda is None else plan.agenda.on(day)
    return next((one for one in found if one.batch == batch), None)


def _amount(plan: Plan, found: Ration | None) -> str:
    """The ration of a day, as a bag while somebody else is there."""
    if found is None:
        return plan.say("year-no-figure")
    if found.away == "":
        return plan.say("month-nobody")
    told = rations.amount(found, plan.reader)
    return told if found.away is None or not found.grams > 0.0 else plan.say("month-bag", amount=told)


def _names(plan: Plan, batches: Sequence[str]) -> str:
    """Whose column or table it is; empty for the garden's only batch."""
    if len(plan.garden.fish) == 1:
        return ""
    names = ", ".join(shortened(one, NAME_LETTERS) for one in batches)
    return plan.say("month-each", names=names) if len(batches) > 1 else names


def _table(plan: Plan, found: Sequence[Week], columns: Sequence[Column], room_mm: float) -> Html:
    """Days, feed, jobs, and room for what was done: a row a week."""
    letters = JOB_LETTERS[min(len(columns), MOST_COLUMNS)] if len(columns) <= MOST_COLUMNS else JOB_LETTERS[1]
    beside = [_beside(columns, place) for place in range(len(found))]
    lines = int((room_mm - ROW_MM * len(found)) // LINE_MM)
    fitting = weeks.fitted(found, lines, letters, beside)
    many = len(columns) > MOST_COLUMNS
    heads = [plan.say("month-day")] if many else [_head(plan, one, len(columns)) for one in columns]
    rows = [
        (
            days.span(week.first, week.last, plan.reader),
            *_cells(plan, columns, place, many),
            _jobs(plan, week),
            "",
        )
        for place, week in enumerate(fitting)
    ]
    head = [plan.say("month-week"), *heads, plan.say("month-jobs"), plan.say("month-fed")]
    return table(head, rows, f"write weeks {'fed' if columns else ''}".strip())


def _head(plan: Plan, column: Column, count: int) -> Html:
    if count == 1 and len(column.batches) > 1:
        return join(plan.say("month-day-each"))
    names = _names(plan, column.batches)
    return join(*([names, LINE_BREAK] if names else []), plan.say("month-day"))


def _cells(plan: Plan, columns: Sequence[Column], place: int, many: bool) -> list[str]:
    if not many:
        return [one.cells[place] for one in columns]
    lines = [f"{_names(plan, one.batches)}: {one.cells[place]}" for one in columns]
    return [join(*(part for line in lines for part in (line, LINE_BREAK)))]


def _beside(columns: Sequence[Column], place: int) -> int:
    """Lines of the feed beside a week's jobs."""
    lines = [-(-len(one.cells[place]) // FEED_LETTERS) for one in columns]
    if len(columns) > MOST_COLUMNS:
        return sum(lines)
    return max(lines, default=1)


def _jobs(plan: Plan, week: Week) -> Html:
    lines = [kind.html for kind in week.kinds]
    if week.more:
        lines.append(join(plan.say("month-more-jobs", count=week.more)))
    if not lines:
        return Html("")
    return join(lines[0], *(part for line in lines[1:] for part in (LINE_BREAK, line)))


# --- what they eat, and when there is more and less --------------------------------------------------------


def _appetite(plan: Plan, first: date, last: date) -> Html:
    """A day's feed by weight of a fish and temperature of the water; of many batches the planned weight."""
    given = () if plan.agenda is None else plan.agenda.appetites.get(first, ())
    groups = appetite.alike(given)
    if not groups:
        return Html("")
    head = [
        plan.say("month-eats-fish"),
        *(plan.quantity(one, "temperature") for one in groups[0][1].water_c),
    ]
    rows = [row for names, one in groups for row in _eats(plan, names, one, len(groups) > MOST_COLUMNS)]
    return join(element("h2", plan.say("month-eats")), table(head, rows, "write eats"))


def _eats(plan: Plan, names: Sequence[str], one: Appetite, many: bool) -> Iterator[list[str]]:
    own = _names(plan, names)
    there = list(zip(one.weights_g, one.grams, strict=True))
    for weight_g, grams in [there[len(there) // 2]] if many else there:
        told = plan.say(
            "month-eats-row", count=str(one.count), weight=plan.quantity(weight_g, "fish_weight"), name=own
        )
        yield [
            told.strip(),
            *(plan.quantity(gram, "dose") if gram > 0.0 else plan.say("month-eats-none") for gram in grams),
        ]


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
