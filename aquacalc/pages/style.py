"""How printed pages look: the style sheet, the two papers, and the fonts that travel with the page."""

import base64
import re
from dataclasses import dataclass
from functools import cache
from typing import Literal

from aquacalc import tables
from aquacalc.words import Reader

Paper = Literal["a4", "letter"]

STYLE = tables.DATA / "report" / "report.css"
FONTS = {"normal": "NotoSansSemiCondensed.ttf", "bold": "NotoSansSemiCondensed-Bold.ttf"}

TOP_MM, SIDE_MM, BOTTOM_MM = 10.0, 10.0, 14.0
SPARE_MM = 1.0
"""Left over at the foot of a sheet, so that rounding never starts an empty page."""


@dataclass(frozen=True)
class Size:
    """A sheet of paper, upright."""

    css: str
    width_mm: float
    height_mm: float


# A4: ISO 216. Letter: ANSI/ASME Y14.1, 8.5 by 11 inches.
SIZES: dict[Paper, Size] = {"a4": Size("A4", 210.0, 297.0), "letter": Size("letter", 215.9, 279.4)}


def paper_of(reader: Reader) -> Paper:
    """The paper of a reader; A4 where both are printed."""
    return "letter" if reader.paper == "letter" else "a4"


def paper_rules(paper: Paper, footer: str) -> str:
    """The rules that differ between papers: page size, page foot, the turned card.

    Engines that print differ in whether they know named pages, so a card that lies on its side is turned by
    a transform on an upright page.
    """
    size = SIZES[paper]
    width = size.width_mm - 2 * SIDE_MM
    height = size.height_mm - TOP_MM - BOTTOM_MM - SPARE_MM
    return f"""
@page {{ size: {size.css}; margin: {TOP_MM:g}mm {SIDE_MM:g}mm {BOTTOM_MM:g}mm; }}
@page {{ @bottom-left {{ content: {css_text(footer)}; }} }}
@page {{ @bottom-right {{ content: counter(page) " / " counter(pages); }} }}
@page {{ @bottom-left {{ font: 9pt "Noto Sans SemiCondensed", Arial, "Liberation Sans", sans-serif; }} }}
@page {{ @bottom-right {{ font: 9pt "Noto Sans SemiCondensed", Arial, "Liberation Sans", sans-serif; }} }}
@media print {{
  .card {{ height: {height:g}mm; }}
  .month {{ height: {height:g}mm; }}
  .turned {{ width: {height:g}mm; height: {width:g}mm; transform: rotate(90deg) translateY(-{width:g}mm); }}
}}
"""


def css_text(text: str) -> str:
    r"""A text as a string of a style sheet; everything but plain letters and digits is written as a code.

    >>> css_text('Yard "</style>')
    '"Yard\\000020\\000022\\00003c\\00002fstyle\\00003e"'
    """
    coded = "".join(c if c.isascii() and c.isalnum() else f"\\{ord(c):06x}" for c in text)
    return f'"{coded}"'


@cache
def font_rules() -> str:
    """The fonts themselves, written into the style sheet, so that a page looks the same everywhere."""
    return "\n".join(
        f'@font-face {{ font-family: "Noto Sans SemiCondensed"; font-weight: {weight};'
        f" src: url(data:font/ttf;base64,{_encoded(name)}) format('truetype'); }}"
        for weight, name in FONTS.items()
    )


def _encoded(name: str) -> str:
    return base64.b64encode((tables.DATA / "fonts" / name).read_bytes()).decode("ascii")


def style() -> str:
    """The rules that both papers share, with the fonts."""
    return f"{font_rules()}\n{STYLE.read_text('utf-8')}"


def level_rules(within: str) -> str:
    """The rules of the printed pages that frame the words of levels, for what `within` selects on a screen.

    >>> level_rules(".here").startswith(".here .level {")
    True
    """
    text = STYLE.read_text("utf-8")
    begin = text.index("\n", text.index("/* Levels:")) + 1
    rules = text[begin : text.index("\n\n", begin)]
    return re.sub(r"^\.", f"{within} .", rules, flags=re.MULTILINE)
