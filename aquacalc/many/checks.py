"""The balance or the log of many gardens, each by its most urgent finding."""

from __future__ import annotations

from collections.abc import Iterable
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import Literal

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden.file import GardenFile
from aquacalc.judge.levels import URGENCY, Level
from aquacalc.many.gardens import Named

What = Literal["check", "log"]


@dataclass(frozen=True)
class Checked:
    """What was found. level, title: of the most urgent finding, `fine` and empty where nothing asks for
    anything, None where there is nothing to judge; problems: why it was refused."""

    named: Named
    level: Level | None = None
    title: str = ""
    problems: tuple[Problem, ...] = ()


def run(named: Iterable[Named], what: What, executor: Executor) -> tuple[Checked, ...]:
    """Every garden, the most urgent first; those that were refused last."""
    found = list(executor.map(_check if what == "check" else _log, named))
    return tuple(sorted(found, key=lambda one: (_rank(one.level), one.named.name)))


def _rank(level: Level | None) -> int:
    return len(URGENCY) if level is None else URGENCY.index(level)


def _check(named: Named) -> Checked:
    from aquacalc.advice import findings
    from aquacalc.schedule import problems
    from aquacalc.sizing.changes import balance_with_changes

    try:
        garden = GardenFile.open(named.garden).garden
        if strange := problems.problems(garden):
            raise InputError(strange)
        found = findings.of_both(garden, balance_with_changes(garden))
    except InputError as error:
        return Checked(named, problems=error.problems)
    asks = [one for one in found if one.level != "fine"]
    if not asks:
        return Checked(named, "fine")
    return Checked(named, asks[0].level, words.finding(asks[0], garden.reader).title)


def _log(named: Named) -> Checked:
    from aquacalc.advice import log as advice
    from aquacalc.logbook.messy import mend
    from aquacalc.sentences import log as log_sentences

    try:
        file = GardenFile.open(named.garden)
        found = mend.beside(file.path, file.garden)
    except InputError as error:
        return Checked(named, problems=error.problems)
    told = None if found is None else advice.told_by(file.garden, found.log)
    if found is None or told is None:
        return Checked(named, "not known", words.say("many-no-log", file.garden.reader))
    status = log_sentences.status(told, bool(found.doubts), file.garden.reader)
    return Checked(named, told.level, status)
