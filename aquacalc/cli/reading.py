"""`aquacalc reading`: one reading judged at once, as lines of text, with or without a garden."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.advice.reading.actions import Answer
from aquacalc.advice.reading.fish import WARMTH
from aquacalc.cli.terminal import paragraph, table, width
from aquacalc.judge.levels import Level
from aquacalc.sentences import reading, trail
from aquacalc.words import Reader

FRAMES: dict[Level, tuple[str, str, str]] = {
    "watch": ("|", "+-+", "+-+"),
    "act today": ("||", "==.", "==="),
    "emergency": ("###", "###", "###"),
    "not known": (":", ". -.", ". -."),
}
"""Side, upper and lower edge of a level's frame; each edge as first, repeated and last character."""


def parted(typed: Sequence[str]) -> tuple[str, list[str]]:
    """The garden, empty where none is named, and the pairs. A garden stands first, without an equals sign;
    a mere `warm` or `cold` tells of the fish.

    >>> parted(["demo:yard", "tan=2"]), parted(["tan=2", "warm"])
    (('demo:yard', ['tan=2']), ('', ['tan=2', 'fish=warm']))
    """
    named = [f"fish={one}" if one in WARMTH else one for one in typed]
    if named and "=" not in named[0]:
        return named[0], named[1:]
    return "", named


def lines(answer: Answer, reader: Reader, sources: bool = False) -> Iterator[str]:
    """Everything that the command prints, line by line: what to do now stands before why.

    sources: whether to say what each level rests on.
    """
    found = answer.judgement
    yield from framed(reading.status(answer, reader), found.level)
    yield paragraph(reading.judged_for(answer, reader))
    if assumed := reading.in_short(answer, reader):
        yield paragraph(assumed)
    yield from to_do(answer, reader, again=True)
    yield ""
    yield from levels(answer, reader)
    yield from _listed("reading-why", reading.reasons(answer, reader), reader)
    yield from _listed("reading-ask", reading.notes(found.asked, reader), reader)
    yield from _listed("reading-assumed", reading.notes(found.assumed, reader), reader)
    yield from ("", paragraph(words.say("reading-cautions", reader)))
    if not found.given.signs:
        yield paragraph(words.say("reading-look-at-fish", reader))
    if sources:
        yield from _listed("trail-title", trail.of_levels(found, reader), reader)
        yield from _listed("sources-texts", trail.texts(rests.of_judgement(found), reader), reader)


def levels(answer: Answer, reader: Reader) -> Iterator[str]:
    """Every reading with its level, as a table."""
    head = [words.say(f"reading-head-{name}", reader) for name in ("reading", "value", "level")]
    yield from table(head, reading.rows(answer, reader))


def to_do(answer: Answer, reader: Reader, again: bool = False) -> Iterator[str]:
    """What to do in order and what not. again: with the time of the next test."""
    found = answer.judgement
    now, later = reading.now(answer, reader), reading.later(answer, reader)
    urgent = now and found.level in ("emergency", "act today")
    yield from _numbered("reading-do" if urgent else "reading-order", now or later, 1, reader)
    if again:
        yield from ("", paragraph(reading.again(answer, reader)))
    if now:
        yield from _numbered("reading-then", later, len(now) + 1, reader)
    tempting, never = reading.pertinent(answer), reading.never(answer, reader)
    yield from _listed("reading-not", [reading.warned_shortly(one, reader) for one in tempting], reader)
    if never:
        yield from [paragraph(never, "- ")] if tempting else ["", paragraph(never)]


def framed(text: str, level: Level) -> list[str]:
    """A text in the frame of its level, in plain characters: the more urgent, the heavier.

    >>> print(*framed("Status: fine", "fine"), sep="\\n")
    Status: fine
    ------------
    """
    inside = textwrap.wrap(text, width() - 8, break_on_hyphens=False)
    wide = max(map(len, inside))
    if level == "fine":
        return [*inside, "-" * wide]
    side, top, bottom = FRAMES[level]
    across = wide + 2 * len(side) + 2
    rows = [f"{side} {line:<{wide}} {side}" for line in inside]
    return [_edge(top, across), *rows, _edge(bottom, across)]


def _edge(pattern: str, across: int) -> str:
    """A first and a last character, and between them a pattern as often as it fits."""
    return pattern[0] + (pattern[1:-1] * across)[: across - 2] + pattern[-1]


def _numbered(head: str, texts: Sequence[str], first: int, reader: Reader) -> Iterator[str]:
    if texts:
        yield from ("", words.say(head, reader))
        yield from (paragraph(text, f"{number}. ") for number, text in enumerate(texts, first))


def _listed(head: str, texts: Iterable[str], reader: Reader) -> Iterator[str]:
    told = list(texts)
    if told:
        yield from ("", words.say(head, reader))
        yield from (paragraph(text, "- ") for text in told)
