"""Results to pictures: functions from a result to an Altair chart, one theme, `svg` the one way to a picture.

Charts are read in black and white: line style and direct labels first, colour second. Titles are the answer
in words and come from the caller. Every chart carries a sentence as its text alternative (`describe_...`).
"""

import json
import math
import re
import sys
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, wraps
from pathlib import Path
from typing import Any, Literal, ParamSpec

# Altair imports jsonschema, which compiles a grammar of internet addresses (0.8 s) whenever this optional
# module can be found. No chart holds an address, jsonschema does without it, charts are the same either way.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]

import altair as alt  # noqa: E402
import numpy as np  # noqa: E402
import pandas as pd  # noqa: E402
import vl_convert  # noqa: E402
from altair.utils import schemapi  # noqa: E402

from aquacalc import words  # noqa: E402
from aquacalc.fish import Species  # noqa: E402
from aquacalc.sizing.result import Balance, Limit  # noqa: E402
from aquacalc.uncertainty import Band, Floats  # noqa: E402

FONT = "DejaVu Sans"
FONT_FALLBACK = f"{FONT}, Verdana, sans-serif"
INK = "#1a1a1a"
PALE = "#8c8c8c"
GRID = "#e2e2e2"
FILL = "#d3d6da"
BAR = "#8f979f"

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
ROWS_WIDTH = 300
FIGURES_WIDTH = 165
PLOT_HEIGHT = 300
FONT_SIZE = 13
SMALL_SIZE = 12
LINE_PX = 17
NEAR_SHARE = 0.03
"""Two lines nearer than this share of the axis are labelled as one."""
TITLE_LETTERS = 60
SUBTITLE_LETTERS = 95
PLAIN_NUMBER = "~f"
"""Numbers on axes without commas and without powers of ten."""
FLOOR_SHARE = 0.09
"""A number under a line that lies lower than this share of the axis would stand on the months' names."""
LABEL_X = 11.55
"""Where the labels of lines begin, in months after January; the last month stands at 11."""
LAST_X = 11.0

P = ParamSpec("P")

Chart = alt.LayerChart
Layer = Any
"""One layer of a chart; Altair's `encode` gives no type."""


# --- theme and picture ----------------------------------------------------------------------------------


def _config() -> dict[str, Any]:
    text = {"font": FONT_FALLBACK, "fontSize": FONT_SIZE}
    return {
        "background": "white",
        "font": FONT_FALLBACK,
        "view": {"stroke": None},
        "axis": {
            "labelFont": FONT_FALLBACK,
            "titleFont": FONT_FALLBACK,
            "labelFontSize": FONT_SIZE,
            "titleFontSize": FONT_SIZE,
            "titleFontWeight": "normal",
            "labelColor": INK,
            "titleColor": INK,
            "gridColor": GRID,
            "domainColor": PALE,
            "tickColor": PALE,
        },
        "title": {
            "font": FONT_FALLBACK,
            "subtitleFont": FONT_FALLBACK,
            "fontSize": 15,
            "subtitleFontSize": SMALL_SIZE,
            "fontWeight": "bold",
            "anchor": "start",
            "frame": "bounds",
            "color": INK,
            "subtitleColor": INK,
            "offset": 12,
            "lineHeight": 19,
            "subtitleLineHeight": 16,
            "subtitlePadding": 6,
        },
        "text": text | {"color": INK},
        # The whole picture has one text alternative; hundreds of labelled points would only be noise.
        "mark": {"aria": False},
    }


@cache
def _register_font() -> None:
    vl_convert.register_font_directory(str(Path(__file__).parent / "data" / "fonts"))


def svg(chart: alt.TopLevelMixin) -> str:
    """The picture of a chart as SVG text: the same chart gives the same text.

    Ids are made the picture's own, so that several can stand on one page.
    """
    _register_font()
    text: str = vl_convert.vegalite_to_svg(chart.to_dict(validate=False))
    # The converter counts its ids on from picture to picture.
    for number, name in enumerate(dict.fromkeys(re.findall(r'\bid="([^"]+)"', text))):
        text = text.replace(f'id="{name}"', f'id="{number}"').replace(f"url(#{name})", f"url(#{number})")
    mark = f"p{zlib.crc32(text.encode()):08x}-"
    return re.sub(r'\bid="(\d+)"', rf'id="{mark}\1"', re.sub(r"url\(#(\d+)\)", rf"url(#{mark}\1)", text))


def _finish(
    layers: Sequence[Layer],
    title: str,
    subtitle: Sequence[str],
    description: str,
    width: int = PLOT_WIDTH + LABEL_WIDTH,
    height: int = PLOT_HEIGHT,
) -> Chart:
    small = [line for text in subtitle for line in wrap(text, SUBTITLE_LETTERS)]
    return alt.LayerChart(
        layer=list(layers),
        title=_heading(title, small),
        description=description,
        width=width,
        height=height,
        padding=6,
        config=_config(),
    )


def _heading(title: str, subtitle: list[str]) -> alt.TitleParams:
    if title:
        return alt.TitleParams(wrap(title, TITLE_LETTERS), subtitle=subtitle)
    # Without a title a subtitle would not be drawn, so it takes the title's place in its own size.
    return alt.TitleParams(subtitle, fontSize=SMALL_SIZE, fontWeight="normal", lineHeight=SMALL_SIZE + 4)


def _plot(rows: pd.DataFrame | list[dict[str, Any]]) -> alt.Chart:
    records: Any = rows.to_dict("records") if isinstance(rows, pd.DataFrame) else rows
    return alt.Chart(alt.InlineData(values=records))


def _quick(make: Callable[P, Chart]) -> Callable[P, Chart]:
    # Altair checks every part of a chart against its schema while it is put together, which takes five times
    # as long as the rest. Tests check each finished chart instead; a slider should not wait for it. For the
    # same reason channels are objects throughout: a plain string sends Altair searching for its class.
    @wraps(make)
    def made(*args: P.args, **kwargs: P.kwargs) -> Chart:
        with schemapi.debug_mode(False):
            return make(*args, **kwargs)

    return made


def wrap(text: str, width: float) -> list[str]:
    """Break a text into lines of at most `width` letters, at spaces; pictures do not wrap by themselves."""
    lines: list[str] = []
    for word in text.split():
        if lines and len(lines[-1]) + 1 + len(word) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def spread(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Move places apart so that none is nearer than `gap` to the next and all stay between `low` and `high`.

    The order stays; each group of crowded places keeps its centre where it can.

    >>> spread([1.0, 1.0, 5.0], 1.0, 0.0, 10.0)
    [0.5, 1.5, 5.0]
    """
    order = sorted(range(len(places)), key=lambda i: places[i])
    groups: list[tuple[float, int]] = []
    for i in order:
        centre, size = places[i], 1
        centre = min(max(centre, low), high)
        while groups:
            last_centre, last_size = groups[-1]
            if centre - last_centre >= gap * (size + last_size) / 2:
                break
            groups.pop()
            centre = (centre * size + last_centre * last_size) / (size + last_size)
            size += last_size
            half = gap * (size - 1) / 2
            centre = min(max(centre, low + half), high - half)
        groups.append((centre, size))
    moved = [centre + gap * (k - (size - 1) / 2) for centre, size in groups for k in range(size)]
    found = [0.0] * len(places)
    for i, place in zip(order, moved, strict=True):
        found[i] = place
    return found


ROUND_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def ticks(low: float, high: float, most: int = 7) -> list[float]:
    """Round places for axis ticks from `low` to `high`, at most `most` steps apart.

    >>> ticks(0.0, 240.0)
    [0.0, 50.0, 100.0, 150.0, 200.0]
    """
    power = 10.0 ** math.floor(math.log10((high - low) / most))
    step = next(power * size for size in ROUND_STEPS if power * size * most >= (high - low) * (1 - 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [step * k for k in range(first, last + 1)]


def round_up(value: float) -> float:
    """The next round number for the end of an axis at or above a value.

    >>> round_up(231.8), round_up(0.0)
    (250.0, 1.0)
    """
    if not value > 0.0:
        return 1.0
    step = ticks(0.0, value)[1]
    return step * math.ceil(value / step - 1e-9)


# --- frames ---------------------------------------------------------------------------------------------


def _shown(values: Floats, kind: str, reader: words.Reader) -> Floats:
    return np.array([words.convert(float(value), kind, reader) for value in np.atleast_1d(values)])


def monthly_frame(band: Band, kind: str, reader: words.Reader) -> pd.DataFrame:
    """A band along the months of a plan in the reader's unit: columns place (0 to 11), low, middle, high."""
    low, middle, high = (_shown(values, kind, reader) for values in (band.low, band.middle, band.high))
    return pd.DataFrame({"place": np.arange(middle.size), "low": low, "middle": middle, "high": high})


def limits_frame(balance: Balance, reader: words.Reader) -> pd.DataFrame:
    """The counted limits through the months: columns key, must, place, low, middle, high.

    Months in which a limit has no answer, or sets none, are left out.
    """
    frames = [
        monthly_frame(limit.feed_g_day, "feed", reader).assign(key=limit.key, must=limit.must)
        for limit in counted(balance)
    ]
    rows = pd.concat(frames, ignore_index=True)
    finite: pd.DataFrame = rows[np.isfinite(rows["middle"])]
    return finite


def counted(balance: Balance) -> list[Limit]:
    """The limits that are compared with the demand and have an answer in at least one month."""
    return [one for one in balance.limits if one.counts and np.isfinite(one.feed_g_day.middle).any()]


# --- the balance through the year -----------------------------------------------------------------------


def top_of(*results: Balance) -> float:
    """A round upper end of the feed axis, g/day: room for the demand and each limit that comes near it."""
    highest = max(float(np.nanmax(result.demand.feed_g_day.high)) for result in results)
    lowest = [float(np.nanmin(one.feed_g_day.middle)) for result in results for one in counted(result)]
    return round_up(1.05 * max([highest, *(low for low in lowest if low < 1.5 * highest)]))


@_quick
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
    return _finish(layers, title, subtitle, describe_balance(result, reader))


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
        area = _plot(band).mark_area(color=FILL, clip=True)
        return [
            _plot(grid)
            .mark_rule(stroke=GRID)
            .encode(x=self.x("start"), x2=alt.X2("end"), y=self.y("middle")),
            area.encode(x=self.x("place"), y=self.y("low"), y2=alt.Y2("high:Q")),
            _plot(drawn)
            .mark_line(clip=True)
            .encode(
                **middle,
                detail=alt.Detail("name:N"),
                strokeWidth=alt.StrokeWidth("width:Q", scale=None),
                strokeDash=alt.StrokeDash("dash:N", scale=None),
            ),
            _plot(marked)
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
                text = _plot(rows).mark_text(
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
        leader = _plot(rows).mark_rule(strokeWidth=0.7)
        text = _plot(rows).mark_text(align="left", dx=4, baseline="middle", fontSize=FONT_SIZE)
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


# --- what gives out first -------------------------------------------------------------------------------


def worst_month(result: Balance) -> int:
    """The calendar month in which the demand comes nearest to its limit; without one, that of most feed."""
    if result.binding is not None:
        return result.binding.month
    return result.months[int(np.nanargmax(result.demand.feed_g_day.middle))]


def spans_frame(result: Balance, month: int, reader: words.Reader) -> pd.DataFrame:
    """The counted limits of one month: columns key, name, must, low, middle, high, smallest middle first."""
    rows = [
        {"key": one.key, "name": words.limit(one.key, reader), "must": one.must}
        | _of_month(one.feed_g_day, result.months.index(month), reader)
        for one in counted(result)
    ]
    frame = pd.DataFrame(rows)
    finite: pd.DataFrame = frame[np.isfinite(frame["middle"])]
    return finite.sort_values("middle", kind="stable", ignore_index=True)


@_quick
def limits_now(
    result: Balance,
    reader: words.Reader,
    title: str,
    top_g_day: float | None = None,
    month: int | None = None,
) -> Chart:
    """What each part can carry in one month, smallest on top.

    Limits that must not be exceeded have a solid bar, the others an open one; the tick is the middle. The
    fish's appetite of that month is a grey band with a line. title, top_g_day: as for `balance`. month: a
    calendar month; the one where the demand comes nearest to its limit if not given.
    """
    month = month or worst_month(result)
    spans = spans_frame(result, month, reader)
    wants = _wants(result, month, reader)
    rows = _Rows(list(spans["name"]), 34, _top_of_spans([result], month, reader, top_g_day), reader)
    figures = [
        words.span(low, high, "feed", reader)
        for low, high in zip(spans["low_g"], spans["high_g"], strict=True)
    ]
    place = float(wants["middle"].iloc[0])
    layers = [
        rows.area(wants),
        rows.rule(wants),
        rows.name(place, words.say("chart-demand", reader), "right" if place > rows.top / 2 else "left"),
        *rows.bars(spans.assign(solid=spans["must"], offset=0)),
        rows.figures(figures),
    ]
    key = words.say("chart-spans-key", reader, month=words.month(month, reader))
    return _finish(layers, title, [key], describe_limits(result, reader, month), *rows.size)


@_quick
def before_after(
    before: Balance, after: Balance, reader: words.Reader, title: str, top_g_day: float | None = None
) -> Chart:
    """What a change does in the month that was nearest to its limit: every limit and the demand.

    Before is an open bar under a broken line of demand, after a solid bar under a solid line. The limit
    that is smallest before or after stands on top; one that counts only before or only after says so.
    """
    month = worst_month(before)
    old, new = spans_frame(before, month, reader), spans_frame(after, month, reader)
    both = pd.concat([old, new])
    names = list(both.groupby("name")["middle"].min().sort_values(kind="stable").index)
    rows = _Rows(names, 46, _top_of_spans([before, after], month, reader, top_g_day), reader)
    wanted, wants = _wants(before, month, reader), _wants(after, month, reader)
    was, now = float(wanted["middle"].iloc[0]), float(wants["middle"].iloc[0])
    layers = [rows.rule(wants)]
    if abs(was - now) < NEAR_SHARE * rows.top:
        layers.append(
            rows.name(now, words.say("chart-demand", reader), "right" if now > rows.top / 2 else "left")
        )
    else:
        layers.append(rows.rule(wanted, dash=(4, 3)))
        layers.append(rows.name(was, words.say("chart-before", reader), "right" if was < now else "left"))
        layers.append(rows.name(now, words.say("chart-after", reader), "left" if was < now else "right"))
    halves = [old.assign(solid=False, offset=-8), new.assign(solid=True, offset=8)]
    layers += rows.bars(pd.concat(halves, ignore_index=True))
    layers.append(rows.figures(_changes(names, old, new, reader)))
    key = words.say("chart-before-after-key", reader, month=words.month(month, reader))
    return _finish(layers, title, [key], describe_change(before, after, reader), *rows.size)


def _wants(result: Balance, month: int, reader: words.Reader) -> pd.DataFrame:
    return pd.DataFrame([_of_month(result.demand.feed_g_day, result.months.index(month), reader)])


def _changes(names: Sequence[str], old: pd.DataFrame, new: pd.DataFrame, reader: words.Reader) -> list[str]:
    was, now = (frame.set_index("name")["middle"] for frame in (old, new))
    unit = words.unit("feed", reader)
    texts = []
    for name in names:
        before, after = (words.number(float(end[name])) if name in end else "" for end in (was, now))
        if before == after:
            texts.append(words.say("chart-unchanged", reader, after=after, unit=unit))
        elif before and after:
            texts.append(words.say("chart-changed", reader, before=before, after=after, unit=unit))
        elif before:
            texts.append(words.say("chart-lifted", reader, before=before, unit=unit))
        else:
            texts.append(words.say("chart-new-limit", reader, after=after, unit=unit))
    return texts


@dataclass(frozen=True)
class _Rows:
    """Named rows over a feed axis, with a column of figures at the right."""

    names: list[str]
    step: int
    top: float
    reader: words.Reader

    @property
    def size(self) -> tuple[int, int]:
        return ROWS_WIDTH + FIGURES_WIDTH, self.step * len(self.names)

    def x(self, field: str) -> alt.X:
        end = self.top * (ROWS_WIDTH + FIGURES_WIDTH) / ROWS_WIDTH
        title = words.say("chart-axis-feed", self.reader, unit=words.unit("feed", self.reader))
        axis = alt.Axis(
            values=ticks(0.0, self.top), title=title, titleAnchor="start", domain=False, format=PLAIN_NUMBER
        )
        return alt.X(f"{field}:Q", scale=alt.Scale(domain=[0.0, end], nice=False), axis=axis)

    def y(self, field: str = "row") -> alt.Y:
        # Rows are counted from the top; the first one's middle stands at 0.5.
        middles = [number + 0.5 for number in range(len(self.names))]
        axis = alt.Axis(
            values=middles,
            labelExpr=f"{json.dumps(self.names)}[floor(datum.value)]",
            title=None,
            labelLimit=220,
            labelPadding=8,
            domain=False,
            ticks=False,
            grid=False,
            labelOverlap=False,
        )
        scale = alt.Scale(domain=[0.0, float(len(self.names))], reverse=True, nice=False)
        return alt.Y(f"{field}:Q", scale=scale, axis=axis)

    def cut(self, spans: pd.DataFrame) -> pd.DataFrame:
        return spans.assign(low=spans["low"].clip(upper=self.top), high=spans["high"].clip(upper=self.top))

    def area(self, wants: pd.DataFrame) -> Layer:
        return _plot(self.cut(wants)).mark_rect(color=FILL).encode(x=self.x("low"), x2=alt.X2("high:Q"))

    def rule(self, wants: pd.DataFrame, dash: Sequence[int] = (1, 0)) -> Layer:
        inside = wants[wants["middle"] <= self.top]
        rule = _plot(inside).mark_rule(color=INK, strokeWidth=3, strokeDash=list(dash))
        return rule.encode(x=self.x("middle"))

    def name(self, place: float, text: str, align: Literal["left", "right"]) -> Layer:
        """A text above the rows, at a place on the axis."""
        rows = pd.DataFrame({"middle": [min(place, self.top)], "label": [text]})
        mark = _plot(rows).mark_text(align=align, baseline="bottom", dy=-4, fontSize=FONT_SIZE, color=INK)
        return mark.encode(x=self.x("middle"), y=alt.value(0), text=alt.Text("label:N"))

    def bars(self, spans: pd.DataFrame) -> list[Layer]:
        """Spans with their middle, solid or open; an arrow head where one runs beyond the axis.

        spans: with columns `solid`, and `offset` from the middle of the row in pixels, downwards.
        """
        looks = self.cut(spans).assign(fill=np.where(spans["solid"], BAR, "white"))
        looks["row"] = [self.names.index(name) + 0.5 for name in spans["name"]] + spans["offset"] / self.step
        for edge, pixels in (("top", -6.5), ("bottom", 6.5), ("tick_top", -9.5), ("tick_bottom", 9.5)):
            looks[edge] = looks["row"] + pixels / self.step
        bar = _plot(looks[looks["low"] < self.top]).mark_rect(stroke=INK, strokeWidth=1.2)
        tick = _plot(looks[looks["middle"] <= self.top]).mark_rule(strokeWidth=3, color=INK)
        head = _plot(looks[spans["high"] > self.top]).mark_point(
            shape="triangle-right", size=60, xOffset=5, fill=INK, stroke=INK, opacity=1
        )
        fill = alt.Fill("fill:N", scale=None)
        return [
            bar.encode(
                x=self.x("low"), x2=alt.X2("high:Q"), y=self.y("top"), y2=alt.Y2("bottom:Q"), fill=fill
            ),
            tick.encode(x=self.x("middle"), y=self.y("tick_top"), y2=alt.Y2("tick_bottom:Q")),
            head.encode(x=self.x("high"), y=self.y("row")),
        ]

    def figures(self, texts: Sequence[str]) -> Layer:
        """A text for each row, at the right of the plot."""
        rows = [{"place": self.top, "row": k + 0.5, "figure": text} for k, text in enumerate(texts)]
        text = _plot(rows).mark_text(align="left", dx=18, fontSize=FONT_SIZE, color=INK)
        return text.encode(x=self.x("place"), y=self.y(), text=alt.Text("figure:N"))


def _of_month(band: Band, position: int, reader: words.Reader) -> dict[str, float]:
    ends = {"low": band.low[position], "middle": band.middle[position], "high": band.high[position]}
    shown = {end: words.convert(float(value), "feed", reader) for end, value in ends.items()}
    return shown | {f"{end}_g": float(value) for end, value in ends.items()}


def _top_of_spans(
    results: Sequence[Balance], month: int, reader: words.Reader, top_g_day: float | None
) -> float:
    # Far limits are cut at the axis and keep their figure, so that the near ones stay readable.
    if top_g_day is None:
        near = [
            float(one.feed_g_day.middle[result.months.index(month)])
            for result in results
            for one in counted(result)
        ]
        demand = max(float(np.nanmax(result.demand.feed_g_day.high)) for result in results)
        top_g_day = round_up(max([1.05 * demand, *(1.1 * place for place in near if place < 2.0 * demand)]))
    return words.convert(top_g_day, "feed", reader)


# --- water temperature ----------------------------------------------------------------------------------


@_quick
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
    return _finish(layers, title, [], describe_water(result, species, reader))


# --- text alternatives ----------------------------------------------------------------------------------


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


def describe_limits(result: Balance, reader: words.Reader, month: int | None = None) -> str:
    """What the picture of one month's limits shows."""
    month = month or worst_month(result)
    spans = spans_frame(result, month, reader)
    limits = [
        words.say(
            "chart-alt-span",
            reader,
            name=row["name"],
            amount=words.span(row["low_g"], row["high_g"], "feed", reader),
        )
        for row in spans.to_dict("records")
    ]
    return words.say(
        "chart-alt-limits",
        reader,
        month=words.month(month, reader),
        wanted=_in_month(result.demand.feed_g_day, result.months, month, reader),
        limits=words.listed(limits, reader),
    )


def describe_change(before: Balance, after: Balance, reader: words.Reader) -> str:
    """What the picture of a change shows."""
    month = worst_month(before)
    old = {one.key: one.feed_g_day for one in counted(before)}
    changes = [
        words.say(
            "chart-alt-change",
            reader,
            name=words.limit(one.key, reader),
            before=_in_month(old[one.key], before.months, month, reader),
            after=_in_month(one.feed_g_day, after.months, month, reader),
        )
        for one in counted(after)
        if one.key in old
    ]
    return words.say(
        "chart-alt-before-after",
        reader,
        month=words.month(month, reader),
        before=_in_month(before.demand.feed_g_day, before.months, month, reader),
        after=_in_month(after.demand.feed_g_day, after.months, month, reader),
        limits=words.listed(changes, reader),
    )


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


def _extreme(band: Band, months: Sequence[int], reader: words.Reader, highest: bool) -> tuple[str, str]:
    """The highest or lowest month of a band: its range in words, its name."""
    place = int(np.nanargmax(band.middle) if highest else np.nanargmin(band.middle))
    amount = words.span(float(band.low[place]), float(band.high[place]), "feed", reader)
    return amount, words.month(months[place], reader)


def _in_month(band: Band, months: Sequence[int], month: int, reader: words.Reader) -> str:
    return words.quantity(float(band.middle[months.index(month)]), "feed", reader)
