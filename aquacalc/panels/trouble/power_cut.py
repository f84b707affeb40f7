"""The power is out: how long until someone must have acted, and what closes the gap."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
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
from aquacalc.sizing.power_cut import Clock, Now
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
    """The clock of this tank; of the garden's own stock that of its balance, which knows its spread."""
    found = own(desk, values)
    if found is not None:
        return found
    return power_cut.alone(
        power_cut.Question(
            species=values["species"],
            kg=values["kg"] / 1000.0,
            weight_g=values["weight"],
            tank_l=values["tank"],
            water_c=values["water"],
            altitude_m=values["altitude"],
            hours_until_help=values["help"],
        )
    )


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


def own(desk: Desk | None, values: Values) -> Outage | None:
    """The power cut of the balance, where the fields still hold the garden's own stock; else None."""
    if desk is None or desk.balance.outage is None:
        return None
    told = known(desk)
    asked = {name: told[name] for name in told if name in values}
    return desk.balance.outage if _same(values, asked) else None


SAME = 0.005
"""Share by which a field may differ from what it was filled with by its rounding alone."""


def _same(values: Values, told: Mapping[str, object]) -> bool:
    """Whether all fields hold what the garden told."""
    return all(
        values[name] == told[name]
        if isinstance(told[name], str)
        else math.isclose(values[name], float(str(told[name])), rel_tol=SAME, abs_tol=1e-6)
        for name in told
    )


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
    shown = figure(picture(reader, found))
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


def picture(reader: words.Reader, found: Found) -> html.Html:
    """The time line: by when there must be air, and the bar to the critical oxygen."""
    short, long = float(found.clock.critical_h.low), float(found.clock.critical_h.high)
    marks = [
        Mark(found.clock.act_h, words.say("panel-power-mark-air", reader)),
        Mark(short, words.say("panel-power-mark-danger", reader)),
    ]
    said = ", ".join(f"{mark.text}: {span(mark.hours, reader)}" for mark in marks)
    return time_line.svg(marks, (short, long), said, reader)


def known(desk: Desk) -> dict[str, object]:
    """The garden's tank and stock in the month in which help must come soonest."""
    garden, balance = desk.garden, desk.balance
    told: dict[str, object] = {
        "tank": litres.litres_of(garden).tanks,
        "altitude": garden.site.altitude_m,
        "help": garden.site.hours_until_help,
    }
    if balance.outage is not None:
        leading = max(garden.fish, key=lambda batch: batch.count * batch.final_weight_g)
        weight = balance.demand.weight_g.middle[balance.months.index(balance.outage.month)]
        told |= {
            "species": leading.species,
            "kg": balance.outage.fish_kg * 1000.0,
            "weight": float(weight),
            "water": balance.outage.water_c,
        }
    return told


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
