"""A batch of a crop in the row of its bed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from aquacalc import words
from aquacalc.agenda.beds import Grown
from aquacalc.charts import strip_marks as marks
from aquacalc.charts.canvas import Canvas
from aquacalc.charts.season_days import Days
from aquacalc.charts.strip_marks import FOOT_PX, NAME_SIZE, WORD_SIZE
from aquacalc.charts.strip_rows import STACKED_PX, Slot
from aquacalc.schedule.batch import CropBatch
from aquacalc.season.result import SeasonRun


@dataclass(frozen=True)
class CropOutline:
    """A batch of a crop."""

    run: SeasonRun
    grown: Grown
    slot: Slot
    days: Days
    reader: words.Reader

    @property
    def batch(self) -> CropBatch:
        """What is drawn."""
        return self.grown.batch

    @property
    def low_slot(self) -> bool:
        """Whether there is room for the name only."""
        return self.slot.height < 2.0 * STACKED_PX

    def draw(self, canvas: Canvas, row_top: float) -> None:
        """Outline, name, standstill, planting and picking."""
        batch, days = self.batch, self.days
        left, right = (days.x(day) for day in self.grown.days(self.run))
        top = row_top + self.slot.top + (0.0 if self.low_slot else 1.0)
        foot = row_top + self.slot.top + self.slot.height - (2.0 if self.low_slot else FOOT_PX)
        canvas.box(left, right, top, foot)
        for first, last in batch.stands_still:
            canvas.hatch(max(days.at(first), left), min(days.after(last), right), top, foot)
        marks.outline(canvas, left, right, top, foot, self.planted, self.ended)
        picks = self.grown.first
        if picks is not None:
            tick = not self.grown.cut_once and not self.low_slot
            marks.pick_edge(canvas, days.at(picks.day), right, foot, tick)
            if not self.low_slot:
                marks.bracket(canvas, days, self.run.day(picks.first), self.run.day(picks.last), foot)
        self._write(canvas, left + 4.0, right - 3.0, top, foot)

    @property
    def planted(self) -> bool:
        """Whether it enters the bed within the season."""
        return self.batch.state == "planned" and self.days.holds(self.batch.plant)

    @property
    def ended(self) -> bool:
        """Whether it leaves the bed within the season."""
        return self.days.holds(self.grown.ends)

    def _write(self, canvas: Canvas, low: float, high: float, top: float, foot: float) -> None:
        """The texts, each where it fits."""
        batch, halo = self.batch, bool(self.batch.stands_still)
        name = words.name("crop", batch.crop)
        if self.low_slot:
            size = min(NAME_SIZE, foot - top)
            marks.name(canvas, name, low, high, (top + foot) / 2.0, size, halo)
            return
        marks.name(canvas, name, low, high, top + 9.0, halo=halo)
        line = foot - 10.0
        first, last = self.grown.first, self.grown.last
        if self.planted:
            in_place = batch.sow is None and batch.seeds > 0
            self._word(canvas, "strip-sown" if in_place else "strip-plant", batch.plant, low, line, low, high)
        if first is not None and self.grown.cut_once:
            if self.ended:
                self._word(canvas, "strip-pick", first.day, high, line, low, high, right=True)
        elif first is not None and last is not None:
            x = self.days.at(first.day)
            if not self._word(canvas, "strip-pick", first.day, x + 4.5, line, low, high):
                self._word(canvas, "strip-pick", first.day, x - 4.5, line, low, high, right=True)
            if self.ended:
                self._word(canvas, "strip-last", last.day, high, line, low, high, right=True)
        for a, b in batch.stands_still:
            x, x2 = max(self.days.at(a), low), min(self.days.after(b), high)
            word = [words.say("strip-still", self.reader)]
            for at in (line, top + 9.0):
                if canvas.first_free(word, (x + x2) / 2.0, at, "center", WORD_SIZE, x, x2, halo=True):
                    break

    def _word(
        self,
        canvas: Canvas,
        key: str,
        when: date,
        x: float,
        y: float,
        low: float,
        high: float,
        right: bool = False,
    ) -> bool:
        day = words.day(when, self.reader)
        texts = [words.say(key, self.reader, day=day), words.say(f"{key}-short", self.reader)]
        halo = bool(self.batch.stands_still)
        return canvas.first_free(texts, x, y, "right" if right else "left", WORD_SIZE, low, high, halo)
