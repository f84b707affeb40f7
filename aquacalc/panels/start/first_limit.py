"""What gives out first? The month where the fish's appetite comes nearest to what the garden carries."""

from functools import partial

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.charts.canvas import WIDTHS
from aquacalc.charts.month import limits_now
from aquacalc.pages import html, trail
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import ChoiceField, Field
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.sentences import balance as sentences

NEAREST = "nearest"


def controls(reader: words.Reader) -> dict[str, Field]:
    """Which month."""
    months = [(words.month(number, reader), str(number)) for number in range(1, 13)]
    nearest = (words.say("panel-month-nearest", reader), NEAREST)
    return {"month": ChoiceField(words.say("panel-month", reader), [nearest, *months], NEAREST, reader)}


def draw(desk: Desk, values: Values) -> html.Html:
    """The limit that is met first, in feed, fish and bed; the power cut; half of it for a first year."""
    balance, reader = desk.balance, desk.reader
    month = None if values["month"] == NEAREST else int(values["month"])
    title = sentences.headline(balance, reader)
    pictures = [limits_now(balance, reader, "", month=month, width=width) for width in WIDTHS]
    lines = [
        sentences.carried(balance, reader),
        sentences.better(balance, reader),
        sentences.outage(balance.outage, reader),
        sentences.first_year(balance, reader),
    ]
    changes = html.listing(sentences.changes(balance, reader))
    todo = html.paragraph(words.say("check-changes", reader)) if balance.changes else html.Html("")
    rest = trail.fold(rests.of_balance(desk.garden), reader)
    return answer(title, lines, figure(*pictures), todo, changes, rest)


def panel(desk: Desk) -> Panel:
    """The panel; it follows the garden."""
    made = Panel("first-limit", controls(desk.reader), dict, partial(draw, desk), desk.reader)
    desk.follow(made.refresh)
    return made
