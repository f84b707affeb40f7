"""The sump in both of its worst cases: all beds full while the pump runs, and all of it drained back."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from aquacalc import tables
from aquacalc.garden import litres
from aquacalc.hydraulics import beds
from aquacalc.hydraulics.beds import LITRES_PER_M3

if TYPE_CHECKING:
    from aquacalc.garden.model import Bed, Garden


@dataclass(frozen=True)
class Sump:
    """A sump and what stands over it; L, m, m2.

    running_l: its water while the loop runs and the beds are full. rim_l: to its brim. footprint_m2: its
    floor. beds_l: what all beds drain. at_once: share of them that is full at the same time, 1 for all of
    them. tanks_l: what stands over the edges of tank outlets while the pump runs. pipes_l: in the pipes from
    the pump. back_l: what a return under water siphons back. losses_l: until the next top-up. cover_m: water
    that must stay over its floor for the pump. free_share: of the rim that is kept free.
    """

    running_l: float
    rim_l: float
    footprint_m2: float
    beds_l: float
    at_once: float
    tanks_l: float
    pipes_l: float
    back_l: float
    losses_l: float
    cover_m: float
    free_share: float

    @property
    def swing_l(self) -> float:
        """What the beds that are full at one time take out of it and give back."""
        return self.at_once * self.beds_l

    @property
    def cover_l(self) -> float:
        """What the pump needs."""
        return LITRES_PER_M3 * self.footprint_m2 * self.cover_m

    @property
    def drains_l(self) -> float:
        """All that comes back when the pump stops."""
        return self.swing_l + self.tanks_l + self.pipes_l + self.back_l


@dataclass(frozen=True)
class Levels:
    """What both worst cases leave, L.

    stopped_l: with all of it drained back, over the brim too. lowest_l: beds full, pipes full, nothing topped
    up. over_l: beyond what may stand in it, 0 where it holds. dry_l: what is missing over the pump, 0 where
    it stays covered. usable_l: water over the pump's need before the next top-up. rim_l: the smallest sump
    that holds in both cases.
    """

    stopped_l: float
    lowest_l: float
    over_l: float
    dry_l: float
    usable_l: float
    rim_l: float

    @property
    def holds(self) -> bool:
        """Whether it neither runs over nor dry."""
        return self.over_l <= 0.0 and self.dry_l <= 0.0


def levels(sump: Sump) -> Levels:
    """Both worst cases. Own reckoning, by mass balance; the same water in each."""
    stopped = sump.running_l + sump.drains_l
    lowest = float(
        beds.sump_low_l(stopped, sump.swing_l, sump.tanks_l, sump.pipes_l + sump.back_l, sump.losses_l)
    )
    return Levels(
        stopped_l=stopped,
        lowest_l=lowest,
        over_l=max(stopped - (1.0 - sump.free_share) * sump.rim_l, 0.0),
        dry_l=max(sump.cover_l - lowest, 0.0),
        usable_l=max(sump.running_l - sump.cover_l, 0.0),
        rim_l=float(
            beds.sump_rim_l(
                sump.swing_l,
                sump.tanks_l,
                sump.pipes_l + sump.back_l,
                sump.losses_l,
                sump.cover_l,
                sump.free_share,
            )
        ),
    )


def in_turn(sump: Sump, count: int) -> Sump:
    """The same with its beds flooded one after the other."""
    return replace(sump, at_once=1.0 / count)


def bed_drains_l(bed: Bed) -> float:
    """Water that a media bed gives back: as measured, else by the drainable share of its medium."""
    return clean_drains_l(bed) if bed.water_l is None else bed.water_l


def clean_drains_l(bed: Bed) -> float:
    """The same by the drainable share of its clean medium."""
    row = tables.load("media").row(bed.medium)
    return float(beds.bed_water_l(bed.area_m2, bed.flood_m, row.number("drainable_fraction_typical")))


def beds_l(garden: Garden) -> float:
    """What all media beds of a garden give back."""
    return sum(bed_drains_l(bed) for bed in garden.beds if bed.holds_medium)


def tanks_l(garden: Garden) -> float:
    """What stands over the outlets of a garden's tanks while the pump runs."""
    return sum(tank.surface_m2 * tank.drop_m * LITRES_PER_M3 for tank in garden.tanks)


def drains_l(garden: Garden) -> float:
    """All that comes back when the pump of a garden stops: all media beds at once, pipes, the tanks' drop."""
    return beds_l(garden) + litres.litres_of(garden).pipes + tanks_l(garden)
