"""We are away: how long the spare water lasts, and how much of it the days would take."""

from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.garden import litres
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.sizing import absence


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
        "days": NumberField(say("panel-away-days", reader), "", 14.0, reader, 1.0, 365.0, beside="days"),
        "water": NumberField(say("panel-whole-water", reader), "volume", 1000.0, reader, 1.0, 1e6),
        "spare": NumberField(say("panel-away-spare", reader), "volume", 80.0, reader, 0.0, 1e6),
        "used": NumberField(say("panel-away-used", reader), "volume", None, reader, 0.1, 1e5, optional=True),
    }


def compute(values: Values) -> Away:
    """By the loss of a day as it was counted, else by the usual one."""
    found = absence.lasting(values["water"], values["spare"], values["used"])
    loss = found.loss_l_day
    return Away(
        days=values["days"],
        loss_l_day=(loss.low, loss.high),
        lasts_days=(found.days.low, found.days.high),
        needed_l=(loss.low * values["days"], loss.high * values["days"]),
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
    """All water that circulates, what of it may be lost, and the days of the longest absence."""
    told: dict[str, object] = {
        "water": litres.litres_of(desk.garden).whole,
        "spare": absence.reserve_l(desk.garden),
        "used": absence.counted_l_day(desk.garden),
    }
    if desk.garden.away:
        told["days"] = float(max((one.end - one.start).days + 1 for one in desk.garden.away))
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("away", controls(reader), compute, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, told)
    return made
