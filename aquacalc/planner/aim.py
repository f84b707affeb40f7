"""From what of a season counts to one number, by which plans are put in order.

The weights are our own choice, no source. Wishes count as 8 of 10 tries give them; a must that holds in too
few tries costs more than any wish brings.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from aquacalc.outcome import musts
from aquacalc.outcome.outcome import Outcome, Wanted
from aquacalc.uncertainty import Floats

FISH_OF_SIZE, FISH_KG, PROGRESS, HEADS, PICKED = 25.0, 40.0, 15.0, 30.0, 15.0
"""Points for: all wished fish of size; the kilograms that they grow here; fish on their way, so that a search
climbs from none; all wished heads, week by week; pickings as large as those written (at most twice). Our own
choice, no source."""
MOST_PICKED = 2.0
BROKEN = 50.0
"""Points for a must: for all tries that miss the asked share, and for how far the 80th percentile is beyond
(our own choice)."""
MOST_BEYOND = 2.0
A_CHANGE = 0.4
MONEY = 2.0
"""Tie-breakers: a change; all that may be spent, and a year that costs as much again (our own choice)."""
IN_EIGHT_OF_TEN, TWO_OF_TEN_WORSE = 20.0, 80.0


@dataclass(frozen=True, eq=False)
class Goal:
    """What a search is for. picked_kg, money_year: of the garden as written, in 8 of 10 tries and in the
    middle; may_spend: sum that was named, 0 where none was."""

    wanted: Wanted
    picked_kg: float
    money_year: float | None
    may_spend: float


def sure(values: Floats) -> float:
    """What 8 of 10 tries give. By definition."""
    return float(np.percentile(values, IN_EIGHT_OF_TEN))


def points(found: Outcome, goal: Goal, changes: int, asked: float = musts.HELD_SHARE) -> float:
    """The points of a plan; asked: share of the tries in which each must is to hold.

    Source: own choice of weights.
    """
    return wished(found, goal) - broken(found, asked) - ties(found, goal, changes)


def wished(found: Outcome, goal: Goal) -> float:
    """Points of the wishes alone; a wish that was not named has no weight."""
    wanted, got = goal.wanted, 0.0
    if wanted.fish > 0.0:
        got += FISH_OF_SIZE * min(sure(found.fish_of_size) / wanted.fish, 1.0)
        got += PROGRESS * sure(found.progress)
    if wanted.fish_kg > 0.0:
        got += FISH_KG * min(sure(found.fish_kg) / wanted.fish_kg, 1.0)
    if wanted.heads_per_week > 0.0:
        got += HEADS * sure(found.heads_share)
    if goal.picked_kg > 0.0:
        got += PICKED * min(sure(found.picked_kg) / goal.picked_kg, MOST_PICKED)
    return got


def broken(found: Outcome, asked: float) -> float:
    """Points that the musts cost: for each the share of tries that is missing, and how far beyond it is."""
    lost = 0.0
    for one in found.judged.values():
        if one.held < asked:
            far = min(float(np.percentile(one.beyond, TWO_OF_TEN_WORSE)), MOST_BEYOND)
            lost += BROKEN * (asked - one.held + far)
    return lost


def ties(found: Outcome, goal: Goal, changes: int) -> float:
    """What breaks a tie: fewer changes, less money."""
    spent = found.to_buy / goal.may_spend if goal.may_spend > 0.0 else 0.0
    more = 0.0
    if goal.money_year and found.money_year is not None:
        more = float(np.median(found.money_year)) / goal.money_year - 1.0
    return A_CHANGE * changes + MONEY * (spent + more)
