"""The weeks of a month sheet: what is done in each, in as many lines as there is room for."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import groupby

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.pages import jobs
from aquacalc.pages.html import Html, element, join, shortened
from aquacalc.pages.plan import Plan
from aquacalc.schedule import absences
from aquacalc.sentences import days

KINDS = {
    "stock": "fish",
    "fast": "fish",
    "take": "fish",
    "feed_stop": "fish",
    "feed_again": "fish",
    "of_size": "ready",
    "other_water": "water",
    "change": "water",
    "filter_food": "water",
    "test": "test",
    "supplement": "test",
    "sow": "sow",
    "plant": "plant",
    "pick": "pick",
    "pick_once": "once",
    "clear": "last",
    "pick_to": "last",
}
"""Keys of entries, and the word that leads them, in their order: what is cut first stands last."""
ALWAYS = ("fish", "water", "test")
"""What is never cut for room."""
OF_CROPS = ("sow", "plant")
TOGETHER = ("fast", "test", "supplement")
"""Keys of which several of a week are told together."""
LEAST_LINES = 2
Span = tuple[date, date]


@dataclass(frozen=True)
class Kind:
    """What is done in a week of one kind: the word that leads it, and each thing by its name."""

    key: str
    lead: str
    names: tuple[str, ...]

    @property
    def html(self) -> Html:
        """The word, and the names behind it."""
        return join(element("b", self.lead), " ", ", ".join(self.names))

    def lines(self, letters: int) -> int:
        """Lines that it takes up."""
        return -(-len(f"{self.lead} {', '.join(self.names)}") // letters)


@dataclass(frozen=True)
class Week:
    """Days with one amount of feed, or without any; what is done in them; how many names were cut."""

    first: date
    last: date
    kinds: tuple[Kind, ...]
    more: int = 0

    def lines(self, letters: int) -> int:
        """Lines that it takes up."""
        return max(sum(kind.lines(letters) for kind in self.kinds) + (self.more > 0), 1)

    def within(self, most: int, letters: int) -> "Week":
        """As much of it as so many lines hold, the least important names cut and counted."""
        kinds, more = list(self.kinds), 0
        while kinds and sum(kind.lines(letters) for kind in kinds) + (more > 0) > most:
            place = next((n for n in reversed(range(len(kinds))) if kinds[n].key not in ALWAYS), None)
            if place is None:
                break
            kept = kinds[place].names[:-1]
            kinds[place : place + 1] = [replace(kinds[place], names=kept)] if kept else []
            more += 1
        return replace(self, kinds=tuple(kinds), more=more)


def fitted(found: Sequence[Week], room: int, letters: int, least: Sequence[int]) -> tuple[Week, ...]:
    """The weeks in so many lines: the fullest are cut, all to the same height.

    least: lines that each week takes up by what stands beside its jobs.
    """

    def height(most: int) -> int:
        return sum(
            max(week.within(most, letters).lines(letters), beside)
            for week, beside in zip(found, least, strict=True)
        )

    full = max((week.lines(letters) for week in found), default=LEAST_LINES)
    most = next((n for n in range(full, LEAST_LINES, -1) if height(n) <= room), LEAST_LINES)
    return tuple(week.within(most, letters) for week in found)


def weeks(plan: Plan, spans: Iterable[Span]) -> Iterator[Week]:
    """What is done in each span of days."""
    entries = jobs.entries(plan)
    for first, last in spans:
        yield Week(first, last, tuple(_kinds(plan, [one for one in entries if first <= one.day <= last])))


def split(plan: Plan, first: date, last: date, fed: Sequence[Span]) -> tuple[Span, ...]:
    """Spans of days that make up a time: those of one ration, and the weeks of the garden between them."""
    edges = {first, *(begin for begin, _ in fed), *(end + timedelta(days=1) for _, end in fed if end < last)}
    weekday = absences.garden_day(plan.garden)
    inside = {begin + timedelta(days=n) for begin, end in fed for n in range((end - begin).days + 1)}
    for n in range((last - first).days + 1):
        day = first + timedelta(days=n)
        if day.weekday() == weekday and day not in inside:
            edges.add(day)
    begins = sorted(edges)
    return tuple(
        (begin, end - timedelta(days=1))
        for begin, end in zip(begins, [*begins[1:], last + timedelta(days=1)], strict=True)
    )


def calm(plan: Plan, spans: Iterable[Span]) -> tuple[Span, ...]:
    """The spans, those with nothing but tests that follow each other as one."""
    entries = [one for one in jobs.entries(plan) if one.key in KINDS and one.key != "test"]

    def busy(span: Span) -> bool:
        return any(span[0] <= one.day <= span[1] for one in entries)

    found: list[Span] = []
    for works, group in groupby(spans, key=busy):
        own = list(group)
        found += own if works else [(own[0][0], own[-1][1])]
    return tuple(found)


def _kinds(plan: Plan, entries: Sequence[Entry]) -> Iterator[Kind]:
    for kind in dict.fromkeys(KINDS.values()):
        own = [one for one in entries if KINDS.get(one.key) == kind]
        names = _tests(plan, own) if kind == "test" else [*_fasts(plan, own)]
        names += [_named(plan, one) for one in own if one.key not in TOGETHER]
        if names:
            yield Kind(kind, plan.say(f"sow-sheet-{kind}"), tuple(dict.fromkeys(names)))


def _fasts(plan: Plan, own: Sequence[Entry]) -> Iterator[str]:
    """Last feeds before fish are taken out: those of one day together."""
    by_day: dict[date, list[str]] = {}
    for one in own:
        if one.key == "fast":
            by_day.setdefault(one.day, []).append(shortened(one.subject, jobs.NAME_LETTERS))
    for day, names in by_day.items():
        told = words.listed(names, plan.reader)
        yield plan.say("month-week-fast", day=words.day(day, plan.reader), names=told)


def _tests(plan: Plan, own: Sequence[Entry]) -> list[str]:
    """The days of the weekly tests, then what is tested besides."""
    tests = [one for one in own if one.key == "test"]
    told = [days.listed([(one.day, one.day) for one in tests], plan.reader)] if tests else []
    told += [
        plan.say(
            "month-week-moved",
            planned=words.day(one.moved_from, plan.reader),
        )
        for one in tests
        if one.moved_from is not None
    ]
    besides = dict.fromkeys(one.subject for one in own if one.key == "supplement")
    return told + [plan.say(f"supply-{kind}") for kind in besides]


def _named(plan: Plan, one: Entry) -> str:
    if not one.of_crop:
        key = "month-week-until" if one.day < one.last else "month-week-on"
        return plan.say(key, day=words.day(_told_day(one), plan.reader), job=jobs.sentence(one, plan))
    name = words.name("crop", one.subject) + jobs.in_bed(one.subject, one.place, plan.garden)
    if one.key in OF_CROPS:
        return plan.say("sow-sheet-count", name=name, count=words.number(one.count, digits=9))
    if one.day < one.last:
        return plan.say("sow-sheet-until", name=name, day=words.day(one.last, plan.reader))
    return name


def _told_day(one: Entry) -> date:
    return one.last if one.day < one.last else one.day
