"""Many plans together: a row each, who needs a visit first, what all of them use; from their run files."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from aquacalc import tables
from aquacalc.judge.levels import URGENCY, Level
from aquacalc.many.seasons import Done

YIELDS = ("fish", "fish_kg", "picked_kg", "money")
ENDS = ("low", "middle", "high")


@dataclass(frozen=True)
class Row:
    """A garden of the summary.

    name: of its folder; garden, currency: as its file says. level, first, title, action: of its most urgent
    finding, `fine` where nothing asks for anything; urgent: how many are as urgent as that. yields: low,
    middle, high by name, None where not known; weeks: middle by week.
    """

    name: str
    garden: str
    currency: str
    level: Level
    first: str
    title: str
    action: str
    urgent: int
    yields: Mapping[str, Sequence[float | None]]
    weeks: Mapping[str, Sequence[float | None]]


def rows(done: Iterable[Done]) -> tuple[Row, ...]:
    """The gardens that have a plan: who needs a visit first stands first.

    By level, then by the day from which it holds, then by how much there is of it. Source: own rule.
    """
    found = [_row(one.job.named.name, one.record) for one in done if one.record]
    return tuple(sorted(found, key=lambda row: (URGENCY.index(row.level), row.first, -row.urgent, row.name)))


def _row(name: str, record: Mapping[str, Any]) -> Row:
    gist, garden = record["gist"], record["garden"]
    findings = gist["findings"]
    calm: dict[str, Any] = {"level": "fine", "first": None, "title": "", "action": ""}
    worst = findings[0] if findings else calm
    return Row(
        name=name,
        garden=garden["name"],
        currency=garden["reader"]["currency"],
        level=worst["level"],
        first=worst["first"] or record["season"]["first"],
        title=worst["title"],
        action=worst["action"],
        urgent=sum(one["level"] == worst["level"] for one in findings),
        yields=gist["yields"],
        weeks=gist["weeks"],
    )


@dataclass(frozen=True)
class Used:
    """A line of what all gardens use: amount in the unit of `quantity`, of so many gardens."""

    what: str
    name: str
    quantity: str
    amount: float
    gardens: int


def shopping(done: Iterable[Done]) -> tuple[Used, ...]:
    """What the plans use, added up: each line at the high end of its garden's tries, the largest of a kind
    first."""
    found: dict[tuple[str, str, str], list[float]] = {}
    for one in done:
        for line in one.record.get("gist", {}).get("shopping", ()):
            key = (line["what"], line["name"], line["quantity"])
            found.setdefault(key, []).append(float(line["amount"] or 0.0))
    lines = [Used(*key, sum(amounts), sum(one > 0.0 for one in amounts)) for key, amounts in found.items()]
    kinds = {key[0]: place for place, key in reversed(list(enumerate(found)))}
    return tuple(
        sorted((one for one in lines if one.amount > 0.0), key=lambda one: (kinds[one.what], -one.amount))
    )


def table(found: Iterable[Row]) -> list[list[str]]:
    """The rows as cells of a CSV file, its head first; always metric."""
    head = ["garden", "folder", "level", "from", "title", "urgent"]
    head += [f"{name}_{end}" for name in YIELDS for end in ENDS] + ["currency"]
    return [head, *(_cells(row) for row in found)]


def _cells(row: Row) -> list[str]:
    numbers = [value for name in YIELDS for value in row.yields.get(name, (None,) * len(ENDS))]
    cells = ["" if one is None else f"{one:g}" for one in numbers]
    return [row.garden, row.name, row.level, row.first, row.title, str(row.urgent), *cells, row.currency]


def shopping_table(used: Iterable[Used]) -> list[list[str]]:
    """The lines as cells of a CSV file, its head first; always metric."""
    quantities = tables.load("quantities")
    return [
        ["what", "amount", "unit", "gardens"],
        *(
            [one.name or one.what, f"{one.amount:g}", _unit(one, quantities), str(one.gardens)]
            for one in used
        ),
    ]


def _unit(one: Used, quantities: tables.Table) -> str:
    return "" if one.what == "fish" else quantities.row(one.quantity).text("given")
