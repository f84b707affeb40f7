"""The heights of a loop as a section to scale: vessels, their water running and stopped, brims, outlets."""

import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass, field

from aquacalc import words
from aquacalc.charts.axes import spread, ticks

WIDTH, LEFT, RIGHT, TOP, FOOT = 720.0, 66.0, 712.0, 44.0, 24.0
TALL = 330.0
"""Height of the section itself, px."""
FONT = "Noto Sans SemiCondensed, Arial, Liberation Sans, sans-serif"
INK, WATER, RULER = "#1a1a1a", "#d3d6da", "#8c8c8c"
LINE_PX = 16.0
LETTER_PX = 7.2
SHARE = 0.32
"""Of a vessel's room that it takes up; its words stand to its right."""


@dataclass(frozen=True)
class Level:
    """A height over the lowest floor, m, and its words. dash: a broken line for what is not there always."""

    height_m: float
    text: str
    dash: bool = False


@dataclass(frozen=True)
class Vessel:
    """An upright vessel: floor and brim over the lowest floor, m, and its levels; the first is its water."""

    name: str
    floor_m: float
    brim_m: float
    levels: Sequence[Level] = field(default=())


def section(vessels: Sequence[Vessel], description: str, reader: words.Reader) -> str:
    """The vessels side by side, their heights to one scale, as SVG text; description: the picture in words.

    A level above its brim is drawn there, so that one sees that it runs over.
    """
    top_m = max([one.brim_m for one in vessels] + [at.height_m for one in vessels for at in one.levels])
    whole = TOP + TALL + FOOT
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {WIDTH:g} {whole:g}",
            "width": f"{WIDTH:g}",
            "height": f"{whole:g}",
            "role": "img",
            "aria-label": description,
            "font-family": FONT,
        },
    )
    ET.SubElement(root, "rect", {"width": "100%", "height": "100%", "fill": "white"})

    def y(height_m: float) -> float:
        return TOP + TALL * (1.0 - height_m / top_m)

    _ruler(root, top_m, reader)
    room = (RIGHT - LEFT) / len(vessels)
    for place, vessel in enumerate(vessels):
        x = LEFT + room * place + 8.0
        wide = room * SHARE
        if vessel.levels:
            water = min(vessel.levels[0].height_m, vessel.brim_m)
            _box(root, x, y(water), wide, y(vessel.floor_m) - y(water), WATER)
        outline = (
            (x, y(vessel.brim_m)),
            (x, y(vessel.floor_m)),
            (x + wide, y(vessel.floor_m)),
            (x + wide, y(vessel.brim_m)),
        )
        path = " ".join(f"{a:.1f},{b:.1f}" for a, b in outline)
        ET.SubElement(
            root, "polyline", {"points": path, "fill": "none", "stroke": INK, "stroke-width": "2.4"}
        )
        _text(root, x, TOP - 24.0, _fit(vessel.name, room), bold=True)
        heights = [y(level.height_m) for level in vessel.levels]
        texts = spread(heights, LINE_PX, TOP + 2.0, TOP + TALL)
        for level, at, beside in zip(vessel.levels, heights, texts, strict=True):
            look = {"stroke": INK, "stroke-width": "1.4"}
            if level.dash:
                look["stroke-dasharray"] = "6 4"
            _line(root, x - 4.0, at, x + wide + 4.0, at, look)
            _line(root, x + wide + 4.0, at, x + wide + 10.0, beside, {"stroke": RULER, "stroke-width": "1"})
            _text(root, x + wide + 13.0, beside + 4.0, _fit(level.text, room - wide - 20.0))
    return ET.tostring(root, encoding="unicode")


def _fit(text: str, px: float) -> str:
    most = max(int(px / LETTER_PX), 4)
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _ruler(root: ET.Element, top_m: float, reader: words.Reader) -> None:
    """Heights along the left edge in the reader's unit; lines across, so that levels can be compared."""
    top = words.convert(top_m, "length", reader)
    for shown in ticks(0.0, top):
        at = TOP + TALL * (1.0 - shown / top)
        _line(root, LEFT - 6.0, at, RIGHT, at, {"stroke": "#e2e2e2", "stroke-width": "1"})
        _text(root, LEFT - 12.0, at + 4.0, words.number(shown, 4), end=True)
    _text(root, LEFT - 12.0, TOP - 24.0, words.unit("length", reader), end=True)


def _box(root: ET.Element, x: float, y: float, wide: float, tall: float, fill: str) -> None:
    place = {"x": f"{x:.1f}", "y": f"{y:.1f}", "width": f"{wide:.1f}", "height": f"{max(tall, 0.0):.1f}"}
    ET.SubElement(root, "rect", place | {"fill": fill})


def _line(root: ET.Element, x: float, y: float, x2: float, y2: float, look: dict[str, str]) -> None:
    ends = {"x1": f"{x:.1f}", "y1": f"{y:.1f}", "x2": f"{x2:.1f}", "y2": f"{y2:.1f}"}
    ET.SubElement(root, "line", ends | look)


def _text(root: ET.Element, x: float, y: float, text: str, bold: bool = False, end: bool = False) -> None:
    look = {"font-size": "13", "fill": INK, "text-anchor": "end" if end else "start"}
    if bold:
        look["font-weight"] = "bold"
    ET.SubElement(root, "text", {"x": f"{x:.1f}", "y": f"{y:.1f}"} | look).text = text
