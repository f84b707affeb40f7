"""Groups read one water: how far apart do their readings lie? Without names, so that nobody is wrong."""

from collections import Counter
from collections.abc import Mapping
from functools import partial

from aquacalc import units, words
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import TextField
from aquacalc.panels.frame.panel import Panel, answer
from aquacalc.workshop import spread
from aquacalc.workshop.spread import Spread

EXAMPLE = "0.3 0.6 0.6 0.6 1.2 0.6 0.3 0.6"
DOT = "\u25cf "


def compute(values: Mapping[str, str]) -> Spread:
    """The spread of what was typed, parted by spaces or semicolons; a decimal comma is one."""
    parts = values["text"].replace(";", " ").split()
    return spread.spread([units.read_number(part) for part in parts])


def draw(reader: words.Reader, found: Spread) -> html.Html:
    """The ends, the middle, what one reading alone is worth, and a dot for each group."""
    number = words.number
    title = words.say(
        "panel-readings-answer",
        reader,
        count=str(len(found.values)),
        low=number(found.low),
        high=number(found.high),
        middle=number(found.middle),
    )
    lines = [
        words.say("panel-readings-mean", reader, mean=number(found.mean), half=number(found.half_width, 1)),
        words.say("panel-readings-one", reader, deviation=number(found.deviation, 1)),
        words.say("panel-readings-judge", reader),
    ]
    counted = sorted(Counter(found.values).items())
    head = [words.say(f"panel-readings-head-{one}", reader) for one in ("reading", "groups")]
    rows = [(number(value), DOT * times) for value, times in counted]
    return answer(title, lines, html.table(head, rows))


def panel(desk: Desk | None = None) -> Panel:
    """The panel; it needs no garden."""
    reader = reader_of(desk)
    fields = {"text": TextField(words.say("panel-readings-text", reader), EXAMPLE, reader)}
    return Panel("readings", fields, compute, partial(draw, reader), reader)
