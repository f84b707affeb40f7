"""How much water is it? From a tape measure or from any unit, in litres and gallons."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from math import isnan, nan

from aquacalc import units, words
from aquacalc.errors import InputError, Problem
from aquacalc.hydraulics import shapes
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer

ASKED = {
    "box": ("length", "width", "depth"),
    "round": ("diameter", "depth"),
    "oval": ("length", "width", "depth"),
    "trough": ("length", "width", "depth"),
    "tapered": ("length", "width", "top_length", "top_width", "height", "depth"),
    "lying": ("diameter", "length", "depth"),
    "cone": ("diameter", "cone", "depth"),
    "known": ("volume",),
}
"""Shapes and what is asked of each."""

HIGHEST = {"lying": "diameter", "tapered": "height"}
"""Shapes that end somewhere, and the measure that says where."""


@dataclass(frozen=True)
class Water:
    """Litres, and the surface in m2; NaN where only the volume is known."""

    volume_l: float
    surface_m2: float = nan


def controls(reader: words.Reader) -> dict[str, Field]:
    """Shape and its measures; a plain volume where it is known."""
    say = words.say
    shape = [(say(f"panel-shape-{key}", reader), key) for key in ASKED]

    def side(key: str, value: float) -> NumberField:
        return NumberField(say(key, reader), "length", value, reader, 0.05, 50.0)

    return {
        "shape": ChoiceField(say("panel-shape", reader), shape, "box", reader),
        "length": side("panel-length", 1.2),
        "width": side("panel-width", 1.0),
        "top_length": side("panel-top-length", 1.3),
        "top_width": side("panel-top-width", 1.1),
        "height": side("panel-vessel-height", 1.0),
        "diameter": side("panel-diameter", 1.22),
        "cone": side("panel-cone", 0.3),
        "depth": NumberField(say("panel-depth", reader), "length", 0.6, reader, 0.01, 5.0),
        "volume": NumberField(say("panel-volume", reader), "volume", 1000.0, reader, 0.0, 1e6),
    }


def compute(values: Values) -> Water:
    """Litres and surface; `InputError` where the water stands above the vessel."""
    shape, depth = values["shape"], values["depth"]
    if shape in HIGHEST and depth > values[HIGHEST[shape]]:
        most = f"{values[HIGHEST[shape]]:.3g} m"
        raise InputError(Problem("problem-depth-above-rim", "", f"{depth:.3g} m", (most,)))
    long, wide, across = values["length"], values["width"], values["diameter"]
    match shape:
        case "box":
            found = shapes.box_l(long, wide, depth), long * wide
        case "round":
            found = shapes.round_l(across, depth), shapes.round_m2(across)
        case "oval":
            found = shapes.oval_l(long, wide, depth), shapes.oval_m2(long, wide)
        case "trough":
            long, wide = max(long, wide), min(long, wide)
            found = shapes.trough_l(long, wide, depth), shapes.trough_m2(long, wide)
        case "tapered":
            top_long = shapes.at_line_m(long, values["top_length"], values["height"], depth)
            top_wide = shapes.at_line_m(wide, values["top_width"], values["height"], depth)
            found = shapes.tapered_l(long, wide, top_long, top_wide, depth), top_long * top_wide
        case "lying":
            found = (
                shapes.lying_cylinder_l(across, long, depth),
                shapes.lying_cylinder_m2(across, long, depth),
            )
        case "cone":
            found = (
                shapes.cone_bottom_l(across, values["cone"], depth),
                shapes.cone_bottom_m2(across, values["cone"], depth),
            )
        case _:
            return Water(float(values["volume"]))
    volume_l, surface_m2 = found
    return Water(float(volume_l), float(surface_m2))


def draw(reader: words.Reader, water: Water) -> html.Html:
    """The volume in the units that labels and shops use."""
    shown = words.quantity(water.volume_l, "volume", reader, digits=3)
    rows = [
        (unit.label, words.number(unit.from_base(water.volume_l), digits=3))
        for unit in units.common("volume")
    ]
    head = (words.say("panel-volume-unit", reader), words.say("panel-volume", reader))
    lines = [words.say("panel-volume-hint", reader)]
    if not isnan(water.surface_m2):
        surface = words.quantity(water.surface_m2, "area", reader)
        lines.insert(0, words.say("panel-volume-surface", reader, surface=surface))
    return answer(words.say("panel-volume-answer", reader, volume=shown), lines, html.table(head, rows))


def panel(desk: Desk | None = None) -> Panel:
    """The panel; a garden only lends it the reader's units."""
    reader = reader_of(desk)

    def asked(values: Mapping[str, object]) -> tuple[str, ...]:
        return ("shape", *ASKED[str(values["shape"])])

    return Panel("volume", controls(reader), compute, partial(draw, reader), reader, asked=asked)
