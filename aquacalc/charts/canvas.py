"""A picture in pixels: what is drawn is collected by kind and becomes SVG, or a few layers of one chart.

Charts with rows, crowded labels and several scales under one time axis are laid out by hand, so that no label
is left to chance: `width_px` tells how wide a text will be, `free` whether it stands clear of the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from html import escape
from typing import Any, Literal

import numpy as np

from aquacalc.charts import drawn
from aquacalc.charts.picture import FONT_FALLBACK, FONT_SIZE, GRID, INK, Layer, alt, plot
from aquacalc.uncertainty import Floats

Align = Literal["left", "center", "right"]

WIDTHS = WIDE, NARROW = 682.0, 340.0
"""Widths of a picture, px: for a page, and for a phone."""
TEXT_SIZE = FONT_SIZE - 1.0
HATCH_PX = 7.0
MARK_AREA_PX2 = 42.0
WORD_GAP_PX = 4.0
LINE_SHARE = 1.2
"""Height of a line of text over its size."""
TITLE_SIZE = 15.0
HEAD_SHARE = 1.35
HEAD_GAP_PX = 8.0
BOLD_SHARE = 1.12
"""Width of bold letters over that of plain ones."""

# Widths of letters in thousandths of their size, in our font or in the one that stands in for it where ours
# is not at hand, whichever is wider.
_WIDTHS = {
    230: "'",
    290: " !,.:;ijl\u00a0",
    340: "()-I[]`ft",
    400: '"/\\r{}',
    520: "*Jcksvxyz|",
    560: "$0123456789?L^_abdeghnopqu\u00e9",
    580: "#\u2265\u2264",
    620: "+<=>FTZ~\u00d7\u2212",
    670: "&ABEKPSVXY",
    730: "CDHNRUw",
    790: "GOQ",
    860: "Mm",
    1020: "%@W\u2026",
}
_WIDTH_OF = {letter: width / 1000.0 for width, letters in _WIDTHS.items() for letter in letters}
_USUAL_WIDTH = 0.7


def width_px(text: str, size: float = TEXT_SIZE) -> float:
    """Width of a line of text.

    >>> width_px("water", 10.0) < width_px("WATER", 10.0)
    True
    """
    return size * _widths(text)


@lru_cache(maxsize=4096)
def _widths(text: str) -> float:
    # The same texts come back at every step of a slider.
    return sum(_WIDTH_OF.get(letter, _USUAL_WIDTH) for letter in text)


def cut(text: str, px: float, size: float = TEXT_SIZE) -> str:
    """A text that fits a width: whole, or its beginning with a mark; nothing where three letters do not fit.

    >>> cut("watercress", 40.0, 10.0), cut("okra", 40.0, 10.0), cut("okra", 8.0, 10.0)
    ('water…', 'okra', '')
    """
    if width_px(text, size) <= px:
        return text
    for length in range(len(text) - 1, 2, -1):
        shorter = text[:length].rstrip() + "…"
        if width_px(shorter, size) <= px:
            return shorter
    return ""


def broken(text: str, px: float, size: float = TEXT_SIZE) -> list[str]:
    """A text as lines that fit a width, broken at spaces.

    >>> broken("fish and plants", 60.0, 10.0)
    ['fish and', 'plants']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and width_px(f"{lines[-1]} {word}", size) <= px:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


@dataclass(frozen=True)
class Written:
    """A text of the picture: its box, from (x, y) to (x2, y2)."""

    text: str
    x: float
    y: float
    x2: float
    y2: float

    def touches(self, other: Written, gap: float = 0.0) -> bool:
        """Whether the boxes overlap, or stand nearer than `gap` side by side."""
        beside = self.x2 + gap <= other.x or other.x2 + gap <= self.x
        return not (beside or self.y2 <= other.y or other.y2 <= self.y)


@dataclass
class Canvas:
    """What a picture holds; x and y in pixels from its upper left corner."""

    width: float
    height: float
    written: list[Written] = field(default_factory=list)
    _ground: list[dict[str, Any]] = field(default_factory=list)
    _grid: list[dict[str, Any]] = field(default_factory=list)
    _areas: list[dict[str, Any]] = field(default_factory=list)
    _boxes: list[dict[str, Any]] = field(default_factory=list)
    _lines: list[dict[str, Any]] = field(default_factory=list)
    _rules: list[dict[str, Any]] = field(default_factory=list)
    _marks: list[dict[str, Any]] = field(default_factory=list)
    _texts: list[dict[str, Any]] = field(default_factory=list)

    # --- what is drawn, from the ground up ---------------------------------------------------------------

    def ground(self, x: float, x2: float, y: float, y2: float, fill: str) -> None:
        """A plain field behind everything."""
        self._ground.append(_corners(x, x2, y, y2) | {"fill": fill})

    def grid(
        self, x: float, y: float, x2: float, y2: float, ink: str = GRID, dash: Sequence[int] = (1, 0)
    ) -> None:
        """A faint line under everything but the ground."""
        self._grid.append(_corners(x, x2, y, y2) | _look(ink, 1.0, dash))

    def area(self, x: Floats, low: Floats, high: Floats, fill: str) -> None:
        """The band between two curves; gaps where a value is missing."""
        for part in _unbroken(low + high):
            name = len(self._areas)
            self._areas += [
                {"name": name, "x": _px(x[k]), "y": _px(low[k]), "y2": _px(high[k]), "fill": fill}
                for k in part
            ]

    def box(self, x: float, x2: float, y: float, y2: float, fill: str = "white") -> None:
        """A field before the ground, without an outline."""
        self._boxes.append(_corners(x, x2, y, y2) | {"fill": fill})

    def line(
        self, x: Floats, y: Floats, ink: str = INK, width: float = 2.0, dash: Sequence[int] = (1, 0)
    ) -> None:
        """A curve; gaps where a value is missing."""
        for part in _unbroken(y):
            name = len(self._lines)
            self._lines += [
                {"name": name, "x": _px(x[k]), "y": _px(y[k])} | _look(ink, width, dash) for k in part
            ]

    def rule(
        self,
        x: float,
        y: float,
        x2: float,
        y2: float,
        width: float = 1.2,
        dash: Sequence[int] = (1, 0),
        ink: str = INK,
    ) -> None:
        """A straight line."""
        self._rules.append(_corners(x, x2, y, y2) | _look(ink, width, dash))

    def mark(self, x: float, y: float, shape: str, ink: str = INK, fill: str = INK) -> None:
        """A small figure at a place. shape: a key of `drawn.SHAPES`."""
        self._marks.append({"x": _px(x), "y": _px(y), "shape": shape, "ink": ink, "fill": fill})

    def hatch(self, x: float, x2: float, y: float, y2: float) -> None:
        """Slanting lines over a field."""
        low, high = min(y, y2), max(y, y2)
        tall = high - low
        at = x - tall + HATCH_PX / 2
        while at < x2:
            begin, end = max(at, x), min(at + tall, x2)
            if end > begin:
                self.rule(begin, high - (begin - at), end, high - (end - at), 0.6, ink="#707070")
            at += HATCH_PX

    # --- texts -------------------------------------------------------------------------------------------

    def place(self, text: str, x: float, y: float, align: Align = "left", size: float = TEXT_SIZE) -> Written:
        """The box that a text would take up, its middle at the height `y`."""
        wide, tall = width_px(text, size), size * LINE_SHARE
        begin = x - {"left": 0.0, "center": wide / 2.0, "right": wide}[align]
        return Written(text, begin, y - tall / 2.0, begin + wide, y + tall / 2.0)

    def free(self, there: Written) -> bool:
        """Whether a text would stand inside the picture and clear of all others."""
        inside = there.x >= 0.0 and there.x2 <= self.width and there.y >= 0.0 and there.y2 <= self.height
        return inside and not any(there.touches(other, WORD_GAP_PX) for other in self.written)

    def keep_clear(self, x: float, x2: float, y: float, y2: float) -> None:
        """Let no text stand on a field."""
        self.written.append(Written("", x, y, x2, y2))

    def text(
        self,
        text: str,
        x: float,
        y: float,
        align: Align = "left",
        size: float = TEXT_SIZE,
        bold: bool = False,
        halo: bool = False,
        ink: str = INK,
        angle: float = 0.0,
    ) -> None:
        """A line of text; halo: in a white outline, so that it stands out from lines beneath.

        angle: turned clockwise, degrees; a turned text keeps no room from others.
        """
        if not angle:
            self.written.append(self.place(text, x, y, align, size))
        look = {"size": size, "align": align, "bold": bold, "halo": halo, "ink": ink, "angle": angle}
        self._texts.append({"x": _px(x), "y": _px(y), "text": text} | look)

    def first_free(
        self,
        texts: Iterable[str],
        x: float,
        y: float,
        align: Align = "left",
        size: float = TEXT_SIZE,
        low: float = 0.0,
        high: float = float("inf"),
        halo: bool = False,
    ) -> bool:
        """Write the first of several texts that fits between `low` and `high` and clear of others, if any."""
        for text in texts:
            there = self.place(text, x, y, align, size)
            if there.x >= low and there.x2 <= high and self.free(there):
                self.text(text, x, y, align, size, halo=halo)
                return True
        return False

    # --- the picture, written by ourselves ---------------------------------------------------------------

    def svg(self, description: str, title: str = "", notes: Sequence[str] = ()) -> str:
        """The picture as SVG, in a hundredth of the time that a chart takes.

        description: its text alternative. title: the answer in words, may be empty; notes: smaller lines
        under it. Both stand over the picture, broken to its width.
        """
        head, tall = self._heading(title, notes)
        body = [
            *map(drawn.box, self._ground),
            drawn.strokes(self._grid),
            *map(drawn.band, drawn.by_name(self._areas)),
            *map(drawn.box, self._boxes),
            *map(drawn.curve, drawn.by_name(self._lines)),
            drawn.strokes(self._rules),
            *map(drawn.mark, self._marks),
            *(drawn.text(row) for row in self._texts if row["halo"]),
            *(drawn.text(row | {"halo": False}) for row in self._texts),
        ]
        wide, high = round(self.width), round(self.height + tall)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{high}"'
            f' viewBox="0 {-tall:g} {wide} {high}" role="img" aria-label="{escape(description)}"'
            f' font-family="{FONT_FALLBACK}" fill="none">'
            f'<rect y="{-tall:g}" width="{wide}" height="{high}" fill="white"/>'
            f"{head}{''.join(body)}</svg>"
        )

    def _heading(self, title: str, notes: Sequence[str]) -> tuple[str, float]:
        """Title and notes over the picture, and how high they stand."""
        lines = [(text, TITLE_SIZE, True) for text in broken(title, self.width / BOLD_SHARE, TITLE_SIZE)]
        for note in notes:
            lines += [(text, TEXT_SIZE, False) for text in broken(note, self.width)]
        tall = sum(size * HEAD_SHARE for _, size, _ in lines) + (HEAD_GAP_PX if lines else 0.0)
        y, written = -tall, []
        for text, size, bold in lines:
            y += size * HEAD_SHARE
            row = {"x": 0.0, "y": _px(y - size * HEAD_SHARE / 2.0), "text": text, "size": size, "bold": bold}
            written.append(drawn.text(row | {"align": "left", "ink": INK, "halo": False, "angle": 0.0}))
        return "".join(written), round(tall, 2)

    # --- the picture as a chart --------------------------------------------------------------------------

    @property
    def size(self) -> tuple[int, int]:
        """Width and height."""
        return round(self.width), round(self.height)

    def layers(self) -> list[Layer]:
        """The picture as layers of a chart, in the order in which they lie over each other."""
        x, y, x2, y2 = self._x(), self._y(), alt.X2("x2:Q"), alt.Y2("y2:Q")
        fill = alt.Fill("fill:N", scale=None)
        look = {
            "color": alt.Color("ink:N", scale=None),
            "strokeWidth": alt.StrokeWidth("width:Q", scale=None),
            "strokeDash": alt.StrokeDash("dash:N", scale=None),
        }
        name = alt.Detail("name:N")
        found = []
        if self._ground:
            found.append(plot(self._ground).mark_rect().encode(x=x, y=y, x2=x2, y2=y2, fill=fill))
        if self._grid:
            found.append(plot(self._grid).mark_rule().encode(x=x, y=y, x2=x2, y2=y2, **look))
        if self._areas:
            found.append(plot(self._areas).mark_area().encode(x=x, y=y, y2=y2, fill=fill, detail=name))
        if self._boxes:
            found.append(plot(self._boxes).mark_rect().encode(x=x, y=y, x2=x2, y2=y2, fill=fill))
        if self._lines:
            found.append(plot(self._lines).mark_line().encode(x=x, y=y, detail=name, **look))
        if self._rules:
            found.append(plot(self._rules).mark_rule().encode(x=x, y=y, x2=x2, y2=y2, **look))
        if self._marks:
            shape = alt.Shape("shape:N", scale=None)
            mark = plot(self._marks).mark_point(size=MARK_AREA_PX2, opacity=1)
            found.append(mark.encode(x=x, y=y, shape=shape, fill=fill, color=look["color"]))
        return found + self._text_layers()

    def _text_layers(self) -> list[Layer]:
        """White outlines under the texts that have them, then all texts."""
        place = {"x": self._x(), "y": self._y(), "text": alt.Text("text:N")}
        size = alt.Size("size:Q", scale=None)
        # One layer takes texts of every alignment: each layer more makes a picture slower.
        mark: dict[str, Any] = {
            "baseline": "middle",
            "align": alt.ExprRef("datum.align"),
            "fontWeight": alt.ExprRef("datum.bold ? 'bold' : 'normal'"),
            "angle": alt.ExprRef("datum.angle"),
        }
        found = []
        haloed = [row for row in self._texts if row["halo"]]
        if haloed:
            under = plot(haloed).mark_text(**mark, stroke="white", strokeWidth=3)
            found.append(under.encode(**place, size=size))
        if self._texts:
            ink = alt.Color("ink:N", scale=None)
            found.append(plot(self._texts).mark_text(**mark).encode(**place, size=size, color=ink))
        return found

    def _x(self) -> alt.X:
        return alt.X("x:Q", scale=alt.Scale(domain=[0.0, self.width], nice=False, zero=False), axis=None)

    def _y(self) -> alt.Y:
        return alt.Y("y:Q", scale=alt.Scale(domain=[self.height, 0.0], nice=False, zero=False), axis=None)


def _px(value: float) -> float:
    return round(float(value), 2)


def _corners(x: float, x2: float, y: float, y2: float) -> dict[str, Any]:
    return {"x": _px(x), "x2": _px(x2), "y": _px(y), "y2": _px(y2)}


def _look(ink: str, width: float, dash: Sequence[int]) -> dict[str, Any]:
    return {"ink": ink, "width": width, "dash": list(dash)}


def _unbroken(values: Floats) -> list[range]:
    """Ranges of positions without a missing value."""
    there = np.isfinite(values)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], there, [False]]).astype(np.int8))).tolist()
    return [range(begin, end) for begin, end in zip(edges[::2], edges[1::2], strict=True)]
