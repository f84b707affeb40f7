"""We are away: how long the spare water lasts, and how much of it the days would take."""

from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.garden import litres
from aquacalc.hydraulics import leaks
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer


@dataclass(frozen=True)
class Away:
    """Days; low and high of a day's loss, of days that the spare water lasts, of the water needed."""

    days: float
    loss_l_day: tuple[float, float]
    lasts_days: tuple[float, float]
    needed_l: tuple[float, float]


def controls(reader: words.Reader) -> dict[str, Field]:
    """Days, water of the loop, treated water that is ready."""
    say = words.say
    return {
        "days": NumberField(say("panel-away-days", reader), "", 14.0, reader, 1.0, 365.0),
        "water": NumberField(say("panel-whole-water", reader), "volume", 1000.0, reader, 1.0, 1e6),
        "spare": NumberField(say("panel-away-spare", reader), "volume", 80.0, reader, 0.0, 1e6),
    }


def compute(values: Values) -> Away:
    """By the usual loss of a day."""
    low, high = (float(loss) for loss in leaks.usual_loss_l_day(values["water"]))
    return Away(
        days=values["days"],
        loss_l_day=(low, high),
        lasts_days=(values["spare"] / high, values["spare"] / low),
        needed_l=(low * values["days"], high * values["days"]),
    )


def draw(reader: words.Reader, found: Away) -> html.Html:
    """How long it lasts large, then what is needed, then feed."""
    lasts = words.span(*found.lasts_days, "days", reader)
    enough = found.lasts_days[0] >= found.days
    lines = [
        words.say("panel-away-loss", reader, loss=words.span(*found.loss_l_day, "volume", reader)),
        words.say(
            "panel-away-needed",
            reader,
            days=words.quantity(found.days, "days", reader),
            needed=words.span(*found.needed_l, "volume", reader),
        ),
        words.say("panel-away-feed", reader),
        words.say("panel-away-float", reader),
        words.say("panel-away-power", reader),
    ]
    title = words.say("panel-away-enough" if enough else "panel-away-short", reader, lasts=lasts)
    return answer(title, lines)


def told(desk: Desk) -> dict[str, object]:
    """All water that circulates."""
    return {"water": litres.litres_of(desk.garden).whole}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("away", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, told)
    return made
