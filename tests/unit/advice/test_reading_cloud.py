"""The tries of a reading on the map, and where the map's lines lie."""

import numpy as np
import pytest

from aquacalc.advice.reading import cloud, given, judge
from aquacalc.judge import lines, water
from aquacalc.water import ammonia

READ = ("tan=2 N", "ph=7.6", "temp=26 C")


def test_the_lines_are_those_of_the_most_sensitive_fish():
    warm = given.read([*READ, "fish=warm"])
    cold = given.read([*READ, "fish=cold"])
    of_warm, of_cold = (lines.levels_from("unionised_ammonia", one.species) for one in (warm, cold))
    assert [value for _, value in of_warm] == [0.025, 0.05, 0.15]
    assert [value for _, value in of_cold] == [0.0125, 0.025, 0.075]


def test_a_place_on_the_map_holds_the_ammonia_that_it_stands_for():
    ph = cloud.counts_as_ph(np.array([0.02, 0.3]), 2.0, np.array([10.0, 30.0]))
    back = 2.0 * ammonia.unionised_fraction(ph, np.array([10.0, 30.0]))
    assert back == pytest.approx([0.02, 0.3])
    assert np.isnan(cloud.counts_as_ph(2.0, 2.0, 26.0))


def test_the_share_of_dots_beyond_a_line_is_that_of_the_judgement():
    found = judge.judge(given.read([*READ, "fish=warm"]))
    tries = cloud.cloud_of(found)
    assert tries.ph.shape == tries.temperature_c.shape == (cloud.DOTS,)
    one = found.of("unionised_ammonia")
    there = 2.0 * ammonia.unionised_fraction(tries.ph, tries.temperature_c)
    low, high = np.nanpercentile(there, (10.0, 90.0))
    assert low == pytest.approx(one.low, rel=0.12)
    assert high == pytest.approx(one.high, rel=0.12)
    assert abs(float(np.mean(tries.temperature_c)) - 26.0) < 0.1


def test_what_was_not_measured_has_no_spread():
    tries = cloud.cloud_of(judge.judge(given.read(["tan=2 N", "ph=7.6", "fish=warm"])))
    assert set(tries.temperature_c) == {water.ASSUMED_WARM_C}
