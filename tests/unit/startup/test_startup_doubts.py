"""What is said when readings and model contradict each other, and that it is not said for nothing."""

from dataclasses import replace
from math import inf

import growers
import growers_doubted
import numpy as np
import pytest
from growers import CASE, USUAL

from aquacalc.startup import doubts
from aquacalc.startup.readings import Reading


def of(log: growers.Log, members: int = 300) -> tuple[doubts.Doubt, ...]:
    """Doubts of a log; few members do where the trouble is plain."""
    return doubts.doubts_of(USUAL, log.readings, log.events, log.today, members=members)


def read(parameter, *values: float, low: float | None = None) -> list[Reading]:
    """A reading every other day."""
    return [
        Reading(2 * place + 1, parameter, one - 0.1 if low is None else low, one + 0.1, one)
        for place, one in enumerate(values)
    ]


# --- what the log says outright


def test_a_log_without_readings_contradicts_nothing():
    assert doubts.doubts_of(CASE, [], [], 10) == ()


def test_alkalinity_that_is_used_up_is_said_until_it_is_raised():
    (found,) = doubts.doubts_of(CASE, read("alkalinity", 90.0, 60.0, 35.0), [], 10)
    assert (found.key, found.next_test, found.direct, found.day, found.amount) == (
        "soft",
        "alkalinity",
        True,
        5,
        35.0,
    )
    assert doubts.doubts_of(CASE, read("alkalinity", 90.0, 35.0, 120.0), [], 10) == ()


def test_a_ph_at_the_bottom_of_its_card_may_be_any_below():
    (found,) = doubts.doubts_of(CASE, read("ph", 6.8, 6.8, 6.8, low=-inf), [], 10)
    assert (found.key, found.next_test) == ("acid", "ph")
    assert doubts.doubts_of(CASE, read("ph", 7.2, 7.2, 6.8, 7.2), [], 10) == ()
    assert doubts.doubts_of(CASE, read("ph", 6.0, 6.0, 7.2, 7.2), [], 10) == ()


def test_water_that_was_colder_than_expected_through_some_days():
    (found,) = doubts.doubts_of(CASE, read("temperature", 24.0, 18.0, 18.0, 17.0, 18.0, 24.0), [], 20)
    assert (found.key, found.next_test) == ("cold", "temperature")
    assert found.day == 3
    assert found.amount == pytest.approx(6.25, abs=0.3)
    assert doubts.doubts_of(CASE, read("temperature", 24.0, 18.0, 24.0, 23.0, 24.0), [], 20) == ()
    assert doubts.doubts_of(CASE, read("temperature", 18.0, 18.0), [], 20) == ()


def test_what_is_read_later_is_not_known_yet():
    assert doubts.doubts_of(CASE, read("alkalinity", 90.0, 60.0, 35.0), [], 4) == ()


# --- by fit


@pytest.mark.slow
def test_a_log_without_trouble_is_left_alone():
    assert of(growers.log("plain", 2)) == ()


@pytest.mark.slow
def test_an_ion_written_down_as_nitrogen_is_found():
    found = of(growers.log("basis", 0))[0]
    assert (found.key, found.parameter, found.next_test) == ("basis", "nitrite", "standard")
    assert found.amount == pytest.approx(1.0 / 3.2844, rel=1e-4)


@pytest.mark.slow
@pytest.mark.parametrize(("grower", "parameter", "shown"), [(0, "nitrite", 0.0), (1, "tan", 1.2)])
def test_a_kit_that_does_not_move_is_found(grower: int, parameter: str, shown: float):
    found = of(growers.log("stuck", grower))[0]
    assert (found.key, found.parameter, found.amount) == ("stuck", parameter, shown)


@pytest.mark.slow
def test_bacteria_killed_by_new_water_are_found_on_its_morning():
    log = growers.log("chlorine", 4)
    (changed,) = [one.day for one in log.events if one.key == "change"]
    found = of(log)[0]
    assert (found.key, found.day, found.next_test) == ("chlorine", changed, "chlorine")


def test_few_readings_contradict_nothing():
    log = growers.log("basis", 0)
    early = replace(log, readings=tuple(one for one in log.readings if one.day <= 4))
    assert of(early) == ()


def test_slips_are_allowed_for():
    told = np.log(np.array([[0.5, 0.5], [1e-6, 1e-6]]))
    assert doubts.evidence(told) == pytest.approx(np.log(0.5 * doubts.SLIP))


# --- how often


@pytest.mark.slow
def test_troubles_are_doubted_and_logs_without_are_not():
    """At most one in ten logs without trouble is doubted, at least nine in ten of those with one are."""
    counts = growers_doubted.counted(plain=6, troubled=2)
    assert growers_doubted.share(counts, growers_doubted.PLAIN) <= 0.1
    assert growers_doubted.share(counts, growers_doubted.TROUBLES) >= 0.9
