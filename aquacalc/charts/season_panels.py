"""Plots one under the other on the time axis of a season: bands, middle lines, labelled limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import words
from aquacalc.charts.axes import spread, ticks
from aquacalc.charts.canvas import NARROW, Canvas, cut
from aquacalc.charts.picture import FILL, INK
from aquacalc.charts.season_days import Days
from aquacalc.charts.sheet import Sheet
from aquacalc.charts.strip_rows import Span
from aquacalc.garden.model import Garden
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats

TITLE_PX, GAP_PX, MONTHS_PX = 20.0, 12.0, 32.0
TITLE_SIZE, LABEL_SIZE = 12.0, 11.0
LABEL_PX = 14.0
LEAST_SHARE = 0.35
"""A limit that would leave the values less than this part of the plot stands at its edge, with its label."""
DASHES: tuple[tuple[int, ...], ...] = ((1, 0), (7, 4), (2, 3), (9, 3, 2, 3))
LIMIT_DASH = (5, 3)
LIMIT_INK = "#8a3a05"


PAGE = Sheet(750.0, 46.0, 585.0)
PHONE = Sheet(NARROW, 40.0, NARROW - 4.0, inside=True)


@dataclass(frozen=True)
class Limit:
    """A level line: its value as in the run, and its label as finished text.

    spans: first days, and days after the last, of the spans in which it holds; the whole season where None.
    """

    value: float
    label: str
    spans: tuple[Span, ...] | None = None


@dataclass(frozen=True, eq=False)
class Curve:
    """A band along the days, in the unit of the run, and the name of its line (may be empty)."""

    band: Band
    name: str = ""


@dataclass(frozen=True, eq=False)
class Panel:
    """One plot: heading, kind of quantity (empty for none), curves, limits.

    from_zero: the axis begins at zero; ends: the axis, in the unit of the run, where it shall stay as it is.
    """

    heading: str
    kind: str
    curves: Sequence[Curve]
    limits: Sequence[Limit] = ()
    from_zero: bool = True
    ends: tuple[float, float] | None = None
    height: float = 70.0
    least_span: float = 0.0


def panels_canvas(
    run: SeasonRun,
    panels: Sequence[Panel],
    reader: words.Reader,
    garden: Garden | None,
    sheet: Sheet = PAGE,
) -> Canvas:
    """All panels from top to bottom; absences of the garden as light fields."""
    tall = [TITLE_PX + panel.height + GAP_PX for panel in panels]
    canvas = Canvas(sheet.width, sum(tall) + MONTHS_PX)
    days = Days.of(run, sheet.left, sheet.right)
    foot = sum(tall)
    top = 0.0
    for panel, height in zip(panels, tall, strict=True):
        if garden is not None:
            days.draw_absences(canvas, garden, top + TITLE_PX, top + TITLE_PX + panel.height)
        days.draw_months(canvas, top + TITLE_PX, top + TITLE_PX + panel.height)
        _draw(canvas, panel, days, top, reader, run.members > 1, sheet)
        top += height
    days.write_months(canvas, foot + 6.0, reader, years=True)
    return canvas


def _draw(
    canvas: Canvas,
    panel: Panel,
    days: Days,
    top: float,
    reader: words.Reader,
    banded: bool,
    sheet: Sheet,
) -> None:
    low, high = panel.ends or _ends(panel)
    head, foot = top + TITLE_PX, top + TITLE_PX + panel.height

    def shown(values: Floats) -> Floats:
        if not panel.kind:
            return values
        # All units of one kind are straight lines of each other.
        zero, one = (words.convert(value, panel.kind, reader) for value in (0.0, 1.0))
        return zero + (one - zero) * values

    bottom, upper = (float(shown(np.array(end))) for end in (low, high))

    def y(values: Floats) -> Floats:
        share: Floats = (np.clip(shown(values), bottom, upper) - bottom) / (upper - bottom)
        return foot - share * (foot - head)

    canvas.text(panel.heading, 0.0, top + 9.0, size=TITLE_SIZE)
    for tick in ticks(bottom, upper, 4):
        at = foot - (tick - bottom) / (upper - bottom) * (foot - head)
        canvas.grid(days.left, at, days.right, at)
        canvas.text(words.number(tick, 4), days.left - 5.0, at, "right", LABEL_SIZE)
    if banded:
        for curve in panel.curves:
            canvas.area(days.middles, y(curve.band.low), y(curve.band.high), FILL)
    names: list[tuple[str, float, float]] = []
    for number, curve in enumerate(panel.curves):
        canvas.line(days.middles, y(curve.band.middle), INK, 1.8, DASHES[number % len(DASHES)])
        there = np.flatnonzero(np.isfinite(curve.band.middle))
        if curve.name and there.size:
            last = int(there[-1])
            names.append((curve.name, days.x(last + 0.5), float(y(curve.band.middle[last : last + 1])[0])))
    for limit in panel.limits:
        spans = ((0, days.count),) if limit.spans is None else limit.spans
        if not spans:
            continue
        at = float(y(np.array(limit.value)))
        label = limit.label
        if limit.value > high:
            label = words.say("season-line-above", reader, label=limit.label)
        elif limit.value < low:
            label = words.say("season-line-below", reader, label=limit.label)
        else:
            for begin, end in spans:
                canvas.rule(days.x(begin), at, days.x(end), at, 1.2, LIMIT_DASH, LIMIT_INK)
        names.append((label, days.right, at))
    _labels(canvas, names, head, foot, sheet)


def _labels(
    canvas: Canvas, names: Sequence[tuple[str, float, float]], head: float, foot: float, sheet: Sheet
) -> None:
    """Names at their lines, moved apart; at the right of the plot each with a thin leader."""
    above = LABEL_PX / 2.0 + 1.0 if sheet.inside else 0.0
    moved = spread([y - above for _, _, y in names], LABEL_PX, head - 4.0, foot + 4.0)
    beside = sheet.right + 12.0
    for (text, x, y), at in zip(names, moved, strict=True):
        if sheet.inside:
            told = cut(text, sheet.right - sheet.left, LABEL_SIZE)
            canvas.text(told, sheet.right - 2.0, at, "right", LABEL_SIZE, halo=True)
        else:
            canvas.rule(x, y, beside - 2.0, at, 0.7, ink="#707070")
            canvas.text(cut(text, sheet.width - beside, LABEL_SIZE), beside, at, size=LABEL_SIZE)


def _ends(panel: Panel) -> tuple[float, float]:
    """The axis: all of the bands, and each limit that leaves them enough room."""
    bands = [curve.band for curve in panel.curves]
    low = min((float(np.nanmin(one.low)) for one in bands if np.isfinite(one.low).any()), default=0.0)
    high = max((float(np.nanmax(one.high)) for one in bands if np.isfinite(one.high).any()), default=1.0)
    low = 0.0 if panel.from_zero else low
    span = max(high - low, panel.least_span, 1e-9)
    for limit in sorted(panel.limits, key=lambda one: min(abs(one.value - low), abs(one.value - high))):
        wider = (min(low, limit.value), max(high, limit.value))
        if span / (wider[1] - wider[0]) >= LEAST_SHARE:
            low, high = wider
    span = max(high - low, panel.least_span, 1e-9)
    return (low if panel.from_zero else low - 0.06 * span), low + 1.06 * span
