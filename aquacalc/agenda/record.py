"""The plan of record: what was decided for a season, once, for every page, calendar, table and panel."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.advice.doses import jumps
from aquacalc.advice.doses.jumps import Jump
from aquacalc.advice.finding import Finding
from aquacalc.agenda import (
    appetite,
    beds,
    costs,
    doses,
    jobs,
    other_water,
    ration,
    stocking,
    supplies,
    visits,
)
from aquacalc.agenda.appetite import Appetite
from aquacalc.agenda.beds import Grown, Lot
from aquacalc.agenda.jobs import Entry
from aquacalc.agenda.living import TakenOut
from aquacalc.agenda.other_water import DryTime
from aquacalc.agenda.ration import Ration
from aquacalc.agenda.stocking import Leaving, Staying, Stocking
from aquacalc.agenda.supplies import Read, Supply
from aquacalc.agenda.visits import Visit
from aquacalc.logbook.log import Log
from aquacalc.schedule import crops, kept_out, spells, tasks
from aquacalc.schedule.kept_out import KeptOut
from aquacalc.schedule.spells import Spell
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, band
from aquacalc.water import chlorine

if TYPE_CHECKING:
    from aquacalc.garden.model import BaseHow, Garden


@dataclass(frozen=True, eq=False)
class Agenda:
    """What was decided.

    first: first day of the season; rations: one amount a day for each batch and span of days; caps_g_day:
    what all batches together get at most on each day, infinite where nothing caps it; stockings, leavings,
    staying: fish that come, that go, and that are there in the end; beds, lots: batches of crops, and the
    same with weekly ones together; weeks_without_room: for each crop of the garden, wished weeks for which
    the bed has no room; places: what each planned place does on each day; kept_out: crops that heat, cold,
    the dark or frost keeps out, with what could stand there; visits: absences with their bags; entries: all
    jobs by day, with what is to be expected; supplies: what the season gives the water, after a test;
    dry_times: of the rain barrel; asks_for: chemicals that all this names, on the shelf or not;
    base_by_readings: a week's base by the log;
    feed_g: of the season; costs: what the season uses, at the grower's prices; taken_out: fish that would not
    live through the season, planned out before; base_jumps: what the day of most base makes of the water
    right after its first portion, by the way in which it is given; appetites: what each batch eats on a day
    by weight and water, for each month by its first day in the season.
    """

    first: date
    rations: tuple[Ration, ...]
    caps_g_day: tuple[float, ...]
    stockings: tuple[Stocking, ...]
    leavings: tuple[Leaving, ...]
    staying: tuple[Staying, ...]
    beds: tuple[Grown, ...]
    lots: tuple[Lot, ...]
    weeks_without_room: tuple[int, ...]
    places: tuple[Spell, ...]
    kept_out: tuple[KeptOut, ...]
    visits: tuple[Visit, ...]
    feed_g: Band
    costs: tuple[costs.Line, ...]
    entries: tuple[Entry, ...]
    supplies: tuple[Supply, ...] = ()
    dry_times: tuple[DryTime, ...] = ()
    asks_for: tuple[str, ...] = ()
    base_by_readings: Read | None = None
    taken_out: tuple[TakenOut, ...] = ()
    base_jumps: Mapping[BaseHow, Jump] = field(default_factory=dict)
    appetites: Mapping[date, tuple[Appetite, ...]] = field(default_factory=dict)

    @property
    def waiting(self) -> frozenset[str]:
        """Batches of fish that come only after two good tests."""
        return frozenset(one.batch for one in self.stockings if one.conditional)

    def on(self, day: date) -> tuple[Ration, ...]:
        """What is fed on a day, one ration a batch."""
        return ration.on_day(self.rations, day)

    def fed_g_day(self, first: date, last: date) -> tuple[float, ...]:
        """Feed of all batches together on each day of a time, but for the first days of a start-up's fish."""
        days = range((last - first).days + 1)
        return tuple(
            sum(one.grams for one in self.on(first + timedelta(days=day)) if not one.start_up) for day in days
        )

    def cap_g_day(self, first: date, last: date) -> float | None:
        """What all batches together get at most on any day of a time; None where nothing holds them back."""
        if not any(one.capped and one.touches(first, last) for one in self.rations):
            return None
        return min(self.caps_g_day[(first - self.first).days : (last - self.first).days + 1])


def agenda(
    run: SeasonRun,
    garden: Garden,
    findings: Iterable[Finding],
    taken_out: Iterable[TakenOut] = (),
    log: Log | None = None,
    made: date | None = None,
) -> Agenda:
    """The plan of record of a season that was run.

    garden: that of the run, with fish that would not live planned out; findings: all of the balance, of the
    garden and of the season; log: its readings up to the day on which the plan is made.
    """
    told, out = tuple(findings), tuple(taken_out)
    rations = ration.rations(run, garden)
    comes = stocking.stockings(run, garden, told)
    goes = stocking.leavings(run, garden, out)
    grown = beds.beds(run, garden)
    due = tasks.tasks_of(garden, run.batches)
    given = supplies.supplies(run, garden)
    away = visits.visits(garden, rations)
    dry = other_water.dry_times(told)
    return Agenda(
        first=run.first,
        rations=rations,
        caps_g_day=run.most_feed_g_day,
        stockings=comes,
        leavings=goes,
        staying=stocking.staying(run, garden),
        beds=grown,
        lots=beds.lots(grown, run, garden),
        weeks_without_room=crops.cropping(garden).weeks_without_room,
        places=spells.spells(garden, run.batches),
        kept_out=kept_out.kept_out(garden, run.batches),
        visits=away,
        feed_g=band(run.daily["feed_g"].sum(axis=1, dtype=np.float64)),
        costs=costs.lines(run, garden, given, dry),
        entries=jobs.entries_of(run, garden, due, rations, comes, goes, grown, given, dry, away),
        supplies=given,
        dry_times=dry,
        asks_for=_asked(garden, given, dry),
        base_by_readings=supplies.by_readings(garden, given, log, made or run.first),
        taken_out=out,
        base_jumps=jumps.of_season(run, garden),
        appetites=appetite.by_month(run, garden, rations),
    )


def _asked(garden: Garden, given: Iterable[Supply], dry: Iterable[DryTime]) -> tuple[str, ...]:
    """Chemicals that the sheets name: what the season gives, chloride against nitrite, and what takes
    chlorine out of water that comes in for an empty barrel. A new filter's ammonia has its own sheet."""
    new = garden.start_up.state == "new"
    found = [one.product.chemical for one in given if not (new and one.kind == "filter_food")]
    found += doses.against_nitrite(garden)
    if other_water.from_the_tap(garden, dry) and not doses.of_kind(garden, "dechlorinator"):
        found.append(chlorine.USUAL_REAGENT)
    return tuple(dict.fromkeys(found))
