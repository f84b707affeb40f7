"""The minutes of a workshop, its groups, and the spread of many readings of one water."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from aquacalc.errors import InputError
from aquacalc.workshop import audience, hours, spread


@pytest.mark.parametrize("who", audience.AUDIENCES)
def test_the_minutes_add_up(who: audience.Audience):
    found = hours.meetings(who)
    whole = hours.LESSON_MIN if who in audience.CLASSES else hours.WORKSHOP_MIN
    assert len(found) == (5 if who in audience.CLASSES else 1)
    for meeting in found:
        ends = [end for _, end, _ in meeting.clock()]
        begins = [begin for begin, _, _ in meeting.clock()]
        assert begins == [0, *ends[:-1]]
        assert ends[-1] == whole


@given(st.integers(1, audience.MOST_PEOPLE))
def test_everybody_has_a_place(people: int):
    assert (audience.groups(people) - 1) * audience.IN_A_GROUP < people
    assert audience.groups(people) * audience.IN_A_GROUP >= people
    assert audience.each_station(people) * audience.STATIONS >= audience.groups(people)


@given(st.lists(st.floats(0.0, 100.0).map(lambda one: round(one, 2)), min_size=2, max_size=40))
def test_the_spread_agrees_with_a_statistics_library(values: list[float]):
    found = spread.spread(values)
    assert found.low <= found.middle <= found.high
    if np.std(values) > 1e-9:
        low, high = stats.t.interval(0.95, len(values) - 1, loc=np.mean(values), scale=stats.sem(values))
        assert found.mean - found.half_width == pytest.approx(low, abs=1e-9)
        assert found.mean + found.half_width == pytest.approx(high, abs=1e-9)


def test_one_reading_has_no_spread():
    with pytest.raises(InputError):
        spread.spread([1.0])
