"""What a plan tells of itself in few numbers, kept in its run file for who looks at many plans at once."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

import numpy as np

from aquacalc import words
from aquacalc.agenda.record import Agenda
from aquacalc.judge.levels import URGENCY
from aquacalc.outcome.outcome import outcome, wanted
from aquacalc.pages.plan import Plan
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import band

WEEKS = {"water_c": "mean", "feed_g": "sum", "oxygen_min_mg_l": "min", "fish_kg": "max"}
"""Daily quantities of which the run file keeps the middle of every week, and how a week is told."""
DIGITS = 4


def gist(plan: Plan, run: SeasonRun) -> dict[str, Any]:
    """yields: low, middle and high of fish of size, kg and picked kg, and money where every price is known;
    weeks: by daily quantity; findings: the most urgent first, with their days and words; shopping: lines of
    what is used (`amount`, the high end, in the unit of `quantity`)."""
    found = outcome(plan.garden, run.tries, plan.balance, wanted(plan.garden))
    yields = {"fish": found.fish_of_size, "fish_kg": found.fish_kg, "picked_kg": found.picked_kg}
    if found.money_year is not None:
        yields["money"] = found.money_year
    return {
        "yields": {name: _numbers(*vars(band(values)).values()) for name, values in yields.items()},
        "weeks": {name: _numbers(*run.weekly(name, how).middle) for name, how in WEEKS.items()},
        "findings": [_finding(plan, place) for place in _by_urgency(plan)],
        "shopping": [] if plan.agenda is None else list(_shopping(plan.agenda)),
    }


def _by_urgency(plan: Plan) -> list[int]:
    """Places of the findings that ask for something, the most urgent and the earliest first."""

    def rank(place: int) -> tuple[int, str]:
        one = plan.findings[place]
        return URGENCY.index(one.level), str(one.first or _first_day(plan))

    asks = [place for place, one in enumerate(plan.findings) if one.level != "fine"]
    return sorted(asks, key=rank)


def _first_day(plan: Plan) -> str:
    """First day of the season: findings without days hold from then on."""
    return plan.garden.season.start.isoformat()


def _finding(plan: Plan, place: int) -> dict[str, Any]:
    one = plan.findings[place]
    spoken = words.finding(one, plan.reader)
    return {
        "key": one.key,
        "level": one.level,
        "first": str(one.first) if one.first else None,
        "last": str(one.last) if one.last else None,
        "title": spoken.title,
        "action": spoken.action,
    }


def _shopping(agenda: Agenda) -> Iterator[dict[str, Any]]:
    for line in agenda.costs:
        [amount] = _numbers(line.amount.high)
        yield {"what": line.key, "name": line.name, "quantity": line.quantity, "amount": amount}
    come: Counter[str] = Counter()
    for one in agenda.stockings:
        come[one.species] += one.count
    for species, count in come.items():
        yield {"what": "fish", "name": species, "quantity": "count", "amount": count}


def _numbers(*values: Any) -> list[float | None]:
    """Numbers with the digits that are kept; none for what is not known."""
    found = [float(f"{float(np.asarray(value)):.{DIGITS}g}") for value in values]
    return [one if np.isfinite(one) else None for one in found]
