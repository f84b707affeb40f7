"""Days of a start-up, on courses written by hand."""

import numpy as np
import pytest

from aquacalc.startup import milestones
from aquacalc.startup.members import Course


def course(tan, nitrite, dosed) -> Course:
    tan, nitrite, dosed = (np.array(one, dtype=float).T for one in (tan, nitrite, dosed))
    nothing = np.zeros_like(tan)
    return Course(tan, nitrite, nothing, nothing, nothing, nothing, nothing, dosed, nothing, nothing[:, 0])


RISING = (
    # Dosed on day 0, clear on 3, nitrite highest on 4 and low on 6; doses on 6, 7 and 8.
    [0.0, 3.0, 1.0, 0.4, 0.1, 0.0, 0.0, 0.2, 0.1, 0.1],
    [0.0, 0.0, 1.0, 2.0, 3.0, 1.0, 0.4, 0.3, 0.2, 0.2],
    [3.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0, 1.8, 1.9, 0.0],
)
STUCK = ([0.0] + [3.0] * 9, [0.1 * day for day in range(10)], [3.0] + [0.0] * 9)
SEEDED = ([0.0] + [0.2] * 9, [0.0] + [0.1] * 9, [2.0] * 9 + [0.0])


def test_each_day_is_the_morning_on_which_it_shows():
    found = milestones.milestones_of(course(*([one] for one in RISING)))
    days = {name: float(found.take(name)[0]) for name in milestones.NAMES}
    assert days == {
        "ammonia_peak": 0.0,
        "ammonia_clear": 3.0,
        "nitrite_peak": 4.0,
        "nitrite_clear": 6.0,
        "complete": 8.0,
        "confirmed": 9.0,
    }


def test_what_does_not_come_is_later_and_what_never_rises_is_not_there():
    found = milestones.milestones_of(course(*([a, b] for a, b in zip(STUCK, SEEDED, strict=True))))
    assert found.ammonia_clear[0] == np.inf
    assert found.nitrite_peak[0] == np.inf
    assert found.complete[0] == np.inf
    assert found.complete[1] == 1.0
    assert found.confirmed[1] == 2.0
    assert np.isnan([found.ammonia_peak[1], found.nitrite_peak[1], found.nitrite_clear[1]]).all()


def test_completion_is_judged_from_a_day_on():
    late = milestones.milestones_of(course(*([one] for one in SEEDED)), from_day=5)
    assert (late.complete[0], late.confirmed[0]) == (5.0, 6.0)


def test_a_band_counts_those_who_never_finish_as_later():
    days = np.array([20.0, 22.0, 24.0, 26.0, np.inf])
    assert milestones.span(days, 60) == milestones.Span(20.0, 24.0, np.inf, 60)
    nearly = milestones.span(days, 60, np.array([0.1, 0.3, 0.3, 0.25, 0.05]))
    assert (nearly.low, nearly.middle, nearly.high) == (20.0, 24.0, 26.0)


def test_a_milestone_that_most_do_not_have_is_not_told():
    assert not milestones.span(np.array([3.0, np.nan, np.nan]), 60).known
    assert milestones.span(np.array([3.0, 4.0, np.nan]), 60).known


def test_weighted_percentiles_are_those_of_repeated_members():
    stream = np.random.default_rng(3)
    values, times = stream.normal(size=(4, 30)), stream.integers(1, 6, 30)
    weighted = milestones.weighted_percentiles(values, times / times.sum())
    repeated = np.percentile(
        np.repeat(values, times, axis=1), milestones.BAND_PERCENTILES, axis=1, method="inverted_cdf"
    )
    assert np.array(weighted) == pytest.approx(repeated)
