"""What must hold in every start-up on the season's hourly step, whatever is dosed and however warm it is."""

import numpy as np
import pytest
import seasons
import start_ups
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc.season.hour import Water

few = settings(max_examples=15)
temperatures = st.floats(8.0, 32.0)
ph_values = st.floats(6.4, 8.4)
capacities = st.floats(-5.0, 0.0).map(lambda power: 10.0**power)
doses = st.dictionaries(st.integers(1, 19), st.tuples(st.floats(0.0, 4.0), st.floats(0.0, 80.0)), max_size=6)


def twenty_days(
    temperature_c: float,
    ph: float,
    capacity: float,
    dosed: dict[int, start_ups.Dose],
    source_mg_l_d: float = 0.0,
    litres: float = 1000.0,
) -> list[Water]:
    """The water at every hour; the oxygen that holds it is the same at any size."""
    water, before = start_ups.begin(3.0, 150.0, capacity, litres), None
    driven = start_ups.hour(temperature_c, source_mg_l_d, litres=litres)
    found = [water]
    for day in range(20):
        if day in dosed:
            water, before = start_ups.dosed(found[-1], *dosed[day]), None
        hours, before = start_ups.a_day(water, before, driven, start_ups.rates(), lambda _: ph, 1)
        found += hours
        water = found[-1]
    return found


@few
@given(temperatures, ph_values, capacities, doses)
def test_nitrogen_is_what_was_dosed(temperature_c: float, ph: float, capacity: float, dosed: dict):
    course = twenty_days(temperature_c, ph, capacity, dosed)
    first, last = (float(seasons.held(one, start_ups.rates())["nitrogen"]) for one in (course[0], course[-1]))
    assert last == pytest.approx(first + sum(tan for tan, _ in dosed.values()), rel=1e-9)


@few
@given(temperatures, ph_values, capacities, doses, st.floats(0.0, 3.0))
def test_nothing_falls_below_nothing(
    temperature_c: float, ph: float, capacity: float, dosed: dict, source: float
):
    course = np.array(twenty_days(temperature_c, ph, capacity, dosed, source), dtype=np.float64)
    assert np.isfinite(course).all()
    assert (course >= 0.0).all()


@few
@given(temperatures, ph_values, capacities, doses, st.floats(0.0, 3.0), st.sampled_from([2.0, 0.05, 30.0]))
def test_a_loop_of_another_size_has_the_same_concentrations(
    temperature_c: float, ph: float, capacity: float, dosed: dict, source: float, times: float
):
    one, other = (
        np.array(twenty_days(temperature_c, ph, capacity, dosed, source, litres), dtype=np.float64)
        for litres in (1000.0, 1000.0 * times)
    )
    # Oxygen is held by an exchange that does not grow with the loop, to nine digits.
    np.testing.assert_allclose(other / times, one, rtol=1e-6, atol=1e-12)


@pytest.mark.slow
@settings(max_examples=5)
@given(st.floats(15.0, 30.0), st.floats(7.0, 8.0), st.floats(2.0, 4.0))
def test_twice_the_bacteria_never_delay_completion_by_more_than_a_day(
    temperature_c: float, ph: float, first_tan_mg_l: float
):
    capacities = 1e-3 * 2.0 ** np.arange(9)
    found = start_ups.timeline(capacities, temperature_c, ph, first_tan_mg_l, days=150).complete
    assert (np.diff(found) <= 1.0).all()


@few
@given(st.floats(15.0, 30.0), st.floats(7.0, 8.0), capacities)
def test_twice_the_bacteria_never_leave_more_ammonia_and_nitrite(
    temperature_c: float, ph: float, capacity: float
):
    """One dose and no rule. Nitrite alone may well be higher; both together never are."""
    one, twice = (
        np.array(twenty_days(temperature_c, ph, times * capacity, {})).astype(np.float64)
        for times in (1.0, 2.0)
    )
    left, less = (course[:, 0] + course[:, 1] for course in (one, twice))
    assert (less <= left * (1.0 + 1e-6) + 0.01).all()


@few
@given(temperatures, ph_values, capacities)
def test_the_second_step_cannot_grow_before_there_is_nitrite(
    temperature_c: float, ph: float, capacity: float
):
    water = start_ups.begin(5.0, 150.0, capacity)._replace(ammonia_oxidisers_g_d=0.0)
    driven, before = start_ups.hour(temperature_c), None
    second = [capacity]
    for _ in range(5):
        hours, before = start_ups.a_day(water, before, driven, start_ups.rates(), lambda _: ph, 1)
        water = hours[-1]
        second += [one.nitrite_oxidisers_g_d for one in hours]
        assert water.nitrite_g == 0.0
    assert (np.diff(second) < 0.0).all()
