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


def of(garden: Garden) -> Litres:
    """Litres of every part; beds count the void of their medium, not their volume."""
    solids = garden.solids_filter.volume_l if garden.solids_filter.kind != "none" else 0.0
    return Litres(
        tanks=sum(tank.volume_l for tank in garden.tanks),
        beds=sum(standing_l(bed) for bed in garden.beds),
        beds_full=sum(full_l(bed) for bed in garden.beds),
        sump=garden.sump.volume_l if garden.sump else 0.0,
        pipes=sum(LITRES_PER_M3 * pipe.length_m * float(bore_area_m2(pipe.bore_mm)) for pipe in garden.pipes),
        filter=solids + (garden.biofilter.water_l if garden.biofilter else 0.0),
    )


def full_l(bed: Bed) -> float:
    """Water in a bed at its flood line.

    >>> from aquacalc.garden.model import Bed
    >>> full_l(Bed("bed 1", "raft", 2.0, 0.3, 0.25))
    500.0
    """
    void = (
        tables.load("media").row(bed.medium).number("void_fraction_typical") if bed.kind == "media" else 1.0
    )
    return float(bed_water_l(bed.area_m2, bed.flood_m, void))


def standing_l(bed: Bed) -> float:
    """Water in a bed on average: half of the flood in beds that fill and fall dry."""
    drained = bed.kind == "media" and bed.drain != "constant"
    return full_l(bed) * (MEAN_FLOOD_SHARE if drained else 1.0)
