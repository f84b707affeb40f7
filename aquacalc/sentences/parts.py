"""The parts list of a loop in words: what, how much, how many packs, what it costs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from aquacalc import words

if TYPE_CHECKING:
    from aquacalc.sizing.parts import Part
    from aquacalc.words import Reader

HEADS = ("what", "need", "pack", "buy", "price", "cost")


def head(reader: Reader) -> list[str]:
    """Heads of the list."""
    return [words.say(f"parts-head-{one}", reader) for one in HEADS]


def row(part: Part, reader: Reader) -> tuple[str, ...]:
    """A line of the list; empty cells where no price is known."""
    known = not math.isnan(part.price)
    return (
        name(part, reader),
        amount(part.need, part, reader),
        "" if part.pack == 1.0 and part.kind == "count" else amount(part.pack, part, reader),
        words.number(part.packs, 6),
        words.number(part.price, 6) if known else "",
        words.number(part.cost, 6) if known else "",
    )


def name(part: Part, reader: Reader) -> str:
    """What it is, and what it belongs to."""
    what = words.say(f"part-{part.key}", reader)
    if part.bore_mm > 0.0:
        what = words.say("parts-bore", reader, what=what, bore=words.quantity(part.bore_mm, "bore", reader))
    if part.spare:
        return words.say("parts-spare", reader, what=what)
    return words.say("parts-of", reader, what=what, name=part.name) if part.name else what


def amount(value: float, part: Part, reader: Reader) -> str:
    """Litres, metres or pieces."""
    return words.number(value, 6) if part.kind == "count" else words.quantity(value, part.kind, reader)


def total(cost: float, without: int, reader: Reader) -> str:
    """What all that has a price costs, and how many lines have none."""
    if cost == 0.0:
        return words.say("parts-no-prices", reader)
    said = words.say("parts-total", reader, cost=words.number(cost, 4), currency=reader.currency)
    return (
        said if not without else words.say("parts-without", reader, total=said, lines=words.number(without))
    )


def rows(parts: Sequence[Part], reader: Reader) -> list[tuple[str, ...]]:
    """The whole list."""
    return [row(one, reader) for one in parts]
