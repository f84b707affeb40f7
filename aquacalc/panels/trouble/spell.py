"""A hot or a cold spell is coming: how warm the water may get, when it crosses the line, what to do first."""

import math
from dataclasses import dataclass
from functools import partial
from typing import Literal

from aquacalc import tables, words
from aquacalc.advice import trail as rests
from aquacalc.advice import triage as advice
from aquacalc.advice.triage import Place
from aquacalc.climate import spell
from aquacalc.garden import litres
from aquacalc.judge import temperature
from aquacalc.judge.levels import Level
from aquacalc.pages import html
from aquacalc.panels.frame import lists
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Values, answer
from aquacalc.panels.trouble import triage
from aquacalc.panels.trouble.triage import StepsPanel

Kind = Literal["heat", "cold"]

BEGIN: dict[Kind, tuple[str, float, float, float]] = {
    "heat": ("rainbow_trout", 17.0, 36.0, 10.0),
    "cold": ("nile_tilapia", 18.0, 2.0, 12.0),
}
"""Fish, water now, air to come, hours of it: what the fields begin with."""
BOTTLE_KG = 2.0
"""Ice in a bottle of two litres."""


@dataclass(frozen=True)
class Spell:
    """Water after the spell, its level for the fish, hours to the line, ice that keeps it there."""

    kind: Kind
    species: str
    hours: float
    water_c: float
    level: Level
    line_c: float
    line_h: float
    ice_kg: float
    place: Place
    garden: str


def controls(kind: Kind, reader: words.Reader) -> dict[str, Field]:
    """Fish, water, air, how long, and whether the tank is wrapped."""
    say = words.say
    species, water_c, air_c, hours = BEGIN[kind]
    walls = [(say("panel-walls-bare", reader), "bare"), (say("panel-walls-wrapped", reader), "wrapped")]
    return {
        "species": ChoiceField(say("panel-species", reader), lists.species(), species, reader),
        "water": NumberField(say("panel-water-now", reader), "temperature", water_c, reader, 0.0, 45.0),
        "air": NumberField(
            say("panel-air-to-come", reader), "temperature", air_c, reader, -40.0, 55.0, (-20.0, 50.0, 1.0)
        ),
        "hours": NumberField(say("panel-spell-hours", reader), "time", hours, reader, 0.5, 240.0),
        "volume": NumberField(say("panel-tank-water", reader), "volume", 1000.0, reader, 10.0, 1e6),
        "walls": ChoiceField(say("panel-walls", reader), walls, "bare", reader),
    }


def compute(kind: Kind, desk: Desk | None, values: Values) -> Spell:
    """The water on its way to the air, by its walls alone."""
    row = tables.load("species").row(values["species"])
    line_c = row.number("t_stress_high_c" if kind == "heat" else "t_feed_stop_low_c")
    volume, wrapped = values["volume"], values["walls"] == "wrapped"
    after_c = float(spell.after_c(values["water"], values["air"], values["hours"], volume, wrapped))
    over_k = after_c - line_c if kind == "heat" else 0.0
    return Spell(
        kind=kind,
        species=values["species"],
        hours=values["hours"],
        water_c=after_c,
        level=temperature.level(after_c, (row,)),
        line_c=line_c,
        line_h=_line_h(kind, line_c, values, wrapped),
        ice_kg=spell.ice_kg(volume, over_k, line_c) if over_k > 0.0 else 0.0,
        place=advice.Place(species=values["species"]),
        garden="" if desk is None else desk.garden.name,
    )


def _line_h(kind: Kind, line_c: float, values: Values, wrapped: bool) -> float:
    beyond = values["water"] >= line_c if kind == "heat" else values["water"] <= line_c
    if beyond:
        return 0.0
    return spell.hours_to_c(values["water"], line_c, values["air"], values["volume"], wrapped)


def draw(reader: words.Reader, found: Spell) -> html.Html:
    """The temperature and its level large; when the line is crossed; then the steps."""
    steps = advice.triage_of(found.kind, found.place)
    title = words.say(
        "panel-spell-answer",
        reader,
        hours=words.quantity(found.hours, "time", reader),
        water=words.quantity(found.water_c, "temperature", reader),
        level=words.level(found.level, reader),
    )
    line = words.quantity(found.line_c, "temperature", reader)
    lines = [words.say(steps.before, reader)]
    if found.level == "fine":
        lines.append(words.say("panel-spell-ready", reader))
    if found.line_h == 0.0:
        lines.append(words.say(f"panel-spell-{found.kind}-now", reader, line=line))
    elif math.isfinite(found.line_h) and found.line_h <= found.hours:
        when = words.quantity(found.line_h, "time", reader)
        lines.append(words.say(f"panel-spell-{found.kind}-then", reader, line=line, when=when))
    else:
        lines.append(words.say(f"panel-spell-{found.kind}-not", reader, line=line))
    if found.ice_kg > 0.0:
        lines.append(
            words.say(
                "panel-spell-ice",
                reader,
                ice=words.quantity(found.ice_kg, "biomass", reader),
                bottles=math.ceil(found.ice_kg / BOTTLE_KG),
            )
        )
    lines.append(words.say("panel-spell-weak", reader))
    return answer(title, lines, triage.doing(reader, steps, found.level != "fine"))


def after(reader: words.Reader, found: Spell) -> html.Html:
    """What to measure then, and the rest."""
    reckoned = rests.of_spell(found.species, found.kind == "heat")
    return triage.rest(reader, advice.triage_of(found.kind, found.place), found.garden, reckoned)


def told(kind: Kind, desk: Desk) -> dict[str, object]:
    """The garden's tender fish, the water of its fish tanks, in its warmest or coldest month."""
    species, water_c = triage.of_garden(desk).species, desk.balance.water_c.middle
    usual_c = float(water_c.max() if kind == "heat" else water_c.min())
    found: dict[str, object] = {"volume": litres.litres_of(desk.garden).tanks, "water": usual_c}
    return found | ({"species": species} if species else {})


def panel(kind: Kind, desk: Desk | None = None) -> StepsPanel:
    """The panel, filled from the garden where there is one. kind: `heat` or `cold`."""
    reader = reader_of(desk)
    made = StepsPanel(
        kind,
        controls(kind, reader),
        partial(compute, kind, desk),
        partial(draw, reader),
        partial(after, reader),
        reader,
        ("species", "water", "air", "hours"),
    )
    if desk is not None:
        desk.fill(made, partial(told, kind))
    return made
