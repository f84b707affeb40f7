"""The summary of many gardens as one page: who needs a visit first, each year in small, what all use."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

import numpy as np

from aquacalc import __version__, words
from aquacalc.charts.canvas import Canvas
from aquacalc.many.seasons import Done
from aquacalc.many.summary import Row, Used
from aquacalc.pages import style
from aquacalc.pages.html import Html, element, level, listing, paragraph, section, table
from aquacalc.uncertainty import Floats
from aquacalc.words import Reader

WIDE_PX, HIGH_PX, MARGIN_PX = 150, 34, 3.0
RULES = """
.many td, .many th { vertical-align: top; padding: 2pt 6pt 2pt 0; text-align: left; }
.many svg { display: block; }
@media screen { body { margin: 1em auto; max-width: 70em; padding: 0 1em; } }
"""
DRAWN = ("feed_g", "water_c", "oxygen_min_mg_l")


def document(
    rows: Sequence[Row], stopped: Sequence[Done], used: Sequence[Used], reader: Reader, made: date
) -> str:
    """The page, which needs nothing beside it. stopped: gardens without a plan, with their reasons."""
    title = words.say("many-title", reader, count=str(len(rows) + len(stopped)))
    head = element(
        "head",
        Html('<meta charset="utf-8"><meta name="viewport" content="width=device-width">'),
        element("title", title),
        element("style", Html(style.style() + style.paper_rules(style.paper_of(reader), title) + RULES)),
    )
    body = element(
        "body",
        element("h1", title),
        paragraph(
            words.say("many-made", reader, made=words.date(made, reader), version=__version__), "stamp"
        ),
        _visits(rows, reader),
        _stopped(stopped, reader),
        _years(rows, reader),
        _used(used, reader),
    )
    return f"<!doctype html>\n{element('html', head, body, lang=reader.language)}\n"


def _visits(rows: Sequence[Row], reader: Reader) -> Html:
    head = [words.say(f"many-head-{one}", reader) for one in ("garden", "level", "from", "what", "do")]
    body = [
        [
            element("a", row.garden or row.name, href=f"{row.name}/season-plan.html"),
            level(row.level, reader),
            words.date(date.fromisoformat(row.first), reader),
            row.title,
            row.action,
        ]
        for row in rows
        if row.level in ("emergency", "act today")
    ]
    if not body:
        return section(words.say("many-visits", reader), paragraph(words.say("many-no-visits", reader)))
    return section(words.say("many-visits", reader), table(head, body, "many"))


def _stopped(stopped: Iterable[Done], reader: Reader) -> Html:
    items = listing(f"{one.job.named.name}: {sentence}" for one in stopped for sentence in why(one, reader))
    return section(words.say("many-stopped", reader), items) if items else Html("")


def why(one: Done, reader: Reader) -> list[str]:
    """Why there is no plan of a garden, in its own sentences."""
    return [words.problem(problem, reader) for problem in one.problems] or [one.sentence]


def _years(rows: Sequence[Row], reader: Reader) -> Html:
    """Small pictures on one scale each, so that gardens can be compared at a glance."""
    ends = {name: _ends([row.weeks[name] for row in rows]) for name in DRAWN}
    head = [words.say("many-head-garden", reader)]
    head += [
        words.say("many-head-picture", reader, what=words.say(f"many-{name.replace('_', '-')}", reader))
        for name in DRAWN
    ]
    head += [words.say(f"many-head-{one}", reader) for one in ("fish", "picked")]
    body = [
        [
            row.garden or row.name,
            *(_small(row, name, ends[name], reader) for name in DRAWN),
            _span(row.yields["fish_kg"], reader),
            _span(row.yields["picked_kg"], reader),
        ]
        for row in rows
    ]
    key = paragraph(words.say("many-key", reader), "small")
    return section(words.say("many-years", reader), table(head, body, "many"), key) if body else Html("")


def _ends(weeks: Sequence[Sequence[float | None]]) -> tuple[float, float]:
    values = np.array([value for one in weeks for value in one if value is not None] or [0.0, 1.0])
    low, high = float(values.min()), float(values.max())
    return low, high if high > low else low + 1.0


def _small(row: Row, name: str, ends: tuple[float, float], reader: Reader) -> Html:
    values: Floats = np.array([np.nan if one is None else one for one in row.weeks[name]])
    low, high = ends
    canvas = Canvas(WIDE_PX, HIGH_PX)
    x = np.linspace(MARGIN_PX, WIDE_PX - MARGIN_PX, len(values))
    y = HIGH_PX - MARGIN_PX - (values - low) / (high - low) * (HIGH_PX - 2.0 * MARGIN_PX)
    canvas.grid(MARGIN_PX, HIGH_PX - MARGIN_PX, WIDE_PX - MARGIN_PX, HIGH_PX - MARGIN_PX)
    canvas.line(x, y, width=1.5)
    kind = {"feed_g": "mass", "water_c": "temperature", "oxygen_min_mg_l": "concentration"}[name]
    least, most = (words.quantity(float(end), kind, reader) for end in (np.nanmin(values), np.nanmax(values)))
    what = words.say(f"many-{name.replace('_', '-')}", reader)
    described = words.say("many-picture", reader, what=what, garden=row.garden, least=least, most=most)
    return Html(canvas.svg(described))


def _span(found: Sequence[float | None], reader: Reader) -> str:
    low, _, high = found
    return "" if low is None or high is None else words.span(low, high, "biomass", reader)


def _used(used: Sequence[Used], reader: Reader) -> Html:
    items = listing(line(one, reader) for one in used)
    if not items:
        return Html("")
    note = paragraph(words.say("many-used-note", reader), "small")
    return section(words.say("many-used", reader), items, note)


def line(one: Used, reader: Reader) -> str:
    """A line of what all gardens use, in words."""
    if one.what == "fish":
        what, amount = words.name("species", one.name), str(round(one.amount))
    else:
        what = one.name or words.say(f"many-used-{one.what}", reader)
        amount = words.quantity(one.amount, one.quantity, reader)
    return words.say("many-line", reader, what=what, amount=amount, count=one.gardens)
