"""The one theme, and `svg`, the one way from a chart to a picture.

Charts are read in black and white: line style and direct labels first, colour second. Titles are the answer
in words and come from the caller. Every chart carries a sentence as its text alternative (`describe_...`).
The other files of this folder get Altair from here, so that nothing loads it before the shortcut below.
"""

import re
import sys
import zlib
from collections.abc import Callable, Sequence
from functools import cache, wraps
from pathlib import Path
from typing import Any, ParamSpec

# Altair imports jsonschema, which compiles a grammar of internet addresses (0.8 s) whenever this optional
# module can be found. No chart holds an address, jsonschema does without it, charts are the same either way.
sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]

import altair as alt  # noqa: E402
import pandas as pd  # noqa: E402
import vl_convert  # noqa: E402
from altair.utils import schemapi  # noqa: E402

__all__ = [
    "FILL",
    "FONT",
    "FONT_FALLBACK",
    "FONT_SIZE",
    "GRID",
    "INK",
    "Chart",
    "Layer",
    "alt",
    "finish",
    "plot",
    "quick",
    "svg",
    "wrap",
]

FONT = "Noto Sans SemiCondensed"
FONT_FALLBACK = f"{FONT}, Arial, Liberation Sans, sans-serif"
INK = "#1a1a1a"
PALE = "#8c8c8c"
GRID = "#e2e2e2"
FILL = "#d3d6da"

FONT_SIZE = 13
SMALL_SIZE = 12
TITLE_LETTERS = 60
SUBTITLE_LETTERS = 95
SUBTITLE_LETTER_PX = 5.8
"""Width of a letter under a title, on average."""

P = ParamSpec("P")

Chart = alt.LayerChart
Layer = Any
"""One layer of a chart; Altair's `encode` gives no type."""


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
    vl_convert.register_font_directory(str(Path(__file__).parents[1] / "data" / "fonts"))


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


def finish(
    layers: Sequence[Layer],
    title: str,
    subtitle: Sequence[str],
    description: str,
    size: tuple[int, int],
) -> Chart:
    """Layers as one chart in the theme. size: width and height of the plot with its labels, pixels."""
    letters = min(SUBTITLE_LETTERS, size[0] / SUBTITLE_LETTER_PX)
    small = [line for text in subtitle for line in wrap(text, letters)]
    return alt.LayerChart(
        layer=list(layers),
        title=_heading(title, small),
        description=description,
        width=size[0],
        height=size[1],
        padding=6,
        config=_config(),
    )


def _heading(title: str, subtitle: list[str]) -> alt.TitleParams:
    if title:
        return alt.TitleParams(wrap(title, TITLE_LETTERS), subtitle=subtitle)
    # Without a title a subtitle would not be drawn, so it takes the title's place in its own size.
    return alt.TitleParams(subtitle, fontSize=SMALL_SIZE, fontWeight="normal", lineHeight=SMALL_SIZE + 4)


def plot(rows: pd.DataFrame | list[dict[str, Any]]) -> alt.Chart:
    """Rows to be drawn, carried inside the chart."""
    records: Any = rows.to_dict("records") if isinstance(rows, pd.DataFrame) else rows
    return alt.Chart(alt.InlineData(values=records))


def quick(make: Callable[P, Chart]) -> Callable[P, Chart]:
    """Put a chart together without checking every part of it."""

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
