"""The sowing strip for the wall: week by week what to sow, plant and pick, with room to write."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.harvest import spans
from aquacalc.pages import jobs
from aquacalc.pages.html import LINE_BREAK, Html, element, join, paragraph, table
from aquacalc.pages.plan import Plan, sheet
from aquacalc.schedule import absences
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days

KINDS = {
    "sow": "sow",
    "plant": "plant",
    "pick": "pick",
    "pick_once": "once",
    "clear": "last",
    "pick_to": "last",
}
"""Keys of entries, and the word that leads them, in their order."""
ROOM_MM, LINE_MM, ROW_MM = 192.0, 6.2, 1.3
"""Height of a sheet under its head, on the shorter of the two papers; of a line of large type; and what a row
takes beside its lines."""
LETTERS = 36
"""Letters of a line in the column of what is to be done."""


@dataclass(frozen=True)
class Row:
    """One week with work, or several without: their days and what is to be done, one text a kind."""

    first: date
    last: date
    texts: tuple[Html, ...]
    lines: int

    @property
    def height_mm(self) -> float:
        """What it takes up on the sheet."""
        return self.lines * LINE_MM + ROW_MM


def sheets(plan: Plan) -> Html:
    """As many sheets as the weeks need."""
    run = plan.season
    if run is None:
        return Html("")
    pages = paged(list(rows(plan, run)))
    return join(*(_sheet(plan, page, number, len(pages)) for number, page in enumerate(pages, 1)))


def rows(plan: Plan, run: SeasonRun) -> Iterator[Row]:
    """The weeks of the season; weeks without work that follow each other are one row."""
    idle: tuple[date, date] | None = None
    entries = jobs.entries(plan)
    for first, last in _weeks(plan, run):
        texts = _texts(plan, [one for one in entries if first <= one.day <= last])
        if not texts:
            idle = (first if idle is None else idle[0], last)
            continue
        if idle:
            yield _idle(plan, *idle)
            idle = None
        yield Row(first, last, tuple(texts), sum(_lines(text) for text in texts))
    if idle:
        yield _idle(plan, *idle)


def paged(found: Sequence[Row]) -> list[list[Row]]:
    """Rows on sheets, each with no more than it holds."""
    pages: list[list[Row]] = [[]]
    for row in found:
        if pages[-1] and sum(one.height_mm for one in pages[-1]) + row.height_mm > ROOM_MM:
            pages.append([])
        pages[-1].append(row)
    return pages


def _weeks(plan: Plan, run: SeasonRun) -> Iterator[tuple[date, date]]:
    for _, of in spans.weeks(run, absences.garden_day(plan.garden)):
        yield run.date(of.start), run.date(of.stop - 1)


def _idle(plan: Plan, first: date, last: date) -> Row:
    return Row(first, last, (join(plan.say("sow-sheet-nothing")),), 1)


def _texts(plan: Plan, entries: Sequence[Entry]) -> list[Html]:
    texts = []
    for kind in dict.fromkeys(KINDS.values()):
        named = dict.fromkeys(_named(plan, one) for one in entries if KINDS.get(one.key) == kind)
        if named:
            texts.append(join(element("b", plan.say(f"sow-sheet-{kind}")), " ", ", ".join(named)))
    return texts


def _named(plan: Plan, one: Entry) -> str:
    name = words.name("crop", one.subject) + jobs.in_bed(one.subject, one.place, plan.garden)
    if one.key in ("sow", "plant"):
        return plan.say("sow-sheet-count", name=name, count=words.number(one.count, digits=9))
    if one.day < one.last:
        return plan.say("sow-sheet-until", name=name, day=words.day(one.last, plan.reader))
    return name


def _lines(text: Html) -> int:
    letters = len(text) - len("<b></b>")
    return -(-letters // LETTERS)


def _sheet(plan: Plan, page: Sequence[Row], number: int, count: int) -> Html:
    title = (
        plan.say("sow-sheet-title")
        if count == 1
        else plan.say("sow-sheet-title-part", part=str(number), parts=str(count))
    )
    head = [plan.say("sow-sheet-week"), plan.say("sow-sheet-what"), plan.say("sow-sheet-did")]
    body = [(days.span(row.first, row.last, plan.reader), join(*_parted(row.texts)), "") for row in page]
    return sheet(plan, title, paragraph(plan.say("sow-sheet-how")), table(head, body, "write strip"))


def _parted(texts: Sequence[Html]) -> Iterator[Html]:
    for number, text in enumerate(texts):
        if number:
            yield LINE_BREAK
        yield text
