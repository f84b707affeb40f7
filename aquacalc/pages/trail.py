"""What each sheet rests on, and notes of it whose keys lead to the list of sources."""

import re
from collections.abc import Callable, Iterable
from html import escape
from types import MappingProxyType

from aquacalc import tables, words
from aquacalc.advice import trail
from aquacalc.pages.html import ON_SCREEN, Html, element, join, listing, paragraph
from aquacalc.pages.plan import Plan
from aquacalc.sentences import trail as sentences
from aquacalc.tables import Cited
from aquacalc.words import Reader

Rests = Callable[[Plan], tuple[Cited, ...]]

WATER = ("oxygen", "unionised_ammonia", "tan", "nitrite", "nitrate", "ph", "alkalinity", "carbon_dioxide")
"""Parameters whose lines the pages about water use."""

DECHLORINATORS = "dechlorinator"


def _nothing(plan: Plan) -> tuple[Cited, ...]:
    """Of sheets that bring no value of their own: lists, room to write, what is said elsewhere."""
    return ()


def _balance(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_balance(plan.garden)


def _year(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_season(plan.garden) if plan.season else _balance(plan)


def _crops(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_crops(plan.garden)


def _fish(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_fish(plan.garden)


def _lines(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_lines(WATER, plan.species)


def _ammonia(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_lines(("unionised_ammonia", "tan"), plan.species)


def _tests(plan: Plan) -> tuple[Cited, ...]:
    return trail.merged((*_lines(plan), *trail.of_rows("test_kinds", tables.load("test_kinds").keys())))


def _doses(plan: Plan) -> tuple[Cited, ...]:
    lines = trail.of_lines(("alkalinity", "ph", "unionised_ammonia", "nitrite", "chlorine"), plan.species)
    return trail.merged((*trail.of_products(plan.garden), *lines))


def _signs(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_rows("symptoms", tables.load("symptoms").keys())


def _eating(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_eating(plan.garden)


def _findings(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_findings(plan.findings)


def _new_water(plan: Plan) -> tuple[Cited, ...]:
    chemicals = tables.load("chemicals")
    reagents = (row.key for row in chemicals if row.text("kind") == DECHLORINATORS)
    return trail.merged((*trail.of_rows("chemicals", reagents), *trail.of_lines(("chlorine",), plan.species)))


def _start_up(plan: Plan) -> tuple[Cited, ...]:
    if plan.garden.start_up.state != "new":
        return ()
    return trail.merged((*trail.of_filter(), *trail.of_lines(("alkalinity_start_up",))))


def _products(plan: Plan) -> tuple[Cited, ...]:
    return trail.of_products(plan.garden)


FOLDER: MappingProxyType[str, Rests] = MappingProxyType(
    {
        "answer": _balance,
        "glance": _year,
        "sowing": _crops,
        "differences": _nothing,
        "fish": _fish,
        "water": _lines,
        "year": _balance,
        "figures": _balance,
        "loop": _nothing,
        "facts": _nothing,
        "costs": _nothing,
        "shopping": _products,
        "findings": _findings,
        "rules": _nothing,
        "cautions": _nothing,
        "limits": _nothing,
        "narrowest": _balance,
        "wishes": _balance,
        "contents": _nothing,
        "assumed": _nothing,
        "sources": _nothing,
    }
)
"""What each part of the folder rests on, by the names of `pages/sheets.py`."""

WALL: MappingProxyType[str, Rests] = MappingProxyType(
    {
        "emergency": _signs,
        "holiday": _balance,
        "hygiene": _eating,
        "ammonia": _ammonia,
        "tests": _tests,
        "doses": _doses,
        "supplements": _doses,
        "topping_up": _new_water,
        "start_up": _start_up,
        "tick": _nothing,
        "weekly": _nothing,
        "months": _year,
    }
)
"""What each sheet for the wall rests on."""


def cited(plan: Plan) -> tuple[Cited, ...]:
    """All that a plan rests on."""
    return trail.merged(one for rests in {**FOLDER, **WALL}.values() for one in rests(plan))


def of_part(name: str, plan: Plan) -> Html:
    """The note under a part of the folder, for the screen: paper keeps its room for what is done."""
    return note(trail.whole(FOLDER[name](plan)), plan.reader, f"trail {ON_SCREEN}")


def of_sheet(name: str, plan: Plan) -> Html:
    """The note under a sheet for the wall, for the screen."""
    return note(trail.whole(WALL[name](plan)), plan.reader, f"trail {ON_SCREEN}")


def anchor(key: str) -> str:
    """The name in a page of a text in the list of sources."""
    return f"source-{key}"


def linked(text: str, found: Iterable[Cited]) -> Html:
    """A text whose keys of sources lead to the list of sources."""
    keys = sentences.keys(found)
    named = re.compile(rf"\b({'|'.join(map(re.escape, keys))})\b") if keys else None
    safe = escape(text, quote=False)
    if named is None:
        return Html(safe)
    return Html(named.sub(lambda key: element("a", key[0], href=f"#{anchor(key[0])}"), safe))


def note(found: Iterable[Cited], reader: Reader, class_: str = "trail") -> Html:
    """The short note of what something rests on, its keys linked; nothing where it rests on nothing."""
    there = tuple(found)
    return paragraph(linked(sentences.note(there, reader), there), class_)


def short(found: Iterable[Cited], reader: Reader) -> Html:
    """The same as the end of a paragraph; on paper only where it names a text."""
    there = tuple(found)
    class_ = "trail" if sentences.keys(there) else "trail on-screen"
    return element("span", linked(sentences.note(there, reader), there), class_=class_) if there else join()


def fold(found: Iterable[Cited], reader: Reader) -> Html:
    """The same for a panel, folded away: the note, and the texts behind its keys."""
    there = tuple(found)
    if not there:
        return Html("")
    return element(
        "details",
        element("summary", words.say("trail-title", reader)),
        paragraph(sentences.note(there, reader)),
        listing(sentences.texts(there, reader)),
    )
