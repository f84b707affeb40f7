"""Fish that would not live through heat or cold: planned out before, in the model as on paper."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

from aquacalc.advice.finding import Finding
from aquacalc.advice.season import findings, warmth
from aquacalc.advice.season.days import Look
from aquacalc.schedule import absences
from aquacalc.season import plan
from aquacalc.season.result import SeasonRun
from aquacalc.season.run import Progress
from aquacalc.season.start import Start

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden

Reason = Literal["planned", "heat", "cold"]


@dataclass(frozen=True)
class TakenOut:
    """A batch that is out from a day on, before water in which it would not live; not stocked at all where
    that is the day on which it comes."""

    batch: str
    day: date
    reason: Reason


def taken_out(run: SeasonRun, garden: Garden) -> tuple[TakenOut, ...]:
    """The batches that would not live through the season as it was run, each with its last day."""
    look = Look(run, garden)
    found = []
    for place, batch in enumerate(garden.fish):
        ends = {hot: warmth.last_day_alive(look, place, hot) for hot in (True, False)}
        known = [(last, hot) for hot, last in ends.items() if last is not None]
        if known:
            last, hot = min(known)
            day = max(_work_day(run.date(last), garden), batch.stocked)
            found.append(TakenOut(batch.name, day, "heat" if hot else "cold"))
    return tuple(found)


def _work_day(last: date, garden: Garden) -> date:
    """The last garden day on which somebody is there; the last day itself where there is none."""
    day = last
    while day > garden.season.start:
        if day.weekday() == absences.garden_day(garden) and absences.away(day, garden) is None:
            return day
        day -= timedelta(days=1)
    return last


def planned(garden: Garden, out: Iterable[TakenOut]) -> Garden:
    """The garden with these batches taken out on their days; those that would have to leave as they come are
    not stocked before the season is over."""
    by_name = {one.batch: one.day for one in out}

    def kept(batch: FishBatch) -> FishBatch:
        day = by_name.get(batch.name)
        if day is None:
            return batch
        if day > batch.stocked:
            return replace(batch, until=day)
        return replace(batch, stocked=garden.season.end + timedelta(days=1), until=None)

    return replace(garden, fish=tuple(kept(one) for one in garden.fish))


def version_of(garden: Garden, written: Garden, out: Iterable[TakenOut]) -> Garden:
    """A changed garden with the fish out that would not live in the one as it is written.

    Who comes on another day, or swims in water that is warmed or covered otherwise, lives by other weather
    and stays; who leaves earlier by plan does so. Source: own reckoning.
    """
    if garden.heat != written.heat:
        return garden
    day = {batch.name: batch.stocked for batch in written.fish}
    until = {batch.name: batch.until or garden.season.end for batch in garden.fish}
    same = {batch.name for batch in garden.fish if batch.stocked == day.get(batch.name)}
    return planned(garden, (one for one in out if one.batch in same and one.day <= until[one.batch]))


@dataclass(frozen=True, eq=False)
class Lived:
    """A season that its fish live through, the garden that it was run for, and who was planned out of it.

    warnings: what the water's warmth would do to the fish as the file has them; None where nobody was
    planned out.
    """

    run: SeasonRun
    garden: Garden
    taken_out: tuple[TakenOut, ...] = ()
    warnings: tuple[Finding, ...] | None = None


def season(
    garden: Garden,
    members: int,
    seed: int,
    start: Start,
    digest: str,
    progress: Progress | None = None,
    again: Callable[[], None] = lambda: None,
    executor: Executor | None = None,
) -> Lived:
    """The season of a garden; run once more where fish would not live through it, with these taken out.

    progress: is told the share that is done; again: is called before it is run once more; executor: as in
    `season.run.run`.
    """
    run = plan.of_garden(garden, members, seed, start, digest, progress, executor)
    out = taken_out(run, garden)
    if not out:
        return Lived(run, garden)
    warnings = tuple(warmth.findings_of(Look(run, garden)))
    kept = planned(garden, out)
    again()
    lived = plan.of_garden(kept, members, seed, start, digest, progress, executor)
    return Lived(lived, kept, out, warnings)


def findings_of(lived: Lived) -> tuple[Finding, ...]:
    """The findings of a season; its warmth is judged for the fish as the garden file has them, also where
    they were planned out."""
    found = findings.of_season(lived.run, lived.garden)
    if lived.warnings is None:
        return found
    return (*(one for one in found if one.topic != "temperature"), *lived.warnings)
