"""Every amount of the plan's sheets by its key, as it was printed: read back from the pages, tables and
calendar themselves, never from what they were made of."""

import csv
import html
import io
import re
from collections import defaultdict
from datetime import date, timedelta
from itertools import zip_longest
from pathlib import Path

from aquacalc import words
from aquacalc.agenda import ration
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan
from aquacalc.report import days as csv_files
from aquacalc.sentences import days

Amounts = dict[str, dict[str, str]]
"""By key, what each sheet prints for it."""


def number(text: str) -> str:
    """The first number of a text; 0 where it tells that there is none."""
    found = re.search(r"[0-9]+(?:\u00a0[0-9]{3})*(?:\.[0-9]+)?", text)
    return found[0] if found else "0"


def read(page: str) -> str:
    """The words of a page, those of its pictures left out."""
    without = re.sub(r"<svg.*?</svg>|<[^>]+>", " ", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(without).replace(words.NO_BREAK_SPACE, " "))


def table_rows(page: str) -> list[list[str]]:
    """The cells of a page's first table, row by row, without its head."""
    body = re.findall(r"<tbody>(.*?)</tbody>", page, flags=re.DOTALL)[0]
    return [
        [read(cell).strip() for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, flags=re.DOTALL)]
        for row in re.findall(r"<tr>(.*?)</tr>", body, flags=re.DOTALL)
    ]


def amounts(plan: Plan, folder: Path) -> Amounts:
    """All of them. folder: where the tables are written."""
    found: Amounts = defaultdict(dict)
    if plan.agenda is None:
        return found
    _feed_of_months(plan, found)
    _feed_of_tables(plan, folder, found)
    _bags(plan, found)
    _fish(plan, folder, found)
    _supplies(plan, found)
    _outage(plan, found)
    return found


def _sections(page: str) -> list[str]:
    return re.findall(r'<section class="sheet[^>]*>.*?</section>', page, flags=re.DOTALL)


def _feed_of_months(plan: Plan, found: Amounts) -> None:
    """Day by day from the tables of the month sheets."""
    assert plan.agenda is not None
    assert plan.season is not None
    months = days.months(plan.season)
    for (first, last), sheet in zip(months, _sections(sheets.wall(plan, "months")), strict=True):
        spans = ration.boundaries(plan.agenda.rations, first, last)
        if not spans:
            continue
        rows = table_rows(sheet)
        there = [
            b.name
            for b in plan.garden.fish
            if any(r.batch == b.name and r.touches(first, last) for r in plan.agenda.rations)
        ]
        by_span = len(there) <= 2
        for at, (begin, end) in enumerate(spans):
            for place, batch in enumerate(there):
                cell = rows[at][1 + place] if by_span else rows[place][1 + at]
                for day in range((end - begin).days + 1):
                    when = begin + timedelta(days=day)
                    if cell not in (plan.say("year-no-figure"), plan.say("ration-start-up")):
                        found[f"feed {batch} {when.isoformat()}"]["month sheet"] = number(cell)


def _feed_of_tables(plan: Plan, folder: Path, found: Amounts) -> None:
    """From `season-tasks.csv`: an amount holds until the next one of its batch."""
    rows = _tasks(plan, folder)
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


def _tasks(plan: Plan, folder: Path) -> list[dict[str, str]]:
    path = folder / "tasks.csv"
    csv_files.write_tasks(jobs.entries(plan), plan.garden, plan.reader, path)
    return list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))


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


def _fish(plan: Plan, folder: Path, found: Amounts) -> None:
    """How many come and go: month sheets, tables, the fish page."""
    months = read(sheets.wall(plan, "months"))
    page = read(sheets.folder(plan, "fish"))
    assert plan.agenda is not None
    for row in _tasks(plan, folder):
        for verb, kind in (("Take ", "take"), ("Put ", "stock"), ("Two good tests", "stock")):
            if row["what"].startswith(verb):
                found[f"{kind} {row['subject']}"]["season-tasks.csv"] = row["count"]
    for one in plan.agenda.stockings:
        said = re.findall(rf"([0-9]+) {re.escape(one.batch)}(?: come)? into", months)
        found[f"stock {one.batch}"]["month sheet"] = said[0] if said else "none"
    for leaving in plan.agenda.leavings:
        said = re.findall(rf"take {re.escape(leaving.batch)} out of [^,]*, about ([0-9]+)", months)
        if said:
            found[f"take {leaving.batch}"]["month sheet"] = said[0]
    told = re.findall(r"are taken out[^:]*: about ([0-9]+)", page)
    leaves = {one.batch for one in plan.agenda.leavings}
    leaving = (batch.name for batch in plan.garden.fish if batch.name in leaves)
    for batch, count in zip(leaving, told, strict=True):
        found[f"take {batch}"]["fish page"] = count


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
