"""The course of a start-up: ammonia, nitrite and nitrate as bands on one time axis, readings, and the dates.

Ammonia, nitrite and nitrate differ by the dash of their lines first; every line carries its name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import isfinite

import numpy as np

from aquacalc import words
from aquacalc.charts.axes import round_up, spread, ticks
from aquacalc.charts.canvas import NARROW, Canvas
from aquacalc.charts.picture import FILL, INK, Chart, finish, quick
from aquacalc.charts.season_days import Days
from aquacalc.charts.sheet import Sheet
from aquacalc.startup import doses, plan
from aquacalc.startup.plan import StartUp
from aquacalc.startup.readings import Parameter, Reading
from aquacalc.uncertainty import Band, Floats

HEAD_PX, PLOT_PX, GAP_PX = 20.0, 104.0, 12.0
ROW_PX = 23.0
MONTHS_PX = 32.0
TEXT_SIZE, SMALL_SIZE = 12.0, 11.0
READ_INK = "#4a4a4a"
LINE_INK = "#8a3a05"
LINE_DASH = (5, 3)

DASHES: dict[Parameter, tuple[int, ...]] = {"tan": (1, 0), "nitrite": (8, 4), "nitrate": (2, 3)}
SHOWN: tuple[Parameter, ...] = ("tan", "nitrite", "nitrate")
LEAST_DAYS, SPARE_DAYS = 28, 7
ROOM = 1.08
LEAST_TOP_MG_L = 1.0


class Named(Sheet):
    """A sheet that knows where the names of its lines stand."""

    @property
    def label_x(self) -> float:
        """Where names begin, or end."""
        return self.right - 2.0 if self.inside else self.right + 10.0

    def name(self, canvas: Canvas, text: str, x: float, y: float) -> None:
        """The name of a line that ends at the height `y`; x: where it begins beside the plot."""
        if self.inside:
            canvas.text(text, self.label_x, y - 9.0, "right", SMALL_SIZE, halo=True)
        else:
            canvas.text(text, x, y, size=SMALL_SIZE)


PAGE = Named(750.0, 46.0, 640.0)
PHONE = Named(NARROW, 34.0, NARROW - 4.0, inside=True)


@dataclass(frozen=True)
class Axis:
    """The time axis: first day and number of days, kept while a control moves."""

    first: date
    days: int


def axis(start: StartUp) -> Axis:
    """Days to be shown: until the last try is likely to have its full feed, and no further than was run."""
    last = start.span("full_feed").high
    course = start.forecast.course.days
    wanted = last + SPARE_DAYS if isfinite(last) else course
    return Axis(start.first, int(min(max(wanted, LEAST_DAYS), course + plan.STOCK_AFTER_DAYS + SPARE_DAYS)))


@quick
def course(start: StartUp, reader: words.Reader, title: str, kept: Axis | None = None) -> Chart:
    """Three plots one under the other, and the dates of what happens beneath them.

    kept: the axis to be used, else that of the start-up. Bars with a short line are readings and the span
    that each allows.
    """
    canvas = _course(start, reader, kept or axis(start), PAGE)
    return finish(canvas.layers(), title, [_key(reader)], describe(start, reader), canvas.size)


def course_on_phone(start: StartUp, reader: words.Reader, kept: Axis | None = None) -> str:
    """The same without a title, as wide as a phone, as SVG."""
    canvas = _course(start, reader, kept or axis(start), PHONE)
    return canvas.svg(describe(start, reader), notes=[_key(reader)])


def _key(reader: words.Reader) -> str:
    return words.say("chart-startup-key", reader)


def _course(start: StartUp, reader: words.Reader, at: Axis, sheet: Named) -> Canvas:
    rows = len(plan.NAMES)
    plots = len(SHOWN) * (HEAD_PX + PLOT_PX + GAP_PX)
    canvas = Canvas(sheet.width, plots + HEAD_PX + rows * ROW_PX + MONTHS_PX)
    days = Days(at.first, at.days, sheet.left, sheet.right)
    top = 0.0
    for parameter in SHOWN:
        _plot(canvas, days, top, start, parameter, reader, sheet)
        top += HEAD_PX + PLOT_PX + GAP_PX
    _dates(canvas, days, top, start, reader)
    foot = top + HEAD_PX + rows * ROW_PX
    _today(canvas, days, start, foot, reader)
    days.write_months(canvas, foot + 8.0, reader, years=True)
    return canvas


@quick
def together(start: StartUp, reader: words.Reader, title: str) -> Chart:
    """The middle of the tries: all three in one plot, by the day, for an explanation."""
    canvas = _together(start, reader, PAGE)
    key = words.say("chart-startup-middle", reader)
    return finish(canvas.layers(), title, [key], describe(start, reader), canvas.size)


def together_on_phone(start: StartUp, reader: words.Reader) -> str:
    """The same without a title, as wide as a phone, as SVG."""
    canvas = _together(start, reader, PHONE)
    return canvas.svg(describe(start, reader), notes=[words.say("chart-startup-middle", reader)])


def _together(start: StartUp, reader: words.Reader, sheet: Named) -> Canvas:
    at = axis(start)
    canvas = Canvas(sheet.width, HEAD_PX + 2.0 * PLOT_PX + MONTHS_PX)
    end = _until(start, at.days)
    at = Axis(at.first, end)
    days = Days(at.first, at.days, sheet.left, sheet.right)
    curves = {name: _middle(start, name)[:end] for name in SHOWN}
    # What a nitrate kit shows counts nitrite; here nitrate is meant alone.
    curves["nitrate"] = np.maximum(curves["nitrate"] - curves["nitrite"], 0.0)
    upper = round_up(ROOM * max(float(curves[name].max()) for name in ("tan", "nitrite")))
    curves["nitrate"] = np.where(curves["nitrate"] > upper, np.nan, curves["nitrate"])
    head, foot = HEAD_PX, HEAD_PX + 2.0 * PLOT_PX
    canvas.text(_heading("startup-axis-all", reader), 0.0, 9.0, size=TEXT_SIZE)
    _grid(canvas, days, head, foot, upper)
    names = []
    for name, values in curves.items():
        y = foot - np.clip(values, 0.0, upper) / upper * (foot - head)
        canvas.line(days.middles[: values.size], y, INK, 2.0, DASHES[name])
        last = int(np.flatnonzero(np.isfinite(values))[-1])
        names.append((words.say(f"startup-line-{name}", reader), days.x(last + 0.5), float(y[last])))
    places = spread([place for _, _, place in names], 16.0, head, foot)
    for (text, x, y_end), place in zip(names, places, strict=True):
        if not sheet.inside:
            canvas.rule(x, y_end, sheet.label_x - 2.0, place, 0.7, ink="#707070")
        sheet.name(canvas, text, sheet.label_x, place)
    days.write_months(canvas, foot + 10.0, reader, years=True)
    return canvas


def _plot(
    canvas: Canvas,
    days: Days,
    top: float,
    start: StartUp,
    parameter: Parameter,
    reader: words.Reader,
    sheet: Named,
) -> None:
    head, foot = top + HEAD_PX, top + HEAD_PX + PLOT_PX
    # After the challenge nobody goes on dosing: nitrate would pile up on paper only.
    end = _until(start, days.count) if parameter == "nitrate" else days.count
    band = _cut(start.forecast.band(parameter), end)
    read = [one for one in start.forecast.readings if one.parameter == parameter and one.day < days.count]
    upper = _top(band, read)

    def y(values: Floats) -> Floats:
        return np.asarray(foot - np.clip(values, 0.0, upper) / upper * (foot - head))

    canvas.text(_heading(f"startup-axis-{parameter}", reader), 0.0, top + 9.0, size=TEXT_SIZE)
    _grid(canvas, days, head, foot, upper)
    x = days.middles[: band.middle.size]
    canvas.area(x, y(band.low), y(band.high), FILL)
    canvas.line(x, y(band.middle), INK, 1.8, DASHES[parameter])
    if parameter == "nitrite" and upper > doses.HOLD_NITRITE_MG_L:
        at = float(y(np.array(doses.HOLD_NITRITE_MG_L)))
        canvas.rule(days.left, at, days.right, at, 1.2, LINE_DASH, LINE_INK)
        sheet.name(canvas, words.say("startup-line-hold", reader), sheet.label_x, at)
    for one in read:
        _reading(canvas, days, one, head, foot, upper)
    place = float(y(band.middle[-1:])[0])
    ends = days.middles[band.middle.size - 1] + 8.0 if parameter == "nitrate" else sheet.label_x
    sheet.name(canvas, words.say(f"startup-line-{parameter}", reader), ends, place)


def _reading(canvas: Canvas, days: Days, one: Reading, head: float, foot: float, upper: float) -> None:
    """A bar over what the kit allows, dashed to the edge where the card ends; a short line at the value."""
    x = days.x(one.day + 0.5)

    def y(value: float) -> float:
        return foot - min(max(value, 0.0), upper) / upper * (foot - head)

    low = y(one.low) if isfinite(one.low) else foot
    if isfinite(one.high):
        canvas.rule(x, low, x, y(one.high), 2.6, ink=READ_INK)
    else:
        canvas.rule(x, low, x, head, 2.6, (2, 3), READ_INK)
    at = y(one.value)
    canvas.rule(x - 3.5, at, x + 3.5, at, 2.2)


def _grid(canvas: Canvas, days: Days, head: float, foot: float, upper: float) -> None:
    days.draw_months(canvas, head, foot)
    for tick in ticks(0.0, upper, 4):
        at = foot - tick / upper * (foot - head)
        canvas.grid(days.left, at, days.right, at)
        canvas.text(words.number(tick, 4), days.left - 5.0, at, "right", SMALL_SIZE)


def _dates(canvas: Canvas, days: Days, top: float, start: StartUp, reader: words.Reader) -> None:
    """One row for each thing that happens: a bar between its dates, a mark at the middle try, its name."""
    canvas.text(words.say("startup-axis-dates", reader), 0.0, top + 9.0, size=TEXT_SIZE)
    days.draw_months(canvas, top + HEAD_PX, top + HEAD_PX + len(plan.NAMES) * ROW_PX)
    for number, name in enumerate(plan.NAMES):
        middle = top + HEAD_PX + (number + 0.5) * ROW_PX
        span = start.span(name)
        if not span.known:
            continue
        low = days.x(min(span.low, days.count))
        high = days.x(min(span.high, days.count)) if isfinite(span.high) else days.right
        canvas.ground(low, max(high, low + 2.0), middle - 5.0, middle + 5.0, FILL)
        canvas.rule(low, middle - 6.0, low, middle + 6.0, 1.4)
        if isfinite(span.high):
            canvas.rule(high, middle - 6.0, high, middle + 6.0, 1.4)
        else:
            canvas.rule(high, middle, high + 6.0, middle, 1.4, (2, 2))
        if isfinite(span.middle):
            canvas.rule(days.x(span.middle), middle - 5.0, days.x(span.middle), middle + 5.0, 3.0)
        text = words.say(f"startup-what-{name.replace('_', '-')}", reader)
        if not canvas.first_free([text], low - 6.0, middle, "right", TEXT_SIZE, halo=True):
            canvas.first_free([text], high + 8.0, middle, "left", TEXT_SIZE, halo=True)


def _today(canvas: Canvas, days: Days, start: StartUp, foot: float, reader: words.Reader) -> None:
    """A line through everything where the readings end."""
    if not start.forecast.readings:
        return
    x = days.x(start.forecast.today + 0.5)
    canvas.rule(x, HEAD_PX, x, foot, 1.0, (1, 3))
    text = words.say("startup-today", reader)
    dates_top = foot - HEAD_PX - len(plan.NAMES) * ROW_PX
    for y in (9.0, dates_top + 9.0, HEAD_PX + PLOT_PX / 4.0):
        if canvas.first_free([text], x + 4.0, y, "left", SMALL_SIZE, halo=True):
            return


def _until(start: StartUp, most: int) -> int:
    """Days until the middle try is complete, and a few more."""
    middle = start.span("complete").middle
    return int(min(middle + SPARE_DAYS, most)) if isfinite(middle) else most


def _top(band: Band, read: Sequence[Reading]) -> float:
    highest = [float(np.max(band.high)), LEAST_TOP_MG_L]
    highest += [one.high if isfinite(one.high) else one.value for one in read]
    return round_up(ROOM * max(highest))


def _cut(band: Band, count: int) -> Band:
    return Band(*(np.asarray(one)[:count] for one in (band.low, band.middle, band.high)))


def _middle(start: StartUp, parameter: Parameter) -> Floats:
    return np.asarray(start.forecast.band(parameter).middle)


def _heading(key: str, reader: words.Reader) -> str:
    return words.say("season-axis", reader, name=words.say(key, reader), unit=words.unit("nitrogen", reader))


def describe(start: StartUp, reader: words.Reader) -> str:
    """What the picture shows, in words."""
    nitrite = start.forecast.band("nitrite")
    most = float(np.max(nitrite.middle))
    ends = start.days("complete")

    def said(day: date | None) -> str:
        return words.say("startup-later", reader) if day is None else words.date(day, reader)

    return words.say(
        "chart-startup-alt",
        reader,
        first=words.date(start.first, reader),
        nitrite=words.quantity(most, "nitrogen", reader),
        low=said(ends.low),
        high=said(ends.high),
    )
