"""What is sown, planted and picked, and when: as tables, calendar, sheets and panels print it.

What is told of one job has its key from the plan; its day and its count are read from each sheet, days as
this reader sees them.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

import icalendar
from printed import Amounts, Rows, decided, table_rows

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.pages import jobs, sheets
from aquacalc.pages.plan import Plan
from aquacalc.panels.harvest import season_answers
from aquacalc.report.days import plain
from aquacalc.sentences import days

KINDS = {"sow": "sow", "plant": "plant", "pick": "pick", "pick_once": "pick"}
BEGINNINGS = {"Sow ": "sow", "Set ": "plant", "Expect ": "pick"}
"""How a sentence begins that tells of a job in a bed."""
LEADS = {"sow": "Sow", "plant": "Plant", "pick": "(?:Pick|First picks)"}
"""How a line of a month sheet begins."""
WEEK = timedelta(days=6)


def beds(plan: Plan, rows: Rows, events: Iterable[icalendar.Event], found: Amounts) -> None:
    """All of it."""
    by_place: dict[tuple[str, str, str], list[Entry]] = defaultdict(list)
    for one in jobs.entries(plan):
        if one.key in KINDS:
            crop = plain(words.name("crop", one.subject))
            by_place[KINDS[one.key], crop, plain(one.place)].append(one)
    _tables("season-tasks.csv", by_place, _of_rows(rows), plan, found)
    _tables("calendar", by_place, _of_events(plan, events), plan, found)
    _panel(plan, found)
    _page(plan, found)
    _months(plan, found)
    _answers(plan, found)
    _glance(plan, rows, found)


def _key(one: Entry) -> str:
    return f"{KINDS[one.key]} {one.subject} in {one.place}, {one.mark}"


def _day(day: date, plan: Plan) -> str:
    return plain(days.span(day, day, plan.reader))


Told = tuple[tuple[str, str, str], date, date, str]
"""Kind, crop and bed; first and last day; a count, empty where none is told."""


def _of_rows(rows: Rows) -> Iterator[Told]:
    for row in rows:
        kind = next((kind for begin, kind in BEGINNINGS.items() if row["what"].startswith(begin)), "")
        span = (date.fromisoformat(row[name]) for name in ("date", "last"))
        yield (kind, row["subject"], row["place"]), next(span), next(span), row["count"]


def _of_events(plan: Plan, events: Iterable[icalendar.Event]) -> Iterator[Told]:
    named = {plain(words.name("crop", one.crop)) for one in plan.garden.crops}
    for event in events:
        said = re.match(
            r"(Sow |Set |Expect )(?:([0-9 ]+) (?:seeds|plants) of |the first |to cut )(.*)",
            str(event["summary"]),
        )
        if said is None:
            continue
        crops = [crop for crop in named if re.match(rf"{re.escape(crop)} (for|into|in) ", said[3])]
        if crops:
            place = (BEGINNINGS[said[1]], max(crops, key=len), str(event.get("location", "")))
            last = event["dtend"].dt - timedelta(days=1)
            yield place, event["dtstart"].dt, last, re.sub(r"\D", "", said[2] or "")


def _tables(
    sheet: str,
    by_place: dict[tuple[str, str, str], list[Entry]],
    told: Iterable[Told],
    plan: Plan,
    found: Amounts,
) -> None:
    """Days and counts of jobs that are told one by one."""
    own = defaultdict(list)
    for place, first, last, count in told:
        if place in by_place:
            own[place].append((first, last, count))
    for place, entries in by_place.items():
        for one, (first, last, count) in zip(entries, own[place], strict=True):
            found[f"days to {_key(one)}"][sheet] = plain(days.span(first, last, plan.reader))
            found[f"last day to {_key(one)}"][sheet] = _day(last, plan)
            if count:
                found[f"how many to {_key(one)}"][sheet] = count


def _panel(plan: Plan, found: Amounts) -> None:
    """The sowing list of the panels, in the order of the days."""
    entries = [one for one in jobs.entries(plan) if one.key in ("sow", "plant")]
    table = season_answers.sowing_table(decided(plan))
    for one, (_, what, count, _) in zip(entries, table_rows(table) if entries else [], strict=True):
        found[f"days to {_key(one)}"]["sowing panel"] = what.rpartition(", ")[2]
        found[f"how many to {_key(one)}"]["sowing panel"] = re.sub(r"\D", "", count)


def _marked(plan: Plan) -> dict[str, Entry]:
    return {_key(one): one for one in jobs.entries(plan) if one.key in KINDS}


def _page(plan: Plan, found: Amounts) -> None:
    """The table of the sowing page, where a row is one batch."""
    assert plan.agenda is not None
    if not plan.agenda.beds:
        return
    marked = _marked(plan)
    for lot, row in zip(plan.agenda.lots, table_rows(sheets.folder(plan, "sowing")), strict=True):
        batch = lot.one.batch
        if len(lot.batches) > 1:
            continue
        for kind, day, cell in (("sow", batch.sow, row[1]), ("plant", batch.plant, row[2])):
            key = "" if day is None else f"{kind} {batch.crop} in {batch.bed}, {day.isoformat()}"
            if key in marked:
                when, _, count = cell.rpartition(": ")
                found[f"days to {key}"]["sowing page"] = when
                found[f"how many to {key}"]["sowing page"] = re.sub(r"\D", "", count)
        if lot.first is not None:
            found[f"days to pick {batch.crop} in {batch.bed}, {lot.one.key}"]["sowing page"] = row[3]


def _months(plan: Plan, found: Amounts) -> None:
    """The month sheets: how many in which week, and by when picking has begun; a week with too much to print
    counts what it leaves out."""
    weeks: dict[str, str] = defaultdict(str)
    for sheet in sheets.wall(plan, "months").split("<h1")[1:]:
        for week, *_, what, _ in table_rows(sheet):
            weeks[week] += f" {what}"
    for one in jobs.entries(plan):
        if one.key not in KINDS:
            continue
        crop = shortened_crop(one, plan)
        told = weeks[_week(one.day, weeks, plan)]
        if " more: " in told:
            continue
        lead = LEADS[KINDS[one.key]]
        lines = " ".join(
            re.findall(rf"{lead} (?:(?!Sow |Plant |Pick |First |Last |and [0-9]+ more).)*", told)
        )
        said = re.findall(rf"{re.escape(crop)}( \(by [^)]*\)| [0-9 ]+)", lines)
        if one.key in ("sow", "plant"):
            counts = [re.sub(r"\D", "", text) for text in said]
            own = f"{one.count:.0f}"
            found[f"how many to {_key(one)}"]["month sheet"] = own if own in counts else " or ".join(counts)
        elif one.day < one.last:
            ends = [text.partition("(by ")[2].rstrip(")") for text in said]
            own = _day(one.last, plan)
            found[f"last day to {_key(one)}"]["month sheet"] = own if own in ends else " or ".join(ends)


def shortened_crop(one: Entry, plan: Plan) -> str:
    """A crop as sheets name it, with its bed where there are several."""
    return plain(words.name("crop", one.subject) + jobs.in_bed(one.subject, one.place, plan.garden))


def _week(day: date, weeks: Iterable[str], plan: Plan) -> str:
    """The week of a month sheet in which a day lies."""
    for before in range(31):
        for length in range(before, 31):
            first = day - timedelta(days=before)
            text = plain(days.span(first, first + timedelta(days=length), plan.reader))
            if text in weeks:
                return text
    return ""


def _answers(plan: Plan, found: Amounts) -> None:
    """What the panels say of a crop: days on which its first batches are sown and planted."""
    assert plan.agenda is not None
    marked = _marked(plan)
    for place, crop in enumerate(plan.garden.crops):
        said = plain(season_answers.of_crop(decided(plan), place))
        own = [one.batch for one in plan.agenda.beds if one.batch.plan == place and one.batch.in_bed]
        parts = said.removeprefix(f"{plain(words.name('crop', crop.crop))}, {plain(crop.bed)}: ").split("; ")
        for batch, part in zip(own[: season_answers.MOST_BATCHES], parts, strict=False):
            for kind, day in (("sow", batch.sow), ("plant", batch.plant)):
                key = "" if day is None else f"{kind} {crop.crop} in {crop.bed}, {day.isoformat()}"
                if key in marked:
                    told = re.search(rf"\b{kind} ([^,.;]+)", part)
                    found[f"days to {key}"]["panel"] = told[1] if told else "none"


def _glance(plan: Plan, rows: Rows, found: Amounts) -> None:
    """Month by month: how often a crop is sown, how many fish come and go."""
    months = days.months(decided(plan).run)
    crops = {plain(words.name("crop", one.crop)) for one in plan.garden.crops}
    for (first, last), row in zip(months, table_rows(sheets.folder(plan, "glance")), strict=True):
        within = [one for one in rows if first.isoformat() <= one["date"] <= last.isoformat()]
        for crop, times in Counter(
            one["subject"] for one in within if one["what"].startswith("Sow ")
        ).items():
            longer = [other for other in crops if other != crop and crop in other]
            assert not longer
            said = re.search(rf"{re.escape(crop)}(?! \(young)(?: ×([0-9]+))?", row[4])
            key = f"sowings of {crop} in {first:%Y-%m}"
            found[key] = {"season-tasks.csv": str(times), "glance": (said[1] or "1") if said else "none"}
        fish: Counter[tuple[str, str]] = Counter()
        for one in within:
            for begin, kind in (("Put ", "in"), ("Two good tests", "in"), ("Take ", "out")):
                if one["what"].startswith(begin):
                    fish[kind, one["date"]] += int(one["count"])
        for (kind, day), count in fish.items():
            when = _day(date.fromisoformat(day), plan)
            said = re.search(rf"([0-9 ]+) {kind},?[^0-9]* {re.escape(when)}", f" {row[3]}")
            told = said[1].replace(" ", "") if said else "none"
            found[f"fish {kind} on {day}"] = {"season-tasks.csv": str(count), "glance": told}
