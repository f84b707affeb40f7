"""Drawings of one garden as SVG: plain outlines, arrows whose width means grams, words on them.

Whatever the grower typed is escaped by the XML writer. Nothing here needs colour, a script or another file.
"""

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import aeration, crops, nitrogen, words
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band, coefficient

WIDTH, HEIGHT = 720, 440
FONT = "Noto Sans SemiCondensed, Arial, Liberation Sans, sans-serif"
FONT_SIZE = 14
LINE_HEIGHT = 18
INK = "#1a1a1a"
FILL = "#c4c9ce"
WIDEST, NARROWEST = 34.0, 2.0
"""Width of the arrow of most and of least grams, pixels."""


@dataclass(frozen=True)
class Flows:
    """What goes round the loop in one month, middle values: g/day, of nitrogen where not said otherwise.

    kept: in fish, dung and feed that was not eaten. left: what stays in the water; negative where the plants
    take up more than comes in.
    """

    month: int
    feed_g_day: float
    feed_nitrogen: float
    kept: float
    dissolved: float
    gas: float
    uptake: float
    left: float
    oxygen_g_h: float


def flows(garden: Garden, balance: Balance) -> Flows:
    """The loop in the month in which the fish want most."""
    position = int(np.argmax(balance.demand.feed_g_day.middle))
    feed = _at(balance.demand.feed_g_day, position)
    dissolved, gas = (
        _at(band, position) for band in (balance.plants.dissolved_g_n_day, balance.plants.gas_g_n_day)
    )
    uptake = _at(balance.plants.uptake_g_n_day, position)
    whole = float(nitrogen.feed_nitrogen_g_day(feed, garden.protein_fraction()))
    oxygen = aeration.oxygen_for_feed_g_h(feed, coefficient("oxygen_per_feed_whole_kg_kg").typical)
    return Flows(
        month=balance.months[position],
        feed_g_day=feed,
        feed_nitrogen=whole,
        kept=max(whole - dissolved, 0.0),
        dissolved=dissolved,
        gas=gas,
        uptake=uptake,
        left=dissolved - gas - uptake,
        oxygen_g_h=float(oxygen),
    )


def _at(band: Band, position: int) -> float:
    return float(band.middle[position])


def loop(garden: Garden, balance: Balance, reader: words.Reader) -> str:
    """This garden's own loop in the month in which the fish want most, as SVG text."""
    now = flows(garden, balance)
    water = litres.litres_of(garden)
    drawing = _Drawing(describe_loop(garden, balance, reader), max(now.feed_nitrogen, now.uptake, 1e-9))
    gram = _grams(reader)
    say = words.say

    drawing.text(10, 22, [say("drawing-loop-title", reader, month=words.month(now.month, reader))], bold=True)

    tank, bacteria, plants = (20, 150, 185, 140), (315, 150, 165, 140), (580, 150, 130, 140)
    count = words.number(float(np.max(balance.demand.count)), digits=9)
    drawing.box(
        *tank,
        [
            _short(garden.tanks[0].name, 21) if len(garden.tanks) == 1 else say("drawing-tanks", reader),
            words.quantity(water.tanks, "volume", reader),
            say("drawing-fish", reader, count=count),
        ],
    )
    drawing.box(*bacteria, _bacteria(garden, balance, reader))
    drawing.box(*plants, _plants(garden, water, reader))

    drawing.arrow((75, 62), (75, 150), now.feed_nitrogen)
    feed = words.quantity(now.feed_g_day, "feed", reader)
    drawing.text(
        75 + 26,
        72,
        [say("drawing-feed", reader, feed=feed), say("drawing-in-it", reader, n=gram(now.feed_nitrogen))],
    )
    drawing.oxygen((180, 108), (180, 150))
    drawing.text(190, 126, [say("drawing-oxygen", reader, oxygen=words.number(now.oxygen_g_h))])
    drawing.arrow((205, 200), (315, 200), now.dissolved)
    drawing.text(260, 240, [say("drawing-ammonia", reader), gram(now.dissolved)], middle=True)
    drawing.arrow((480, 200), (580, 200), max(now.dissolved - now.gas, 0.0))
    drawing.text(
        530, 240, [say("drawing-nitrate", reader), gram(max(now.dissolved - now.gas, 0.0))], middle=True
    )
    drawing.arrow((398, 150), (398, 92), now.gas)
    drawing.text(398, 70, [say("drawing-gas", reader), gram(now.gas)], middle=True)
    drawing.arrow((645, 150), (645, 92), now.uptake)
    drawing.text(645, 70, [say("drawing-uptake", reader), gram(now.uptake)], middle=True)
    drawing.arrow((150, 290), (150, 345), now.kept)
    drawing.text(176, 312, [say("drawing-kept", reader), gram(now.kept)])
    ends = ((610, 290), (610, 345)) if now.left >= 0.0 else ((610, 345), (610, 290))
    drawing.arrow(*ends, abs(now.left))
    key = "drawing-left" if now.left >= 0.0 else "drawing-given"
    drawing.text(584, 312, [say(key, reader), gram(abs(now.left))], end=True)

    drawing.water([(205, 270), (315, 270)])
    drawing.water([(480, 270), (580, 270)])
    if garden.sump:
        drawing.water([(680, 290), (680, 390), (500, 390)])
        sump = words.quantity(water.sump, "volume", reader)
        drawing.box(330, 368, 170, 44, [say("drawing-sump", reader, volume=sump)])
        drawing.water([(330, 390), (50, 390), (50, 290)])
    else:
        drawing.water([(680, 290), (680, 390), (50, 390), (50, 290)])
    flow = words.span(float(balance.flow_l_h.low), float(balance.flow_l_h.high), "flow", reader)
    drawing.text(190, 382, [say("drawing-pump", reader, flow=flow)], middle=True)
    drawing.text(10, 434, [say("drawing-loop-key", reader)], small=True)
    return drawing.svg()


def _grams(reader: words.Reader) -> Callable[[float], str]:
    return lambda grams: words.quantity(grams, "feed", reader)


def _bacteria(garden: Garden, balance: Balance, reader: words.Reader) -> list[str]:
    lines = [words.say("drawing-bacteria", reader)]
    if balance.biofilter is not None:
        surface = balance.biofilter.wetted_m2
        lines.append(words.span(float(surface.low), float(surface.high), "area", reader))
        lines.append(words.say("drawing-wet-surface", reader))
    key = "drawing-in-beds-and-filter" if garden.biofilter else "drawing-in-beds"
    return [*lines, words.say(key, reader)]


def _plants(garden: Garden, water: litres.Litres, reader: words.Reader) -> list[str]:
    names = list(
        dict.fromkeys(re.split(r"[,(]", crops.crop(plan.crop).name)[0].strip() for plan in garden.crops)
    )
    area = sum(bed.area_m2 for bed in garden.beds)
    shown = [_short(name, 16) for name in names[:2]]
    if len(names) > len(shown):
        shown.append(words.say("drawing-more", reader, count=str(len(names) - len(shown))))
    return [
        words.say("drawing-plants", reader),
        *shown,
        words.quantity(area, "area", reader),
        words.quantity(water.beds, "volume", reader),
    ]


def _short(text: str, letters: int) -> str:
    """The beginning of a name, without signs that a drawing cannot hold."""
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return plain if len(plain) <= letters else plain[: letters - 3].rstrip() + "..."


def describe_loop(garden: Garden, balance: Balance, reader: words.Reader) -> str:
    """The drawing in words, as its text alternative."""
    now, water, gram = flows(garden, balance), litres.litres_of(garden), _grams(reader)
    return words.say(
        "drawing-loop-alt",
        reader,
        month=words.month(now.month, reader),
        feed=words.quantity(now.feed_g_day, "feed", reader),
        whole=gram(now.feed_nitrogen),
        kept=gram(now.kept),
        ammonia=gram(now.dissolved),
        gas=gram(now.gas),
        uptake=gram(now.uptake),
        oxygen=words.number(now.oxygen_g_h),
        tanks=words.quantity(water.tanks, "volume", reader),
        beds=words.quantity(water.beds, "volume", reader),
        sump=words.quantity(water.sump, "volume", reader),
        flow=words.span(float(balance.flow_l_h.low), float(balance.flow_l_h.high), "flow", reader),
    )


class _Drawing:
    """A canvas of outlines, arrows and words."""

    def __init__(self, description: str, most_grams: float) -> None:
        self.most = most_grams
        self.root = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "viewBox": f"0 0 {WIDTH} {HEIGHT}",
                "width": str(WIDTH),
                "height": str(HEIGHT),
                "role": "img",
                "aria-label": description,
                "font-family": FONT,
            },
        )
        ET.SubElement(self.root, "rect", {"width": "100%", "height": "100%", "fill": "white"})

    def svg(self) -> str:
        return ET.tostring(self.root, encoding="unicode")

    def text(
        self,
        x: float,
        y: float,
        lines: Sequence[str],
        middle: bool = False,
        end: bool = False,
        bold: bool = False,
        small: bool = False,
    ) -> None:
        """Lines of text from (x, y) down; `y` is the foot of the first."""
        look = {"fill": INK, "font-size": "12" if small else str(FONT_SIZE + (1 if bold else 0))}
        look["text-anchor"] = "middle" if middle else "end" if end else "start"
        if bold:
            look["font-weight"] = "bold"
        for k, line in enumerate(lines):
            place = {"x": f"{x:g}", "y": f"{y + k * LINE_HEIGHT:g}"}
            ET.SubElement(self.root, "text", place | look).text = line

    def box(self, x: float, y: float, width: float, height: float, lines: Sequence[str]) -> None:
        look = {"fill": "white", "stroke": INK, "stroke-width": "1.6"}
        place = {"x": f"{x:g}", "y": f"{y:g}", "width": f"{width:g}", "height": f"{height:g}"}
        ET.SubElement(self.root, "rect", place | look)
        first = y + height / 2 - LINE_HEIGHT * (len(lines) - 1) / 2 + FONT_SIZE * 0.35
        self.text(x + width / 2, first, lines, middle=True)

    def arrow(self, start: tuple[float, float], end: tuple[float, float], grams: float) -> None:
        """A straight arrow, level or upright, as wide as its grams; nothing for no grams."""
        if not grams > 0.0:
            return
        half = max(WIDEST * grams / self.most, NARROWEST) / 2
        head = min(half + 7.0, 24.0)
        length = float(np.hypot(end[0] - start[0], end[1] - start[1]))
        along = np.array([end[0] - start[0], end[1] - start[1]]) / length
        across = np.array([-along[1], along[0]])
        neck = length - head
        corners = [
            (0, half),
            (neck, half),
            (neck, head),
            (length, 0),
            (neck, -head),
            (neck, -half),
            (0, -half),
        ]
        points = [np.array(start) + a * along + c * across for a, c in corners]
        shape = " ".join(f"{p[0]:.1f},{p[1]:.1f}" for p in points)
        ET.SubElement(
            self.root, "polygon", {"points": shape, "fill": FILL, "stroke": INK, "stroke-width": "1"}
        )

    def water(self, points: Sequence[tuple[float, float]]) -> None:
        """The way of the water: a thin line that ends in an arrow head."""
        self._line(points, {"stroke-width": "1.6"})

    def oxygen(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A broken line that ends in an arrow head."""
        self._line((start, end), {"stroke-width": "1.6", "stroke-dasharray": "4 3"})

    def _line(self, points: Sequence[tuple[float, float]], look: dict[str, str]) -> None:
        path = " ".join(f"{x:g},{y:g}" for x, y in points)
        ET.SubElement(self.root, "polyline", {"points": path, "fill": "none", "stroke": INK} | look)
        (x0, y0), (x1, y1) = points[-2], points[-1]
        length = float(np.hypot(x1 - x0, y1 - y0))
        dx, dy = (x1 - x0) / length, (y1 - y0) / length
        tip = [
            (x1, y1),
            (x1 - 9 * dx - 5 * dy, y1 - 9 * dy + 5 * dx),
            (x1 - 9 * dx + 5 * dy, y1 - 9 * dy - 5 * dx),
        ]
        shape = " ".join(f"{x:.1f},{y:.1f}" for x, y in tip)
        ET.SubElement(self.root, "polygon", {"points": shape, "fill": INK})
