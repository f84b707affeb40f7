"""Marks of the year strip: outlines, the edge of picking, brackets, names."""

from __future__ import annotations

import re

from aquacalc.charts.canvas import Canvas, cut
from aquacalc.charts.season_days import Days

NAME_SIZE, WORD_SIZE = 12.0, 11.0
FOOT_PX = 6.0
"""Room under a batch for the bracket of its first picks."""
PICK_PX = 4.0
PICK_INK = "#053f93"
PICK_TICK_PX = 12.0
LEAST_BRACKET_D = 3.0


def plain_name(name: str) -> str:
    """A name without what stands behind a comma, a stroke or in brackets.

    >>> plain_name("Capsicum (sweet pepper)"), plain_name("Lettuce, cos (romaine)")
    ('Capsicum', 'Lettuce')
    """
    return re.split(r" ?[,(/]", name)[0]


def name(
    canvas: Canvas, text: str, low: float, high: float, y: float, size: float = NAME_SIZE, halo: bool = False
) -> None:
    """A name inside its outline: whole, else its plain part, else the beginning of that."""
    plain = plain_name(text)
    if canvas.first_free([text, plain], low, y, size=size, high=high, halo=halo):
        return
    shorter = cut(plain, high - low, size)
    if shorter:
        canvas.first_free([shorter], low, y, size=size, halo=halo)


def outline(
    canvas: Canvas, left: float, right: float, top: float, foot: float, begins: bool, ends: bool
) -> None:
    """A frame, open on the side on which something goes on beyond the season."""
    canvas.rule(left, top, right, top)
    canvas.rule(left, foot, right, foot)
    if begins:
        canvas.rule(left, top, left, foot, 1.6)
    if ends:
        canvas.rule(right, top, right, foot)


def pick_edge(canvas: Canvas, left: float, right: float, foot: float, tick: bool) -> None:
    """The thick lower edge of the days of picking, with a tick where they begin if wished."""
    y = foot - PICK_PX / 2.0 + 0.6
    canvas.rule(left, y, right, y, PICK_PX, ink=PICK_INK)
    if tick:
        canvas.rule(left, foot - PICK_TICK_PX, left, foot)
        canvas.keep_clear(left - 0.5, left + 0.5, foot - PICK_TICK_PX, foot)


def bracket(canvas: Canvas, days: Days, first: float, last: float, foot: float) -> None:
    """The days between which something begins in eight of ten tries, under an outline."""
    if last - first < LEAST_BRACKET_D:
        return
    left, right = days.x(first), days.x(last)
    y = foot + PICK_PX
    canvas.rule(left, y, right, y, 1.0)
    for x in (left, right):
        canvas.rule(x, foot + 1.5, x, y, 1.0)
