"""The trade's units into each other: what is typed, in every unit of its kind."""

from collections.abc import Mapping
from functools import partial

from aquacalc import units, words
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import TextField
from aquacalc.panels.frame.panel import Panel, answer
from aquacalc.units import Meaning

KINDS = (
    "volume",
    "flow",
    "air_flow",
    "length",
    "area",
    "mass",
    "temperature",
    "concentration",
    "alkalinity",
    "hardness",
    "conductivity",
    "feed",
    "time",
    "pressure",
    "power",
    "energy",
    "charge",
    "density",
    "speed",
    "irradiation",
    "specific_surface",
    "crop_yield",
    "spacing",
    "heads_per_week",
)
"""Kinds that are converted; a unit that several of them share is shown for each."""

AS_ANOTHER = {"bore": "length", "rain": "length", "temperature_difference": "temperature"}
"""Kinds whose units are all those of another kind, which is shown."""

ONE_UNIT = ("voltage", "light", "share", "angle")
"""Kinds that there is nothing to convert in: one unit, a share and its hundredths, degrees."""

ON_A_LABEL = ("chloride", "content")
"""Kinds whose units mean this only beside a name of their own: mg/L and % are taken for other things here."""

DIGITS = 5


def compute(values: Mapping[str, str]) -> tuple[Meaning, ...]:
    """What the text can mean."""
    return units.meanings(values["text"], KINDS)


def rows(meaning: Meaning) -> list[tuple[str, str]]:
    """Every unit of the kind, the usual ones first; nitrogen in its bases."""
    if meaning.kind == units.NITROGEN:
        label = units.base("concentration").label
        return [
            (f"{label} {basis}", words.number(units.from_n(meaning.value, basis), DIGITS))
            for basis in meaning.bases
        ]
    known = sorted(units.of_kind(meaning.kind), key=lambda unit: not unit.common)
    return [(unit.label, words.number(unit.from_base(meaning.value), DIGITS)) for unit in known]


def draw(reader: words.Reader, found: tuple[Meaning, ...]) -> html.Html:
    """A table for each meaning."""
    tables = []
    for one in found:
        head = (words.say(f"panel-convert-{one.kind.replace('_', '-')}", reader), one.written)
        tables.append(html.table(head, rows(one)))
    written = words.listed(list(dict.fromkeys(one.written for one in found)), reader)
    lines = [words.say("panel-convert-several", reader)] if len(found) > 1 else []
    if any(one.kind == "temperature" for one in found):
        lines.append(words.say("panel-convert-difference", reader))
    title = words.say("panel-convert-answer", reader, written=written)
    return answer(title, [*lines, words.say("panel-convert-hint", reader)], *tables)


def panel(desk: Desk | None = None) -> Panel:
    """The panel; a garden only lends it the reader's language."""
    reader = reader_of(desk)
    fields = {"text": TextField(words.say("panel-convert-text", reader), "300 gal", reader)}

    return Panel("convert", fields, compute, partial(draw, reader), reader)
