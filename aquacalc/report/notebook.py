"""What the season notebook calls: work out the plan once, show its pages, write the files of data.

Everything heavy that only the printing needs stays out of here, because the notebook's kernel loads it.
"""

import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, replace
from math import ceil
from pathlib import Path
from typing import Any

from aquacalc import __version__, executors, words
from aquacalc.agenda import living
from aquacalc.harvest import done
from aquacalc.pages import jobs, sheets
from aquacalc.pages.folder import year
from aquacalc.pages.html import Html
from aquacalc.pages.plan import Plan, make, through
from aquacalc.report import calendar, days, gist, given
from aquacalc.report.given import opened
from aquacalc.season.result import SeasonRun
from aquacalc.season.run import CHUNK
from aquacalc.season.start import Start
from aquacalc.sentences import first_day
from aquacalc.words import Reader


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
    """One run of the notebook: the plan with its season, the digests of the garden's file and of its log, how
    both were drawn, what the log gave to the first day, and the options that were typed."""

    plan: Plan
    season: SeasonRun
    digest: str
    members: int
    seed: int
    start: Start
    log_digest: str = ""
    options: Mapping[str, str] = field(default_factory=dict)


def run(
    garden: str,
    members: int,
    seed: int,
    units: str = "",
    start: str = "",
    made: str = "",
) -> Run:
    """Work out the plan of a garden once, and follow its season."""
    worked_out = run_opened(opened(garden, units, start, made), members, seed)
    return replace(worked_out, options={"units": units, "start": start})


def run_opened(
    read: given.Given, members: int, seed: int, tell_line: Callable[[str], None] | None = None
) -> Run:
    """The same of a garden that was read.

    tell_line: is told how far it is; the channel of the notebook where nobody else listens.
    """
    say = tell_line or _tell
    begin = given.start(read)
    say(first_day.sentence(read.garden, begin, read.reader))
    tell = _teller(members, read.reader, say)
    # A thousand tries are one piece of work: fewer are soonest done here.
    with executors.opened(min(executors.cores(), ceil(members / CHUNK))) as executor:
        lived = living.season(
            read.garden,
            members,
            seed,
            begin,
            read.digest,
            tell,
            lambda: say(words.say("season-again", read.reader)),
            None if isinstance(executor, executors.Serial) else executor,
        )
    worked_out = make(lived.garden, read.reader, read.made, members, seed)
    plan = replace(
        through(worked_out, lived),
        standing=read.standing,
        differences=done.differences(read.garden, read.log),
        log=read.log,
    )
    return Run(plan, lived.run, read.digest, members, seed, begin, read.log_digest)


TOLD_SHARES = (0.25, 0.5, 0.75)
"""Shares of the season's run that are told on the way."""


def _teller(
    members: int, reader: Reader, say: Callable[[str], None] = lambda text: _tell(text)
) -> Callable[[float], None]:
    """Says that a season begins, and gives what tells how far it is."""
    say(words.say("season-running", reader, tries=str(members)))

    told = 0.0

    def tell(share: float) -> None:
        nonlocal told
        reached = max((step for step in TOLD_SHARES if step <= share), default=0.0)
        # The end is told by what follows.
        if told < reached and share < 1.0:
            say(words.say("season-share", reader, share=words.quantity(reached, "share", reader)))
        told = reached

    return tell


def _tell(text: str) -> None:
    # On the channel of a notebook that no page shows.
    print(f"{given.TOLD}{text}", file=sys.stderr, flush=True)


def answer(of: Run) -> str:
    """The answer of the plan in one line."""
    return year.headline(of.plan)


def folder(of: Run, *names: str, printed: bool = True) -> Shown:
    """Parts of the folder, on a page of their own, or on a screen only."""
    return Shown(sheets.folder(of.plan, *names, printed=printed))


def wall(of: Run, *names: str) -> Shown:
    """Sheets for the wall."""
    return Shown(sheets.wall(of.plan, *names))


def save(of: Run, target: str) -> None:
    """Write season, tables, calendar and run file into a folder; nothing where no folder is named."""
    if not target:
        return
    place, plan = Path(target), of.plan
    entries = jobs.entries(plan)
    of.season.save(place / given.SEASON_FILE)
    days.write_days(of.season, place / given.DAYS_FILE)
    days.write_tasks(entries, plan.garden, plan.reader, place / given.TASKS_FILE)
    calendar.write(entries, plan.garden, plan.reader, plan.made, place / given.CALENDAR_FILE)
    text = json.dumps(record(of), indent=1, default=str, ensure_ascii=False)
    (place / given.RUN_FILE).write_text(text + "\n", "utf-8", newline="\n")


def record(of: Run) -> dict[str, Any]:
    """What the run file holds: version, how the plan was made, the whole garden, and the levels found.

    season: its first and last day, the file that holds it, and what the log gave to the first day; gist: as
    in `gist.gist`.
    """
    plan, season = of.plan, of.season
    return {
        "written_by": "aquacalc season",
        "version": __version__,
        "made": plan.made,
        "garden_digest": of.digest,
        "log_digest": of.log_digest,
        "options": of.options,
        "members": of.members,
        "seed": of.seed,
        "season": {
            "first": season.first,
            "last": season.date(season.days - 1),
            "file": given.SEASON_FILE,
            "from_log": asdict(of.start),
        },
        "levels": [{"finding": found.key, "level": found.level} for found in plan.findings],
        "gist": gist.gist(plan, season),
        "garden": asdict(plan.garden),
    }
