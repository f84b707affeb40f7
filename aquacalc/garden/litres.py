"""The garden's true litres: fish tanks alone, and everything that circulates."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from aquacalc import tables
from aquacalc.hydraulics.beds import bed_water_l
from aquacalc.hydraulics.pipes import bore_area_m2

if TYPE_CHECKING:
    from aquacalc.garden.model import Bed, Garden

MEAN_FLOOD_SHARE = 0.5
"""A bed that fills and falls dry holds half of its flood on average. Common practice, no source."""
LITRES_PER_M3 = 1000.0  # exact
MOST_USED_SHARE = 0.2
"""Share of the circulating water that a day may take at most: with more the pump would run dry first. Our own
choice, no source."""


@dataclass(frozen=True)
class Litres:
    """Water in the garden while it runs, L.

    tanks: fish tanks alone: density and the outage clock use these. beds: standing in the beds, flooded and
    drained ones at their mean. beds_full: with every bed at its flood line. whole: all that circulates:
    chemistry uses this.
    """

    tanks: float
    beds: float
    beds_full: float
    sump: float
    pipes: float
    filter: float

    @property
    def whole(self) -> float:
        """All water that circulates."""
        return self.tanks + self.beds + self.sump + self.pipes + self.filter

    @property
    def swing(self) -> float:
        """Water of a full flood beyond what the beds hold on average."""
        return self.beds_full - self.beds


def litres_of(garden: Garden) -> Litres:
    """Litres of every part; beds count the void of their medium, not their volume.

    Where the whole was measured, every part is taken in proportion, so that they make what was measured.
    """
    scale = garden.water_scale
    solids = garden.solids_filter.volume_l if garden.solids_filter.kind != "none" else 0.0
    return Litres(
        tanks=scale * sum(tank.volume_l for tank in garden.tanks),
        beds=scale * sum(standing_l(bed) for bed in garden.beds),
        beds_full=scale * sum(full_l(bed) for bed in garden.beds),
        sump=scale * (garden.sump.volume_l if garden.sump else 0.0),
        pipes=scale * sum(pipe_l(pipe.length_m, pipe.bore_mm) for pipe in garden.pipes),
        filter=scale * (solids + (garden.biofilter.water_l if garden.biofilter else 0.0)),
    )


def pipe_l(length_m: float, bore_mm: float) -> float:
    """Water in a full pipe of a true bore.

    >>> round(pipe_l(10.0, 25.0), 2)
    4.91
    """
    return LITRES_PER_M3 * length_m * float(bore_area_m2(bore_mm))


def full_l(bed: Bed) -> float:
    """Water in a bed at its flood line: as measured, else by the void of its medium.

    >>> from aquacalc.garden.model import Bed
    >>> full_l(Bed("bed 1", "raft", 2.0, 0.3, 0.25))
    500.0
    """
    if bed.water_l is not None:
        return bed.water_l
    void = tables.load("media").row(bed.medium).number("void_fraction_typical") if bed.holds_medium else 1.0
    return float(bed_water_l(bed.area_m2, bed.flood_m, void))


def standing_l(bed: Bed) -> float:
    """Water in a bed on average: half of the flood in beds that fill and fall dry."""
    drained = bed.holds_medium and bed.drain != "constant"
    return full_l(bed) * (MEAN_FLOOD_SHARE if drained else 1.0)


@dataclass(frozen=True)
class Levels:
    """Water as it was read, L, and the state in which.

    tanks, sump, filter: at their levels then. beds_full: beds at their flood line, by the void of their
    medium. bed_share: how full they were, 0 to 1. pipes: what the pipes from the pump hold.
    running: whether the pump ran; when it stands, those pipes have emptied into the sump.
    """

    tanks: float
    sump: float
    beds_full: float
    pipes: float
    filter: float
    bed_share: float
    running: bool


def of_levels(read: Levels) -> Litres:
    """Circulating water from levels that were all read in one state; it is the same whole in every state.

    >>> of_levels(Levels(900.0, 150.0, 240.0, 10.0, 0.0, 0.5, True)).whole
    1180.0
    """
    return Litres(
        tanks=read.tanks,
        beds=read.bed_share * read.beds_full,
        beds_full=read.beds_full,
        sump=read.sump,
        pipes=read.pipes if read.running else 0.0,
        filter=read.filter,
    )
