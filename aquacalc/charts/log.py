"""The readings of a log as a picture: what each reading allows, what happened, where to act, the season."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from math import isfinite
from typing import Any

from aquacalc import words
from aquacalc.charts.axes import ticks
from aquacalc.charts.picture import FILL, GRID, INK, Chart, Layer, alt, finish, plot, quick
from aquacalc.garden.model import Garden
from aquacalc.logbook import own, trend
from aquacalc.logbook.log import Log
from aquacalc.uncertainty import Band


@dataclass(frozen=True)
class Sheet:
    """Width and height of the plot, px, and how many days are named under it at most."""

    width: int
    height: int
    most_days: int


PAGE, PHONE = Sheet(560, 190, 6), Sheet(270, 170, 3)
OWN = ("nitrogen", "alkalinity")
"""Kinds that are drawn as the log writes them."""
NEAR_PX = 17.0
"""Marks that are nearer than this have one name together."""


@dataclass(frozen=True)
class Mark:
    """Something that happened on a day, and its number in the list beside the picture."""

    day: date
    number: int


@dataclass(frozen=True)
class Season:
    """The band of a season in the base unit: one value a day from `first` on."""

    first: date
    band: Band


@quick
def readings(
    log: Log,
    garden: Garden,
    parameter: str,
    kind: str,
    reader: words.Reader,
    title: str,
    line: float | None,
    marks: Sequence[Mark] = (),
    season: Season | None = None,
    keyed: bool = True,
    sheet: Sheet = PAGE,
) -> Chart:
    """The readings of a parameter with the span that each allows, and the line at which to act.

    Nitrogen and alkalinity stand in the unit in which the newest reading was typed.

    kind: of quantity. line: in the base unit, None where there is none. A reading at the end of its scale has
    an open mark: the water may lie beyond it. marks: what happened, as thin upright lines with numbers.
    season: drawn as a field with a line behind the readings. keyed: say how to read it.
    """
    found = [one for one in log.all(parameter) if one.basis != "not known"]
    typed = found[-1]
    own_unit = kind in OWN and own.text(typed, typed.value) != own.NONE

    def shown(value: float) -> float:
        return typed.as_typed(value) if own_unit else words.convert(value, kind, reader)

    rows = []
    for one in found:
        span = trend.interval(one, garden)
        ends = [end if isfinite(end) else one.value for end in (span.low, span.high)]
        low, value, high = (shown(end) for end in (ends[0], one.value, ends[1]))
        open_end = not (isfinite(span.low) and isfinite(span.high))
        rows.append({"day": one.day.toordinal(), "low": low, "value": value, "high": high, "open": open_end})
    places = [found[0].day.toordinal(), found[-1].day.toordinal()]
    x = alt.X(
        "day:Q", scale=alt.Scale(domain=places, nice=False), axis=_days(places, reader, sheet.most_days)
    )
    expected = [] if season is None else _season(season, places, shown)
    act = None if line is None else shown(line)
    heights = [height for row in rows + expected for height in (row["low"], row["high"])]
    heights += _near(act, heights)
    scale = alt.Scale(domain=[min(heights), max(heights)], nice=True, zero=False)
    unit = typed.own_label if own_unit else words.unit(kind, reader)
    heading = f"{words.say(f'word-{parameter}', reader)} {unit}".strip()
    axis = alt.Axis(title=heading, tickCount=5)
    y = alt.Y("low:Q", scale=scale, axis=axis)
    middle = alt.Y("value:Q", scale=scale, axis=axis)
    layers: list[Layer] = []
    if expected:
        layers += [
            plot(expected).mark_area(color=GRID, opacity=1).encode(x=x, y=y, y2=alt.Y2("high")),
            plot(expected).mark_line(color=INK, strokeWidth=1, strokeDash=[2, 3]).encode(x=x, y=middle),
        ]
    layers += _marks(marks, places, x, sheet)
    layers += [
        plot(rows).mark_rule(strokeWidth=7, color=FILL).encode(x=x, y=y, y2=alt.Y2("high")),
        plot(rows).mark_rule(strokeWidth=1, color=INK).encode(x=x, y=y, y2=alt.Y2("high")),
        plot([row for row in rows if not row["open"]])
        .mark_point(filled=True, size=34, color=INK, opacity=1)
        .encode(x=x, y=middle),
        plot([row for row in rows if row["open"]])
        .mark_point(filled=False, size=44, color=INK, opacity=1)
        .encode(x=x, y=middle),
    ]
    if act is not None and line is not None:
        at = own.text(typed, line) if own_unit else words.quantity(line, kind, reader)
        label = words.say("chart-log-act", reader, line=at)
        layers += [
            plot([{"low": act}]).mark_rule(color=INK, strokeDash=[6, 4], clip=True).encode(y=y),
            plot([{"low": act, "day": places[0], "text": label}])
            .mark_text(align="left", baseline="bottom", dx=4, dy=-3, color=INK, clip=True)
            .encode(x=x, y=y, text=alt.Text("text:N")),
        ]
    said = words.say(
        "chart-log-alt",
        reader,
        name=words.say(f"word-{parameter}", reader),
        readings=str(len(found)),
        when=words.during(found[0].day, found[-1].day, reader),
        last=words.quantity(found[-1].value, kind, reader),
    )
    keys = [words.say("chart-log-key", reader)] if keyed else []
    if keyed and marks:
        keys.append(words.say("chart-log-numbers", reader))
    if keyed and expected:
        keys.append(words.say("chart-log-band", reader))
    return finish(layers, title, keys, said, (sheet.width, sheet.height))


def _near(act: float | None, heights: Sequence[float]) -> list[float]:
    """The line to act at where it leaves the readings at least half of the picture."""
    if act is None:
        return []
    low, high = min(heights), max(heights)
    room = 2.0 * max(high - low, 0.1 * abs(high), 1e-9)
    return [act] if high - room <= act <= low + room else []


def _season(season: Season, places: Sequence[int], shown: Callable[[float], float]) -> list[dict[str, Any]]:
    first = season.first.toordinal()
    rows = []
    for number, ends in enumerate(zip(season.band.low, season.band.middle, season.band.high, strict=True)):
        if places[0] <= first + number <= places[1] and all(isfinite(end) for end in ends):
            low, middle, high = (shown(float(end)) for end in ends)
            rows.append({"day": first + number, "low": low, "value": middle, "high": high})
    return rows


def _marks(marks: Sequence[Mark], places: Sequence[int], x: alt.X, sheet: Sheet) -> list[Layer]:
    first, last = places
    inside = [one for one in marks if first <= one.day.toordinal() <= last]
    if not inside:
        return []
    lines = plot([{"day": one.day.toordinal()} for one in inside])
    groups: list[list[Mark]] = []
    for one in inside:
        near = NEAR_PX / sheet.width * (last - first)
        if groups and one.day.toordinal() - groups[-1][0].day.toordinal() <= near:
            groups[-1].append(one)
        else:
            groups.append([one])
    names = plot([{"day": group[0].day.toordinal(), "text": _numbers(group)} for group in groups])
    return [
        lines.mark_rule(color=INK, strokeWidth=0.7, strokeDash=[1, 3]).encode(x=x),
        names.mark_text(align="left", baseline="bottom", dx=-3, dy=-2, color=INK, fontSize=11).encode(
            x=x, y=alt.value(0), text=alt.Text("text:N")
        ),
    ]


def _numbers(group: Sequence[Mark]) -> str:
    first, last = group[0].number, group[-1].number
    return str(first) if first == last else f"{first}\u2013{last}"


def _days(places: list[int], reader: words.Reader, most: int) -> alt.Axis:
    first, last = places
    marks = sorted({first + round(one) for one in ticks(0.0, float(last - first), most)})
    marks = [mark for mark in marks if mark <= last]
    names = {str(mark): words.day(date.fromordinal(mark), reader) for mark in marks}
    return alt.Axis(
        title=None, values=marks, grid=False, labelExpr=f"{json.dumps(names, ensure_ascii=True)}[datum.value]"
    )
