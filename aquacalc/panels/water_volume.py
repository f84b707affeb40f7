"""How much water is it? From a tape measure or from any unit, in litres and gallons."""

from collections.abc import Mapping
from functools import partial

from aquacalc import units, words
from aquacalc.hydraulics import shapes
from aquacalc.pages import html
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer

ASKED = {"box": ("length", "width", "depth"), "round": ("diameter", "depth"), "known": ("volume",)}


def controls(reader: words.Reader) -> dict[str, Field]:
    """Shape and its measures; a plain volume where it is known."""
    say = words.say
    shape = [(say(f"panel-shape-{key}", reader), key) for key in ASKED]
    return {
        "shape": ChoiceField(say("panel-shape", reader), shape, "box", reader),
        "length": NumberField(say("panel-length", reader), "length", 1.2, reader, 0.05, 50.0),
        "width": NumberField(say("panel-width", reader), "length", 1.0, reader, 0.05, 50.0),
        "diameter": NumberField(say("panel-diameter", reader), "length", 1.22, reader, 0.05, 50.0),
        "depth": NumberField(say("panel-depth", reader), "length", 0.6, reader, 0.01, 5.0),
        "volume": NumberField(say("panel-volume", reader), "volume", 1000.0, reader, 0.0, 1e6),
    }


def compute(values: Values) -> float:
    """Litres."""
    if values["shape"] == "round":
        return float(shapes.round_l(values["diameter"], values["depth"]))
    if values["shape"] == "box":
        return float(shapes.box_l(values["length"], values["width"], values["depth"]))
    return float(values["volume"])


def draw(reader: words.Reader, volume_l: float) -> html.Html:
    """The volume in the units that labels and shops use."""
    shown = words.quantity(volume_l, "volume", reader, digits=3)
    rows = [(unit.label, words.number(unit.from_base(volume_l), digits=3)) for unit in units.common("volume")]
    head = (words.say("panel-volume-unit", reader), words.say("panel-volume", reader))
    return answer(
        words.say("panel-volume-answer", reader, volume=shown),
        [words.say("panel-volume-hint", reader)],
        html.table(head, rows),
    )


def panel(desk: Desk | None = None) -> Panel:
    """The panel; a garden only lends it the reader's units."""
    reader = reader_of(desk)

    def asked(values: Mapping[str, object]) -> tuple[str, ...]:
        return ("shape", *ASKED[str(values["shape"])])

    return Panel("volume", controls(reader), compute, partial(draw, reader), reader, asked=asked)
