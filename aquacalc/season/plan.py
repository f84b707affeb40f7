"""From a garden to its season in one step: what is planted when, and the year that follows from it."""

from __future__ import annotations

from concurrent.futures import Executor
from typing import TYPE_CHECKING

from aquacalc.schedule import crops
from aquacalc.season.result import SeasonRun
from aquacalc.season.run import Progress, run
from aquacalc.season.start import Start
from aquacalc.sizing import caps
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
    executor: Executor | None = None,
) -> SeasonRun:
    """The season of a garden as its plan has it: with the crops that it asks for, and no more feed than
    oxygen and filter carry; arguments as in `run`."""
    carried = caps.of_garden(garden, members, seed)
    return run(garden, crops.batches(garden), members, seed, start, digest, progress, carried, executor)
