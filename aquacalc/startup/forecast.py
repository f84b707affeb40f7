"""A forecast that readings narrow: weighted members, bands of the water, the days of its completion.

What is known up to today fixes the past; from today on each member follows the daily look. The ensemble is
simulated once; a new reading only weighs it again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.logbook.log import Log
from aquacalc.startup import members as ensemble
from aquacalc.startup import milestones
from aquacalc.startup.case import Case, SeedKey, of_garden, on_day
from aquacalc.startup.members import MEMBERS, Course, Event, Members
from aquacalc.startup.milestones import Milestones, Span
from aquacalc.startup.readings import Parameter, Read, Reading, log_likelihoods, measured, shown
from aquacalc.startup.readings import of_log as from_log
from aquacalc.startup.rule import P1, Rule
from aquacalc.uncertainty import SEED, Band, Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

HORIZON_DAYS = 200
"""Members that have not finished by then count as later."""
BLOCK_DAYS = 40
"""The course is run on by so many days until every member has finished."""
LEAST_EFFECTIVE = 100.0
"""Effective members, 1 over the sum of squared weights, that the readings leave at least (nitrogen reference,
section 8): without it the forecast is too sure of itself."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True, eq=False)
class Forecast:
    """Where a start-up stands and where it goes.

    events, readings: up to `today`, the day from which the rule holds. weights: of the members, sum 1.
    beta: power to which the likelihood was taken, 1 at most; effective: members that the weights leave.
    """

    case: Case
    members: Members
    rule: Rule
    events: tuple[Event, ...]
    readings: tuple[Reading, ...]
    today: int
    horizon: int
    course: Course
    milestones: Milestones
    weights: Floats
    beta: float
    effective: float

    def span(self, name: str) -> Span:
        """The band of a milestone by its name in `Milestones`."""
        return milestones.span(self.milestones.take(name), self.milestones.horizon, self.weights)

    @property
    def complete(self) -> Span:
        """First morning on which the dose of the day before is cleared."""
        return self.span("complete")

    @property
    def confirmed(self) -> Span:
        """The second such morning in a row, which practice wants."""
        return self.span("confirmed")

    def band(self, parameter: Parameter) -> Band:
        """10th, 50th and 90th percentile by day; arrays (days + 1,). Nitrate is shown as a kit shows it."""
        return Band(*milestones.weighted_percentiles(shown(self.course, parameter), self.weights))

    def done_by(self, day: int) -> float:
        """Share of the members that are complete on or before a day, 0 to 1."""
        return float(self.weights[self.milestones.complete <= day].sum())


def forecast_of(
    case: Case,
    readings: Sequence[Reading] = (),
    events: Sequence[Event] = (),
    today: int = 0,
    *,
    members: int | Members = MEMBERS,
    seed: int = SEED,
    rule: Rule = P1,
    horizon: int = HORIZON_DAYS,
    progress: Progress | None = None,
) -> Forecast:
    """A forecast by all that is known on a day; later readings and events are left out.

    members: how many to draw, or the members themselves.
    """
    drawn = members if isinstance(members, Members) else ensemble.draw(case, members, seed)
    known = _known(events, today)
    horizon = max(horizon, today + BLOCK_DAYS)
    course = _whole(case, drawn, known, today, rule, horizon, None, 0, progress)
    blank = Forecast(
        case=case,
        members=drawn,
        rule=rule,
        events=known,
        readings=(),
        today=today,
        horizon=horizon,
        course=course,
        milestones=milestones.milestones_of(course, rule),
        weights=np.empty(0),
        beta=1.0,
        effective=float(drawn.count),
    )
    return reweigh(blank, readings)


@dataclass(frozen=True, eq=False)
class Started:
    """A forecast from a log. expected: the case before anything was read; read: what the log told."""

    forecast: Forecast
    expected: Case
    read: Read


def of_log(
    log: Log,
    garden: Garden,
    today: date | None = None,
    *,
    seeded: SeedKey = "unseeded",
    members: int = MEMBERS,
    seed: int = SEED,
    progress: Progress | None = None,
) -> Started:
    """The forecast of a garden by its mended log, with the temperatures and the pH that were read.

    today: else the day of the log's last row; entries after it are left out.
    """
    expected = of_garden(garden, seed=seeded)
    last = today or (log.rows[-1].day if log.rows else expected.first)
    day = max(expected.day_of(last), 0)
    read = from_log(log, garden, expected).until(day)
    case = measured(expected, read.readings)
    found = forecast_of(case, read.readings, read.events, day, members=members, seed=seed, progress=progress)
    return Started(found, expected, read)


def reweigh(forecast: Forecast, readings: Sequence[Reading]) -> Forecast:
    """The forecast with these readings in place of those before; nothing is simulated."""
    kept = tuple(one for one in readings if one.day <= forecast.today)
    each = log_likelihoods(forecast.course, kept)
    weights, beta, effective = weigh(each.sum(axis=0), forecast.members.log_prior)
    return replace(forecast, readings=kept, weights=weights, beta=beta, effective=effective)


def update(
    forecast: Forecast,
    readings: Sequence[Reading],
    events: Sequence[Event],
    today: int,
    case: Case | None = None,
    progress: Progress | None = None,
) -> Forecast:
    """The forecast on a later day.

    case: where temperatures or a pH were read since. Only days from the first that differs on are run again:
    by a new event, a dose that was not given, or another temperature or pH.
    """
    known = _known(events, today)
    changed = _first_change(forecast, known, today, case)
    case = case or forecast.case
    horizon = max(forecast.horizon, today + BLOCK_DAYS)
    if changed is None and today <= forecast.course.days:
        return reweigh(replace(forecast, case=case, events=known, today=today), readings)
    course = _whole(
        case,
        forecast.members,
        known,
        today,
        forecast.rule,
        horizon,
        forecast.course,
        forecast.course.days if changed is None else min(changed, forecast.course.days),
        progress,
    )
    moved = replace(
        forecast,
        case=case,
        events=known,
        today=today,
        horizon=horizon,
        course=course,
        milestones=milestones.milestones_of(course, forecast.rule),
    )
    return reweigh(moved, readings)


def weigh(
    log_likelihood: Floats, log_prior: Floats | None = None, least_effective: float = LEAST_EFFECTIVE
) -> tuple[Floats, float, float]:
    """Weights, the power of the likelihood and the effective members.

    The largest power up to 1 that leaves so many effective members; a prior that is narrower already keeps
    the power at nothing.
    """
    prior = np.zeros_like(log_likelihood) if log_prior is None else log_prior
    # Few members cannot leave a hundred; a third of them then.
    least = min(least_effective, log_likelihood.size / 3.0)

    def at(beta: float) -> tuple[Floats, float]:
        log_weights = prior + beta * log_likelihood
        weights = np.exp(log_weights - log_weights.max())
        weights /= weights.sum()
        return weights, float(1.0 / np.sum(weights**2))

    low, high = 0.0, 1.0
    weights, effective = at(1.0)
    if effective >= least:
        return weights, 1.0, effective
    for _ in range(40):
        middle = 0.5 * (low + high)
        if at(middle)[1] >= least:
            low = middle
        else:
            high = middle
    weights, effective = at(low)
    return weights, low, effective


def _known(events: Sequence[Event], today: int) -> tuple[Event, ...]:
    return tuple(sorted((one for one in events if one.day <= today), key=lambda one: one.day))


def _first_change(forecast: Forecast, known: tuple[Event, ...], today: int, case: Case | None) -> int | None:
    """The first day whose water differs from the forecast's; None where none does."""
    old, new = (
        [one for one in events if not _idle(forecast.course, one)] for events in (forecast.events, known)
    )
    days = [one.day for one in _unlike(old, new)]
    if case is not None:
        days += _other_days(forecast.case, case, forecast.course.days)
    # Doses that the rule gave in days that are past by now, and nobody did.
    past = forecast.course.by_rule[forecast.today : today]
    days += [forecast.today + int(np.argmax(past))] if past.any() else []
    # An earlier today takes the rule's doses back in again.
    days += [today] if today < forecast.today else []
    return min(days) if days else None


def _other_days(old: Case, new: Case, last: int) -> list[int]:
    """The first day on which temperature, pH or source differ; all of them where the loop does."""

    def driven(case: Case, day: int) -> tuple[float | None, ...]:
        ph = case.ph_on(day)
        dioxide = case.carbon_dioxide_mg_l if ph is None else None
        return on_day(case.water_c, day), ph, dioxide, on_day(case.source_mg_l_d, day)

    def loop(case: Case) -> tuple[object, ...]:
        return case.surfaces, case.litres, case.oxygen_mg_l, case.alkalinity_mg_l, case.tap

    if loop(old) != loop(new):
        return [0]
    return [day for day in range(last) if driven(old, day) != driven(new, day)][:1]


def _unlike(old: list[Event], new: list[Event]) -> list[Event]:
    """All events from the first that differs on, of both."""
    same = 0
    for one, other in zip(old, new, strict=False):
        if not _same(one, other):
            break
        same += 1
    return old[same:] + new[same:]


def _idle(course: Course, event: Event) -> bool:
    """Whether an event is a reading of alkalinity with which every member's course agrees."""
    if event.key != "alkalinity" or event.day > course.days:
        return False
    there = course.alkalinity_mg_l[event.day]
    return bool(np.all((there >= event.amount) & (there <= event.high)))


def _same(one: Event, other: Event) -> bool:
    return (
        (one.day, one.key, one.high) == (other.day, other.key, other.high)
        and np.shape(one.amount) == np.shape(other.amount)
        and bool(np.all(np.asarray(one.amount) == np.asarray(other.amount)))
    )


def _whole(
    case: Case,
    drawn: Members,
    events: tuple[Event, ...],
    today: int,
    rule: Rule,
    horizon: int,
    before: Course | None,
    from_day: int,
    progress: Progress | None,
) -> Course:
    """The course until every member has finished, or to the horizon."""
    course, start = before, from_day
    while True:
        until = min(max(start, today) + BLOCK_DAYS, horizon)
        course = ensemble.run(
            case,
            drawn,
            events,
            until,
            rule=rule,
            rule_from=today,
            before=course,
            from_day=start,
            progress=None if progress is None else _scaled(progress, horizon),
        )
        finished = np.isfinite(milestones.milestones_of(course, rule).confirmed).all()
        if finished or until >= horizon:
            return course
        start = until


def _scaled(progress: Progress, horizon: int) -> Progress:
    return lambda day, _: progress(day, horizon)
