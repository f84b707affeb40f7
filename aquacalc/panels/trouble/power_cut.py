"""The power is out: how long until someone must have acted, and what closes the gap."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from functools import partial

from aquacalc import tables, words
from aquacalc.advice import trail as rests
from aquacalc.garden import litres
from aquacalc.judge import lines
from aquacalc.pages import html, time_line, trail
from aquacalc.pages.time_line import Mark, span
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import GRAMS, KILOGRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.sizing import power_cut
from aquacalc.sizing.power_cut import Clock, Now, Question
from aquacalc.sizing.result import Outage

KNOWN = ("no", "mg", "pct")
"""How oxygen is known at the moment."""


@dataclass(frozen=True)
class Found:
    """The power cut, the clock from now, and of which fish. now: what was told of the moment."""

    outage: Outage
    clock: Clock
    now: Now
    species: str
    line_mg_l: float


def controls(reader: words.Reader) -> dict[str, Field]:
    """Numbers that a person beside the tank can tell; what is not known stays open."""
    say = words.say
    return {
        "species": ChoiceField(say("panel-species", reader), lists.species(), "nile_tilapia", reader),
        "kg": NumberField(
            say("panel-fish-kg", reader),
            "mass",
            10_000.0,
            reader,
            10.0,
            1e6,
            (0.0, 50_000.0, 100.0),
            shown_in=KILOGRAMS,
        ),
        "weight": NumberField(
            say("panel-fish-weight", reader), "mass", 250.0, reader, 0.5, 20_000.0, shown_in=GRAMS
        ),
        "tank": NumberField(
            say("panel-tank-water", reader), "volume", 1000.0, reader, 20.0, 200_000.0, (0.0, 5000.0, 10.0)
        ),
        "water": NumberField(
            say("panel-water-c", reader), "temperature", 26.0, reader, 0.0, 40.0, (0.0, 40.0, 0.5)
        ),
        "altitude": NumberField(say("panel-altitude", reader), "length", 0.0, reader, -400.0, 5000.0),
        "help": NumberField(say("panel-help", reader), "time", 8.0, reader, 0.1, 168.0, (0.0, 24.0, 0.5)),
        "known": ChoiceField(
            say("panel-power-oxygen-known", reader),
            [(say(f"panel-power-oxygen-{one}", reader), one) for one in KNOWN],
            "no",
            reader,
        ),
        "oxygen": NumberField(say("panel-power-oxygen", reader), "", 6.0, reader, 0.0, 300.0),
        "fed": NumberField(say("panel-power-fed", reader), "time", None, reader, 0.0, 240.0, optional=True),
        "off": NumberField(say("panel-power-off", reader), "time", 0.0, reader, 0.0, 168.0),
    }


def compute(desk: Desk | None, values: Values) -> Outage:
    """The clock of this tank; beside a garden that of its own stock, moved by what is typed otherwise."""
    return answered(
        desk,
        Question(
            species=values["species"],
            kg=values["kg"] / 1000.0,
            weight_g=values["weight"],
            tank_l=values["tank"],
            water_c=values["water"],
            altitude_m=values["altitude"],
            hours_until_help=values["help"],
        ),
    )


def answered(desk: Desk | None, asked: Question) -> Outage:
    """A question of these fish. A garden knows its growth and its water within a range, which stays."""
    told = None if desk is None else of_garden(desk)
    if desk is None or desk.balance.outage is None or told is None:
        return power_cut.alone(asked)
    near = {
        one.name: getattr(told, one.name)
        for one in fields(Question)
        if _same(getattr(asked, one.name), getattr(told, one.name))
    }
    return power_cut.moved(desk.balance.outage, told, replace(asked, **near), desk.balance.members)


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """Everything, but no oxygen where it is not known, and no start of the cut where oxygen tells it."""
    names = ("species", "kg", "weight", "tank", "water", "altitude", "help", "known", "fed")
    return (*names, "off") if values["known"] == "no" else (*names, "oxygen")


def from_now(desk: Desk | None, values: Values) -> Found:
    """The same power cut, counted from this moment."""
    outage = compute(desk, values)
    told = {
        "no": None,
        "mg": values["oxygen"],
        "pct": values["oxygen"] / 100.0 * outage.reserve.saturation_mg_l,
    }
    oxygen = told[values["known"]]
    now = Now(oxygen, values["fed"], values["off"] if oxygen is None else 0.0)
    row = tables.load("species").row(values["species"])
    line = max(lines.begins_at("oxygen", "act today", (row,), above=False), outage.reserve.critical_mg_l)
    return Found(outage, power_cut.clock(outage.reserve, now, line), now, values["species"], line)


SAME = 0.005
"""Share by which a field may differ from what it was filled with by its rounding alone."""


def _same(typed: str | float, told: str | float) -> bool:
    """Whether a field holds what the garden told."""
    if isinstance(typed, str) or isinstance(told, str):
        return typed == told
    return math.isclose(typed, told, rel_tol=SAME, abs_tol=1e-6)


def draw(reader: words.Reader, found: Found) -> html.Html:
    """What to do first, the time to act in, the line of time, what closes the gap, what comes after."""
    outage, clock = found.outage, found.clock
    now, *rest = [words.say("panel-power-now", reader), *_lines(reader, found)]
    paragraphs = html.join(*(html.paragraph(line) for line in rest))
    cited = trail.fold(rests.of_outage([found.species]), reader)
    after = html.join(
        *(html.paragraph(words.say(key, reader)) for key in ("panel-power-call", "panel-power-restart"))
    )
    if clock.act_h <= 0.0:
        title = words.say("panel-power-over", reader)
    else:
        response = words.quantity(clock.act_h, "time", reader)
        title = words.say("panel-power-answer", reader, response=response)
    shown = figure(*(picture(reader, found, width) for width in (time_line.PAGE, time_line.PHONE)))
    return answer(title, [now], shown, paragraphs, *_gap(reader, outage), after, cited)


def _lines(reader: words.Reader, found: Found) -> list[str]:
    """The time to the critical oxygen, whatever is known of the moment, and what the fish breathe."""
    clock, unaided = found.clock, found.outage.unaided_kg
    critical = words.span(float(clock.critical_h.low), float(clock.critical_h.high), "time", reader)
    told = found.now != Now()
    key = "panel-power-time-now" if told else "panel-power-time"
    first = words.say(key, reader, danger=critical)
    line = words.say(
        "panel-power-line",
        reader,
        line=words.quantity(found.line_mg_l, "concentration", reader),
        time=words.span(float(clock.line_h.low), float(clock.line_h.high), "time", reader),
        use=words.span(float(clock.use_g_h.low), float(clock.use_g_h.high), "dose", reader),
    )
    kg = words.span(float(unaided.low), float(unaided.high), "biomass", reader)
    wait = words.quantity(found.outage.hours_until_help, "time", reader)
    return [first, line, words.say("panel-power-unaided", reader, kg=kg, help=wait)]


def _gap(reader: words.Reader, outage: Outage) -> list[html.Html]:
    """Air and battery that hold this stock until help is there."""
    if not float(outage.air_l_min.middle) > 0.0:
        return [html.paragraph(words.say("balance-outage-no-gap", reader))]
    air, battery = outage.air_l_min, outage.battery_wh
    said = words.say(
        "panel-power-gap",
        reader,
        air=words.span(float(air.low), float(air.high), "air_flow", reader),
        battery=words.span(float(battery.low), float(battery.high), "energy", reader),
    )
    return [html.paragraph(said)]


def picture(reader: words.Reader, found: Found, width: float = time_line.PAGE) -> html.Html:
    """The time line: by when there must be air, and the bar to the critical oxygen."""
    short, long = float(found.clock.critical_h.low), float(found.clock.critical_h.high)
    marks = [
        Mark(found.clock.act_h, words.say("panel-power-mark-air", reader)),
        Mark(short, words.say("panel-power-mark-danger", reader)),
    ]
    said = ", ".join(f"{mark.text}: {span(mark.hours, reader)}" for mark in marks)
    return time_line.svg(marks, (short, long), said, reader, width=width)


def of_garden(desk: Desk) -> Question | None:
    """The middle of the garden's tank and stock in the month in which help must come soonest."""
    garden, balance = desk.garden, desk.balance
    if balance.outage is None:
        return None
    leading = max(garden.fish, key=lambda batch: batch.count * batch.final_weight_g)
    weight = balance.demand.weight_g.middle[balance.months.index(balance.outage.month)]
    return Question(
        species=leading.species,
        kg=balance.outage.fish_kg,
        weight_g=float(weight),
        tank_l=litres.litres_of(garden).tanks,
        water_c=balance.outage.water_c,
        altitude_m=garden.site.altitude_m,
        hours_until_help=garden.site.hours_until_help,
    )


def known(desk: Desk) -> dict[str, object]:
    """What the fields are filled with: the garden's tank and place, and its stock where it has one."""
    garden, told = desk.garden, of_garden(desk)
    place: dict[str, object] = {
        "tank": litres.litres_of(garden).tanks,
        "altitude": garden.site.altitude_m,
        "help": garden.site.hours_until_help,
    }
    if told is None:
        return place
    stock = {"species": told.species, "kg": 1000.0 * told.kg, "weight": told.weight_g, "water": told.water_c}
    return place | stock


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel(
        "power-cut",
        controls(reader),
        partial(from_now, desk),
        partial(draw, reader),
        reader,
        asked=asked,
    )
    if desk is not None:
        desk.fill(made, known)
    return made
