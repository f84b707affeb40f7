"""A batch of fish in the row of its tank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from aquacalc import fish, words
from aquacalc.agenda import stocking
from aquacalc.charts import strip_marks as marks
from aquacalc.charts.canvas import Canvas
from aquacalc.charts.season_days import Days
from aquacalc.charts.strip_marks import FOOT_PX, WORD_SIZE
from aquacalc.charts.strip_rows import Slot
from aquacalc.garden.model import FishBatch, Garden
from aquacalc.harvest import fish as harvest
from aquacalc.schedule import absences, positions
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, band

FISH_PX = 58.0
FISH_FILL = "#f4f4f4"
LEAST_PAUSE_D = 7


def fish_days(run: SeasonRun, place: int) -> tuple[int, int] | None:
    """The days on which a batch of fish is there in the middle run: first, and the day after the last."""
    there = np.flatnonzero(run.typical["fish.count"][place] > 0.5)
    return (int(there[0]), int(there[-1]) + 1) if there.size else None


def first_of_size(run: SeasonRun, place: int, batch: FishBatch) -> Band | None:
    """Day on which a batch has its first fish of size, over the tries; None where most have none."""
    if not harvest.eaten(batch):
        return None
    found = band(harvest.first_of_size(run, place, batch), axis=0)
    return found if np.isfinite(found.middle) else None


@dataclass(frozen=True)
class FishOutline:
    """A batch of fish, by its place in the garden; `span`: the days on which it is there; `waits`: whether it
    comes only after two good tests."""

    run: SeasonRun
    garden: Garden
    place: int
    span: tuple[int, int]
    slot: Slot
    days: Days
    reader: words.Reader
    waits: bool = False

    @property
    def batch(self) -> FishBatch:
        """What is drawn."""
        return self.garden.fish[self.place]

    def draw(self, canvas: Canvas, row_top: float) -> None:
        """Outline, name, pauses of feeding, number and weight at both ends, the days of taking."""
        left, right = self.days.x(self.span[0]), self.days.x(self.span[1])
        top, foot = row_top + self.slot.top + 1.0, row_top + self.slot.top + self.slot.height - FOOT_PX
        canvas.box(left, right, top, foot, FISH_FILL)
        for first, last in self.pauses:
            canvas.hatch(self.days.x(first), self.days.x(last), top, foot)
        marks.outline(canvas, left, right, top, foot, self.arrives is not None, self.leaves is not None)
        taking = self.taking
        if taking is not None:
            marks.pick_edge(canvas, self.days.x(taking[0]), self.days.x(taking[1]), foot, tick=True)
            found = first_of_size(self.run, self.place, self.batch)
            if found is not None:
                marks.bracket(canvas, self.days, float(found.low), float(found.high), foot)
        self._write(canvas, left + 4.0, right - 4.0, top, foot)

    def _write(self, canvas: Canvas, low: float, high: float, top: float, foot: float) -> None:
        """The texts, each where it fits."""
        highest, middle, lowest = top + 9.0, top + 24.0, foot - 10.0
        halo = bool(self.pauses)
        marks.name(canvas, self.batch.name, low, high, highest, halo=halo)
        first, last = self.span[0], self.span[1] - 1
        came, left = float(band(self.run.fish["count"][self.place][:, first]).middle), self.left
        begin, end = self.fish(came, first), self.fish(left, last)
        canvas.first_free([begin], low, middle, size=WORD_SIZE, high=high, halo=halo)
        canvas.first_free([end], high, middle, "right", WORD_SIZE, low, halo=halo)
        if self.arrives is not None:
            texts = self._dated("strip-stock-wait" if self.waits else "strip-stock", self.arrives)
            canvas.first_free(texts, low, lowest, size=WORD_SIZE, high=high, halo=halo)
        if self.leaves is not None:
            texts = self._dated("strip-take", self.leaves)
            canvas.first_free(texts, high, lowest, "right", WORD_SIZE, low, halo=halo)
        if self.taking is not None:
            x = self.days.x(self.taking[0])
            for text in self._dated("strip-of-size", self.days.first + timedelta(days=self.taking[0])):
                if canvas.first_free([text], x + 4.5, lowest, size=WORD_SIZE, high=high, halo=halo):
                    break
                if canvas.first_free([text], x - 4.5, lowest, "right", WORD_SIZE, low, halo=halo):
                    break
        for first, last in self.pauses:
            x, x2 = self.days.x(first), self.days.x(last)
            word = [words.say("strip-no-feed", self.reader)]
            for line in (lowest, highest, middle):
                if canvas.first_free(word, (x + x2) / 2.0, line, "center", WORD_SIZE, x, x2, halo=True):
                    break

    def _dated(self, key: str, when: date) -> Sequence[str]:
        day = words.day(when, self.reader)
        return words.say(key, self.reader, day=day), words.say(f"{key}-short", self.reader)

    @property
    def left(self) -> float:
        """How many fish leave with the batch, else are there in the end, as on every page."""
        return stocking.last_count(self.run, self.garden, self.place)[1]

    def fish(self, count: float, day: int) -> str:
        """A number of fish, and their weight on a day."""
        weight = band(self.run.fish["weight_g"][self.place][:, day], axis=0)
        return words.say(
            "strip-fish",
            self.reader,
            count=words.number(round(count), digits=9),
            each=words.span(float(weight.low), float(weight.high), "mass", self.reader),
        )

    @property
    def arrives(self) -> date | None:
        """Day of stocking, where it falls into the season."""
        day, _ = absences.moved(self.batch.stocked, self.garden)
        return day if self.days.holds(day) else None

    @property
    def leaves(self) -> date | None:
        """Day on which the whole batch is taken out, where it falls into the season."""
        until = self.batch.until
        day = None if until is None else absences.moved(until, self.garden)[0]
        return day if day is not None and self.days.holds(day) else None

    @property
    def taking(self) -> tuple[int, int] | None:
        """Days from the first fish of size on; None where there is none while the batch is there."""
        first = first_of_size(self.run, self.place, self.batch)
        if first is None or not self.span[0] <= float(first.middle) < self.span[1]:
            return None
        return int(first.middle), self.span[1]

    @property
    def pauses(self) -> list[tuple[int, int]]:
        """Spans in which the water of the middle run is too cold or too warm for feeding."""
        begin, end = self.span
        rests = ~fish.eats(self.run.typical["water_c"][begin:end], fish.species(self.batch.species))
        return [(begin + a, begin + b) for a, b in positions.spans(rests, LEAST_PAUSE_D)]
