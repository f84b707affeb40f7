"""Every amount of the plan's sheets by its key, as it was printed: read back from the pages, tables and
calendar themselves, never from what they were made of."""

import csv
import io
import re
from collections import defaultdict
from datetime import date, timedelta
from itertools import zip_longest
from pathlib import Path

import icalendar
from printed import Amounts, Events, Rows, decided, number, read, table_rows
from printed_beds import beds

from aquacalc import words
from aquacalc.agenda import ration
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import this_month
from aquacalc.panels.harvest import season_answers
from aquacalc.report import calendar as ics
from aquacalc.report import days as csv_files
from aquacalc.report.days import plain
from aquacalc.sentences import days


def amounts(plan: Plan, folder: Path) -> Amounts:
    """All of them. folder: where the tables are written."""
    found: Amounts = defaultdict(dict)
    if plan.agenda is None:
        return found
    rows, events = tasks(plan, folder), calendar(plan, folder)
    _feed_of_months(plan, found)
    _feed_of_tables(plan, rows, found)
    _feed_of_calendar(plan, events, found)
    _bags(plan, found)
    _fish(plan, rows, events, found)
    _weights(plan, found)
    _supplies(plan, found)
    _outage(plan, found)
    beds(plan, rows, events, found)
    return found


def _sections(page: str) -> list[str]:
    return re.findall(r'<section class="sheet[^>]*>.*?</section>', page, flags=re.DOTALL)


def _feed_of_months(plan: Plan, found: Amounts) -> None:
    """Day by day from the tables of the month sheets, where a column names its batches."""
    assert plan.agenda is not None
    assert plan.season is not None
    spans_ = this_month.spans(plan, plan.season)
    for (first, last), sheet in zip(spans_, _sections(sheets.wall(plan, "months")), strict=True):
        heads = [read(cell) for cell in re.findall(r"<th scope=\"col\">(.*?)</th>", sheet)]
        fed = heads[1 : heads.index(plan.say("month-jobs"))]
        spans = ration.boundaries(plan.agenda.rations, first, last)
        if not fed or not spans:
            continue
        rows = {row[0]: row for row in table_rows(sheet)}
        for begin, end in spans:
            row = rows[plain(days.span(begin, end, plan.reader))]
            for batch in plan.garden.fish:
                named = [n for n, head in enumerate(fed) if batch.name in head]
                cell = row[1 + (named[0] if named else 0)]
                if not named and batch.name in cell:
                    # One column for all: each amount stands behind the names of its batches.
                    cell = cell.partition(batch.name)[2].partition(": ")[2]
                there = [one for one in plan.agenda.on(begin) if one.batch == batch.name]
                for day in range((end - begin).days + 1) if there else ():
                    when = begin + timedelta(days=day)
                    if cell != plan.say("ration-start-up"):
                        found[f"feed {batch.name} {when.isoformat()}"]["month sheet"] = number(cell)


def _feed_of_tables(plan: Plan, rows: Rows, found: Amounts) -> None:
    """From `season-tasks.csv`: an amount holds until the next one of its batch."""
    assert plan.season is not None
    for batch in plan.garden.fish:
        own = [
            row
            for row in rows
            if row["subject"] == batch.name and row["what"].startswith(("Feed ", "Have bags"))
        ]
        for row, after in zip_longest(own, own[1:]):
            begin = date.fromisoformat(row["date"])
            key = f"feed {batch.name} {begin.isoformat()}"
            found[key]["season-tasks.csv"] = number(words.quantity(float(row["grams"]), "dose", plan.reader))
            assert after is None or begin < date.fromisoformat(after["date"])


def _feed_of_calendar(plan: Plan, events: Events, found: Amounts) -> None:
    for batch in plan.garden.fish:
        named = f"{re.escape(plain(batch.name))} in {re.escape(plain(batch.tank))}"
        for event in events:
            said = re.match(
                rf"(?:Feed {named}|Have bags ready for {named}:) ([0-9. ]+) ", str(event["summary"])
            )
            if said:
                found[f"feed {batch.name} {event['dtstart'].dt.isoformat()}"]["calendar"] = said[1]


def tasks(plan: Plan, folder: Path) -> Rows:
    """The rows of `season-tasks.csv`."""
    path = folder / "tasks.csv"
    csv_files.write_tasks(jobs.entries(plan), plan.garden, plan.reader, path)
    return list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))


def calendar(plan: Plan, folder: Path) -> Events:
    """The entries of the calendar file, by day."""
    path = folder / "tasks.ics"
    ics.write(jobs.entries(plan), plan.garden, plan.reader, plan.made, path)
    events = icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    return sorted(events, key=lambda event: (event["dtstart"].dt, event["dtend"].dt))


def _bags(plan: Plan, found: Amounts) -> None:
    """From the sitter's card: days and grams of each bag."""
    text, several = read(sheets.wall(plan, "holiday")), len(plan.garden.fish) > 1
    assert plan.agenda is not None
    for visit in plan.agenda.visits:
        for one in visit.lines:
            first, last = one.first, one.last
            span = days.span(first, last, plan.reader).replace(words.NO_BREAK_SPACE, " ")
            bag = " in each bag" if one.grams > 0.0 else " and no bag" if several else ", no bag"
            own = f"{bag} for {one.batch}," if several else bag
            said = re.search(rf"{re.escape(span)}: ([^:]*?){re.escape(own)}", text)
            assert said, f"no bag for {span}"
            for day in range((last - first).days + 1):
                key = f"feed {one.batch} {(first + timedelta(days=day)).isoformat()}"
                found[key]["sitter's card"] = number(said[1])


def _fish(plan: Plan, rows: Rows, events: Events, found: Amounts) -> None:
    """How many come and go: month sheets, tables, calendar, the fish page, what the panels say."""
    months = read(sheets.wall(plan, "months"))
    page = read(sheets.folder(plan, "fish"))
    assert plan.agenda is not None
    for row in rows:
        for verb, kind in (("Take ", "take"), ("Put ", "stock"), ("Two good tests", "stock")):
            if row["what"].startswith(verb):
                found[f"{kind} {row['subject']}"]["season-tasks.csv"] = row["count"]
    for one in plan.agenda.stockings:
        said = re.findall(rf"([0-9]+) {re.escape(one.batch)}(?: come)? into", months)
        found[f"stock {one.batch}"]["month sheet"] = said[0] if said else "none"
        for event in events:
            comes = re.search(
                rf"([0-9]+) {re.escape(plain(one.batch))} (?:may come )?into", str(event["summary"])
            )
            if comes:
                found[f"stock {one.batch}"]["calendar"] = comes[1]
    for place, batch in enumerate(plan.garden.fish):
        said = re.search(
            r"([0-9]+) are there|there are ([0-9]+)", season_answers.of_fish(decided(plan), place)
        )
        gone = any(one.batch == batch.name for one in plan.agenda.leavings)
        if said:
            found[f"{'take' if gone else 'stay'} {batch.name}"]["panel"] = said[1] or said[2]
    left = re.findall(r"Left on the last evening: about ([0-9]+)", page)
    there = [one for batch in plan.garden.fish for one in plan.agenda.staying if one.batch == batch.name]
    for one, count in zip((one for one in there if one.count), left, strict=True):
        found[f"stay {one.batch}"]["fish page"] = count
    for leaving in plan.agenda.leavings:
        said = re.findall(rf"take {re.escape(leaving.batch)} out of [^,]*, about ([0-9]+)", months)
        if said:
            found[f"take {leaving.batch}"]["month sheet"] = said[0]
    told = re.findall(r"are taken out[^:]*: about ([0-9]+)", page)
    leaves = {one.batch for one in plan.agenda.leavings}
    leaving = (batch.name for batch in plan.garden.fish if batch.name in leaves)
    for batch, count in zip(leaving, told, strict=True):
        found[f"take {batch}"]["fish page"] = count


def _weights(plan: Plan, found: Amounts) -> None:
    """What the year brings of one batch alone, and its feed month by month: the first page and its own."""
    if len(plan.garden.fish) != 1:
        return
    page, glance = sheets.folder(plan, "fish"), sheets.folder(plan, "glance")
    brought = re.search(r"The year brings (.*?) of fish", read(glance))
    own = re.search(r"Taken for the kitchen in all: [^,]*? fish, ([^,]*?) alive", read(page))
    if brought and own:
        found["fish taken"] = {"glance": brought[1], "fish page": own[1]}
    for at, (one, other) in enumerate(zip(table_rows(glance), table_rows(page), strict=True)):
        found[f"mean feed of month {at}"] = {"glance": one[2], "fish page": other[3]}


def _supplies(plan: Plan, found: Amounts) -> None:
    """What is given to the water: shopping against costs, the dose sheet against the water page."""
    costs = {row[0]: row[1] for row in table_rows(sheets.folder(plan, "costs"))}
    shopping, doses = read(sheets.folder(plan, "shopping")), read(sheets.wall(plan, "doses"))
    water = read(sheets.folder(plan, "water"))
    feed = re.search(r"Feed for the year: ([^.]*(?:\.[0-9][^.]*)*)\. Buy", shopping)
    if feed:
        found["feed of the season"] = {"shopping": feed[1], "costs": costs["Feed"]}
    assert plan.agenda is not None
    for one in plan.agenda.supplies:
        name = one.product.name if len(one.product.name) <= 40 else one.product.name[:39]
        said = re.search(
            rf"{re.escape(name)}[^:]*: ((?:up to )?[0-9][^,]*?)(?: for the season|, about|, after)", shopping
        )
        assert said, one
        row = next(cell for title, cell in costs.items() if title.startswith(name))
        found[f"supply {one.kind} {one.product.chemical}"] = {"shopping": said[1], "costs": row}
        if one.kind == "base":
            weekly = {
                sheet: re.search(rf"{re.escape(name)} ((?:up to )?[0-9.]+(?: to [0-9.]+)? [a-z]+)", text)
                for sheet, text in (("doses", doses.split("average week")[-1]), ("water", water))
            }
            for sheet, match in weekly.items():
                if match:
                    found[f"base a week {one.product.chemical}"][sheet] = match[1]


def _outage(plan: Plan, found: Amounts) -> None:
    """The time to act in a power cut: card and first page."""
    if plan.balance.outage is None:
        return
    card = re.search(r'<div class="figure">([^<]*)</div>', sheets.wall(plan, "emergency"))
    answer = re.search(r"act within ([0-9.]+ [a-z]+)", read(sheets.folder(plan, "answer")))
    assert card
    found["power cut"]["emergency card"] = card[1].replace(words.NO_BREAK_SPACE, " ")
    if answer:
        found["power cut"]["first page"] = answer[1]
