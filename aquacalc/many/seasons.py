"""Season plans of many gardens, one folder each, by whoever does the work; what is finished is kept."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, as_completed
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from aquacalc import __version__
from aquacalc.errors import InputError, Problem
from aquacalc.garden.file import GardenFile
from aquacalc.many.gardens import Named
from aquacalc.report import given
from aquacalc.uncertainty import MEMBERS, SEED

State = Literal["made", "kept", "refused", "failed"]


@dataclass(frozen=True)
class Job:
    """A plan to make; the options as in `report.season.season`. out: its folder."""

    named: Named
    out: Path
    members: int = MEMBERS
    seed: int = SEED
    paper: str = ""
    units: str = ""
    start: str = ""
    made: str = ""


@dataclass(frozen=True)
class Done:
    """What became of a job. problems: why its garden was refused; sentence: why its run failed; record: its
    run file, empty where there is none."""

    job: Job
    state: State
    problems: tuple[Problem, ...] = ()
    sentence: str = ""

    @property
    def record(self) -> dict[str, Any]:
        """The run file of a plan that is there."""
        return read(self.job.out) if self.state in ("made", "kept") else {}


def read(folder: Path) -> dict[str, Any]:
    """The run file of a plan's folder; empty where there is none that can be read."""
    try:
        found = json.loads((folder / given.RUN_FILE).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def work(job: Job) -> Done:
    """Make one plan. It never raises, so that one garden does not stop the others."""
    from aquacalc.report import season

    try:
        season.season(
            job.named.garden, job.out, job.members, job.seed, job.paper, job.units, None, job.start, job.made
        )
    except InputError as error:
        return Done(job, "refused", error.problems)
    except season.RunFailed as failure:
        return Done(job, "failed", sentence=str(failure))
    except OSError as fault:
        return Done(job, "failed", sentence=str(fault))
    return Done(job, "made")


def is_finished(job: Job) -> bool:
    """Whether the folder of a job holds the plan that would be made now: of the same files, version and
    options. A plan that was made on an earlier day is the same plan."""
    record = read(job.out)
    try:
        file = GardenFile.open(job.named.garden)
    except InputError:
        return False
    wanted = {
        "version": __version__,
        "garden_digest": file.digest or "",
        "log_digest": given.log_digest(file.path),
        "members": job.members,
        "seed": job.seed,
        "options": {"units": job.units, "start": job.start},
    }
    there = all((job.out / name).is_file() for name in record.get("files", {"": ""}))
    printed = _papers(job) <= {path.name for path in job.out.glob("*.pdf")} or not any(job.out.glob("*.pdf"))
    return there and printed and all(record.get(name) == value for name, value in wanted.items())


def _papers(job: Job) -> set[str]:
    return {f"season-plan-{paper}.pdf" for paper in ("a4", "letter")} if job.paper == "both" else set()


def run(jobs: Sequence[Job], executor: Executor) -> Iterator[Done]:
    """What becomes of every job, as it ends; those that are finished already come first."""
    waiting = []
    for job in jobs:
        if is_finished(job):
            yield Done(job, "kept")
        else:
            waiting.append(job)
    futures = {executor.submit(work, job): job for job in waiting}
    for future in as_completed(futures):
        try:
            yield future.result()
        except Exception as fault:  # a worker that was lost takes its garden with it, no other one
            yield Done(futures[future], "failed", sentence=str(fault) or type(fault).__name__)
