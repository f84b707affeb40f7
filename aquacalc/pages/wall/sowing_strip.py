"""The sowing strip for the wall: week by week what to sow, plant and pick, with room to write."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
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
TALL_MM, LEAST_MM = ROOM_MM / 2.0, 5.0 * LINE_MM
"""A week taller than this is parted where its sheet ends, if there is still so much room."""
LETTERS = 36
"""Letters of a line in the column of what is to be done."""


@dataclass(frozen=True)
class Kind:
    """What is sown, planted or picked in a week: the word that leads it, and each thing by its name."""

    lead: str
    names: tuple[str, ...]

    @property
    def html(self) -> Html:
        """The word, and the names behind it."""
        return join(element("b", self.lead), " ", ", ".join(self.names)) if self.lead else join(*self.names)

    @property
    def lines(self) -> int:
        """Lines that it takes up."""
        return -(-len(" ".join([self.lead, ", ".join(self.names)])) // LETTERS)


@dataclass(frozen=True)
class Row:
    """One week with work, or several without: their days and what is to be done."""

    first: date
    last: date
    kinds: tuple[Kind, ...]

    @property
    def height_mm(self) -> float:
        """What it takes up on the sheet."""
        return sum(kind.lines for kind in self.kinds) * LINE_MM + ROW_MM

    def parted(self, room_mm: float) -> tuple["Row", "Row"]:
        """As much of it as has room, name by name, and the rest."""
        names = [(place, name) for place, kind in enumerate(self.kinds) for name in kind.names]
        fits = max((n for n in range(1, len(names)) if self._of(names[:n]).height_mm <= room_mm), default=1)
        return self._of(names[:fits]), self._of(names[fits:])

    def _of(self, names: Sequence[tuple[int, str]]) -> "Row":
        own = [
            (kind, tuple(name for at, name in names if at == place)) for place, kind in enumerate(self.kinds)
        ]
        return replace(self, kinds=tuple(replace(kind, names=some) for kind, some in own if some))


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
        kinds = _kinds(plan, [one for one in entries if first <= one.day <= last])
        if not kinds:
            idle = (first if idle is None else idle[0], last)
            continue
        if idle:
            yield _idle(plan, *idle)
            idle = None
        yield Row(first, last, tuple(kinds))
    if idle:
        yield _idle(plan, *idle)


def paged(found: Sequence[Row]) -> list[list[Row]]:
    """Rows on sheets, each with no more than it holds; a week of much work is parted."""
    pages: list[list[Row]] = [[]]
    for whole in found:
        row, room = whole, ROOM_MM - sum(one.height_mm for one in pages[-1])
        while row.height_mm > room:
            if row.height_mm > TALL_MM and room > LEAST_MM:
                part, row = row.parted(room)
                pages[-1].append(part)
            pages.append([])
            room = ROOM_MM
        pages[-1].append(row)
    return pages


def _weeks(plan: Plan, run: SeasonRun) -> Iterator[tuple[date, date]]:
    for _, of in spans.weeks(run, absences.garden_day(plan.garden)):
        yield run.date(of.start), run.date(of.stop - 1)


def _idle(plan: Plan, first: date, last: date) -> Row:
    return Row(first, last, (Kind("", (plan.say("sow-sheet-nothing"),)),))


def _kinds(plan: Plan, entries: Sequence[Entry]) -> list[Kind]:
    kinds = []
    for kind in dict.fromkeys(KINDS.values()):
        named = dict.fromkeys(_named(plan, one) for one in entries if KINDS.get(one.key) == kind)
        if named:
            kinds.append(Kind(plan.say(f"sow-sheet-{kind}"), tuple(named)))
    return kinds


def _named(plan: Plan, one: Entry) -> str:
    name = words.name("crop", one.subject) + jobs.in_bed(one.subject, one.place, plan.garden)
    if one.key in ("sow", "plant"):
        return plan.say("sow-sheet-count", name=name, count=words.number(one.count, digits=9))
    if one.day < one.last:
        return plan.say("sow-sheet-until", name=name, day=words.day(one.last, plan.reader))
    return name


def _sheet(plan: Plan, page: Sequence[Row], number: int, count: int) -> Html:
    title = (
        plan.say("sow-sheet-title")
        if count == 1
        else plan.say("sow-sheet-title-part", part=str(number), parts=str(count))
    )
    head = [plan.say("sow-sheet-week"), plan.say("sow-sheet-what"), plan.say("sow-sheet-did")]
    body = [(days.span(row.first, row.last, plan.reader), join(*_lined(row.kinds)), "") for row in page]
    return sheet(plan, title, paragraph(plan.say("sow-sheet-how")), table(head, body, "write strip"))


def _lined(kinds: Sequence[Kind]) -> Iterator[Html]:
    for number, kind in enumerate(kinds):
        if number:
            yield LINE_BREAK
        yield kind.html
