"""Sowings of young plants, as ticks with words under the row of their bed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from aquacalc import words
from aquacalc.charts.canvas import Align, Canvas, width_px
from aquacalc.charts.season_days import Days
from aquacalc.charts.strip_marks import WORD_SIZE, plain_name
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.result import SeasonRun

LINE_PX = 14.0
TICK_PX = 7.0
LINES = 3
SERIES_D = 45
"""Sowings of one plan that follow each other within this time are a series; its first is named first."""
CLOSE_D = 20
"""Sowings that follow each other within this time are not named again."""


@dataclass(frozen=True)
class Sowing:
    """A tick under a bed's row, with a text where it has one; `line` counts from 0."""

    x: float
    line: int = 0
    text: str = ""
    right: bool = False

    def draw(self, canvas: Canvas, top: float) -> None:
        """Tick and text from `top` down."""
        canvas.rule(self.x, top, self.x, top + TICK_PX, 1.6)
        if self.text:
            y = top + TICK_PX + (self.line + 0.5) * LINE_PX
            canvas.rule(self.x, top, self.x, y + 4.0, 1.0)
            canvas.text(self.text, self.x + (-3.0 if self.right else 3.0), y, self.align, WORD_SIZE)

    @property
    def align(self) -> Align:
        """On which side of its tick the text stands."""
        return "right" if self.right else "left"

    @property
    def wide(self) -> tuple[float, float]:
        """From where to where the text reaches."""
        px = width_px(self.text, WORD_SIZE) + 6.0
        return (self.x - px, self.x) if self.right else (self.x, self.x + px)

    def clear_of(self, other: Sowing) -> bool:
        """Whether neither text runs over the other one or over its tick."""
        (a, b), (c, d) = self.wide, other.wide
        if self.line == other.line and a < d + 4.0 and c < b + 4.0:
            return False
        # A tick runs down through the lines above its own.
        crossed = self.line < other.line and a < other.x < b
        crosses = other.line < self.line and c < self.x < d
        return not (crossed or crosses)


def height_px(sowings: Sequence[Sowing]) -> float:
    """Height that the sowings of a bed take up under it."""
    lines = max((one.line + 1 for one in sowings if one.text), default=0)
    return TICK_PX + lines * LINE_PX if sowings else 0.0


def of_bed(
    run: SeasonRun, bed: str, days: Days, left: float, right: float, reader: words.Reader
) -> list[Sowing]:
    """The sowings for a bed; texts stay between `left` and `right`.

    The first of a series is named before the others; what then finds no place is a tick alone.
    """
    batches = [(one.sow, one) for one in run.batches if one.sow is not None and one.bed == bed]
    due = sorted((pair for pair in batches if days.holds(pair[0])), key=lambda pair: pair[0])
    ranked: dict[int, list[tuple[date, CropBatch]]] = {SERIES_D: [], CLOSE_D: [], 0: []}
    last: dict[int, date] = {}
    for when, one in due:
        since = (when - last.get(one.plan, date.min)).days
        ranked[next(rank for rank in ranked if since > rank or rank == 0)].append((when, one))
        last[one.plan] = when
    found: list[Sowing] = []
    for rank in (SERIES_D, CLOSE_D):
        # From right to left: a text that would run over a later one goes into a line under it.
        for when, one in reversed(ranked[rank]):
            found.append(_named(one, when, days, found, (left, right), reader))
    used = sorted({one.line for one in found if one.text})
    # Lines that stayed empty are left out.
    closed = [replace(one, line=used.index(one.line)) if one.text else one for one in found]
    return closed + [Sowing(days.at(when)) for when, _ in ranked[0]]


def _named(
    one: CropBatch,
    when: date,
    days: Days,
    others: Sequence[Sowing],
    ends: tuple[float, float],
    reader: words.Reader,
) -> Sowing:
    """The sowing with the first of its texts and places that is clear of the others."""
    name = plain_name(words.name("crop", one.crop))
    long = words.say("strip-sow", reader, name=name, day=words.day(when, reader))
    short = words.say("strip-sow-short", reader, name=name)
    x = days.at(when)
    for text in (long, short):
        for right, lines in ((False, range(LINES)), (True, reversed(range(LINES)))):
            for line in lines:
                tried = Sowing(x, line, text, right)
                inside = ends[0] <= tried.wide[0] and tried.wide[1] <= ends[1]
                if inside and all(tried.clear_of(other) for other in others if other.text):
                    return tried
    return Sowing(x)
