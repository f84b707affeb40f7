"""Fish that come and go: the conditions under which they come, and how many leave by the tries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.advice.finding import Finding
from aquacalc.agenda.living import Reason, TakenOut
from aquacalc.schedule import absences
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, band

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

WAIT_FOR = (
    "finding-ammonia-no-biofilter",
    "finding-ammonia-season-before-stocking",
    "finding-nitrite-season-before-stocking",
)
"""Findings that hold stocking back until two tests have been good."""


@dataclass(frozen=True)
class Stocking:
    """Fish that come.

    moved_from: the day on which they would have come, where an absence moved it. waits_for: keys of the
    findings that hold them back; start_up: whether the filter is started up first. With either they come
    only after two good tests.
    """

    batch: str
    tank: str
    species: str
    day: date
    count: int
    weight_g: float
    moved_from: date | None = None
    waits_for: tuple[str, ...] = ()
    start_up: bool = False

    @property
    def key(self) -> str:
        """By which its amounts are known wherever they are printed."""
        return f"stock {self.batch}"

    @property
    def conditional(self) -> bool:
        """Whether the day alone decides nothing."""
        return self.start_up or bool(self.waits_for)


@dataclass(frozen=True)
class Leaving:
    """Fish that leave as a whole batch: count is the middle of the tries, low and high their spread.

    until: the day as planned, before an absence moved it. reason: as the garden file plans it, or before
    water in which they would not live.
    """

    batch: str
    tank: str
    species: str
    day: date
    count: int
    low: int
    high: int
    until: date
    reason: Reason = "planned"

    @property
    def key(self) -> str:
        """By which its amounts are known wherever they are printed."""
        return f"take {self.batch}"


def stockings(run: SeasonRun, garden: Garden, findings: Iterable[Finding]) -> tuple[Stocking, ...]:
    """Every batch that comes within the season, by day."""
    holding = [one for one in findings if one.key in WAIT_FOR]
    found = []
    for batch in garden.fish:
        day, moved_from = absences.moved(batch.stocked, garden)
        if 0 <= run.day(day) < run.days:
            waits = (one.key for one in holding if _came(one) in (None, batch.stocked, day))
            found.append(
                Stocking(
                    batch=batch.name,
                    tank=batch.tank,
                    species=batch.species,
                    day=day,
                    count=batch.count,
                    weight_g=batch.weight_g,
                    moved_from=moved_from,
                    waits_for=tuple(dict.fromkeys(waits)),
                    start_up=garden.start_up.state == "new",
                )
            )
    return tuple(sorted(found, key=lambda one: one.day))


def _came(finding: Finding) -> date | None:
    """The day of the stocking that a finding speaks of; None where it speaks of any."""
    days = (date.fromisoformat(str(one.value)) for one in finding.amounts if one.name == "came")
    return next(days, None)


@dataclass(frozen=True)
class Staying:
    """Fish that are there on the last evening of the season: the middle of the tries, and their spread."""

    batch: str
    count: int
    low: int
    high: int

    @property
    def key(self) -> str:
        """By which its amounts are known wherever they are printed."""
        return f"stay {self.batch}"


def leavings(run: SeasonRun, garden: Garden, out: Iterable[TakenOut] = ()) -> tuple[Leaving, ...]:
    """Every batch that leaves whole within the season, by day.

    garden: that of the run; out: what was planned out of it, and why.
    """
    reasons = {one.batch: one.reason for one in out}
    found = []
    for place, batch in enumerate(garden.fish):
        day = _leaves(run, garden, place)
        if batch.until is None or day is None:
            continue
        low, middle, high = last_count(run, garden, place)
        reason = reasons.get(batch.name, "planned")
        found.append(
            Leaving(batch.name, batch.tank, batch.species, day, middle, low, high, batch.until, reason)
        )
    return tuple(sorted(found, key=lambda one: one.day))


def staying(run: SeasonRun, garden: Garden) -> tuple[Staying, ...]:
    """Every batch that does not leave whole within the season, in the order of the garden."""
    found = []
    for place, batch in enumerate(garden.fish):
        if _leaves(run, garden, place) is None:
            low, middle, high = last_count(run, garden, place)
            found.append(Staying(batch.name, middle, low, high))
    return tuple(found)


def _leaves(run: SeasonRun, garden: Garden, place: int) -> date | None:
    """The day of the season on which a batch leaves whole; None where it stays."""
    until = garden.fish[place].until
    if until is None:
        return None
    day, _ = absences.moved(until, garden)
    return day if 0 <= run.day(day) < run.days else None


def last_count(run: SeasonRun, garden: Garden, place: int) -> tuple[int, int, int]:
    """Low, middle and high of the fish of a batch that leave with it, else that live on the last evening."""
    day = _leaves(run, garden, place)
    if day is not None:
        return whole(band(run.fish["taken"][place][:, run.day(day)]))
    return whole(band(run.evening_count(place)[:, -1]))


def whole(found: Band) -> tuple[int, int, int]:
    """Low, middle and high of a number of fish, whole."""
    low, middle, high = (int(np.floor(float(end) + 0.5)) for end in (found.low, found.middle, found.high))
    return low, middle, high
