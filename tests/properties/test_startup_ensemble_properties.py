"""What must hold in every forecast of a start-up, whatever is given and however warm it is."""

from dataclasses import fields, replace
from math import inf

import growers
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from aquacalc.startup import case, members, milestones, readings
from aquacalc.startup.members import Event
from aquacalc.startup.readings import Reading
from aquacalc.startup.rule import P1

few = settings(max_examples=12)
DAYS = 20
temperatures = st.floats(8.0, 32.0)
ph_values = st.one_of(st.none(), st.floats(6.2, 8.4))
starts = st.floats(-5.0, 0.0).map(lambda power: 10.0**power)
days = st.integers(0, DAYS - 1)
mornings = st.lists(
    st.one_of(
        st.builds(Event, days, st.just("ammonium_salt"), st.floats(0.0, 5.0)),
        st.builds(Event, days, st.just("ammonia_water"), st.floats(0.0, 5.0)),
        st.builds(Event, days, st.just("source"), st.floats(0.0, 2.0)),
        st.builds(Event, days, st.just("carbonate"), st.floats(0.0, 80.0)),
    ),
    max_size=8,
)
anything = st.lists(
    st.one_of(
        st.builds(Event, days, st.just("ammonium_salt"), st.floats(0.0, 5.0)),
        st.builds(Event, days, st.just("change"), st.floats(0.0, 1.0)),
        st.builds(Event, days, st.just("kill"), st.floats(0.0, 1.0)),
        st.builds(Event, days, st.just("seed"), st.floats(0.0, 1.0)),
    ),
    max_size=8,
)


def begun(temperature_c: float, ph: float | None, litres: float = 1000.0, source: float = 0.0) -> case.Case:
    return case.typed(
        litres,
        temperature_c,
        growers.FIRST,
        film_m2=0.125 * litres,
        ph=ph,
        alkalinity_mg_l=120.0,
        source_mg_l_d=source,
    )


def three(start: float) -> members.Members:
    return members.members_of(start * np.array([1.0, 3.0, 10.0]), start * np.array([1.0, 0.3, 2.0]))


@few
@given(temperatures, ph_values, starts, mornings)
def test_all_nitrogen_is_what_was_given(
    temperature_c: float, ph: float | None, start: float, given_: list[Event]
):
    drawn = three(start)
    course = members.run(begun(temperature_c, ph), drawn, given_, DAYS, rule=P1, rule_from=8)
    held = members.nitrogen_mg_l(course, drawn)
    whole = held[0] + np.cumsum(course.tan_dosed[:-1], axis=0)
    np.testing.assert_allclose(held[1:], whole, rtol=1e-9, atol=1e-9)


@few
@given(temperatures, ph_values, starts, anything, st.floats(0.0, 3.0))
def test_nothing_falls_below_nothing(
    temperature_c: float, ph: float | None, start: float, given_: list[Event], source: float
):
    course = members.run(begun(temperature_c, ph, source=source), three(start), given_, DAYS)
    for one in fields(course):
        values = getattr(course, one.name)
        assert np.isfinite(values).all()
        if one.name != "alkalinity_dosed":
            assert (values >= 0.0).all()


@pytest.mark.slow
@few
@given(temperatures, ph_values, starts, mornings, st.sampled_from([2.0, 0.05, 30.0]))
def test_a_loop_of_another_size_has_the_same_concentrations(
    temperature_c: float, ph: float | None, start: float, given_: list[Event], times: float
):
    one, other = (
        members.run(begun(temperature_c, ph, litres), three(start), given_, DAYS, rule=P1)
        for litres in (1000.0, 1000.0 * times)
    )
    for name in ("tan_mg_l", "nitrite_mg_l", "alkalinity_mg_l", "nitrite_capacity"):
        np.testing.assert_allclose(getattr(other, name), getattr(one, name), rtol=1e-9, atol=1e-12)


@few
@given(temperatures, st.floats(6.4, 8.4), starts)
def test_the_second_step_cannot_grow_before_there_is_nitrite(temperature_c: float, ph: float, start: float):
    drawn = replace(three(start), ammonia_start=np.zeros(3))
    course = members.run(begun(temperature_c, ph), drawn, [Event(0, "ammonium_salt", 4.0)], DAYS)
    assert not course.nitrite_mg_l.any()
    assert (np.diff(course.nitrite_capacity, axis=0) < 0.0).all()


@pytest.mark.slow
@settings(max_examples=6)
@given(st.floats(18.0, 30.0), st.floats(7.0, 8.2), st.floats(2.0, 4.0))
def test_twice_the_bacteria_never_delay_completion_by_more_than_three_days(
    temperature_c: float, ph: float, first_mg_l: float
):
    """By one day more is the rule's own doing: nitrite just below its line lets in a dose more."""
    start = 1e-4 * 2.0 ** np.arange(12)
    course = members.run(
        begun(temperature_c, ph),
        members.members_of(start, start),
        [Event(0, "ammonium_salt", first_mg_l)],
        140,
        rule=P1,
    )
    found = milestones.milestones_of(course).complete
    assert np.isfinite(found).all()
    assert (np.diff(found) <= 3.0).all()


@few
@given(
    st.sampled_from(["tan", "nitrite", "nitrate"]),
    st.floats(0.01, 8.0),
    st.floats(0.0, 40.0),
    st.floats(0.0, 40.0),
)
def test_beyond_the_end_of_a_scale_more_is_never_less_likely(
    parameter: str, last: float, one_mg_l: float, other_mg_l: float
):
    assume(one_mg_l != other_mg_l)
    low, high = sorted((one_mg_l, other_mg_l))
    values = np.array([[low, high]])
    nothing = np.zeros_like(values)
    course = members.Course(values, values, values, *(nothing,) * 6, np.zeros(1))
    told = readings.log_likelihoods(course, [Reading(0, parameter, last, inf, last)])
    assert told[0, 1] >= told[0, 0]


@few
@given(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=40), st.integers(0, 1000))
def test_a_band_lies_within_the_members_and_in_order(values: list[float], seed: int):
    weights = np.random.default_rng(seed).random(len(values)) + 1e-6
    low, middle, high = milestones.weighted_percentiles(np.array(values), weights)
    assert min(values) <= low <= middle <= high <= max(values)
    assert float(low) in values
    assert pytest.approx(1.0) == float((weights / weights.sum()).sum())
