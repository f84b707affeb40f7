"""`aquacalc check`: the balance and the findings of a garden as lines of text."""

import math
from collections.abc import Iterable, Iterator, Sequence

from aquacalc import words
from aquacalc.advice import measured
from aquacalc.advice import trail as rests
from aquacalc.advice.finding import Finding
from aquacalc.cli.terminal import paragraph, table, width
from aquacalc.garden.model import Garden
from aquacalc.sentences import balance as sentences
from aquacalc.sentences import trail
from aquacalc.sizing.result import Balance, Limit
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

OVER = "*"
NO_FIGURE = "-"
QUIET = "fine"
"""A finding of this level is not printed: there is nothing to do."""


def lines(
    garden: Garden, balance: Balance, findings: Sequence[Finding], reader: Reader, sources: bool = False
) -> Iterator[str]:
    """Everything that the command prints about a garden, line by line.

    sources: whether to say what balance and findings rest on.
    """
    start = words.date(garden.season.start, reader)
    yield paragraph(words.say("check-head", reader, garden=garden.name, start=start))
    if garden.invented:
        yield words.say("check-invented", reader)
    yield ""
    yield from months_tables(balance, reader)
    yield paragraph(words.say("check-table-key", reader))
    yield from _spaced(
        paragraph(text)
        for text in (
            sentences.binding(balance, reader),
            sentences.better(balance, reader),
            sentences.outage(balance.outage, reader),
            sentences.first_year(balance, reader),
            sentences.biofilter(balance, reader),
            sentences.flow(balance, reader),
        )
        if text
    )
    if balance.changes:
        yield from _listed("check-changes", sentences.changes(balance, reader), reader)
    drawn = rests.of_balance(garden) if sources else ()
    if drawn:
        yield from _spaced([paragraph(trail.note(drawn, reader))])
    yield from _findings(findings, reader, sources)
    if told := sentences.measured(measured.counted(garden), reader):
        yield from _listed("check-measured", told, reader)
    assumed = sentences.assumed(garden, reader)
    if assumed:
        yield from _listed("check-assumed", assumed, reader)
    else:
        yield from ("", words.say("check-nothing-assumed", reader))
    yield from ("", paragraph(words.say("check-cautions", reader)))
    if sources:
        cited = rests.merged((*drawn, *rests.of_findings(_told(findings))))
        yield from _listed("sources-texts", trail.texts(cited, reader), reader)


def months_tables(balance: Balance, reader: Reader) -> list[str]:
    """The table of the twelve months; in two halves where the terminal is too narrow for one."""
    whole = months_table(balance, range(12), reader)
    if max(map(len, whole)) <= width():
        return whole
    return [*months_table(balance, range(6), reader), "", *months_table(balance, range(6, 12), reader)]


def months_table(balance: Balance, positions: Sequence[int], reader: Reader) -> list[str]:
    """Months of the plan side by side: water, demand, and each limit, marked where the demand is larger."""
    demand = _of(balance.demand.feed_g_day, positions)
    water = _of(balance.water_c, positions)
    must = [limit for limit in balance.limits if limit.must]
    better = [limit for limit in balance.limits if not limit.must]
    rows = [
        [
            words.say("check-water", reader, unit=words.unit("temperature", reader)),
            *(words.number(words.convert(one, "temperature", reader)) for one in water),
        ],
        [words.say("check-demand", reader), *(_figure(one, reader) for one in demand)],
        [words.say("check-must", reader)],
        *(_limit_row(limit, demand, positions, reader) for limit in must),
        [words.say("check-better", reader)],
        *(_limit_row(limit, demand, positions, reader) for limit in better),
    ]
    names = (words.month(balance.months[position], reader, short=True) for position in positions)
    return table(["", *names], rows, OVER)


def _limit_row(limit: Limit, demand: Sequence[float], positions: Sequence[int], reader: Reader) -> list[str]:
    name = words.limit(limit.key, reader)
    if not limit.counts:
        name = words.say("check-not-counted", reader, name=name)
    figures = (
        _figure(carries, reader) + (OVER if limit.counts and wants > carries else "")
        for carries, wants in zip(_of(limit.feed_g_day, positions), demand, strict=True)
    )
    return [f"  {name}", *figures]


def _of(band: Band, positions: Sequence[int]) -> list[float]:
    return [sentences.at(band, position)[1] for position in positions]


def _figure(feed_g_day: float, reader: Reader) -> str:
    if not math.isfinite(feed_g_day):
        return NO_FIGURE
    return words.number(words.convert(feed_g_day, "feed", reader))


def _told(findings: Sequence[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.level != QUIET]


def _findings(findings: Sequence[Finding], reader: Reader, sources: bool) -> Iterator[str]:
    told = _told(findings)
    yield ""
    yield words.say("check-findings" if told else "check-no-findings", reader)
    for finding in told:
        spoken = words.finding(finding, reader)
        yield ""
        yield paragraph(spoken.title, f"[{words.level(finding.level, reader)}] ")
        yield paragraph(spoken.why, "  ")
        yield paragraph(words.say("check-to-do", reader, action=spoken.action), "  ")
        yield paragraph(words.say("check-not-to-do", reader, avoid=spoken.avoid), "  ")
        if sources:
            yield paragraph(trail.note(rests.of_finding(finding), reader), "  ")


def _listed(head: str, texts: Iterable[str], reader: Reader) -> Iterator[str]:
    yield from ("", words.say(head, reader))
    yield from (paragraph(text, "- ") for text in texts)


def _spaced(texts: Iterable[str]) -> Iterator[str]:
    for text in texts:
        yield from ("", text)
