"""Rows of the year strip: one a place; what stands side by side in it shares its height by area."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from aquacalc.agenda.beds import Grown
from aquacalc.garden.model import Bed
from aquacalc.season.result import SeasonRun

ROOMY_PX = 41.0
"""Height of a batch that carries its name and its words."""
STACKED_PX = 15.0
"""Height of a batch of a weekly harvest: its name only."""
LOWEST_PX, HIGHEST_PX = 41.0, 210.0
"""Heights between which a bed's row stays."""

Span = tuple[int, int]
"""First day and the day after the last."""


@dataclass(frozen=True)
class Slot:
    """Where something lies in its row: pixels from the row's top, and its height."""

    top: float
    height: float


def packed(items: Sequence[tuple[Sequence[Span], float]]) -> list[float]:
    """Where each item begins across its row, so that none lies over another: the lowest free place, in order.

    items: the days that an item takes up, and its size across the row.

    >>> packed([([(0, 10)], 2.0), ([(5, 15)], 1.0), ([(20, 30)], 1.0), ([(12, 18)], 1.0)])
    [0.0, 2.0, 0.0, 0.0]
    """
    begins: list[float] = []
    for spans, size in items:
        beside = [
            (begin, begin + held)
            for (others, held), begin in zip(items, begins, strict=False)
            if any(a < d and c < b for a, b in spans for c, d in others)
        ]
        tries = sorted({0.0, *(end for _, end in beside)})
        begins.append(
            next(
                at for at in tries if all(at + size <= low + 1e-9 or at >= end - 1e-9 for low, end in beside)
            )
        )
    return begins


def bed_slots(run: SeasonRun, bed: Bed, grown: Sequence[Grown]) -> tuple[float, Mapping[int, Slot]]:
    """Height of a bed's row, and the slot of each of its batches by its position in the run.

    grown: the batches of all beds. Plans lie side by side by their area; batches of one plan that stand at
    once share the plan's part.
    """
    plans: dict[int, list[Grown]] = {}
    for one in grown:
        begin, end = one.days(run)
        if one.batch.bed == bed.name and begin < end:
            plans.setdefault(one.batch.plan, []).append(one)
    if not plans:
        return LOWEST_PX, {}
    inside = {
        plan: packed([([one.days(run)], one.batch.area_m2) for one in own]) for plan, own in plans.items()
    }
    tall = {
        plan: max(begin + one.batch.area_m2 for one, begin in zip(own, inside[plan], strict=True))
        for plan, own in plans.items()
    }
    across = packed([([one.days(run) for one in plans[plan]], tall[plan]) for plan in plans])
    whole = max([bed.area_m2, *(begin + tall[plan] for plan, begin in zip(plans, across, strict=True))])
    scale = _scale(plans, tall, whole)
    slots = {}
    for plan, low in zip(plans, across, strict=True):
        for one, within in zip(plans[plan], inside[plan], strict=True):
            slots[one.place] = Slot((low + within) * scale, one.batch.area_m2 * scale)
    return whole * scale, slots


def _scale(plans: Mapping[int, Sequence[Grown]], tall: Mapping[int, float], whole_m2: float) -> float:
    """Pixels for a square metre: every plan can carry its words, as far as the row does not get too high.

    Where there is no room for the name of each of its batches, a plan asks for that of one.
    """
    wanted, most = [LOWEST_PX / whole_m2], HIGHEST_PX / whole_m2
    for plan, own in plans.items():
        least = min(one.batch.area_m2 for one in own)
        if tall[plan] <= 1.5 * least:
            wanted.append(ROOMY_PX / tall[plan])
        else:
            wanted.append(STACKED_PX / (least if STACKED_PX / least <= most else tall[plan]))
    return min(max(wanted), most)


def fish_slots(spans: Sequence[Span], height: float) -> tuple[float, list[Slot]]:
    """Height of a tank's row and the slot of each of its batches of fish, given the days they are there."""
    begins = packed([([span], 1.0) for span in spans])
    lanes = max([1.0, *(begin + 1.0 for begin in begins)])
    return lanes * height, [Slot(begin * height, height) for begin in begins]
