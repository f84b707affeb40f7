"""A batch of a crop: what is sown and planted together, and when it would be picked in a usual year."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

BatchState = Literal["planned", "standing", "too_late", "closed"]
"""planned; standing: in the bed on the first day; too_late: it would not be ready before it has to leave;
closed: the climate lets it stand on no day of its months."""


@dataclass(frozen=True)
class CropBatch:
    """One batch in one bed.

    plan: position in `garden.crops`; sow is None where it is sown or planted straight into the bed, stands
    there already, or would have to be sown before the plan begins (then young plants are bought and `seeds`
    is 0); plant: the day on which it enters the bed (thermal age 0 on that day); leaves: last day on which it
    may stand (end of its months, or the next batch needs the place); first_pick, last_pick: in a usual year,
    on days on which someone is there, None where not reached by `leaves`; age_d: thermal age on `plant`, in
    days at the crop's reference temperature (above 0 only for what stands on the first day);
    seeds, plants: to sow and to set out; stands_still: spans of days, first and last, without growth.
    """

    plan: int
    crop: str
    bed: str
    area_m2: float
    state: BatchState
    sow: date | None
    plant: date
    leaves: date
    first_pick: date | None
    last_pick: date | None
    seeds: int
    plants: int
    age_d: float = 0.0
    stands_still: tuple[tuple[date, date], ...] = ()

    @property
    def in_bed(self) -> bool:
        """Whether it takes up its place; what would be too late, or cannot stand, is not planted."""
        return self.state in ("planned", "standing")

    @property
    def ends(self) -> date:
        """Last day in the bed: that of the last pick, where it is reached."""
        return self.last_pick or self.leaves
