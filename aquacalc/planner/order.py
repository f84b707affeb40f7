"""The changes of a plan in their order, what each brings when it is added, and what breaks without it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from aquacalc.outcome.musts import MustKey
from aquacalc.outcome.outcome import Outcome
from aquacalc.planner.levers import Lever, Option
from aquacalc.planner.search import ASKED_LATE, LATER_MEMBERS
from aquacalc.planner.tried import Plan, Tried, broken


@dataclass(frozen=True, eq=False)
class Step:
    """One change. before, after: what comes of the changes so far without and with it; without: of all the
    others; breaks: musts that the whole plan holds and the others alone do not."""

    lever: Lever
    was: Option
    becomes: Option
    before: Outcome
    after: Outcome
    without: Outcome
    breaks: tuple[MustKey, ...]


def steps_of(tried: Tried, plan: Plan, members: int) -> tuple[Step, ...]:
    """The changes of a plan, what is free before what is bought, the one that brings most first."""
    chain = _chain(tried, plan)
    places = [_added(one, other) for one, other in pairwise(chain)]
    others = [_put_back(plan, place) for place in places]
    outcomes = _known(tried, [*chain, *others], members)
    along, without = outcomes[: len(chain)], outcomes[len(chain) :]
    whole = set(broken(along[-1]))
    return tuple(
        Step(
            lever=(lever := tried.levers[place]),
            was=lever.options[0],
            becomes=lever.options[plan[place]],
            before=along[at],
            after=along[at + 1],
            without=without[at],
            breaks=tuple(key for key in broken(without[at]) if key not in whole),
        )
        for at, place in enumerate(places)
    )


def _chain(tried: Tried, plan: Plan) -> list[Plan]:
    """From as written to the plan, a change a step."""
    chain = [tried.as_written]
    left = [place for place, at in enumerate(plan) if at]
    while left:
        free = [place for place in left if not tried.levers[place].options[plan[place]].price]
        next_ones = free or left
        plans = [_with(chain[-1], plan, place) for place in next_ones]
        best = int(np.argmax(tried.points(plans, LATER_MEMBERS, ASKED_LATE)))
        chain.append(plans[best])
        left.remove(next_ones[best])
    return chain


def _known(tried: Tried, plans: Sequence[Plan], members: int) -> list[Outcome]:
    """Outcomes with the musts of money; a plan on its way that the file refuses counts as written."""
    goal = tried.goal(members)
    (written,) = tried.outcomes([tried.as_written], members)
    assert written is not None
    return [tried.with_money(found or written, goal) for found in tried.outcomes(plans, members)]


def _with(before: Plan, plan: Plan, place: int) -> Plan:
    return tuple(plan[n] if n == place else at for n, at in enumerate(before))


def _put_back(plan: Plan, place: int) -> Plan:
    return tuple(0 if n == place else at for n, at in enumerate(plan))


def _added(one: Plan, other: Plan) -> int:
    return next(n for n, (before, after) in enumerate(zip(one, other, strict=True)) if before != after)
