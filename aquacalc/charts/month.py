"""Charts of one month: what gives out first, and what a change does."""

import itertools
from collections.abc import Sequence

from aquacalc import words
from aquacalc.charts.axes import ticks
from aquacalc.charts.canvas import NARROW, WIDE, Align, Canvas, width_px
from aquacalc.charts.frames import Span, counted, of_month, spans_of, top_of_spans, worst_month
from aquacalc.charts.picture import FILL, FONT_SIZE, PALE
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band

BAR = "#8f979f"
NAMES_PX, FIGURES_PX = 206.0, 165.0
"""In the wide picture a column of names stands left of the bars, one of figures right of them."""
TOP_PX, FOOT_PX, LINE_PX = 22.0, 44.0, 18.0
HALF_BAR_PX, HALF_TICK_PX = 6.5, 9.5
NEAR_SHARE = 0.03
"""Two lines nearer than this share of the axis are labelled as one."""


def limits_now(
    result: Balance,
    reader: words.Reader,
    title: str,
    top_g_day: float | None = None,
    month: int | None = None,
    width: float = WIDE,
) -> str:
    """What each part can carry in one month, smallest on top, as SVG.

    Limits that must not be exceeded have a solid bar, the others an open one; the tick is the middle. The
    fish's appetite of that month is a grey band with a line. title, top_g_day: as for `balance`. month: a
    calendar month; the one where the demand comes nearest to its limit if not given. width: `WIDE` or
    `NARROW`.
    """
    month = month or worst_month(result)
    spans = spans_of(result, month, reader)
    wants = _wants(result, month, reader)
    figures = [words.span(span.low_g, span.high_g, "feed", reader) for span in spans]
    names = [span.name for span in spans]
    rows = _Rows(width, names, figures, 34.0, top_of_spans([result], month, reader, top_g_day), reader)
    rows.area(wants)
    for span in spans:
        rows.bar(span, solid=span.must)
    rows.rule(wants.middle)
    side: Align = "right" if wants.middle > rows.top / 2 else "left"
    rows.name(wants.middle, words.say("chart-demand", reader), side)
    key = words.say("chart-spans-key", reader, month=words.month(month, reader))
    return rows.canvas.svg(describe_limits(result, reader, month), title, [key])


def before_after(
    before: Balance,
    after: Balance,
    reader: words.Reader,
    title: str,
    top_g_day: float | None = None,
    width: float = WIDE,
) -> str:
    """What a change does in the month that was nearest to its limit: every limit and the demand, as SVG.

    Before is an open bar under a broken line of demand, after a solid bar under a solid line. The limit
    that is smallest before or after stands on top; one that counts only before or only after says so.
    """
    month = worst_month(before)
    old, new = ({span.name: span for span in spans_of(one, month, reader)} for one in (before, after))
    least = {
        name: min(found[name].middle for found in (old, new) if name in found) for name in {**old, **new}
    }
    names = sorted(least, key=lambda name: least[name])
    figures = _changes(names, old, new, reader)
    rows = _Rows(width, names, figures, 46.0, top_of_spans([before, after], month, reader, top_g_day), reader)
    was, now = (_wants(one, month, reader).middle for one in (before, after))
    for name in names:
        if name in old:
            rows.bar(old[name], solid=False, offset=-8.0)
        if name in new:
            rows.bar(new[name], solid=True, offset=8.0)
    rows.rule(now)
    if abs(was - now) < NEAR_SHARE * rows.top:
        side: Align = "right" if now > rows.top / 2 else "left"
        rows.name(now, words.say("chart-demand", reader), side)
    else:
        rows.rule(was, dash=(4, 3))
        rows.name(was, words.say("chart-before", reader), "right" if was < now else "left")
        rows.name(now, words.say("chart-after", reader), "left" if was < now else "right")
    key = words.say("chart-before-after-key", reader, month=words.month(month, reader))
    return rows.canvas.svg(describe_change(before, after, reader), title, [key])


def _wants(result: Balance, month: int, reader: words.Reader) -> Span:
    return of_month("", True, result.demand.feed_g_day, result.months.index(month), reader)


def _changes(
    names: Sequence[str], old: dict[str, Span], new: dict[str, Span], reader: words.Reader
) -> list[str]:
    unit = words.unit("feed", reader)
    texts = []
    for name in names:
        before, after = (words.number(end[name].middle) if name in end else "" for end in (old, new))
        if before == after:
            texts.append(words.say("chart-unchanged", reader, after=after, unit=unit))
        elif before and after:
            texts.append(words.say("chart-changed", reader, before=before, after=after, unit=unit))
        elif before:
            texts.append(words.say("chart-lifted", reader, before=before, unit=unit))
        else:
            texts.append(words.say("chart-new-limit", reader, after=after, unit=unit))
    return texts


class _Rows:
    """Named rows over a feed axis, with their figures at the right.

    In the narrow picture name and figures stand over the bar, on a line of their own.
    """

    def __init__(
        self,
        width: float,
        names: Sequence[str],
        figures: Sequence[str],
        step: float,
        top: float,
        reader: words.Reader,
    ) -> None:
        narrow = width == NARROW
        self.names, self.top = list(names), top
        self.step = step + (LINE_PX if narrow else 0.0)
        self.down = (LINE_PX if narrow else 0.0) + step / 2.0
        self.left = 2.0 if narrow else NAMES_PX
        self.right = width - (14.0 if narrow else FIGURES_PX)
        self.foot = TOP_PX + self.step * len(self.names)
        self.canvas = Canvas(width, self.foot + FOOT_PX)
        canvas = self.canvas
        for tick in ticks(0.0, top):
            x = self.x(tick)
            canvas.grid(x, TOP_PX, x, self.foot)
            text = words.number(tick, 4)
            canvas.text(text, max(x, width_px(text, FONT_SIZE) / 2.0), self.foot + 13.0, "center", FONT_SIZE)
        axis = words.say("chart-axis-feed", reader, unit=words.unit("feed", reader))
        canvas.text(axis, self.left, self.foot + 34.0, size=FONT_SIZE)
        for number, (name, figure) in enumerate(zip(self.names, figures, strict=True)):
            y = TOP_PX + number * self.step + (LINE_PX / 2.0 + 2.0 if narrow else self.down)
            if narrow:
                canvas.rule(0.0, y - LINE_PX / 2.0, width, y - LINE_PX / 2.0, 0.5, ink=PALE)
            side: Align
            at, side = (0.0, "left") if narrow else (self.left - 8.0, "right")
            canvas.text(name, at, y, side, FONT_SIZE, halo=narrow)
            at, side = (width, "right") if narrow else (self.right + 18.0, "left")
            canvas.text(figure, at, y, side, FONT_SIZE, halo=narrow)

    def x(self, value: float) -> float:
        """Place of a value, px from the left, cut at the end of the axis."""
        return self.left + min(value, self.top) / self.top * (self.right - self.left)

    def area(self, span: Span) -> None:
        """A grey band behind all rows."""
        self.canvas.ground(self.x(span.low), self.x(span.high), TOP_PX, self.foot, FILL)

    def rule(self, value: float, dash: Sequence[int] = (1, 0)) -> None:
        """A line through all rows; none where it lies beyond the axis."""
        if value <= self.top:
            self.canvas.rule(self.x(value), TOP_PX, self.x(value), self.foot, 3.0, dash)

    def name(self, value: float, text: str, align: Align) -> None:
        """A text above the rows, at a place on the axis."""
        self.canvas.text(text, self.x(value), TOP_PX - 10.0, align, FONT_SIZE)

    def bar(self, span: Span, solid: bool, offset: float = 0.0) -> None:
        """A span with its middle, solid or open; an arrow head where it runs beyond the axis.

        offset: from the middle of the row, px downwards.
        """
        y = TOP_PX + self.names.index(span.name) * self.step + self.down + offset
        low, high = self.x(span.low), self.x(span.high)
        if span.low < self.top:
            self.canvas.box(low, high, y - HALF_BAR_PX, y + HALF_BAR_PX, BAR if solid else "white")
            corners = [(low, -1.0), (high, -1.0), (high, 1.0), (low, 1.0), (low, -1.0)]
            for (x, up), (x2, up2) in itertools.pairwise(corners):
                self.canvas.rule(x, y + up * HALF_BAR_PX, x2, y + up2 * HALF_BAR_PX)
        if span.middle <= self.top:
            x = self.x(span.middle)
            self.canvas.rule(x, y - HALF_TICK_PX, x, y + HALF_TICK_PX, 3.0)
        if span.high > self.top:
            self.canvas.mark(high + 5.0, y, "triangle-right")


def describe_limits(result: Balance, reader: words.Reader, month: int | None = None) -> str:
    """What the picture of one month's limits shows."""
    month = month or worst_month(result)
    limits = [
        words.say(
            "chart-alt-span",
            reader,
            name=span.name,
            amount=words.span(span.low_g, span.high_g, "feed", reader),
        )
        for span in spans_of(result, month, reader)
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
