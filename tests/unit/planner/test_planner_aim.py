"""From outcomes to points: wishes, musts, ties."""

from dataclasses import replace

import numpy as np
import pytest

from aquacalc.outcome.musts import Judged
from aquacalc.outcome.outcome import Outcome, Wanted
from aquacalc.planner import aim
from aquacalc.planner.aim import Goal

GOAL = Goal(Wanted(20.0, 8.0, 6.0, "lettuce_leaf"), picked_kg=10.0, money_year=100.0, may_spend=200.0)


def made(fish=20.0, kg=8.0, heads=1.0, picked=10.0, failing=0.0, beyond=0.0, **others) -> Outcome:
    held = np.where(np.arange(10) < round(10 * failing), beyond or 1.0, 0.0)
    full = {name: np.full(10, value) for name, value in (("f", fish), ("k", kg), ("h", heads), ("p", picked))}
    return Outcome(
        fish_of_size=full["f"],
        fish_kg=full["k"],
        progress=np.ones(10),
        heads=6.0 * full["h"],
        heads_share=full["h"],
        picked_kg=full["p"],
        judged={"oxygen": Judged(held, 3.0, held)},
        money_year=np.full(10, 100.0),
        **others,
    )


def test_all_wishes_met_are_all_their_points():
    assert aim.wished(made(), GOAL) == pytest.approx(25.0 + 15.0 + 40.0 + 30.0 + 15.0)


def test_more_than_was_wished_brings_nothing_but_pickings_up_to_twice():
    assert aim.wished(made(fish=50.0, kg=30.0), GOAL) == aim.wished(made(), GOAL)
    assert aim.wished(made(picked=50.0), GOAL) == aim.wished(made(), GOAL) + 15.0


def test_a_wish_that_was_not_named_has_no_weight():
    plain = replace(GOAL, wanted=Wanted(0.0, 0.0, 0.0, ""))
    assert aim.wished(made(fish=0.0), plain) == pytest.approx(15.0)


def test_what_eight_of_ten_tries_give_counts():
    some = replace(made(), fish_kg=np.array([0.0] * 3 + [8.0] * 7))
    few = replace(made(), fish_kg=np.array([0.0] * 1 + [8.0] * 9))
    assert aim.wished(some, GOAL) < aim.wished(few, GOAL) == aim.wished(made(), GOAL)


def test_a_must_costs_only_where_it_holds_in_too_few_tries():
    assert aim.broken(made(failing=0.2), 0.8) == 0.0
    assert aim.broken(made(failing=0.2), 0.9) > 0.0
    assert aim.broken(made(failing=0.6), 0.8) > aim.broken(made(failing=0.4), 0.8) > 40.0


def test_a_worse_must_costs_more():
    assert aim.broken(made(failing=0.5, beyond=1.5), 0.8) > aim.broken(made(failing=0.5, beyond=0.2), 0.8)


def test_of_equals_the_plan_with_fewer_changes_and_less_money_is_better():
    same = aim.points(made(), GOAL, 2)
    assert same > aim.points(made(), GOAL, 3)
    assert same > aim.points(made(to_buy=50.0), GOAL, 2)
    assert same > aim.points(replace(made(), money_year=np.full(10, 150.0)), GOAL, 2)
