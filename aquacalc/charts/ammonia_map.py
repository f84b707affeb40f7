"""Un-ionised ammonia over pH and temperature for one total ammonia: contour lines in one ink.

The reading is a dotted outline, the tries of its uncertainty are small dots; what-ifs are crosses with words.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from aquacalc import words
from aquacalc.advice.reading import cloud
from aquacalc.advice.reading.cloud import Cloud
from aquacalc.charts.axes import ticks
from aquacalc.charts.canvas import NARROW, WIDE, Canvas, width_px
from aquacalc.judge.levels import Level
from aquacalc.uncertainty import Floats

PH = (5.5, 9.5)
TEMPERATURE_C = (0.0, 36.0)
"""Ends of the axes, the same for every reading. Common practice, no source."""

WIDTH, HEIGHT = WIDE, 400.0
LEFT, RIGHT, TOP, FOOT = 62.0, 672.0, 8.0, 346.0
"""Corners of the plot, px."""
LETTERS = "ABCDEFGHIJKLMNOP"
"""At the crosses of the narrow picture, and in the list under it."""
LIST_PX = 18.0
"""Height of a line of the list under the narrow picture."""

DASHES: dict[Level, tuple[int, ...]] = {"watch": (2, 3), "act today": (8, 4), "emergency": (1, 0)}
OUTLINE_PX, CROSS_PX, DOT_PX = 10.0, 5.0, 1.5
RING_DOTS, RING_DOT_PX = 16, 2.4
POINTS = 121
LABEL_SIZE = 12.0
LABEL_GAP_PX = 6.0
WORD_STEPS_PX = tuple(sign * step for step in range(22, 160, 16) for sign in (-1.0, 1.0))
"""How far over or under its place the words of a what-if may stand, the nearest first."""


@dataclass(frozen=True)
class Plot:
    """Ends of the plot, px from the left. narrow: with letters at the crosses and a list beneath."""

    left: float = LEFT
    right: float = RIGHT
    narrow: bool = False

    def x(self, ph: Floats | float) -> Floats:
        """Place of a pH."""
        return self.left + (np.asarray(ph) - PH[0]) / (PH[1] - PH[0]) * (self.right - self.left)

    def at(self, ph: float, temperature_c: float) -> tuple[float, float]:
        """Place of a water, px; at the edge where it lies beyond the plot."""
        x, y = float(self.x(ph)), float(y_of(temperature_c))
        return min(max(x, self.left), self.right), min(max(y, TOP), FOOT)


PAGE, PHONE = Plot(), Plot(44.0, 329.0, narrow=True)


@dataclass(frozen=True)
class Mark:
    """A what-if: its words, and where the map counts it."""

    text: str
    ph: float
    temperature_c: float


@dataclass(frozen=True)
class Map:
    """What the map shows. tan_mg_l: total ammonia as N, above zero.

    lines: levels and their un-ionised ammonia, mg N/L. ph, temperature_c: the reading.
    """

    tan_mg_l: float
    lines: tuple[tuple[Level, float], ...]
    ph: float
    temperature_c: float
    tries: Cloud
    marks: tuple[Mark, ...] = field(default=())


def ammonia_map(of: Map, reader: words.Reader, title: str, width: float = WIDE) -> str:
    """The map as SVG. title: the answer in words, may be empty. width: `WIDE` or `NARROW`."""
    tan = words.quantity(of.tan_mg_l, "nitrogen", reader)
    key = words.say("chart-map-key" if of.tries.ph.size else "chart-map-key-plain", reader, tan=tan)
    plot = PHONE if width == NARROW else PAGE
    return canvas(of, reader, plot).svg(describe(of, reader), title, [key])


def describe(of: Map, reader: words.Reader) -> str:
    """The map in a sentence."""
    lines = [
        words.say(
            "chart-map-line-alt",
            reader,
            level=words.level(level, reader),
            value=words.quantity(value, "nitrogen", reader),
            ph=words.quantity(at, "ph", reader)
            if PH[0] <= at <= PH[1]
            else words.say("chart-map-off", reader),
        )
        for level, value in of.lines
        for at in [float(cloud.counts_as_ph(value, of.tan_mg_l, of.temperature_c))]
    ]
    return words.say(
        "chart-map-alt",
        reader,
        tan=words.quantity(of.tan_mg_l, "nitrogen", reader),
        ph=words.quantity(of.ph, "ph", reader),
        temperature=words.quantity(of.temperature_c, "temperature", reader),
        lines=words.listed(lines, reader),
    )


def y_of(temperature_c: Floats | float) -> Floats:
    """Place of a temperature, px from above."""
    low, high = TEMPERATURE_C
    return FOOT - (np.asarray(temperature_c) - low) / (high - low) * (FOOT - TOP)


def contour(unionised_mg_l: float, tan_mg_l: float, plot: Plot = PAGE) -> tuple[Floats, Floats]:
    """Places of a line, px, from the coldest to the warmest end of the plot; empty where it lies outside."""
    temperature_c = np.linspace(*TEMPERATURE_C, POINTS)
    ph = np.asarray(cloud.counts_as_ph(unionised_mg_l, tan_mg_l, temperature_c))
    inside = (ph >= PH[0]) & (ph <= PH[1])
    return plot.x(ph[inside]), y_of(temperature_c[inside])


def canvas(of: Map, reader: words.Reader, plot: Plot = PAGE) -> Canvas:
    """The picture."""
    rows = len(of.marks) + 1 if plot.narrow else 0
    picture = Canvas(NARROW if plot.narrow else WIDTH, HEIGHT + LIST_PX * rows)
    _axes(picture, reader, plot)
    for level, value in of.lines:
        x, y = contour(value, of.tan_mg_l, plot)
        text = _text(level, value, of, reader, plot)
        if text is not None:
            picture.text(text.text, text.x, text.y, "center", LABEL_SIZE, angle=text.angle)
            # The line leaves room for its text.
            half = width_px(text.text, LABEL_SIZE) / 2.0 + LABEL_GAP_PX
            y = np.where(np.hypot(x - text.x, y - text.y) < half, np.nan, y)
        if x.size > 1:
            picture.line(x, y, width=1.6, dash=DASHES[level])
    _dots(picture, of, plot)
    _outline(picture, *plot.at(of.ph, of.temperature_c))
    _marks(picture, of, reader, plot)
    return picture


def _axes(picture: Canvas, reader: words.Reader, plot: Plot) -> None:
    """A frame, faint lines and round numbers; the temperature in the reader's unit."""
    for ph in np.arange(PH[0], PH[1] + 0.1, 0.5):
        x = float(plot.x(float(ph)))
        picture.grid(x, TOP, x, FOOT)
        picture.text(words.number(float(ph), 2, 1), x, FOOT + 15.0, "center")
    low, high = (words.convert(end, "temperature", reader) for end in TEMPERATURE_C)
    for shown in ticks(low, high):
        share = (shown - low) / (high - low)
        y = FOOT - share * (FOOT - TOP)
        picture.grid(plot.left, y, plot.right, y)
        picture.text(words.number(shown, 3), plot.left - 6.0, y, "right")
    for x, y, x2, y2 in ((plot.left, TOP, plot.left, FOOT), (plot.left, FOOT, plot.right, FOOT)):
        picture.rule(x, y, x2, y2, 1.0)
    axis = f"{words.say('word-temperature', reader)} ({words.unit('temperature', reader)})"
    picture.text(axis, 14.0, (TOP + FOOT) / 2.0, "center", LABEL_SIZE, angle=270.0)
    picture.text(words.say("word-ph", reader), (plot.left + plot.right) / 2.0, FOOT + 36.0, "center")


def _dots(picture: Canvas, of: Map, plot: Plot) -> None:
    x, y = plot.x(of.tries.ph), y_of(of.tries.temperature_c)
    inside = (x >= plot.left) & (x <= plot.right) & (y >= TOP) & (y <= FOOT)
    for at, height in zip(x[inside].tolist(), y[inside].tolist(), strict=True):
        picture.rule(at - DOT_PX / 2.0, height, at + DOT_PX / 2.0, height, DOT_PX, ink="#555555")


def _outline(picture: Canvas, x: float, y: float) -> None:
    """A dotted ring about the reading."""
    for turn in np.linspace(0.0, 2.0 * math.pi, RING_DOTS, endpoint=False).tolist():
        at, height = x + OUTLINE_PX * math.cos(turn), y + OUTLINE_PX * math.sin(turn)
        picture.rule(at - RING_DOT_PX / 2.0, height, at + RING_DOT_PX / 2.0, height, RING_DOT_PX)
    picture.keep_clear(x - OUTLINE_PX, x + OUTLINE_PX, y - OUTLINE_PX, y + OUTLINE_PX)


def _marks(picture: Canvas, of: Map, reader: words.Reader, plot: Plot) -> None:
    """Words over or under the reading and each what-if, a cross at each what-if."""
    there = [one for one in of.marks if math.isfinite(one.ph)]
    places = [plot.at(one.ph, one.temperature_c) for one in there]
    for x, y in places:
        for sign in (-1.0, 1.0):
            picture.rule(x - CROSS_PX, y - sign * CROSS_PX, x + CROSS_PX, y + sign * CROSS_PX, 1.6)
        picture.keep_clear(x - CROSS_PX, x + CROSS_PX, y - CROSS_PX, y + CROSS_PX)
    _word(
        picture, words.say("chart-map-reading", reader), *plot.at(of.ph, of.temperature_c), OUTLINE_PX, plot
    )
    y_list = HEIGHT + LIST_PX / 2.0
    for letter, one, (x, y) in zip(LETTERS, there, places, strict=False):
        _word(picture, letter if plot.narrow else one.text, x, y, CROSS_PX, plot)
        if plot.narrow:
            picture.text(f"{letter}: {one.text}", 0.0, y_list, size=LABEL_SIZE)
            y_list += LIST_PX


def _word(picture: Canvas, text: str, x: float, y: float, px: float, plot: Plot) -> None:
    """A text as near to a place as it stands free, joined to it by a thin line."""
    half = width_px(text, LABEL_SIZE) / 2.0
    middle = min(max(x, plot.left + half + 4.0), plot.right - half - 2.0)
    for step in WORD_STEPS_PX:
        box = picture.place(text, middle, y + step, "center", LABEL_SIZE)
        if box.y < TOP or box.y2 > FOOT or not picture.free(box):
            continue
        sign = math.copysign(1.0, step)
        picture.rule(x, y + sign * (px + 1.0), x, y + step - sign * 8.0, 0.6, ink="#707070")
        picture.text(text, middle, y + step, "center", LABEL_SIZE, halo=True)
        return


@dataclass(frozen=True)
class _Turned:
    """A text along a line: its middle, and its turn in degrees."""

    text: str
    x: float
    y: float
    angle: float


def _text(level: Level, value: float, of: Map, reader: words.Reader, plot: Plot) -> _Turned | None:
    """The text of a line, turned with it; None where the line is too short to carry it."""
    text = words.say(
        "chart-map-line",
        reader,
        level=words.level(level, reader),
        value=words.quantity(value, "nitrogen", reader),
    )
    x, y = contour(value, of.tan_mg_l, plot)
    wide = width_px(text, LABEL_SIZE) + 2.0 * LABEL_GAP_PX
    if x.size < 2 or math.hypot(x[-1] - x[0], y[-1] - y[0]) < wide:
        return None
    # In the half of the plot in which the reading is not.
    cold_share = 0.25 if of.temperature_c > sum(TEMPERATURE_C) / 2.0 else 0.75
    along = np.hypot(x - x[0], y - y[0])
    centre = min(max(cold_share * along[-1], wide / 2.0), along[-1] - wide / 2.0)
    middle = int(np.argmin(np.abs(along - centre)))
    before, after = max(middle - 3, 0), min(middle + 3, x.size - 1)
    slope = math.degrees(math.atan2(y[after] - y[before], x[after] - x[before]))
    return _Turned(text, float(x[middle]), float(y[middle]), slope + 180.0 if slope < -90.0 else slope)
