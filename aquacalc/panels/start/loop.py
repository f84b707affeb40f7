"""How does this garden's loop work? Its own loop drawn with its grams and litres."""

from functools import partial

from aquacalc import drawings, words
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel, Values, answer, figure


def draw(desk: Desk, values: Values) -> html.Html:
    """The drawing under the sentence that it shows."""
    garden, balance, reader = desk.garden, desk.balance, desk.reader
    now = drawings.flows(garden, balance)
    title = words.say(
        "panel-loop-answer",
        reader,
        garden=garden.name,
        feed=words.quantity(now.feed_g_day, "feed", reader),
        ammonia=words.quantity(now.dissolved, "feed", reader),
        month=words.month(now.month, reader),
    )
    sentences = [words.say("panel-invented", reader)] if garden.invented else []
    return answer(title, sentences, figure(drawings.loop(garden, balance, reader)))


def panel(desk: Desk) -> Panel:
    """The drawing; it follows the garden."""
    made = Panel("loop", {}, dict, partial(draw, desk), desk.reader)
    desk.follow(made.refresh)
    return made
