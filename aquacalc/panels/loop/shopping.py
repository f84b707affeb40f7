"""What do I buy for this loop, in which packs, and how do I change a garden that runs already?"""

import base64
from functools import partial

from aquacalc import spreadsheet, words
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.loop.writing import number
from aquacalc.sentences import parts as sentences
from aquacalc.sizing import parts
from aquacalc.sizing.parts import Part

STEPS = ("plan", "feed", "stand", "wet", "water", "one", "run", "test", "stock")
"""Changing a garden that runs, in the order that keeps the fish alive."""
MOST_PRICES = 40


def controls(reader: words.Reader) -> dict[str, Field]:
    """Packs as the shop sells them, and prices by the number of their line."""
    of = partial(number, reader=reader)
    columns = [
        Column(words.say("panel-shopping-line", reader), "", 1.0, 500.0),
        Column(words.say("panel-shopping-price", reader), "", 0.0, 1e6),
    ]
    return {
        "medium": of("panel-shopping-medium", "volume", parts.PACKS["medium"], 1.0, 2000.0),
        "pipe": of("panel-shopping-pipe", "length", parts.PACKS["pipe"], 0.5, 100.0),
        "hose": of("panel-shopping-hose", "length", parts.PACKS["hose"], 0.5, 500.0),
        "prices": RowsField(words.say("panel-shopping-prices", reader), columns, (), reader, MOST_PRICES),
    }


def compute(desk: Desk, values: Values) -> tuple[Part, ...]:
    """The list with the packs and prices that were typed; a price counts for its kind of part."""
    sizes = {key: values[key] for key in parts.PACKS}
    plain = parts.parts_of(desk.garden, sizes)
    prices = {
        plain[int(line) - 1].key: float(price) for line, price in values["prices"] if line <= len(plain)
    }
    return parts.parts_of(desk.garden, sizes, prices)


def draw(reader: words.Reader, found: tuple[Part, ...]) -> html.Html:
    """The list, its sum, the file for a spreadsheet, the steps of a change."""
    title = sentences.total(*parts.total(found), reader)
    head = [words.say("panel-shopping-line", reader), *sentences.head(reader)]
    rows = [(str(at), *row) for at, row in enumerate(sentences.rows(found, reader), start=1)]
    csv = spreadsheet.text([head, *rows])
    data = base64.b64encode(csv.encode()).decode()
    link = html.element(
        "a",
        words.say("panel-shopping-file", reader),
        href=f"data:text/csv;charset=utf-8;base64,{data}",
        download="parts.csv",
    )
    steps = html.element(
        "ol", *(html.element("li", words.say(f"panel-shopping-step-{one}", reader)) for one in STEPS)
    )
    return answer(
        title,
        [words.say("panel-shopping-hint", reader)],
        wide(html.table(head, rows)),
        html.element("p", link),
        html.paragraph(words.say("panel-shopping-change", reader)),
        steps,
    )


def panel(desk: Desk) -> Panel:
    """The panel of a garden."""
    reader = reader_of(desk)
    made = Panel("shopping", controls(reader), partial(compute, desk), partial(draw, reader), reader)
    desk.follow(made.refresh)
    return made
