"""The ladder of rations: quick down, slow up, a ceiling after each fall."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.judge import ration


def shares(xs: list[float]) -> list[float]:
    """The ration on each of these mornings."""
    ladder, found = ration.top(1), []
    for x in xs:
        ladder = ration.look(ladder, np.array([x]))
        found.append(float(ladder.share[0]))
    return found


def test_a_calm_loop_changes_nothing():
    assert shares([0.6, 0.95, 0.3] * 70) == [1.0] * 210


@pytest.mark.parametrize(("x", "share"), [(1.2, 0.8), (1.6, 0.5), (2.1, 0.25), (3.1, 0.0)])
def test_a_fall_is_as_deep_as_the_water_is_bad(x: float, share: float):
    assert shares([x]) == [share]


def test_single_steps_come_every_second_day():
    assert shares([1.2] * 5) == [0.8, 0.8, 0.65, 0.65, 0.5]


def test_three_calm_mornings_lift_by_one_level_up_to_the_ceiling():
    fallen = shares([2.5] + [0.5] * 13)
    assert fallen[:4] == [0.25, 0.25, 0.25, 0.5]
    assert fallen[6] == 0.65
    assert fallen[9:] == [0.8] * 5  # the ceiling: the level below the one that failed


def test_fourteen_calm_days_lift_the_ceiling():
    found = shares([1.2] + [0.5] * 20)
    assert found[13] == 0.8
    assert found[15] == 1.0


def test_between_the_lines_the_ration_stays():
    assert shares([1.2] + [0.8] * 30) == [0.8] * 31


def test_the_look_of_many_members_is_the_look_of_each():
    xs = np.array([[0.2, 1.2, 2.5], [1.6, 1.2, 0.1], [0.1, 3.5, 0.2], [0.5, 0.5, 0.5]])
    ladder = ration.top(3)
    for row in xs:
        ladder = ration.look(ladder, row)
    assert ladder.share.tolist() == [shares(column.tolist())[-1] for column in xs.T]


@given(st.lists(st.floats(0.0, 6.0), min_size=1, max_size=60), st.floats(0.0, 2.0))
def test_worse_water_never_feeds_more_today(xs: list[float], more: float):
    assert shares([*xs[:-1], xs[-1] + more])[-1] <= shares(xs)[-1]


@given(st.lists(st.floats(0.0, 6.0), min_size=2, max_size=60))
def test_the_ration_climbs_by_single_levels(xs: list[float]):
    places = [ration.LEVELS.index(share) for share in shares(xs)]
    assert all(before - after <= 1 for before, after in itertools.pairwise(places))
