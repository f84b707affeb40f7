"""What delays a start-up, and how long one takes from other first days: the same tries run once more.

Concentrations as N, alkalinity mg/L CaCO3.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc.constants import DAYS_PER_WEEK
from aquacalc.startup import case as cases
from aquacalc.startup import forecast, methods, milestones, plan
from aquacalc.startup import members as ensemble
from aquacalc.startup.case import Case
from aquacalc.startup.members import Event
from aquacalc.startup.plan import Choice, StartUp
from aquacalc.startup.rule import Rule
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

Mishap = Literal["missed_doses", "cold_week", "ph_stall", "untreated_top_up"]
MISHAPS: tuple[Mishap, ...] = ("missed_doses", "cold_week", "ph_stall", "untreated_top_up")
COLD_K = 6.0
STALLED_MG_L = 5.0
STALLED_DAYS = 10
KILLED_SHARE = 0.5
"""Half of the bacteria lost to chlorine: the middle of 0.3 to 0.9 (practice)."""
MISHAP_MEMBERS = 120
LATEST_DELAY_DAYS = 60


@dataclass(frozen=True)
class Delay:
    """Days later by one mishap: 10th, 50th, 90th percentile over the same tries. day: on which it began."""

    key: Mishap
    day: int
    low: float
    middle: float
    high: float


def delays_of(
    start: StartUp, only: Sequence[Mishap] = MISHAPS, members: int = MISHAP_MEMBERS
) -> tuple[Delay, ...]:
    """What a week without doses, a cold week, used-up alkalinity and untreated water would do to the date.

    Each begins when nitrite is highest in the middle try, where most is to be lost. From the first dose on,
    without readings.
    """
    case, rule = start.case, start.forecast.rule
    drawn = ensemble.draw(case, members)
    events = plan.first_events(start.choice)
    most = start.forecast.confirmed.high
    end = forecast.HORIZON_DAYS
    if math.isfinite(most):
        end = min(end, int(most) + LATEST_DELAY_DAYS)
    whole = _run_to_end(case, drawn, events, rule, (), end)
    usual = milestones.milestones_of(whole, rule)
    day = int(milestones.span(usual.nitrite_peak, usual.horizon).middle)
    found = []
    for key in only:
        course = _with_mishap(key, case, drawn, events, rule, day, end)
        moved = milestones.milestones_of(course, rule).confirmed
        there = np.isfinite(usual.confirmed)
        later = moved[there] - usual.confirmed[there]
        low, middle, high = (
            np.percentile(later, [10.0, 50.0, 90.0]) if later.size else (np.inf, np.inf, np.inf)
        )
        found.append(Delay(key, day, float(low), float(middle), float(high)))
    return tuple(found)


def _with_mishap(
    key: Mishap,
    case: Case,
    drawn: ensemble.Members,
    events: tuple[Event, ...],
    rule: Rule,
    day: int,
    end: int,
) -> ensemble.Course:
    if key == "cold_week":
        colder: Floats = np.array([cases.on_day(case.water_c, one) for one in range(end + 1)])
        colder[day : day + DAYS_PER_WEEK] -= COLD_K
        return _run_to_end(replace(case, water_c=colder), drawn, events, rule, (), end)
    if key == "untreated_top_up":
        lost = (*events, Event(day, "kill", KILLED_SHARE))
        return _run_to_end(case, drawn, lost, rule, (), end)
    if key == "missed_doses":
        return _run_to_end(case, drawn, events, rule, (_Pause(day, day + DAYS_PER_WEEK, None),), end)
    stalled = (*events, Event(day, "alkalinity", 0.0, STALLED_MG_L))
    without = replace(rule, low_alkalinity_mg_l=0.0)
    return _run_to_end(case, drawn, stalled, rule, (_Pause(day, day + STALLED_DAYS, without),), end)


@dataclass(frozen=True)
class _Pause:
    """Days, the last not included, on which another rule holds, or none."""

    begin: int
    end: int
    rule: Rule | None


def _run_to_end(
    case: Case,
    drawn: ensemble.Members,
    events: tuple[Event, ...],
    rule: Rule,
    pauses: Sequence[_Pause],
    end: int,
) -> ensemble.Course:
    course, day = None, 0
    for pause in pauses:
        for until, held in ((pause.begin, rule), (pause.end, pause.rule)):
            course = ensemble.run(case, drawn, events, until, rule=held, before=course, from_day=day)
            day = until
    return ensemble.run(case, drawn, events, end, rule=rule, before=course, from_day=day)


# --- when to start -----------------------------------------------------------------------------------------

NEEDED_MEMBERS = 100


def needed(
    garden: Garden, choice: Choice, members: int = NEEDED_MEMBERS
) -> Callable[[date], tuple[float, float]]:
    """Days from a first day to the first fish, low and high, for `backward.latest`; each worked out once."""

    @cache
    def days(first: date) -> tuple[float, float]:
        chosen = replace(choice, first=first)
        case = plan.begun(garden, chosen)
        if plan.coldest_c(case) < methods.NO_FORECAST_C:
            return math.inf, math.inf
        found = plan.of_case(case, chosen, members=members).span("first_fish")
        return found.low, found.high

    return days
