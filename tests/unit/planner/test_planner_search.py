"""The search on made-up landscapes whose best plan is known by trying all."""

from dataclasses import dataclass
from itertools import product

import numpy as np
import pytest

from aquacalc.planner import search
from aquacalc.planner.levers import Lever, Option


@dataclass
class Made:
    """What the search asks of `Tried`, with points from a formula instead of seasons."""

    sizes: tuple[int, ...]
    formula: object
    seed: int = 1
    runs: int = 0

    @property
    def levers(self):
        return tuple(Lever("number", str(n), (Option(0.0, ""),) * size) for n, size in enumerate(self.sizes))

    @property
    def as_written(self):
        return (0,) * len(self.sizes)

    def points(self, plans, members, asked):
        self.runs += len(plans)
        return [self.formula(plan) for plan in plans]

    def best(self):
        return max(self.formula(plan) for plan in product(*map(range, self.sizes)))


def together_only(plan):
    """Two levers that cost alone and pay together, among others that hardly matter."""
    both = 10.0 * min(plan[0], plan[1])
    return both - 4.0 * plan[0] - 4.0 * plan[1] + 0.1 * plan[2] - 0.4 * sum(map(bool, plan))


def hilly(plan):
    values = np.sin(np.arange(1, 8)[:, None] * np.arange(6)[None, :] * 1.7)
    own = sum(values[n, at] for n, at in enumerate(plan))
    return float(4.0 * own + 3.0 * values[0, plan[1]] * values[1, plan[0]] - 0.4 * sum(map(bool, plan)))


@pytest.mark.parametrize("formula", [together_only, hilly])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_best_of_all_plans_is_found(formula, seed):
    made = Made((6, 5, 4, 6), formula, seed)
    found = search.search(made)
    assert formula(found) >= made.best() - 1.0
    assert made.runs < 6 * 5 * 4 * 6 * 2


def test_the_same_seed_finds_the_same_plan():
    assert search.search(Made((6, 5, 4, 6), hilly, 4)) == search.search(Made((6, 5, 4, 6), hilly, 4))


def test_a_change_that_brings_nothing_is_put_back():
    made = Made((3, 3, 3), lambda plan: 5.0 * (plan[1] == 2) + 0.2 * (plan[2] == 1))
    assert search.fewest(made, (1, 2, 1)) == (0, 2, 0)


def test_where_nothing_helps_the_garden_stays_as_it_is():
    assert search.search(Made((3, 4), lambda plan: -float(sum(plan)))) == (0, 0)


def test_without_levers_there_is_nothing_to_find():
    assert search.search(Made((), lambda plan: 1.0)) == ()
