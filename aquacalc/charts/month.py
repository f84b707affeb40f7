"""Charts of one month: what gives out first, and what a change does."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import pandas as pd

from aquacalc import words
from aquacalc.charts.axes import PLAIN_NUMBER, ticks
from aquacalc.charts.frames import counted, of_month, spans_frame, top_of_spans, worst_month
from aquacalc.charts.picture import FILL, FONT_SIZE, INK, Chart, Layer, alt, finish, plot, quick
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band

BAR = "#8f979f"
ROWS_WIDTH = 300
FIGURES_WIDTH = 165
NEAR_SHARE = 0.03
"""Two lines nearer than this share of the axis are labelled as one."""


@quick
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
    rows = _Rows(list(spans["name"]), 34, top_of_spans([result], month, reader, top_g_day), reader)
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
    return finish(layers, title, [key], describe_limits(result, reader, month), rows.size)


@quick
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
    rows = _Rows(names, 46, top_of_spans([before, after], month, reader, top_g_day), reader)
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
    return finish(layers, title, [key], describe_change(before, after, reader), rows.size)


def _wants(result: Balance, month: int, reader: words.Reader) -> pd.DataFrame:
    return pd.DataFrame([of_month(result.demand.feed_g_day, result.months.index(month), reader)])


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
        return plot(self.cut(wants)).mark_rect(color=FILL).encode(x=self.x("low"), x2=alt.X2("high:Q"))

    def rule(self, wants: pd.DataFrame, dash: Sequence[int] = (1, 0)) -> Layer:
        inside = wants[wants["middle"] <= self.top]
        rule = plot(inside).mark_rule(color=INK, strokeWidth=3, strokeDash=list(dash))
        return rule.encode(x=self.x("middle"))

    def name(self, place: float, text: str, align: Literal["left", "right"]) -> Layer:
        """A text above the rows, at a place on the axis."""
        rows = pd.DataFrame({"middle": [min(place, self.top)], "label": [text]})
        mark = plot(rows).mark_text(align=align, baseline="bottom", dy=-4, fontSize=FONT_SIZE, color=INK)
        return mark.encode(x=self.x("middle"), y=alt.value(0), text=alt.Text("label:N"))

    def bars(self, spans: pd.DataFrame) -> list[Layer]:
        """Spans with their middle, solid or open; an arrow head where one runs beyond the axis.

        spans: with columns `solid`, and `offset` from the middle of the row in pixels, downwards.
        """
        looks = self.cut(spans).assign(fill=np.where(spans["solid"], BAR, "white"))
        looks["row"] = [self.names.index(name) + 0.5 for name in spans["name"]] + spans["offset"] / self.step
        for edge, pixels in (("top", -6.5), ("bottom", 6.5), ("tick_top", -9.5), ("tick_bottom", 9.5)):
            looks[edge] = looks["row"] + pixels / self.step
        bar = plot(looks[looks["low"] < self.top]).mark_rect(stroke=INK, strokeWidth=1.2)
        tick = plot(looks[looks["middle"] <= self.top]).mark_rule(strokeWidth=3, color=INK)
        head = plot(looks[spans["high"] > self.top]).mark_point(
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
        text = plot(rows).mark_text(align="left", dx=18, fontSize=FONT_SIZE, color=INK)
        return text.encode(x=self.x("place"), y=self.y(), text=alt.Text("figure:N"))


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


def _in_month(band: Band, months: Sequence[int], month: int, reader: words.Reader) -> str:
    return words.quantity(float(band.middle[months.index(month)]), "feed", reader)
