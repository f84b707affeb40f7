"""Curves of anything over anything: bands, lines with their words beside them, points that are marked."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from aquacalc import words
from aquacalc.charts.axes import ticks
from aquacalc.charts.canvas import Align, Canvas
from aquacalc.charts.picture import FILL
from aquacalc.uncertainty import Floats

PAGE, PHONE = 700.0, 350.0
"""Widths of the picture, px."""
HEIGHT = 330.0
LEFT, MARGIN, TOP, FOOT = 62.0, 10.0, 10.0, 276.0
"""Corners of the plot, px."""
MOST_TICKS = {PAGE: 7, PHONE: 4}
CROSS_PX = 6.0


@dataclass(frozen=True)
class Axis:
    """What runs along an axis: its name, its kind of quantity (empty for a plain number), its ends."""

    name: str
    kind: str
    low: float
    high: float


@dataclass(frozen=True)
class Curve:
    """A line; its words stand at its end. dash: empty for a solid line."""

    x: Floats
    y: Floats
    text: str = ""
    dash: tuple[int, ...] = (1, 0)


@dataclass(frozen=True)
class Strip:
    """A band between two lines."""

    x: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True)
class Point:
    """A marked place with its words."""

    x: float
    y: float
    text: str


@dataclass(frozen=True)
class Plot:
    """What a picture shows; one axis each way counts for all of it."""

    x: Axis
    y: Axis
    curves: Sequence[Curve]
    strips: Sequence[Strip] = field(default=())
    points: Sequence[Point] = field(default=())


def both(plot: Plot, reader: words.Reader, description: str) -> tuple[str, str]:
    """The plot as SVG, for a page and for a phone; description: the picture in words."""
    page, phone = (_drawn(plot, reader, wide).svg(description) for wide in (PAGE, PHONE))
    return page, phone


def _drawn(plot: Plot, reader: words.Reader, wide: float) -> Canvas:
    picture = Canvas(wide, HEIGHT)
    across = _Scale(plot.x, reader, LEFT, wide - MARGIN, MOST_TICKS[wide])
    upward = _Scale(plot.y, reader, FOOT, TOP)
    _axes(picture, across, upward)
    for strip in plot.strips:
        picture.area(across(strip.x), upward(strip.low), upward(strip.high), FILL)
    for curve in plot.curves:
        x, y = across(curve.x), upward(curve.y)
        y = np.where((y >= TOP - 1.0) & (y <= FOOT + 1.0), y, np.nan)
        picture.line(x, y, width=1.8, dash=curve.dash)
    for point in plot.points:
        _cross(picture, float(across(point.x)), float(upward(point.y)), point.text)
    for curve in plot.curves:
        _words(picture, across(curve.x), upward(curve.y), curve.text)
    return picture


class _Scale:
    """Places along an axis in px, from values in its given unit."""

    def __init__(
        self, axis: Axis, reader: words.Reader, begin: float, end: float, most: int = MOST_TICKS[PAGE]
    ) -> None:
        self.axis, self.reader, self.begin, self.end, self.most = axis, reader, begin, end, most

    def shown(self, value: float) -> float:
        """A value in the unit of the axis."""
        return value if not self.axis.kind else words.convert(value, self.axis.kind, self.reader)

    def __call__(self, value: Floats | float) -> Floats:
        low, high = self.axis.low, self.axis.high
        return self.begin + (np.asarray(value, dtype=np.float64) - low) / (high - low) * (
            self.end - self.begin
        )

    def places(self) -> list[tuple[float, str]]:
        """Round numbers along the axis: place and text."""
        low, high = self.shown(self.axis.low), self.shown(self.axis.high)
        span = self.end - self.begin
        return [
            (self.begin + (one - low) / (high - low) * span, words.number(one, 6))
            for one in ticks(low, high, self.most)
        ]


def _axes(picture: Canvas, across: _Scale, upward: _Scale) -> None:
    right = across.end
    for x, text in across.places():
        picture.grid(x, TOP, x, FOOT)
        picture.text(text, x, FOOT + 15.0, "center")
    for y, text in upward.places():
        picture.grid(LEFT, y, right, y)
        picture.text(text, LEFT - 8.0, y, "right")
    picture.rule(LEFT, FOOT, right, FOOT)
    picture.text(_named(across.axis, across.reader), (LEFT + right) / 2.0, FOOT + 38.0, "center")
    picture.text(_named(upward.axis, upward.reader), LEFT + 6.0, TOP + 9.0, halo=True)


def _named(axis: Axis, reader: words.Reader) -> str:
    unit = words.unit(axis.kind, reader) if axis.kind else ""
    return words.say("chart-curves-axis", reader, name=axis.name, unit=unit) if unit else axis.name


def _cross(picture: Canvas, x: float, y: float, text: str) -> None:
    picture.rule(x - CROSS_PX, y - CROSS_PX, x + CROSS_PX, y + CROSS_PX, 2.4)
    picture.rule(x - CROSS_PX, y + CROSS_PX, x + CROSS_PX, y - CROSS_PX, 2.4)
    picture.keep_clear(x - CROSS_PX, x + CROSS_PX, y - CROSS_PX, y + CROSS_PX)
    for dy in (-16.0, 16.0, -34.0, 34.0):
        if picture.first_free([text], x + 10.0, y + dy, halo=True):
            return
        if picture.first_free([text], x - 10.0, y + dy, "right", halo=True):
            return


def _words(picture: Canvas, x: Floats, y: Floats, text: str) -> None:
    """The words of a line beside it, from its end backwards, where they are free."""
    there = np.flatnonzero(np.isfinite(y) & (y >= TOP) & (y <= FOOT))
    if not text or not there.size:
        return
    for share in (0.97, 0.8, 0.6, 0.4, 0.2, 0.03):
        k = there[round(share * (there.size - 1))]
        for dy in (-13.0, 13.0, -28.0, 28.0):
            align: Align = "right" if share > 0.5 else "left"
            if picture.first_free([text], float(x[k]), float(y[k]) + dy, align, halo=True):
                return
