"""The last readings of a log as a grower would type them: in the kit's own counts, with unit or basis."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from aquacalc import kits, units, words
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log, Reading
from aquacalc.pages import kit

PLAIN = {"ph": "", "oxygen": " mg/L", "chlorine": " mg/L", "chloride": " mg/L", "conductivity": " uS/cm"}
"""What stands behind readings that are shown as they are counted."""

DECIMALS = 3


@dataclass(frozen=True)
class Logged:
    """The readings of one row of a log. typed: texts by parameter."""

    day: date
    typed: Mapping[str, str]


def last(log: Log | None, garden: Garden, reader: words.Reader) -> Logged | None:
    """The newest row that holds a reading of the water; None without a log or without such a row."""
    for row in reversed(log.rows if log is not None else ()):
        typed = {one.parameter: text for one in row.readings if (text := written(one, garden, reader))}
        if typed:
            return Logged(row.day, typed)
    return None


def written(one: Reading, garden: Garden, reader: words.Reader) -> str:
    """A reading as it would be typed; empty for what is no reading of the water."""
    text = one.text.strip()
    sign = text[0] if text[:1] in ("<", ">") else ""
    if one.parameter == "temperature":
        degrees = "f" if reader.units == "us" else "c"
        return f"{sign}{_figure(units.to(one.value, degrees))} {degrees.upper()}"
    if one.parameter in PLAIN:
        return f"{sign}{_figure(one.value)}{PLAIN[one.parameter]}"
    if one.parameter not in (*kits.NITROGEN, *kits.IN_A_UNIT):
        return ""
    if one.basis == kits.NOT_KNOWN or (one.parameter in kits.IN_A_UNIT and not one.unit):
        return f"{sign}{_figure(one.value)}"
    scale = kit.scale_of(garden, one.parameter)
    shown = kits.as_shown(one.value, scale)
    if shown is None:
        counted = "N" if one.parameter in kits.NITROGEN else "mg/L CaCO3"
        return f"{sign}{_figure(one.value)} {counted}"
    # A bare count of drops is read with the kit's own error; with a unit it could be anybody's.
    own = "" if one.parameter in kits.IN_A_UNIT else f" {kit.label(scale)}"
    return f"{sign}{_figure(shown)}{own}"


def _figure(value: float) -> str:
    return f"{round(value, DECIMALS):g}"
