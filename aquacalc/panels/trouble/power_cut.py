"""The power is out: how long until someone must have acted, and what closes the gap."""

import math
from collections.abc import Mapping

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.garden import litres
from aquacalc.pages import html, time_line, trail
from aquacalc.pages.time_line import Mark, span
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import GRAMS, KILOGRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer, figure
from aquacalc.sizing import power_cut
from aquacalc.sizing.result import Outage


def controls(reader: words.Reader) -> dict[str, Field]:
    """Seven numbers that a person beside the tank can tell."""
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


def draw(reader: words.Reader, found: Outage, species: str) -> html.Html:
    """The response time large; beneath it the time to danger and what closes the gap."""
    danger, unaided = found.danger_h, found.unaided_kg
    kg = words.span(float(unaided.low), float(unaided.high), "biomass", reader)
    lines = [
        words.say(
            "panel-power-time",
            reader,
            danger=words.span(float(danger.low), float(danger.high), "time", reader),
        ),
        words.say(
            "panel-power-unaided", reader, kg=kg, help=words.quantity(found.hours_until_help, "time", reader)
        ),
    ]
    if float(found.air_l_min.middle) > 0.0:
        air, battery = found.air_l_min, found.battery_wh
        lines.append(
            words.say(
                "panel-power-gap",
                reader,
                air=words.span(float(air.low), float(air.high), "air_flow", reader),
                battery=words.span(float(battery.low), float(battery.high), "energy", reader),
            )
        )
    else:
        lines.append(words.say("balance-outage-no-gap", reader))
    title = words.say("panel-power-answer", reader, response=words.quantity(found.response_h, "time", reader))
    now, *rest = [words.say("panel-power-now", reader), *lines]
    paragraphs = html.join(*(html.paragraph(line) for line in rest))
    cited = trail.fold(rests.of_outage([species]), reader)
    return answer(title, [now], figure(picture(reader, found)), paragraphs, cited)


def picture(reader: words.Reader, found: Outage) -> html.Html:
    """The time line: by when there must be air, and the bar to the critical oxygen."""
    short, long = float(found.danger_h.low), float(found.danger_h.high)
    marks = [
        Mark(found.response_h, words.say("panel-power-mark-air", reader)),
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
        lambda values: (compute(desk, values), values["species"]),
        lambda found: draw(reader, *found),
        reader,
    )
    if desk is not None:
        desk.fill(made, known)
    return made
