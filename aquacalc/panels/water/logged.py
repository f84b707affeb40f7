"""The last readings of a log as a grower would type them: in the kit's own counts, with unit or basis."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from aquacalc import units, words
from aquacalc.garden.model import Garden
from aquacalc.logbook import typed
from aquacalc.logbook.log import Log, Reading
from aquacalc.pages import kit

DIGITS = 4
"""Of a reading in a box."""


@dataclass(frozen=True)
class Logged:
    """The readings of one row of a log. typed: texts by parameter."""

    day: date
    typed: Mapping[str, str]


def last(log: Log | None, garden: Garden, reader: words.Reader) -> Logged | None:
    """The newest row that holds a reading of the water; None without a log or without such a row."""
    for row in reversed(log.rows if log is not None else ()):
        found = {one.parameter: text for one in row.readings if (text := written(one, garden, reader))}
        if found:
            return Logged(row.day, found)
    return None


def written(one: Reading, garden: Garden, reader: words.Reader) -> str:
    """A reading as it would be typed; empty for what is no reading of the water."""
    if one.parameter == "temperature" and reader.units == "us":
        return f"{typed.sign_of(one)}{units.to(one.value, 'f'):.{DIGITS}g} F"
    return typed.text_of(one, kit.scale_of(garden, one.parameter), DIGITS)
