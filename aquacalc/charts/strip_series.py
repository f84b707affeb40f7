"""The batches of one plan in the row of their bed as one outline, where each would be too thin to be seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from aquacalc import words
from aquacalc.agenda.beds import Grown
from aquacalc.charts import strip_marks as marks
from aquacalc.charts.canvas import Canvas
from aquacalc.charts.season_days import Days
from aquacalc.charts.strip_marks import NAME_SIZE
from aquacalc.charts.strip_rows import Slot, Span
from aquacalc.season.result import SeasonRun

THINNEST_PX = 9.0
"""Height under which a batch of several is no outline of its own."""


@dataclass(frozen=True)
class SeriesOutline:
    """Batches of one plan."""

    run: SeasonRun
    batches: Sequence[Grown]
    slot: Slot
    days: Days
    reader: words.Reader

    def draw(self, canvas: Canvas, row_top: float) -> None:
        """An outline for each time that the plan is in its bed, with its name and its days of picking."""
        top, foot = row_top + self.slot.top, row_top + self.slot.top + self.slot.height - 2.0
        for begin, end, own in self.times():
            left, right = self.days.x(begin), self.days.x(end)
            canvas.box(left, right, top, foot)
            planted = any(
                one.batch.state == "planned" and self.run.day(one.batch.plant) == begin for one in own
            )
            marks.outline(canvas, left, right, top, foot, planted, end < self.run.days)
            picks = [one.first.day for one in own if one.first is not None]
            if picks and self.days.at(min(picks)) < right:
                marks.pick_edge(canvas, max(self.days.at(min(picks)), left), right, foot, tick=False)
            size = min(NAME_SIZE, foot - top)
            marks.name(canvas, self.name(len(own)), left + 4.0, right - 3.0, (top + foot) / 2.0, size)

    def name(self, count: int) -> str:
        """The crop, and how many batches of it."""
        crop = words.name("crop", self.batches[0].batch.crop)
        return crop if count == 1 else words.say("strip-series", self.reader, name=crop, count=str(count))

    def times(self) -> Iterator[tuple[int, int, list[Grown]]]:
        """Days without a gap on which batches are in the bed, the first and the one after the last."""
        found: list[tuple[Span, list[Grown]]] = []
        for one in sorted(self.batches, key=lambda one: one.days(self.run)):
            begin, end = one.days(self.run)
            if found and begin <= found[-1][0][1]:
                (first, last), together = found.pop()
                found.append(((first, max(last, end)), [*together, one]))
            else:
                found.append(((begin, end), [one]))
        yield from ((*span, own) for span, own in found)


def thin(grown: Sequence[Grown], slots: Mapping[int, Slot]) -> dict[tuple[int, ...], Slot]:
    """The batches that are too thin for outlines of their own, by plan, and the slot that they share.

    slots: of the batches of a bed, by their positions in the run, as those found are named.
    """
    plans: dict[int, list[int]] = {}
    for place in slots:
        plans.setdefault(grown[place].batch.plan, []).append(place)
    found = {}
    for places in plans.values():
        if len(places) > 1 and min(slots[place].height for place in places) < THINNEST_PX:
            top = min(slots[place].top for place in places)
            foot = max(slots[place].top + slots[place].height for place in places)
            found[tuple(places)] = Slot(top, foot - top)
    return found
