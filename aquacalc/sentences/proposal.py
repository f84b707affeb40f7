"""A proposal in words: as written beside proposed, the changes in their order, what breaks without each."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import words
from aquacalc.outcome.musts import Judged, MustKey
from aquacalc.outcome.outcome import Outcome, Wanted
from aquacalc.planner.levers import Lever, Option
from aquacalc.planner.order import Step
from aquacalc.planner.propose import Proposal, Reason
from aquacalc.planner.tried import broken
from aquacalc.uncertainty import Floats, band
from aquacalc.words import Reader

MUST_KINDS: dict[MustKey, str] = {
    "oxygen": "concentration",
    "ammonia": "nitrogen",
    "nitrite": "nitrogen",
    "nitrate": "nitrogen",
    "ration": "share",
    "density": "share",
    "power_cut": "share",
    "first_year": "share",
    "potassium": "concentration",
    "barrel": "days",
    "heat": "temperature",
    "cold": "temperature",
    "to_buy": "money",
    "more_a_year": "money",
}
"""Kind of quantity in which a must is told."""
ALWAYS: tuple[MustKey, ...] = ("oxygen", "nitrate", "potassium", "barrel", "ration")
"""Musts that are told whether they break or not."""
TRIES = 10
BREAKS = "*"
"""Behind a must that fails in too many tries."""


@dataclass(frozen=True)
class Row:
    """One line of the columns. breaks: for each column, whether a must fails."""

    name: str
    cells: tuple[str, ...]
    breaks: tuple[bool, ...] = ()

    @property
    def marked(self) -> list[str]:
        """The cells, those of a must that fails with its mark."""
        breaks = self.breaks or (False,) * len(self.cells)
        return [text + BREAKS * fails for text, fails in zip(self.cells, breaks, strict=True)]


def money(amount: float, reader: Reader) -> str:
    """An amount of money in the reader's currency."""
    text = words.number(amount, 3)
    return words.NO_BREAK_SPACE.join(part for part in (text, reader.currency) if part)


def spread(values: Floats, kind: str, reader: Reader) -> str:
    """The 10th to the 90th percentile of the tries; not known where there is nothing."""
    # Hundredths are more than is known of any of them.
    found = band(np.round(values, 2))
    low, high = float(found.low), float(found.high)
    if kind == "money":
        text = words.span(low, high, "ratio", reader, 3)
        return words.NO_BREAK_SPACE.join(part for part in (text, reader.currency) if part)
    if np.isnan(low):
        return words.say("proposal-nothing", reader)
    return words.span(low, high, kind, reader)


def title(proposal: Proposal, reader: Reader) -> str:
    """The answer in one sentence."""
    if not proposal.steps:
        key = "proposal-title-good" if not proposal.reasons else "proposal-title-none"
        return words.say(key, reader)
    if not proposal.holds:
        return words.say("proposal-title-refused", reader)
    before, after = (
        words.quantity(float(np.median(one.fish_of_size)), "number", reader)
        for one in (proposal.as_written, proposal.proposed)
    )
    if proposal.goal.wanted.fish > 0.0 and before != after:
        return words.say("proposal-title", reader, steps=len(proposal.steps), before=before, after=after)
    return words.say("proposal-title-no-fish", reader, steps=len(proposal.steps))


def rows(columns: Sequence[Outcome], wanted: Wanted, reader: Reader) -> list[Row]:
    """Outcomes side by side: what is got of what is wanted, what must hold, what it costs."""
    found: list[Row] = []

    def row(name: str, cells: Iterable[str], breaks: Iterable[bool] = ()) -> None:
        found.append(Row(words.say(f"proposal-row-{name}", reader), tuple(cells), tuple(breaks)))

    for name, attribute, kind in _measures(wanted):
        row(name, (spread(getattr(one, attribute), kind, reader) for one in columns))
    failing = [broken(one) for one in columns]
    for key, kind in MUST_KINDS.items():
        there = [key in one.judged for one in columns]
        if kind == "money" or not any(there) or not (key in ALWAYS or any(key in one for one in failing)):
            continue
        nothing = words.say("proposal-nothing", reader)
        cells = (
            spread(one.judged[key].worst, kind, reader) if key in one.judged else nothing for one in columns
        )
        row(key.replace("_", "-"), cells, (key in one for one in failing))
    years = [one.money_year for one in columns if one.money_year is not None]
    if len(years) == len(columns):
        row("money", (spread(one, "money", reader) for one in years))
    if any(one.to_buy for one in columns):
        row("buy", (money(one.to_buy, reader) for one in columns))
    return found


def _measures(wanted: Wanted) -> Iterator[tuple[str, str, str]]:
    """What is got of what is wanted: name in the catalogue, field of the outcome, kind of quantity."""
    if wanted.fish > 0.0:
        yield "fish", "fish_of_size", "count"
        yield "fish-kg", "fish_kg", "biomass"
    if wanted.heads_per_week > 0.0:
        yield "heads", "heads_share", "share"
    yield "picked", "picked_kg", "biomass"


def change(lever: Lever, was: Option, becomes: Option, reader: Reader) -> str:
    """What is changed, from what to what, in the reader's units."""
    key = lever.key.replace("_", "-")
    if not becomes.quantity:
        return words.say(f"proposal-change-{key}", reader)
    told = words.say(
        f"proposal-change-{key}",
        reader,
        subject=lever.subject,
        to=_amount(becomes, reader),
    )
    if was.amount is None or was.amount == 0.0:
        return told
    return words.say("proposal-change-from", reader, change=told, was=_amount(was, reader))


def _amount(option: Option, reader: Reader) -> str:
    if isinstance(option.amount, datetime.date):
        return words.date(option.amount, reader)
    assert option.amount is not None
    return words.quantity(float(option.amount), option.quantity, reader)


def brings(step: Step, proposal: Proposal, reader: Reader) -> str:
    """What a change brings where it is added: the wishes before and after, and musts that hold from it on."""
    parts = []
    for name, attribute, kind in _measures(proposal.goal.wanted):
        if name == "fish-kg":
            continue  # it goes with the fish of size
        before, after = (
            words.quantity(float(np.median(getattr(one, attribute))), kind, reader)
            for one in (step.before, step.after)
        )
        if before != after:
            parts.append(words.say(f"proposal-brings-{name}", reader, before=before, after=after))
    held = [key for key in broken(step.before) if key not in broken(step.after)]
    if held:
        parts.append(words.say("proposal-brings-musts", reader, musts=_musts(held, reader)))
    return words.say("proposal-brings", reader, what=words.listed(parts, reader)) if parts else ""


def without(step: Step, reader: Reader) -> str:
    """What breaks in the finished plan without a change."""
    if not step.breaks:
        return ""
    return words.say("proposal-without", reader, musts=_musts(step.breaks, reader))


def price(step: Step, reader: Reader) -> str:
    """What a change costs to buy; nothing where it is free."""
    if not step.becomes.price:
        return ""
    return words.say("proposal-price", reader, price=money(step.becomes.price, reader))


def reason(found: Reason, reader: Reader) -> str:
    """Why a plan does not hold: the must, what it would be held against, in how many tries, what lifts it."""
    kind = MUST_KINDS[found.must]
    told = words.say(
        "proposal-reason",
        reader,
        must=must(found.must, reader),
        worst=spread(found.judged.worst, kind, reader),
        line=_line(found.judged, kind, reader),
        tries=words.number(TRIES * found.judged.held, 1),
        of=TRIES,
    )
    if found.lifted_by is None:
        return told
    was, becomes = found.lifted_by.options
    lift = words.say(
        "proposal-reason-lift",
        reader,
        change=change(found.lifted_by, was, becomes, reader),
        price=money(becomes.price, reader),
    )
    return f"{told} {lift}"


def _line(found: Judged, kind: str, reader: Reader) -> str:
    return money(found.line, reader) if kind == "money" else words.quantity(found.line, kind, reader)


def must(key: MustKey, reader: Reader) -> str:
    """The name of a must."""
    return words.say(f"proposal-must-{key.replace('_', '-')}", reader)


def beyond(proposal: Proposal, reader: Reader) -> list[str]:
    """What was offered and costs more than was named."""
    return [
        words.say(
            "proposal-beyond",
            reader,
            change=change(lever, lever.options[0], lever.options[1], reader),
            price=money(lever.options[1].price, reader),
        )
        for lever in proposal.beyond
    ]


def difference(before: str, after: str) -> list[str]:
    """The lines of a file that change, the old ones marked with -, the new ones with +."""
    found = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [line for line in found if not line.startswith(("---", "+++", "@@"))]


def _musts(keys: Iterable[MustKey], reader: Reader) -> str:
    return words.listed([must(key, reader) for key in keys], reader)
