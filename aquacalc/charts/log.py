"""The readings of a log as a picture: what each reading allows, as the kit steps, and where to act."""

from __future__ import annotations

import json
from datetime import date
from math import isfinite

from aquacalc import words
from aquacalc.charts.axes import ticks
from aquacalc.charts.picture import FILL, INK, Chart, Layer, alt, finish, plot, quick
from aquacalc.garden.model import Garden
from aquacalc.logbook import trend
from aquacalc.logbook.log import Log

SIZE = (560, 170)
MOST_DAYS = 6
"""Days that are named under the picture."""


@quick
def readings(
    log: Log, garden: Garden, parameter: str, kind: str, reader: words.Reader, title: str, line: float
) -> Chart:
    """The readings of a parameter with the span that each allows, and the line at which to act.

    kind: of quantity. line: in the base unit. A reading at the end of its scale has an open mark: the water
    may lie beyond it.
    """
    found = [one for one in log.all(parameter) if one.basis != "not known"]
    rows = []
    for one in found:
        span = trend.interval(one, garden)
        ends = [end if isfinite(end) else one.value for end in (span.low, span.high)]
        low, value, high = (words.convert(end, kind, reader) for end in (ends[0], one.value, ends[1]))
        open_end = not (isfinite(span.low) and isfinite(span.high))
        rows.append({"day": one.day.toordinal(), "low": low, "value": value, "high": high, "open": open_end})
    act = words.convert(line, kind, reader)
    places = [found[0].day.toordinal(), found[-1].day.toordinal()]
    x = alt.X("day:Q", scale=alt.Scale(domain=places, nice=False), axis=_days(places, reader))
    heights = [act, *(row["low"] for row in rows), *(row["high"] for row in rows)]
    scale = alt.Scale(domain=[min(heights), max(heights)], nice=True, zero=False)
    heading = f"{words.say(f'word-{parameter}', reader)} {words.unit(kind, reader)}".strip()
    y = alt.Y("low:Q", scale=scale, axis=alt.Axis(title=heading, tickCount=5))
    label = words.say("chart-log-act", reader, line=words.quantity(line, kind, reader))
    layers: list[Layer] = [
        plot(rows).mark_rule(strokeWidth=7, color=FILL).encode(x=x, y=y, y2=alt.Y2("high")),
        plot([row for row in rows if not row["open"]])
        .mark_point(filled=True, size=34, color=INK, opacity=1)
        .encode(x=x, y=alt.Y("value:Q", scale=scale)),
        plot([row for row in rows if row["open"]])
        .mark_point(filled=False, size=44, color=INK, opacity=1)
        .encode(x=x, y=alt.Y("value:Q", scale=scale)),
        plot([{"low": act}]).mark_rule(color=INK, strokeDash=[6, 4]).encode(y=alt.Y("low:Q", scale=scale)),
        plot([{"low": act, "day": places[0], "text": label}])
        .mark_text(align="left", baseline="bottom", dx=4, dy=-3, color=INK)
        .encode(x=x, y=alt.Y("low:Q", scale=scale), text=alt.Text("text:N")),
    ]
    said = words.say(
        "chart-log-alt",
        reader,
        name=words.say(f"word-{parameter}", reader),
        readings=str(len(found)),
        when=words.during(found[0].day, found[-1].day, reader),
        last=words.quantity(found[-1].value, kind, reader),
    )
    return finish(layers, title, [words.say("chart-log-key", reader)], said, SIZE)


def _days(places: list[int], reader: words.Reader) -> alt.Axis:
    first, last = places
    marks = sorted({first + round(one) for one in ticks(0.0, float(last - first), MOST_DAYS)})
    marks = [mark for mark in marks if mark <= last]
    names = {str(mark): words.day(date.fromordinal(mark), reader) for mark in marks}
    return alt.Axis(
        title=None, values=marks, grid=False, labelExpr=f"{json.dumps(names, ensure_ascii=True)}[datum.value]"
    )
