"""Water of the days that come, in words: how far it goes, when it passes the line of the fish, what helps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from aquacalc import words
from aquacalc.constants import HOURS_PER_DAY

if TYPE_CHECKING:
    from aquacalc.sizing.forecast import Forecast, Kind, Way
    from aquacalc.uncertainty import Band
    from aquacalc.words import Reader


def end_of(way: Way, kind: Kind) -> tuple[Band, float]:
    """The peak, or the lowest, and its hour."""
    return (way.peak_c, way.peak_h) if kind == "heat" else (way.lowest_c, way.lowest_h)


def title(found: Forecast, reader: Reader) -> str:
    """The end with its range and hour, and its level on the worse side."""
    end, hour = end_of(found.ways["now"], found.kind)
    return words.say(
        f"forecast-answer-{found.kind}",
        reader,
        water=_span(end, reader),
        when=_when(hour, reader),
        level=words.level(found.level, reader),
    )


def lines(found: Forecast, reader: Reader) -> list[str]:
    """When the middle passes the line; ice."""
    line = words.quantity(found.line_c, "temperature", reader)
    told = [words.say(f"forecast-stays-{found.kind}", reader, line=line)]
    if math.isfinite(found.passes_h):
        when = _when(found.passes_h, reader)
        told = [words.say(f"forecast-passes-{found.kind}", reader, line=line, when=when)]
    if float(found.ways["now"].lowest_c.low) < 0.0:
        told.append(words.say("forecast-ice", reader))
    return told


def head(found: Forecast, reader: Reader) -> list[str]:
    """Heads of the table of deeds."""
    return [words.say(f"forecast-head-{one}", reader) for one in ("deed", found.kind, "helps")]


def rows(found: Forecast, reader: Reader) -> list[tuple[str, str, str]]:
    """Each way: its peak or lowest, and what it takes off or keeps."""
    as_it_is, _ = end_of(found.ways["now"], found.kind)
    made = []
    for name, way in found.ways.items():
        end, _ = end_of(way, found.kind)
        helps = abs(float(end.middle) - float(as_it_is.middle))
        gain = "" if name == "now" else words.quantity(helps, "temperature_difference", reader)
        made.append((words.say(f"forecast-way-{name}", reader), _span(end, reader), gain))
    return made


def to_do(found: Forecast, reader: Reader) -> Sequence[str]:
    """What comes first, and how to check it."""
    return [words.say(f"forecast-do-{found.kind}", reader), words.say("forecast-check", reader)]


def _span(end: Band, reader: Reader) -> str:
    """Water does not fall below its freezing point: it turns to ice there."""
    low, high = max(float(end.low), 0.0), max(float(end.high), 0.0)
    return words.span(low, high, "temperature", reader)


def _when(hour: float, reader: Reader) -> str:
    """Day of the forecast and clock hour."""
    day, clock = divmod(hour, HOURS_PER_DAY)
    return words.say("forecast-when", reader, day=str(int(day) + 1), hour=f"{int(clock):02d}:00")
