"""Charts along the twelve months: the balance, and the temperature of the water."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from aquacalc import words
from aquacalc.charts.axes import PLAIN_NUMBER, spread, ticks
from aquacalc.charts.frames import counted, limits_frame, monthly_frame, top_of
from aquacalc.charts.picture import FILL, FONT_SIZE, GRID, INK, Chart, Layer, alt, finish, plot, quick
from aquacalc.fish import Species
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band

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

PLOT_WIDTH = 430
LABEL_WIDTH = 190
PLOT_HEIGHT = 300
SIZE = (PLOT_WIDTH + LABEL_WIDTH, PLOT_HEIGHT)
LINE_PX = 17
FLOOR_SHARE = 0.09
"""A number under a line that lies lower than this share of the axis would stand on the months' names."""
LABEL_X = 11.55
"""Where the labels of lines begin, in months after January; the last month stands at 11."""
LAST_X = 11.0


@quick
def balance(result: Balance, reader: words.Reader, title: str, top_g_day: float | None = None) -> Chart:
    """Demand and all limits through the twelve months, in feed per day.

    title: the answer in words; empty where it stands beside the picture. top_g_day: upper end of the axis,
    to be kept while a slider moves (`top_of`).
    Limits that lie above it all year are named over the plot.
    """
    top = words.convert(top_g_day or top_of(result), "feed", reader)
    demand = monthly_frame(result.demand.feed_g_day, "feed", reader)
    lines = [_Line(words.say("chart-demand", reader), demand, width=4.0)]
    beyond = []
    limits = limits_frame(result, reader)
    for key in limits["key"].unique():
        rows = limits[limits["key"] == key]
        name, must = words.limit(key, reader), bool(rows["must"].iloc[0])
        if rows["middle"].min() > top:
            beyond.append(name)
        else:
            dash = (1, 0) if must else DASH[key]
            lines.append(_Line(name, rows, COLOUR[key], dash=dash, shape=SHAPE[key], filled=must))
    title_y = words.say("chart-axis-feed", reader, unit=words.unit("feed", reader))
    plot = _Months(result.months, reader, 0.0, top, title_y)
    layers = [*plot.layers(demand, lines), *plot.figures(_binding_figures(result, top, reader))]
    subtitle = [words.say("chart-balance-key", reader)]
    if beyond:
        subtitle.append(words.say("chart-beyond", reader, names=words.listed(beyond, reader)))
    return finish(layers, title, subtitle, describe_balance(result, reader), SIZE)


@quick
def water_temperature(result: Balance, species: Species, reader: words.Reader, title: str) -> Chart:
    """The water's temperature through the year and the temperatures that matter to the species."""
    water = monthly_frame(result.water_c, "temperature", reader)
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
    lines = [_Line(words.say("chart-water", reader), water, width=4.0)]
    for key, mark_c in marks.items():
        if low_c <= mark_c <= high_c:
            value = words.convert(mark_c, "temperature", reader)
            rows = pd.DataFrame({"place": [0.0, LAST_X], "middle": [value, value]})
            lines.append(_Line(words.say(key, reader), rows, width=1.5, dash=TEMPERATURE_DASH[key]))
    title_y = words.say("chart-axis-water", reader, unit=words.unit("temperature", reader))
    layers = _Months(result.months, reader, low, high, title_y).layers(water, lines)
    return finish(layers, title, [], describe_water(result, species, reader), SIZE)


def _binding_figures(result: Balance, top: float, reader: words.Reader) -> list[dict[str, Any]]:
    """Demand and limit as numbers, where the demand comes nearest to its limit.

    The larger one stands over its line, the smaller one under it unless that is where the months are named.
    """
    found = result.binding
    if found is None:
        return []
    place = result.months.index(found.month)
    amounts = (found.limit_g_day, found.demand_g_day)
    pair = sorted(words.convert(amount, "feed", reader) for amount in amounts)
    return [
        {
            "place": place,
            "middle": value,
            "figure": words.number(value),
            "over": over or value < FLOOR_SHARE * top,
        }
        for value, over in zip(pair, (False, True), strict=True)
    ]


@dataclass(frozen=True)
class _Line:
    """A line through the months: rows (place, middle), its name, and how it is drawn."""

    name: str
    rows: pd.DataFrame
    colour: str = INK
    width: float = 2.0
    dash: Sequence[int] = (1, 0)
    shape: str = ""
    filled: bool = True


@dataclass(frozen=True)
class _Months:
    """A plot along the months: a grey band, lines with marks, and their names at the right."""

    months: tuple[int, ...]
    reader: words.Reader
    low: float
    high: float
    y_title: str

    def layers(self, band: pd.DataFrame, lines: Sequence[_Line]) -> list[Layer]:
        # How a line looks travels with its rows: few layers for many lines keep a picture quick.
        drawn: list[dict[str, Any]] = [
            {"name": line.name, "place": row.place, "middle": row.middle, "colour": line.colour}
            | {"width": line.width, "dash": list(line.dash), "shape": line.shape}
            | {"fill": line.colour if line.filled else "white"}
            for line in lines
            for row in line.rows.itertuples()
        ]
        marked = [row for row in drawn if row["shape"] and row["middle"] <= self.high]
        colour = alt.Color("colour:N", scale=None)
        middle = {"x": self.x("place"), "y": self.y("middle"), "color": colour}
        grid = [{"start": 0.0, "end": LAST_X, "middle": tick} for tick in ticks(self.low, self.high)]
        area = plot(band).mark_area(color=FILL, clip=True)
        return [
            plot(grid).mark_rule(stroke=GRID).encode(x=self.x("start"), x2=alt.X2("end"), y=self.y("middle")),
            area.encode(x=self.x("place"), y=self.y("low"), y2=alt.Y2("high:Q")),
            plot(drawn)
            .mark_line(clip=True)
            .encode(
                **middle,
                detail=alt.Detail("name:N"),
                strokeWidth=alt.StrokeWidth("width:Q", scale=None),
                strokeDash=alt.StrokeDash("dash:N", scale=None),
            ),
            plot(marked)
            .mark_point(size=42, opacity=1)
            .encode(**middle, shape=alt.Shape("shape:N", scale=None), fill=alt.Fill("fill:N", scale=None)),
            *self.names(lines),
        ]

    def figures(self, figures: Sequence[dict[str, Any]]) -> list[Layer]:
        """Numbers over or under places of the plot, in white outlines, so that they stand out from lines."""
        layers = []
        for over in (True, False):
            rows = [row for row in figures if row["over"] == over and row["middle"] <= self.high]
            for look in ({"stroke": "white", "strokeWidth": 4}, {"color": INK}) if rows else ():
                text = plot(rows).mark_text(
                    dy=-13 if over else 14, fontSize=FONT_SIZE, fontWeight="bold", **look
                )
                layers.append(text.encode(x=self.x("place"), y=self.y("middle"), text=alt.Text("figure:N")))
        return layers

    def names(self, lines: Sequence[_Line]) -> list[Layer]:
        """Names at the right of the lines, moved apart, each with a thin leader."""
        gap = LINE_PX * (self.high - self.low) / PLOT_HEIGHT
        ends = [line.rows.iloc[-1] for line in lines]
        middles = [min(float(end["middle"]), self.high) for end in ends]
        rows = [
            {"name": line.name, "colour": line.colour, "end": float(end["place"]), "middle": middle}
            | {"start": LABEL_X, "label": place}
            for line, end, middle, place in zip(
                lines, ends, middles, spread(middles, gap, self.low + gap / 2, self.high), strict=True
            )
        ]
        colour = alt.Color("colour:N", scale=None)
        leader = plot(rows).mark_rule(strokeWidth=0.7)
        text = plot(rows).mark_text(align="left", dx=4, baseline="middle", fontSize=FONT_SIZE)
        return [
            leader.encode(
                x=self.x("end"), x2=alt.X2("start"), y=self.y("middle"), y2=alt.Y2("label"), color=colour
            ),
            text.encode(x=self.x("start"), y=self.y("label"), text=alt.Text("name:N"), color=colour),
        ]

    def x(self, field: str) -> alt.X:
        # The axis runs on past the last month: the names of the lines stand there.
        end = LAST_X * (PLOT_WIDTH + LABEL_WIDTH) / PLOT_WIDTH
        names = [words.month(month, self.reader, short=True) for month in self.months]
        axis = alt.Axis(
            values=list(range(len(names))),
            labelExpr=f"{json.dumps(names)}[datum.value]",
            title=None,
            labelOverlap=False,
            labelFlush=False,
            domain=False,
        )
        return alt.X(f"{field}:Q", scale=alt.Scale(domain=[0.0, end], nice=False), axis=axis)

    def y(self, field: str) -> alt.Y:
        axis = alt.Axis(
            title=self.y_title,
            values=ticks(self.low, self.high),
            format=PLAIN_NUMBER,
            domain=False,
            ticks=False,
            grid=False,
        )
        scale = alt.Scale(domain=[self.low, self.high], nice=False)
        return alt.Y(f"{field}:Q", scale=scale, axis=axis)


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
