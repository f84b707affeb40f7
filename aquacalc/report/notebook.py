"""What the season notebook calls: work out the plan once, show its pages, write the run file.

Everything heavy that only the printing needs stays out of here, because the notebook's kernel loads it.
"""

import json
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import Any

from aquacalc import __version__
from aquacalc.pages import sheets, year
from aquacalc.pages.html import Html
from aquacalc.pages.plan import Plan, make
from aquacalc.report.given import RUN_FILE, day, opened


@dataclass(frozen=True)
class Shown:
    """Pages as a notebook shows them."""

    html: Html

    def _repr_html_(self) -> str:
        return str(self.html)

    def __repr__(self) -> str:
        return f"{len(self.html)} letters of a page"


@dataclass(frozen=True)
class Run:
    """One run of the notebook: the plan, the digest of the garden's file, and how it was drawn."""

    plan: Plan
    digest: str
    members: int
    seed: int


def run(garden: str, members: int, seed: int, units: str = "", start: str = "", made: str = "") -> Run:
    """Work out the plan of a garden once."""
    read, reader, digest = opened(garden, units, start, made)
    today = day(made, "made") or date.today()
    return Run(make(read, reader, today, members, seed), digest, members, seed)


def answer(of: Run) -> str:
    """The answer of the plan in one line."""
    return year.headline(of.plan)


def folder(of: Run, *names: str) -> Shown:
    """Parts of the folder, on pages of their own."""
    return Shown(sheets.folder(of.plan, *names))


def wall(of: Run, *names: str) -> Shown:
    """Sheets for the wall."""
    return Shown(sheets.wall(of.plan, *names))


def save(of: Run, target: str) -> None:
    """Write the run file into a folder; nothing where no folder is named."""
    if target:
        text = json.dumps(record(of), indent=1, default=str, ensure_ascii=False)
        (Path(target) / RUN_FILE).write_text(text + "\n", "utf-8", newline="\n")


def record(of: Run) -> dict[str, Any]:
    """What the run file holds: version, how the plan was made, the whole garden, and the levels found."""
    plan = of.plan
    return {
        "written_by": "aquacalc season",
        "version": __version__,
        "made": plan.made,
        "garden_digest": of.digest,
        "members": of.members,
        "seed": of.seed,
        "levels": [{"finding": found.key, "level": found.level} for found in plan.findings],
        "garden": asdict(plan.garden),
    }
