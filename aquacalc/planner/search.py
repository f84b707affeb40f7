"""The search for a good year: singles and mixes with few tries, then the best with more, then fewer changes.

Levers are few, whole and priced, and a hundred plans side by side cost little more than one, so that plain
neighbours, pairs and crossings do better than a general optimiser. One lever at a time does not: fewer and
larger fish pay only together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, product

import numpy as np

from aquacalc.planner.tried import Plan, Tried

FIRST_MEMBERS, LATER_MEMBERS = 8, 40
MIXES = 100
"""Plans with several levers moved at random, beside every single change."""
ROUNDS, CROSSINGS = 3, 60
"""Rounds of neighbours and crossings of the best, and how many of these."""
BEST, PARENTS, FINALISTS = 4, 16, 24
STRONG_LEVERS = 8
"""Levers of which all pairs are tried: those that alone moved the points most."""
LATER_ROUNDS, LATER_BEST, LATER_NEIGHBOURS = 2, 2, 30
ASKED_EARLY, ASKED_LATE = 0.8, 0.9
"""Share of the tries in which a must is to hold. What is chosen on few tries with 0.8 asked holds in fewer of
others, so that more is asked of the last. Our own choice, no source."""
NEEDED = 0.3
"""Points that a change must bring; one that brings less is put back. Our own choice, no source."""


def search(tried: Tried, harder: float = 0.0) -> Plan:
    """The best plan that is found, with no change that it does not need.

    harder: added to the asked share, where a plan did not hold on other tries.
    """
    random = np.random.default_rng([tried.seed, len(tried.levers)])
    singles = list(_singles(tried))
    mixes = [_mix(tried, random) for _ in range(MIXES)]
    seen = _ranked(tried, [tried.as_written, *singles, *mixes], FIRST_MEMBERS, ASKED_EARLY)
    seen = _merged(tried, seen, list(_pairs(tried, singles)), FIRST_MEMBERS, ASKED_EARLY)
    for _ in range(ROUNDS):
        near = [one for plan in seen[:BEST] for one in _neighbours(tried, plan)]
        crossed = [_crossed(seen[:PARENTS], random) for _ in range(CROSSINGS)]
        chosen = [near[at] for at in random.permutation(len(near))[: 2 * CROSSINGS]]
        both = _two_steps(tried, seen[0])
        seen = _merged(tried, seen, [*both, *chosen, *crossed], FIRST_MEMBERS, ASKED_EARLY)
    asked = min(ASKED_LATE + harder, 1.0)
    best = _ranked(tried, [tried.as_written, *seen[:FINALISTS]], LATER_MEMBERS, asked)
    for _ in range(LATER_ROUNDS):
        near = [one for plan in best[:LATER_BEST] for one in _neighbours(tried, plan)]
        chosen = [near[at] for at in random.permutation(len(near))[:LATER_NEIGHBOURS]]
        best = _merged(tried, best, chosen, LATER_MEMBERS, asked)
    return fewest(tried, best[0], asked)


def fewest(tried: Tried, plan: Plan, asked: float = ASKED_LATE) -> Plan:
    """The plan with every change put back that brings less than it must."""
    while moved := list(_without(plan)):
        now, *others = tried.points([plan, *moved], LATER_MEMBERS, asked)
        best = int(np.argmax(others))
        if others[best] < now - NEEDED:
            break
        plan = moved[best]
    return plan


def _ranked(tried: Tried, plans: Iterable[Plan], members: int, asked: float) -> list[Plan]:
    """Plans by their points; of equals those that come first."""
    each = list(dict.fromkeys(plans))
    points = tried.points(each, members, asked)
    return [each[at] for at in sorted(range(len(each)), key=lambda at: (-points[at], at))]


def _merged(
    tried: Tried, seen: Sequence[Plan], more: Sequence[Plan], members: int, asked: float
) -> list[Plan]:
    return _ranked(tried, [*seen, *more], members, asked)


def _moved(plan: Plan, lever: int, to: int) -> Plan:
    return (*plan[:lever], to, *plan[lever + 1 :])


def _singles(tried: Tried) -> Iterator[Plan]:
    for place, lever in enumerate(tried.levers):
        for at in range(1, len(lever.options)):
            yield _moved(tried.as_written, place, at)


def _mix(tried: Tried, random: np.random.Generator) -> Plan:
    """A plan in which about every third lever is moved."""
    return tuple(
        int(random.integers(len(lever.options))) if random.random() < 1.0 / 3.0 else 0
        for lever in tried.levers
    )


def _pairs(tried: Tried, singles: Sequence[Plan]) -> Iterator[Plan]:
    """Pairs of the levers that moved the points most, each in its two best positions."""
    points = tried.points(singles, FIRST_MEMBERS, ASKED_EARLY)
    by_lever: dict[int, list[tuple[float, int]]] = {}
    for plan, got in zip(singles, points, strict=True):
        place = next(n for n, at in enumerate(plan) if at)
        by_lever.setdefault(place, []).append((got, plan[place]))
    best = {place: sorted(found, reverse=True)[:2] for place, found in by_lever.items()}
    strong = sorted(best, key=lambda place: -best[place][0][0])[:STRONG_LEVERS]
    for one, other in combinations(sorted(strong), 2):
        for _, first in best[one]:
            for _, second in best[other]:
                yield _moved(_moved(tried.as_written, one, first), other, second)


def _neighbours(tried: Tried, plan: Plan) -> Iterator[Plan]:
    """Every plan that differs in one lever."""
    for place, lever in enumerate(tried.levers):
        for at in range(len(lever.options)):
            if at != plan[place]:
                yield _moved(plan, place, at)


def _two_steps(tried: Tried, plan: Plan) -> Iterator[Plan]:
    """Every two moved levers a position up or down together: what pays in step is not found one by one."""
    moved = [place for place, at in enumerate(plan) if at]
    for one, other in combinations(moved, 2):
        for up, down in product((-1, 1), repeat=2):
            first, second = plan[one] + up, plan[other] + down
            fits = first < len(tried.levers[one].options) and second < len(tried.levers[other].options)
            if fits:
                yield _moved(_moved(plan, one, first), other, second)


def _without(plan: Plan) -> Iterator[Plan]:
    """The plan with one change put back, in the order of the levers."""
    for place, at in enumerate(plan):
        if at:
            yield _moved(plan, place, 0)


def _crossed(plans: Sequence[Plan], random: np.random.Generator) -> Plan:
    """Each lever from one of two of the plans."""
    first, second = (plans[int(at)] for at in random.integers(len(plans), size=2))
    return tuple(
        one if keeps else other
        for one, other, keeps in zip(first, second, random.random(len(first)) < 0.5, strict=True)
    )
