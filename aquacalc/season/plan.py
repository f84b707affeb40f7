"""From a garden to its season in one step: what is planted when, and the year that follows from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from aquacalc.schedule import crops
from aquacalc.season.result import SeasonRun
from aquacalc.season.run import Progress, run
from aquacalc.season.start import Start
from aquacalc.uncertainty import MEMBERS, SEED

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


def of_garden(
    garden: Garden,
    members: int = MEMBERS,
    seed: int = SEED,
    start: Start | None = None,
    digest: str = "",
    progress: Progress | None = None,
) -> SeasonRun:
    """The season of a garden with the crops that its plan asks for; arguments as in `run`."""
    return run(garden, crops.batches(garden), members, seed, start, digest, progress)
