"""`aquacalc season`, `check` and `log` of many gardens: a line a garden, the time left, a summary."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from aquacalc import executors, spreadsheet, words
from aquacalc.cli.terminal import complain, paragraph, put
from aquacalc.many import checks, files, gardens, page, seasons, summary
from aquacalc.many.checks import Checked, What
from aquacalc.many.seasons import Done, Job
from aquacalc.words import Reader

MINUTE_S = 60.0
FEWEST_TIMED = 2
"""Gardens after which the time left is told."""


@dataclass(frozen=True)
class Told:
    """What became of all of them. urgent: whether any is an emergency; refused, failed: whether any was."""

    urgent: bool
    refused: bool
    failed: bool


def plans(
    names: Sequence[str],
    out: Path | None,
    jobs: int,
    cluster: str,
    make: Callable[[gardens.Named, Path], Job],
) -> Told:
    """Write the plans of many gardens and their summary into a folder."""
    reader = Reader()
    found = gardens.found(names)
    whole = files.target(out)
    todo = [make(one, whole / one.name) for one in found]
    done: list[Done] = []
    clock = _Clock(len(todo), reader)
    with executors.opened(min(jobs, len(todo)), cluster) as executor:
        for one in seasons.run(todo, executor):
            done.append(one)
            put(clock.line(one.job.named.name, one.state))
    rows, used = summary.rows(done), summary.shopping(done)
    stopped = [one for one in done if one.state in ("refused", "failed")]
    own = _reader_of(done)
    files.write(
        whole,
        {
            files.TABLE: spreadsheet.text(summary.table(rows)),
            files.SHOPPING: spreadsheet.text(summary.shopping_table(used)),
            files.PAGE: page.document(rows, stopped, used, own, date.today()),
        },
    )
    put(words.say("many-done", reader, folder=str(whole), count=len(rows)))
    _complain(stopped, reader)
    return Told(
        any(row.level == "emergency" for row in rows),
        any(one.state == "refused" for one in stopped),
        any(one.state == "failed" for one in stopped),
    )


def _reader_of(done: Sequence[Done]) -> Reader:
    """Whoever reads the summary has the units of most of its gardens."""
    own = [str(one.record["garden"]["reader"]["units"]) for one in done if one.record]
    most = max(sorted(set(own)), key=own.count, default="metric")
    return Reader(units="us" if most == "us" else "metric")


def _complain(stopped: Sequence[Done], reader: Reader) -> None:
    for one in stopped:
        for sentence in page.why(one, reader):
            complain(words.say("many-told", reader, garden=one.job.named.name, sentence=sentence))


class _Clock:
    """Says how far it is, and how long the rest takes at the pace so far; what was kept took no time."""

    def __init__(self, total: int, reader: Reader) -> None:
        self._total, self._reader = total, reader
        self._begun = time.monotonic()
        self._done = self._timed = 0

    def line(self, name: str, state: str) -> str:
        """A line after each garden."""
        self._done += 1
        self._timed += state != "kept"
        rest = self._total - self._done
        left = ""
        if rest and self._timed >= FEWEST_TIMED:
            pace_s = (time.monotonic() - self._begun) / self._timed
            left = words.say("many-left", self._reader, minutes=str(max(1, round(pace_s * rest / MINUTE_S))))
        what = words.say(f"many-state-{state}", self._reader)
        amounts = {"done": str(self._done), "total": str(self._total), "garden": name, "state": what}
        return words.say("many-progress", self._reader, **amounts, left=left)


def levels(names: Sequence[str], what: What, jobs: int, cluster: str) -> Told:
    """Print a line a garden: how urgent it is and what about, the most urgent first."""
    reader = Reader()
    found = gardens.found(names)
    with executors.opened(min(jobs, len(found)), cluster) as executor:
        told = checks.run(found, what, executor)
    for one in told:
        if one.level is not None:
            put(paragraph(_line(one, reader), ""))
    refused = [one for one in told if one.problems]
    for one in refused:
        for problem in one.problems:
            sentence = words.problem(problem, reader)
            complain(words.say("many-told", reader, garden=one.named.name, sentence=sentence))
    return Told(any(one.level == "emergency" for one in told), bool(refused), False)


def _line(one: Checked, reader: Reader) -> str:
    level = words.level(one.level or "fine", reader)
    return words.say("many-level", reader, garden=one.named.name, level=level, title=one.title)
