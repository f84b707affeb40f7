"""The time axis of charts of a season: days to pixels, months by name, absences."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from aquacalc import words
from aquacalc.charts.canvas import Canvas, width_px
from aquacalc.garden.model import Garden
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats

AWAY_FILL = "#ededed"
NAME_SIZE = 12.0
YEAR_SIZE = 11.0
MOST_LETTERS = 9
WHOLE_DAYS = 27


@dataclass(frozen=True)
class Days:
    """The days of a season between two places of the picture.

    first: day 0; count: how many; left, right: where the first one begins and the last one ends.
    """

    first: date
    count: int
    left: float
    right: float

    @classmethod
    def of(cls, run: SeasonRun, left: float, right: float) -> Days:
        """The days of a run."""
        return cls(run.first, run.days, left, right)

    def x(self, day: float) -> float:
        """Where a day begins, kept inside the plot."""
        inside = min(max(day, 0.0), float(self.count))
        return self.left + inside * (self.right - self.left) / self.count

    def at(self, when: date) -> float:
        """Where a date begins."""
        return self.x((when - self.first).days)

    def after(self, when: date) -> float:
        """Where a date ends."""
        return self.x((when - self.first).days + 1)

    def holds(self, when: date) -> bool:
        """Whether a date lies in the season."""
        return 0 <= (when - self.first).days < self.count

    @property
    def middles(self) -> Floats:
        """Where the middle of each day lies."""
        wide = (self.right - self.left) / self.count
        places: Floats = self.left + (np.arange(self.count, dtype=np.float64) + 0.5) * wide
        return places

    def months(self) -> Iterator[tuple[date, date]]:
        """First and last day of each month that the season touches, cut at its ends."""
        last = self.first + timedelta(days=self.count - 1)
        begin = self.first
        while begin <= last:
            following = (begin.replace(day=1) + timedelta(days=32)).replace(day=1)
            yield begin, min(following - timedelta(days=1), last)
            begin = following

    def draw_months(self, canvas: Canvas, top: float, foot: float) -> None:
        """Faint lines between months from `top` to `foot`."""
        canvas.grid(self.left, top, self.left, foot)
        for _, end in self.months():
            canvas.grid(self.after(end), top, self.after(end), foot)

    def write_months(self, canvas: Canvas, y: float, reader: words.Reader, years: bool = False) -> None:
        """The names of the months at the height `y`; the years under the first and under January.

        One letter each where a month is too narrow for its name.
        """
        letters = MOST_LETTERS if self._roomy(reader) else 1
        for begin, end in self.months():
            left, right = self.at(begin), self.after(end)
            name = words.month(begin.month, reader, short=True)[:letters]
            if width_px(name, NAME_SIZE) + 2.0 <= right - left:
                canvas.text(name, (left + right) / 2.0, y, "center", NAME_SIZE)
            if years and (begin == self.first or begin.month == 1):
                canvas.first_free([str(begin.year)], left + 2.0, y + NAME_SIZE + 3.0, size=YEAR_SIZE)

    def _roomy(self, reader: words.Reader) -> bool:
        """Whether every month that is whole has room for its name."""
        whole = [(begin, end) for begin, end in self.months() if (end - begin).days >= WHOLE_DAYS]
        return all(
            width_px(words.month(begin.month, reader, short=True), NAME_SIZE) + 2.0
            <= self.after(end) - self.at(begin)
            for begin, end in whole
        )

    def draw_absences(self, canvas: Canvas, garden: Garden, top: float, foot: float) -> None:
        """A light field over the days on which the grower is away."""
        for away in garden.away:
            left, right = self.at(away.start), self.after(away.end)
            if right > left:
                canvas.ground(left, right, top, foot, AWAY_FILL)
