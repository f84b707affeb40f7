"""The solver of the beds on cases that are small enough to try every plan."""

from itertools import product

import numpy as np
import pytest

from aquacalc.planner.filling import (
    FORTNIGHT_WEEKS,
    HEAD_SHORT_KG,
    MOST_OF_WISH,
    PLANTING_KG,
    Asked,
    Choice,
    filled,
    steadiest,
)

WEEKS = 8


def lettuce(first, bed=0, weeks=3):
    ready = first + weeks
    return Choice("lettuce", bed, first, ready - 1, 4.0, ((ready, 10.0),) if ready < WEEKS else ())


def chard(first, bed=0):
    return Choice("chard", bed, first, first + 4, 7.0, ())


def small(**asked):
    """One bed of 1 m2, planted as a whole: what can be enumerated."""
    return Asked(**{"beds_m2": (1.0,), "weeks": WEEKS, "least_m2": 1.0, **asked})


def worth(choices, asked, made):
    """The aim of a plan of whole beds, as it is written down; None where it does not fit."""
    for week in range(asked.weeks):
        there = [one for one, yes in zip(choices, made, strict=True) if yes and one.first <= week <= one.last]
        begun = [one for one in there if one.first == week]
        if len(there) > 1 or len(begun) > asked.plantings:
            return None
    kg = sum(
        asked.worth.get(one.crop, 1.0) * one.kg_m2 for one, yes in zip(choices, made, strict=True) if yes
    )
    points = kg - PLANTING_KG * sum(made)
    for crop, heads in asked.heads.items():
        for fortnight in range(asked.weeks // FORTNIGHT_WEEKS):
            got = sum(
                amount
                for one, yes in zip(choices, made, strict=True)
                for week, amount in one.heads_m2
                if yes and one.crop == crop and week // FORTNIGHT_WEEKS == fortnight
            )
            wish = FORTNIGHT_WEEKS * heads
            if got > MOST_OF_WISH * wish:
                return None
            points -= HEAD_SHORT_KG * max(wish - got, 0.0)
    return points


@pytest.mark.parametrize("heads", [0.0, 2.0, 5.0])
@pytest.mark.parametrize("likes", [{}, {"chard": 3.0}])
def test_it_finds_the_best_of_all_plans(heads, likes):
    choices = [lettuce(week) for week in range(6)] + [chard(week) for week in range(4)]
    asked = small(heads={"lettuce": heads} if heads else {}, worth=likes)
    every = product((False, True), repeat=len(choices))
    best = max(found for made in every if (found := worth(choices, asked, made)) is not None)
    areas = filled(choices, asked).areas_m2
    assert worth(choices, asked, list(areas > 0.5)) == pytest.approx(best, rel=0.03)


def test_no_bed_is_fuller_than_it_is_large():
    choices = [lettuce(week, bed) for week in range(6) for bed in (0, 1)]
    areas = filled(choices, Asked((1.0, 0.5), WEEKS, {"lettuce": 5.0})).areas_m2
    for bed, had in enumerate((1.0, 0.5)):
        for week in range(WEEKS):
            there = [one.bed == bed and one.first <= week <= one.last for one in choices]
            assert areas[there].sum() <= had + 1e-6


def test_no_week_has_more_plantings_than_hands():
    choices = [lettuce(week, bed) for week in range(6) for bed in range(3)]
    found = filled(choices, Asked((1.0, 1.0, 1.0), WEEKS, plantings=1))
    begun = [sum(found.areas_m2[[one.first == week for one in choices]] > 0) for week in range(6)]
    assert max(begun) == 1


def test_one_crop_takes_no_more_than_its_share():
    choices = [chard(week) for week in range(4)] + [lettuce(week) for week in range(6)]
    asked = Asked((1.0,), WEEKS, most_of_one=0.4, least_m2=0.1)
    areas = filled(choices, asked).areas_m2
    for crop in ("chard", "lettuce"):
        taken = sum(
            area * (min(one.last, WEEKS - 1) - one.first + 1)
            for area, one in zip(areas, choices, strict=True)
            if one.crop == crop
        )
        assert taken <= 0.4 * WEEKS + 1e-6


def test_what_is_short_is_told_by_the_fortnight():
    found = filled([lettuce(0), lettuce(3)], Asked((1.0,), WEEKS, {"lettuce": 3.0}))
    # Nothing is ready in weeks 0 and 1, nor in 4 and 5; the others have one planting each, of 6 heads.
    assert found.short["lettuce"].round(3).tolist() == [6.0, 0.0, 6.0, 0.0]


def test_what_contradicts_itself_has_no_plan():
    asked = Asked((1.0,), WEEKS, at_least_m2={"lettuce": 1.0}, most_of_one=0.05)
    assert filled([lettuce(week) for week in range(5)], asked) is None


def test_a_crop_that_is_never_ready_has_no_steady_harvest():
    assert steadiest([chard(0)], small(), "lettuce") == 0.0


def test_twice_the_bed_gives_twice_the_heads():
    choices = [lettuce(week) for week in range(5)]
    one, two = (steadiest(choices, Asked((had,), WEEKS), "lettuce") for had in (1.0, 2.0))
    assert two == pytest.approx(2.0 * one)
    assert one > 0.0


def test_the_same_question_has_the_same_answer():
    choices = [lettuce(week) for week in range(6)] + [chard(week) for week in range(4)]
    one, two = (filled(choices, Asked((1.0,), WEEKS, {"lettuce": 3.0})).areas_m2 for _ in range(2))
    assert np.array_equal(one, two)
