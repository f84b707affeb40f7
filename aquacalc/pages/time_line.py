"""A straight time line from now: when what happens; its bar is solid to the short end and hatched beyond."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from aquacalc import words
from aquacalc.constants import HOURS_PER_DAY
from aquacalc.pages.html import Html, element, join
from aquacalc.words import Reader

PAGE, PHONE = 720.0, 340.0
"""Widths of a picture, px."""
MARGIN_SHARE = 20.0 / 720.0
ROW, BAR, FOOT = 24.0, 14.0, 30.0
FONT = "Noto Sans SemiCondensed, Arial, Liberation Sans, sans-serif"
INK = "#1a1a1a"
SIZE, LARGE = 14.0, 17.0
"""Size of letters, px; on paper that hangs or is handed out the larger one."""
LETTER = 0.6
"""Width of a letter over its size, on average."""

STEPS_H = (1 / 12, 1 / 6, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 48, 96, 168, 336, 672)
MOST_TICKS = {PAGE: 7, PHONE: 3}
DAYS_FROM_H = 48.0


@dataclass(frozen=True)
class Mark:
    """Something that happens after so many hours; one that never does is infinite, and not drawn."""

    hours: float
    text: str


def svg(
    marks: Sequence[Mark],
    bar: tuple[float, float],
    description: str,
    reader: Reader,
    size: float = SIZE,
    width: float = PAGE,
) -> Html:
    """The line with its marks, a row each so that no two texts meet.

    bar: hours to its short and to its long end, infinite where there is none. description: the picture in
    words, for those who do not see it. size: of its letters, px. width: `PAGE` or `PHONE`.
    """
    drawn = sorted((one for one in marks if math.isfinite(one.hours)), key=lambda one: one.hours)
    ends = [*(one.hours for one in drawn), *(end for end in bar if math.isfinite(end))]
    whole_h = 1.08 * max([*ends, STEPS_H[0]])
    left, right = MARGIN_SHARE * width, (1.0 - MARGIN_SHARE) * width
    line_y = 10.0 + ROW * len(drawn) + BAR
    height = line_y + FOOT

    def x(hours: float) -> float:
        return left + (right - left) * min(hours, whole_h) / whole_h

    low, high = bar
    # A picture that is not shown lends its pattern to no other.
    hatched = f"aq-hatched-{width:g}"
    parts = [element("rect", width="100%", height="100%", fill="white"), _hatching(hatched)]
    if math.isfinite(low):
        parts += [
            _rect(left, line_y - BAR, x(low) - left, INK),
            _rect(x(low), line_y - BAR, x(high) - x(low), f"url(#{hatched})"),
        ]
    parts += [_line(left, line_y, right, line_y), *_ticks(whole_h, x, line_y, reader, size, width)]
    for row, mark in enumerate(drawn):
        at, y = x(mark.hours), 18.0 + ROW * row
        parts.append(_line(at, y - 12.0, at, line_y))
        parts.append(_beside(at, y, mark.text, size, width))
    look = {"viewBox": f"0 0 {width:g} {height:g}", "width": f"{width:g}", "height": f"{height:g}"}
    named = {"xmlns": "http://www.w3.org/2000/svg", "role": "img", "aria-label": description}
    return element("svg", *parts, **look, **named, **{"font-family": FONT})


def span(hours: float, reader: Reader) -> str:
    """A time as people say it: minutes, hours, from two days on days."""
    if hours < DAYS_FROM_H:
        return words.quantity(hours, "time", reader)
    return words.quantity(hours / HOURS_PER_DAY, "days", reader)


def _beside(at: float, y: float, text: str, size: float, width: float) -> Html:
    """A text right of its mark, left of it, or from the picture's edge on: where it fits."""
    wide = LETTER * size * len(text)
    if at + 6.0 + wide < width:
        return _text(at + 6.0, y, text, "start", size)
    if at - 6.0 - wide > 0.0:
        return _text(at - 6.0, y, text, "end", size)
    return _text(2.0, y, text, "start", size)


def _hatching(name: str) -> Html:
    stroke = element("path", d="M-1,1 l2,-2 M0,6 l6,-6 M5,7 l2,-2", stroke=INK, **{"stroke-width": "1.3"})
    tile = {"id": name, "patternUnits": "userSpaceOnUse", "width": "6", "height": "6"}
    return element("defs", element("pattern", stroke, **tile))


def _ticks(
    whole_h: float, x: Callable[[float], float], y: float, reader: Reader, size: float, width: float
) -> Iterator[Html]:
    """Times beneath the line in even steps; the first one is now."""
    most = MOST_TICKS[width]
    least_h = 0.5 if whole_h > 1.0 else 0.0  # quarters of longer times are not said in two digits
    fitting = (one for one in STEPS_H if one >= least_h and whole_h / one <= most)
    step = next(fitting, whole_h / most)
    yield _line(x(0.0), y, x(0.0), y + 6.0)
    yield _text(x(0.0), y + 22.0, words.say("time-line-now", reader), "start", size)
    for n in range(1, int(whole_h / step) + 1):
        at = x(n * step)
        yield _line(at, y, at, y + 6.0)
        text = span(n * step, reader)
        last = at + LETTER * size * len(text) / 2.0 > width
        yield _text(at, y + 22.0, text, "end" if last else "middle", size)


def _rect(x: float, y: float, width: float, fill: str) -> Html:
    place = {"x": f"{x:.1f}", "y": f"{y:.1f}", "width": f"{max(width, 0.0):.1f}", "height": f"{BAR:g}"}
    return element("rect", **place, fill=fill, stroke=INK)


def _line(x0: float, y0: float, x1: float, y1: float) -> Html:
    ends = {"x1": f"{x0:.1f}", "y1": f"{y0:.1f}", "x2": f"{x1:.1f}", "y2": f"{y1:.1f}"}
    return element("line", **ends, stroke=INK, **{"stroke-width": "1.6"})


def _text(x: float, y: float, text: str, anchor: str, size: float) -> Html:
    look = {"x": f"{x:.1f}", "y": f"{y:.1f}", "font-size": f"{size:g}", "fill": INK, "text-anchor": anchor}
    return element("text", join(text), **look)
