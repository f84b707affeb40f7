"""What a canvas holds, as SVG: one function for each kind of row."""

from collections.abc import Iterable, Sequence
from html import escape
from itertools import groupby
from typing import Any

SHAPES = {
    "circle": "M-3.7 0a3.7 3.7 0 1 0 7.4 0a3.7 3.7 0 1 0-7.4 0",
    "square": "M-3.2-3.2h6.4v6.4h-6.4z",
    "diamond": "M0-4.6L4.6 0L0 4.6L-4.6 0z",
    "cross": "M-4.3-1.4h2.9v-2.9h2.8v2.9h2.9v2.8h-2.9v2.9h-2.8v-2.9h-2.9z",
    "triangle-up": "M0-3.9L4.5 3.9H-4.5z",
    "triangle-down": "M0 3.9L4.5-3.9H-4.5z",
    "triangle-right": "M3.9 0L-3.9-4.5V4.5z",
}
"""Outlines of marks about their middle, px."""
BASELINE_SHARE = 0.35
_ANCHOR = {"left": "start", "center": "middle", "right": "end"}


def by_name(rows: Iterable[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """Rows that follow one another under one name."""
    return [list(part) for _, part in groupby(rows, key=lambda row: row["name"])]


def box(row: dict[str, Any]) -> str:
    """A plain field."""
    x, y = min(row["x"], row["x2"]), min(row["y"], row["y2"])
    wide, high = abs(row["x2"] - row["x"]), abs(row["y2"] - row["y"])
    return f'<rect x="{x:g}" y="{y:g}" width="{wide:g}" height="{high:g}" fill="{row["fill"]}"/>'


def band(rows: Sequence[dict[str, Any]]) -> str:
    """A field between two curves."""
    there = " ".join(f"{row['x']:g} {row['y']:g}" for row in rows)
    back = " ".join(f"{row['x']:g} {row['y2']:g}" for row in reversed(rows))
    return f'<path d="M{there}L{back}z" fill="{rows[0]["fill"]}"/>'


def curve(rows: Sequence[dict[str, Any]]) -> str:
    """A line through all rows."""
    points = " ".join(f"{row['x']:g} {row['y']:g}" for row in rows)
    return f'<path d="M{points}"{_stroke(rows[0])}/>'


def strokes(rows: Iterable[dict[str, Any]]) -> str:
    """Straight lines; those of one look, one after the other, are one path."""
    parts = []
    for look, same in groupby(rows, key=_stroke):
        way = "".join(f"M{row['x']:g} {row['y']:g}L{row['x2']:g} {row['y2']:g}" for row in same)
        parts.append(f'<path d="{way}"{look}/>')
    return "".join(parts)


def _stroke(row: dict[str, Any]) -> str:
    plain = list(row["dash"]) == [1, 0]
    dash = "" if plain else f' stroke-dasharray="{" ".join(map(str, row["dash"]))}"'
    return f' stroke="{row["ink"]}" stroke-width="{row["width"]:g}"{dash}'


def mark(row: dict[str, Any]) -> str:
    """A small figure."""
    place = f"translate({row['x']:g} {row['y']:g})"
    look = f'stroke="{row["ink"]}" stroke-width="1.6" fill="{row["fill"]}"'
    return f'<path d="{SHAPES[row["shape"]]}" transform="{place}" {look}/>'


def text(row: dict[str, Any]) -> str:
    """A line of text, its middle at the row's height."""
    # Printers differ in `dominant-baseline`; the middle of small letters is a third of their size down.
    x, y = row["x"], row["y"] + BASELINE_SHARE * row["size"]
    turn = f' transform="rotate({row["angle"]:g} {row["x"]:g} {row["y"]:g})"' if row["angle"] else ""
    weight = ' font-weight="bold"' if row["bold"] else ""
    look = 'stroke="white" stroke-width="4" aria-hidden="true"' if row["halo"] else f'fill="{row["ink"]}"'
    return (
        f'<text x="{x:g}" y="{y:g}" font-size="{row["size"]:g}" text-anchor="{_ANCHOR[row["align"]]}"'
        f"{weight}{turn} {look}>{escape(row['text'], quote=False)}</text>"
    )
