"""Water runs out: when the pump runs dry, fish are short of oxygen, fish lie dry; and what to do first."""

import math
from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.advice import triage as advice
from aquacalc.advice.triage import Place
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.garden import litres
from aquacalc.hydraulics import leaks
from aquacalc.hydraulics.leaks import Clock
from aquacalc.pages import html, time_line
from aquacalc.pages.time_line import Mark, span
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import KILOGRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Values, answer, figure
from aquacalc.panels.trouble import power_cut as clock
from aquacalc.panels.trouble import triage
from aquacalc.panels.trouble.triage import StepsPanel
from aquacalc.sizing.power_cut import Question

A_MINUTE = {"metric": "l_min", "us": "us_gpm"}
FISH_G, AT_SEA_M = 250.0, 0.0
"""One fish, and the height of the place, where no garden tells them."""

WHERE = ("unknown", "tank", "loop")


@dataclass(frozen=True)
class Loss:
    """The clock, what a day's loss is of all water, and what would be usual.

    rows: what happens, after how many hours, with how many litres left.
    """

    clock: Clock
    rows: tuple[tuple[str, float, float], ...]
    from_tank: bool
    share_day: float
    usual_share_day: float
    species: str
    place: Place
    garden: str


def controls(reader: words.Reader) -> dict[str, Field]:
    """Where it leaks, the water, what runs out and in, the fish."""
    say = words.say
    where = [(say(f"panel-leak-where-{one}", reader), one) for one in WHERE]
    return {
        "loss": NumberField(
            say("panel-leak-loss", reader), "flow", 600.0, reader, 0.0, 1e5, shown_in=A_MINUTE
        ),
        "inflow": NumberField(
            say("panel-leak-inflow", reader), "flow", 0.0, reader, 0.0, 1e5, shown_in=A_MINUTE
        ),
        "where": ChoiceField(say("panel-leak-where", reader), where, "unknown", reader),
        "intake": NumberField(say("panel-leak-intake", reader), "volume", 100.0, reader, 0.0, 1e6),
        "tank": NumberField(say("panel-tank-water", reader), "volume", 1000.0, reader, 20.0, 2e5),
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "kg": NumberField(
            say("panel-fish-kg", reader), "mass", 10_000.0, reader, 10.0, 1e6, shown_in=KILOGRAMS
        ),
        "water": NumberField(say("panel-water-c", reader), "temperature", 26.0, reader, 0.0, 40.0),
    }


def compute(desk: Desk | None, values: Values) -> Loss:
    """The clock of this leak. Where it is not known where it leaks, the fish tank is counted as leaking."""
    from_tank = values["where"] != "loop"
    intake, tank, falling = values["intake"], values["tank"], values["loss"] - values["inflow"]
    found = leaks.clock(intake, tank, falling, _still_h(desk, values), from_tank)
    moments = {
        "now": 0.0,
        "half": found.half if from_tank else math.inf,
        "pump": found.pump_dry,
        "oxygen": found.short[0],
        "dry": found.fish_dry,
    }
    rows = [
        (name, hours, leaks.left_l(intake, tank, falling, from_tank, hours))
        for name, hours in moments.items()
        if math.isfinite(hours)
    ]
    return Loss(
        clock=found,
        rows=tuple(sorted(rows, key=lambda row: row[1])),
        from_tank=from_tank,
        share_day=HOURS_PER_DAY * values["loss"] / (intake + tank),
        usual_share_day=leaks.USUAL_LOSS_SHARE_DAY[1],
        species=values["species"],
        place=triage.of_garden(desk),
        garden="" if desk is None else desk.garden.name,
    )


def _still_h(desk: Desk | None, values: Values) -> tuple[float, float]:
    """How long the oxygen of the full tank lasts when nothing runs, just fed: short and long end."""
    told = None if desk is None else clock.of_garden(desk)
    outage = clock.answered(
        desk,
        Question(
            species=values["species"],
            kg=values["kg"] / 1000.0,
            weight_g=FISH_G if told is None else told.weight_g,
            tank_l=values["tank"],
            water_c=values["water"],
            altitude_m=AT_SEA_M if desk is None else desk.garden.site.altitude_m,
            hours_until_help=1.0,
        ),
    )
    return float(outage.danger_h.low), float(outage.danger_h.high)


def draw(reader: words.Reader, found: Loss) -> html.Html:
    """What to do large and what it gains; the steps; then the line of all times."""
    steps = advice.triage_of("leak", found.place)
    before = words.say(steps.before, reader)
    now = triage.doing(reader, steps)
    if math.isinf(found.clock.pump_dry):
        return answer(words.say("panel-leak-holds", reader), [before], now)
    title = words.say("panel-leak-answer" if found.from_tank else "panel-leak-answer-loop", reader)
    times = words.say(
        "panel-leak-times",
        reader,
        pump=span(found.clock.pump_dry, reader),
        oxygen=span(found.clock.short[0], reader),
    )
    both = (picture(reader, found, width) for width in (time_line.PAGE, time_line.PHONE))
    return answer(title, [times, before], now, figure(*both))


def after(reader: words.Reader, found: Loss) -> html.Html:
    """The times with the litres that are left, what a slow leak is told by, what to measure and the rest."""
    parts = []
    if math.isfinite(found.clock.pump_dry):
        head = [words.say(f"panel-leak-head-{one}", reader) for one in ("what", "when", "left")]
        rows = [
            (
                words.say(f"panel-leak-{name}", reader),
                words.say("time-line-now", reader) if hours == 0.0 else span(hours, reader),
                words.quantity(left, "volume", reader),
            )
            for name, hours, left in found.rows
        ]
        parts = [html.table(head, rows), html.paragraph(words.say("panel-leak-falls", reader))]
    usual = words.quantity(found.usual_share_day, "share", reader)
    key = "panel-leak-more" if found.share_day > found.usual_share_day else "panel-leak-usual"
    reckoned = rests.of_leak([found.species])
    rest = triage.rest(reader, advice.triage_of("leak", found.place), found.garden, reckoned)
    return html.join(*parts, html.paragraph(words.say(key, reader, usual=usual)), rest)


def picture(reader: words.Reader, found: Loss, width: float = time_line.PAGE) -> html.Html:
    """The time line: its bar ends where oxygen becomes short, at the latest where it is hatched."""
    marks = [
        Mark(hours, words.say(f"panel-leak-{name}", reader)) for name, hours, _ in found.rows if name != "now"
    ]
    said = ", ".join(f"{mark.text}: {span(mark.hours, reader)}" for mark in marks)
    return time_line.svg(marks, found.clock.short, said, reader, width=width)


def told(desk: Desk) -> dict[str, object]:
    """Water over the pump's intake, that of the fish tanks, and the fish as for a power cut."""
    garden, balance = desk.garden, desk.balance
    water = litres.litres_of(garden)
    filled: dict[str, object] = {"intake": leaks.OVER_INTAKE_SHARE * water.sump, "tank": water.tanks}
    if balance.outage is not None:
        leading = max(garden.fish, key=lambda batch: batch.count * batch.final_weight_g)
        filled |= {
            "species": leading.species,
            "kg": balance.outage.fish_kg * 1000.0,
            "water": balance.outage.water_c,
        }
    return filled


def panel(desk: Desk | None = None) -> StepsPanel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = StepsPanel(
        "leak",
        controls(reader),
        partial(compute, desk),
        partial(draw, reader),
        partial(after, reader),
        reader,
        ("loss", "where"),
    )
    if desk is not None:
        desk.fill(made, told)
    return made
