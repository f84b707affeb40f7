"""`aquacalc compare`: gardens side by side, as lines of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from aquacalc import words
from aquacalc.cli.plan import cells
from aquacalc.cli.terminal import paragraph, put, table
from aquacalc.compare.side_by_side import Compared, compared
from aquacalc.outcome.outcome import Wanted
from aquacalc.report import given
from aquacalc.uncertainty import MEMBERS, SEED
from aquacalc.words import Reader


def compare(names: Sequence[str], units: str, seed: int | None) -> None:
    """Run the gardens on the same tries and print them side by side."""
    runs = [given.opened(name, units) for name in names]
    found = []
    for run in runs:
        read = given.start(run)
        found.append(compared(run.garden, read, MEMBERS, SEED if seed is None else seed))
    for line in lines(found, runs[0].reader):
        put(line)


def lines(gardens: Sequence[Compared], reader: Reader) -> Iterator[str]:
    """What is got in each garden, what must hold, what it costs; money only in one currency."""
    names = [one.garden.name for one in gardens]
    yield paragraph(words.say("compare-head", reader, gardens=words.listed(names, reader), tries=MEMBERS))
    invented = [one.garden.name for one in gardens if one.garden.invented]
    if invented:
        yield paragraph(words.say("compare-invented", reader, gardens=words.listed(invented, reader)))
    yield ""
    columns = [one.found for one in gardens]
    if len({one.garden.reader.currency for one in gardens}) > 1:
        columns = [replace(one, money_year=None) for one in columns]
    yield from table(["", *names], cells(columns, all_wishes(gardens), reader))
    yield ""
    yield paragraph(words.say("proposal-key", reader))


def all_wishes(gardens: Sequence[Compared]) -> Wanted:
    """What any of the gardens is meant to give, so that it has a row. By definition."""
    return Wanted(
        fish=max(one.wanted.fish for one in gardens),
        fish_kg=max(one.wanted.fish_kg for one in gardens),
        heads_per_week=max(one.wanted.heads_per_week for one in gardens),
        crop="",
    )
