"""Charts along the twelve months: the balance, and the temperature of the water."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import words
from aquacalc.charts.axes import spread, ticks
from aquacalc.charts.canvas import NARROW, WIDE, Canvas
from aquacalc.charts.frames import counted, top_of
from aquacalc.charts.picture import FILL, FONT_SIZE, INK, PALE
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.fish import Species
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band, Floats

# Found by search: dark enough on white for text (contrast 4.5 or more) and apart from each other to eyes
# that lack one kind of cone; a test measures both. Dash and marker carry the meaning, for print in black.
COLOUR: dict[str, str] = {
    "oxygen": "#053f93",
    "nitrification": "#8614f1",
    "density": "#b04607",
    "power_cut": "#111111",
    "solids": "#866d57",
    "plants": "#247d8b",
    "turnover": "#691f4d",
}
DASH: dict[str, list[int]] = {"solids": [7, 4], "plants": [2, 3], "turnover": [9, 3, 2, 3]}
SHAPE: dict[str, str] = {
    "oxygen": "circle",
    "nitrification": "square",
    "density": "triangle-up",
    "power_cut": "diamond",
    "solids": "cross",
    "plants": "triangle-down",
    "turnover": "triangle-right",
}

TEMPERATURE_DASH: dict[str, list[int]] = {
    "chart-lethal-low": [1, 0],
    "chart-no-feed-below": [7, 4],
    "chart-best-low": [2, 3],
    "chart-best-high": [2, 3],
    "chart-no-feed-above": [7, 4],
    "chart-lethal-high": [1, 0],
}

PLOT_HEIGHT = 300.0
LEFT = {WIDE: 62.0, NARROW: 46.0}
RIGHT = {WIDE: 492.0, NARROW: 332.0}
"""Ends of the plot. Names of lines stand to its right, in the narrow picture below it."""
TOP_PX, MONTHS_PX, LINE_PX, LEADER_PX = 12.0, 26.0, 17.0, 22.0
SAMPLE_PX = 30.0
"""Length of the piece of a line that stands before its name."""
FLOOR_SHARE = 0.09
"""A number under a line that lies lower than this share of the axis would stand on the months' names."""


def balance(
    result: Balance, reader: words.Reader, title: str, top_g_day: float | None = None, width: float = WIDE
) -> str:
    """Demand and all limits through the twelve months, in feed per day, as SVG.

    title: the answer in words; empty where it stands beside the picture. top_g_day: upper end of the axis,
    to be kept while a slider moves (`top_of`). width: `WIDE` or `NARROW`.
    Limits that lie above it all year are named over the plot.
    """
    top = words.convert(top_g_day or top_of(result), "feed", reader)
    demand = _shown(result.demand.feed_g_day, "feed", reader)
    lines = [_Line(words.say("chart-demand", reader), demand.middle, width=4.0)]
    beyond = []
    for one in counted(result):
        name, middle = words.limit(one.key, reader), _shown(one.feed_g_day, "feed", reader).middle
        if float(np.nanmin(middle)) > top:
            beyond.append(name)
        else:
            dash = (1, 0) if one.must else DASH[one.key]
            lines.append(_Line(name, middle, COLOUR[one.key], dash=dash, shape=SHAPE[one.key], must=one.must))
    axis = words.say("chart-axis-feed", reader, unit=words.unit("feed", reader))
    plot = _Months(width, result.months, reader, 0.0, top, axis, lines)
    plot.draw(demand)
    plot.figures(result)
    notes = [words.say("chart-balance-key", reader)]
    if beyond:
        notes.append(words.say("chart-beyond", reader, names=words.listed(beyond, reader)))
    return plot.canvas.svg(describe_balance(result, reader), title, notes)


def water_temperature(
    result: Balance, species: Species, reader: words.Reader, title: str, width: float = WIDE
) -> str:
    """The water's temperature through the year and the temperatures that matter to the species, as SVG."""
    marks = {
        "chart-lethal-low": species.lethal_low_c,
        "chart-no-feed-below": species.corners.feed_stop_low_c,
        "chart-best-low": species.optimum_low_c,
        "chart-best-high": species.optimum_high_c,
        "chart-no-feed-above": species.no_feed_from_c,
        "chart-lethal-high": species.lethal_high_c,
    }
    low_c = min(float(np.min(result.water_c.low)), species.corners.feed_stop_low_c) - 2.0
    high_c = max(float(np.max(result.water_c.high)), species.no_feed_from_c) + 2.0
    low, high = (words.convert(end, "temperature", reader) for end in (low_c, high_c))
    water = _shown(result.water_c, "temperature", reader)
    lines = [_Line(words.say("chart-water", reader), water.middle, width=4.0)]
    for key, mark_c in marks.items():
        if low_c <= mark_c <= high_c:
            level = np.full(MONTHS_PER_YEAR, words.convert(mark_c, "temperature", reader))
            lines.append(_Line(words.say(key, reader), level, width=1.5, dash=TEMPERATURE_DASH[key]))
    axis = words.say("chart-axis-water", reader, unit=words.unit("temperature", reader))
    plot = _Months(width, result.months, reader, low, high, axis, lines)
    plot.draw(water)
    return plot.canvas.svg(describe_water(result, species, reader), title)


def _shown(band: Band, kind: str, reader: words.Reader) -> Band:
    """A band in the reader's unit; no answer, and no limit, is not drawn."""
    ends = []
    for end in (band.low, band.middle, band.high):
        values = [words.convert(float(value), kind, reader) for value in np.atleast_1d(end)]
        ends.append(np.where(np.isfinite(values), values, np.nan))
    return Band(*ends)


@dataclass(frozen=True)
class _Line:
    """A line through the months: its name, its values, and how it is drawn. must: its marks are filled."""

    name: str
    middle: Floats
    colour: str = INK
    width: float = 2.0
    dash: Sequence[int] = (1, 0)
    shape: str = ""
    must: bool = True

    @property
    def last(self) -> tuple[int, float]:
        """The last month that has a value, and the value."""
        place = int(np.flatnonzero(np.isfinite(self.middle))[-1])
        return place, float(self.middle[place])


class _Months:
    """A plot along the months: a grey band, lines with marks, and their names."""

    def __init__(
        self,
        width: float,
        months: tuple[int, ...],
        reader: words.Reader,
        low: float,
        high: float,
        axis: str,
        lines: Sequence[_Line],
    ) -> None:
        self.months, self.reader, self.low, self.high = months, reader, low, high
        self.axis, self.lines, self.narrow = axis, lines, width == NARROW
        self.left, self.right = LEFT[width], RIGHT[width]
        self.top = TOP_PX + (LINE_PX if self.narrow else 0.0)
        self.foot = self.top + PLOT_HEIGHT
        below = LINE_PX * (len(lines) + 0.5) if self.narrow else 0.0
        self.canvas = Canvas(width, self.foot + MONTHS_PX + below)

    def x(self, place: float) -> float:
        """Place of a month, px from the left."""
        return self.left + place / (MONTHS_PER_YEAR - 1) * (self.right - self.left)

    def y(self, value: Floats | float) -> Floats:
        """Place of a value, px from above."""
        share = (np.asarray(value) - self.low) / (self.high - self.low)
        return self.foot - share * (self.foot - self.top)

    def draw(self, band: Band) -> None:
        """Axes, the band, the lines with their marks, and the names."""
        self._axes()
        x = np.array([self.x(place) for place in range(MONTHS_PER_YEAR)])
        low, high = (np.maximum(self.y(end), self.top) for end in (band.low, band.high))
        self.canvas.area(x, low, high, FILL)
        for line in self.lines:
            self.canvas.line(*_under(x, self.y(line.middle), self.top), line.colour, line.width, line.dash)
        for line in self.lines:
            fill = line.colour if line.must else "white"
            for place, value in enumerate(line.middle.tolist()) if line.shape else ():
                if value <= self.high:
                    self.canvas.mark(self.x(place), float(self.y(value)), line.shape, line.colour, fill)
        if self.narrow:
            self._names_below()
        else:
            self._names_beside()

    def _axes(self) -> None:
        canvas = self.canvas
        for tick in ticks(self.low, self.high):
            y = float(self.y(tick))
            canvas.grid(self.left, y, self.right, y)
            canvas.text(words.number(tick, 4), self.left - 8.0, y, "right", FONT_SIZE)
        for place, month in enumerate(self.months):
            name = words.month(month, self.reader, short=True)
            canvas.rule(self.x(place), self.foot, self.x(place), self.foot + 4.0, 0.8, ink=PALE)
            text = name[:1] if self.narrow else name
            canvas.text(text, self.x(place), self.foot + 14.0, "center", FONT_SIZE)
        if self.narrow:
            canvas.text(self.axis, 0.0, LINE_PX / 2.0, size=FONT_SIZE)
        else:
            canvas.text(self.axis, 12.0, (self.top + self.foot) / 2.0, "center", FONT_SIZE, angle=270.0)

    def _names_beside(self) -> None:
        """Names at the right of the lines, moved apart, each with a thin leader."""
        begin = self.right + LEADER_PX
        ends = [line.last for line in self.lines]
        places = [float(self.y(min(value, self.high))) for _, value in ends]
        moved = spread(places, LINE_PX, self.top, self.foot - LINE_PX / 2.0)
        for line, (place, _), y, label in zip(self.lines, ends, places, moved, strict=True):
            self.canvas.rule(self.x(place), y, begin, label, 0.7, ink=line.colour)
            self.canvas.text(line.name, begin + 4.0, label, size=FONT_SIZE, ink=line.colour)

    def _names_below(self) -> None:
        """Names under the plot, one a row, each after a piece of its line, the highest line first."""
        y = self.foot + MONTHS_PX + LINE_PX / 2.0
        for line in sorted(self.lines, key=lambda line: -line.last[1]):
            self.canvas.rule(0.0, y, SAMPLE_PX, y, line.width, line.dash, line.colour)
            if line.shape:
                fill = line.colour if line.must else "white"
                self.canvas.mark(SAMPLE_PX / 2.0, y, line.shape, line.colour, fill)
            self.canvas.text(line.name, SAMPLE_PX + 8.0, y, size=FONT_SIZE, ink=line.colour)
            y += LINE_PX

    def figures(self, result: Balance) -> None:
        """Demand and limit as numbers, where the demand comes nearest to its limit.

        The larger one stands over its line, the smaller one under it unless that is where the months are
        named.
        """
        found = result.binding
        if found is None:
            return
        x = self.x(result.months.index(found.month))
        amounts = (found.limit_g_day, found.demand_g_day)
        pair = sorted(words.convert(amount, "feed", self.reader) for amount in amounts)
        for value, over in zip(pair, (False, True), strict=True):
            up = over or value < FLOOR_SHARE * self.high
            if value <= self.high:
                y = float(self.y(value)) + (-13.0 if up else 14.0)
                self.canvas.text(words.number(value), x, y, "center", FONT_SIZE, bold=True, halo=True)


def _under(x: Floats, y: Floats, top: float) -> tuple[Floats, Floats]:
    """A line without what lies above the height `top`, cut where it crosses it."""
    xs, ys = [x[:1]], [np.where(y[:1] < top, np.nan, y[:1])]
    for k in range(1, x.size):
        if (y[k] < top) != (y[k - 1] < top) and np.isfinite(y[k - 1 : k + 1]).all():
            at = x[k - 1] + (top - y[k - 1]) / (y[k] - y[k - 1]) * (x[k] - x[k - 1])
            xs.append(np.array([at]))
            ys.append(np.array([top]))
        xs.append(x[k : k + 1])
        ys.append(np.where(y[k : k + 1] < top, np.nan, y[k : k + 1]))
    return np.concatenate(xs), np.concatenate(ys)


def describe_balance(result: Balance, reader: words.Reader) -> str:
    """What the picture of the balance shows, in one or two sentences."""
    wanted, month = _extreme(result.demand.feed_g_day, result.months, reader, highest=True)
    lowest = []
    for one in counted(result):
        amount, when = _extreme(one.feed_g_day, result.months, reader, highest=False)
        lowest.append(
            words.say("chart-alt-limit", reader, name=words.limit(one.key, reader), amount=amount, month=when)
        )
    limits = words.listed(lowest, reader)
    return words.say("chart-alt-balance", reader, wanted=wanted, month=month, limits=limits)


def _extreme(band: Band, months: Sequence[int], reader: words.Reader, highest: bool) -> tuple[str, str]:
    """The highest or lowest month of a band: its range in words, its name."""
    place = int(np.nanargmax(band.middle) if highest else np.nanargmin(band.middle))
    amount = words.span(float(band.low[place]), float(band.high[place]), "feed", reader)
    return amount, words.month(months[place], reader)


def describe_water(result: Balance, species: Species, reader: words.Reader) -> str:
    """What the picture of the water temperature shows."""
    coldest, warmest = int(np.argmin(result.water_c.middle)), int(np.argmax(result.water_c.middle))
    return words.say(
        "chart-alt-water",
        reader,
        cold=words.span(
            float(result.water_c.low[coldest]), float(result.water_c.high[coldest]), "temperature", reader
        ),
        cold_month=words.month(result.months[coldest], reader),
        warm=words.span(
            float(result.water_c.low[warmest]), float(result.water_c.high[warmest]), "temperature", reader
        ),
        warm_month=words.month(result.months[warmest], reader),
        species=species.name,
        best=words.span(species.optimum_low_c, species.optimum_high_c, "temperature", reader),
    )
