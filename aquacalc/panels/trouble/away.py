"""We are away: how long the spare water lasts, and how much of it the days would take."""

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.advice.new_water import water_use
from aquacalc.garden import litres
from aquacalc.garden import model as garden
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.sizing import absence
from aquacalc.uncertainty import Triangle

ROUNDED = 0.01
"""Share by which a field may differ from what it was filled with by its rounding alone."""


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


def compute(desk: Desk | None, values: Values) -> Away:
    """By the loss of a day as the garden has it or as it was counted, else by the usual one."""
    found = absence.lasting(_loss_l_day(desk, values), values["spare"])
    loss = found.loss_l_day
    return Away(
        days=values["days"],
        loss_l_day=(loss.low, loss.high),
        lasts_days=(found.days.low, found.days.high),
        needed_l=(loss.low * values["days"], loss.high * values["days"]),
    )


def _loss_l_day(desk: Desk | None, values: Values) -> Triangle:
    """Of the garden's longest absence, while its water and what was counted of it are the garden's."""
    if desk is not None:
        told = absence.counted_l_day(desk.garden)
        same = values["used"] == told or (told and math.isclose(values["used"] or 0.0, told, rel_tol=ROUNDED))
        if same and math.isclose(values["water"], litres.litres_of(desk.garden).whole, rel_tol=ROUNDED):
            away = max(desk.garden.away, key=_days, default=None)
            return water_use.of_absence(desk.garden, away)
    return absence.usual_loss_l_day(values["water"], values["used"])


def _days(of: garden.Away) -> int:
    return (of.end - of.start).days + 1


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
        told["days"] = float(max(map(_days, desk.garden.away)))
    return told


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("away", controls(reader), partial(compute, desk), partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, told)
    return made
