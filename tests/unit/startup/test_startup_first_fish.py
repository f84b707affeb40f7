"""Methods, the challenge, the first feed, new fish, and the way back from a stocking date."""

import math
from datetime import date, timedelta

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.model import KitScale
from aquacalc.startup import backward, first_feed, methods, new_fish
from aquacalc.startup.first_feed import Shown
from aquacalc.startup.methods import Place

TAN = KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2, 2.5, 6.0))
NITRITE = KitScale("nitrite", "NO2", (0.0, 0.15, 0.4, 1.0, 3.0))


def keys(error: pytest.ExceptionInfo[InputError]) -> list[str]:
    return [one.key for one in error.value.problems]


# --- methods


@pytest.mark.parametrize(
    ("place", "reasons"),
    [
        (Place(frozenset("A")), ()),
        (Place(frozenset("C"), seeded=True), ("class_c",)),
        (Place(frozenset("B")), ("class_b_without_seed",)),
        (Place(frozenset("B"), seeded=True), ()),
        (Place(frozenset("A"), "school"), ("school",)),
        (Place(frozenset("A"), coldest_c=12.0), ("cold_without_seed",)),
        (Place(frozenset("A"), welfare_rules="forbidden"), ("welfare_rules",)),
        (
            Place(frozenset("ABC"), "school", 10.0),
            ("class_c", "class_b_without_seed", "school", "cold_without_seed"),
        ),
    ],
)
def test_fish_in_is_refused_where_fish_place_or_cold_forbid_it(place, reasons):
    assert methods.against("fish", place) == reasons
    assert all(methods.against(other, place) == () for other in methods.METHODS if other != "fish")
    if reasons:
        with pytest.raises(InputError) as error:
            methods.fish_in(place, 1000.0, 20.0, 7.4, 25.0)
        assert len(keys(error)) == len(reasons)


def test_fish_in_is_fed_a_quarter_at_most_and_stops_early():
    found = methods.fish_in(Place(frozenset("A")), 1500.0, 40.0, 7.4, 25.0)
    assert found.feed_g_day == (3.0, 4.5)
    hungry = methods.fish_in(Place(frozenset("A")), 1500.0, 10.0, 7.4, 25.0)
    assert hungry.feed_g_day == (2.5, 2.5)
    warmer = methods.fish_in(Place(frozenset("A")), 1500.0, 40.0, 8.2, 28.0)
    assert warmer.stop_tan_mg_l < found.stop_tan_mg_l
    assert (
        methods.fish_in(Place(frozenset("AB"), seeded=True), 1000.0, math.nan, 7.4, 25.0).stop_nitrite_mg_l
        == 0.5
    )


def test_mature_media_go_before_the_bottle_and_no_solution_into_a_school():
    assert methods.advised(Place(frozenset("B"), seeded=True)) == "media"
    assert methods.advised(Place(frozenset("B"), "school"), {"ammonia_solution"}) == "salt"
    assert methods.advised(Place(frozenset("B"), coldest_c=6.0)) == "cold"


def test_cold_water_is_unsure_and_colder_water_refused():
    assert methods.check_temperature(12.0)
    assert not methods.check_temperature(6.0)
    with pytest.raises(InputError) as error:
        methods.check_temperature(3.0)
    assert keys(error) == ["problem-startup-cold"]


# --- the challenge


def test_a_challenge_is_a_span_by_the_kits_steps():
    found = first_feed.challenge(
        Shown(2.5, TAN), Shown(0.3, TAN), Shown(0.0, NITRITE), Shown(0.0, NITRITE), 1000.0, 0.32
    )
    assert found.feed_g_day[0] < found.middle_g_day < found.feed_g_day[1]
    assert found.rate_mg_l_d[0] == pytest.approx(1.85 - 0.45 - 0.075 / 3.2844, rel=1e-3)
    assert found.rate_mg_l_d[1] == pytest.approx(4.25 - 0.15, rel=1e-6)
    assert found.passed == "not sure"


def test_what_stays_as_nitrite_does_not_count():
    clear = first_feed.challenge(Shown(2.0), Shown(0.0), Shown(0.0), Shown(0.0), 1000.0, 0.32)
    piled = first_feed.challenge(Shown(2.0), Shown(0.0), Shown(0.0), Shown(1.5), 1000.0, 0.32)
    assert piled.middle_g_day == pytest.approx(0.25 * clear.middle_g_day)
    assert piled.slower_step == "nitrite"
    assert (clear.passed, piled.passed) == ("passed", "failed")


def test_nitrite_at_the_top_of_its_card_proves_nothing():
    found = first_feed.challenge(
        Shown(2.5, TAN), Shown(0.0, TAN), Shown(3.0, NITRITE), Shown(3.0, NITRITE), 1000.0, 0.32
    )
    assert found.feed_g_day[0] == 0.0
    assert found.passed == "failed"


@pytest.mark.parametrize(
    ("before", "after", "hours", "key"),
    [
        (2.0, 3.0, 24.0, "problem-startup-challenge-rises"),
        (0.8, 0.0, 24.0, "problem-startup-challenge-small"),
        (2.0, 0.0, 3.0, "problem-range"),
    ],
)
def test_readings_that_prove_nothing_are_refused(before, after, hours, key):
    with pytest.raises(InputError) as error:
        first_feed.challenge(Shown(before), Shown(after), Shown(0.0), Shown(0.0), 1000.0, 0.32, hours)
    assert keys(error) == [key]


def test_a_kit_without_its_basis_asks_for_it():
    unknown = KitScale("tan", steps=(0.0, 1.0, 2.0))
    with pytest.raises(InputError) as error:
        first_feed.challenge(Shown(2.0, unknown), Shown(0.0), Shown(0.0), Shown(0.0), 1000.0, 0.32)
    assert keys(error) == ["problem-startup-basis-nitrogen"]


def test_feed_begins_at_half_and_never_rises_by_more_than_fifteen_percent():
    feed = first_feed.ramp_g_day(60.0, 200.0)
    assert feed[0] == 30.0
    assert feed[-1] == 200.0
    assert max(feed[1:] / feed[:-1]) <= 1.15 + 1e-9
    with pytest.raises(InputError):
        first_feed.ramp_g_day(0.0, 100.0)


@pytest.mark.parametrize(
    ("proven", "planned", "count", "bound"),
    [(200.0, 60, 60, "planned"), (200.0, 600, 100, "fifth"), (20.0, 600, 20, "proven feed")],
)
def test_the_first_fish_are_the_least_of_three(proven, planned, count, bound):
    found = first_feed.first_fish(proven, 1.0, 40.0, 20.0, planned, companions=30)
    assert (found.count, found.bound_by) == (count, bound)
    assert found.too_few == (count < 30)


# --- new fish


def test_opened_bag_water_harms_more_than_closed():
    found = new_fish.bag(5.0, 6.5, 20.0, 7.0, 0.05, alkalinity_mg_l=100.0)
    assert found.opened_ph > 7.5
    assert found.closed_mg_l < found.mixed_mg_l < found.opened_mg_l
    assert found.too_high
    assert found.rises > 10.0
    assert math.isnan(new_fish.bag(5.0, 6.5, 20.0, 7.0, 0.05).opened_mg_l)


@pytest.mark.parametrize(
    ("bag_c", "minutes", "days"), [(21.0, 0.0, 0), (18.0, 40.0, 0), (26.0, 40.0, 0), (12.0, 50.0, 2)]
)
def test_warmth_is_matched_in_steps(bag_c, minutes, days):
    found = new_fish.tempering(bag_c, 22.0)
    assert (found.minutes, found.days) == (minutes, days)


def test_what_arrives_is_counted_and_weighed():
    found = new_fish.arrival("common_carp", 60, 60.0, 1500.0)
    assert found.kg == 3.6
    assert found.density_kg_m3 == pytest.approx(2.4)
    assert found.quarantine_c == (18.0, 25.0)
    assert "law" in found.cautions
    assert new_fish.arrival("nile_tilapia", 6, 5.0, 500.0).too_few
    assert new_fish.arrival("nile_tilapia", 6, 5.0, 500.0).fasted_h == 12.0
    with pytest.raises(InputError):
        new_fish.arrival("common_carp", 0, 60.0, 1500.0)


def test_fish_in_cold_water_want_nothing():
    assert new_fish.appetite_g_day("common_carp", 60.0, 5.0) == 0.0
    assert new_fish.appetite_g_day("common_carp", 60.0, 24.0) > 0.5


# --- backward


def by_month(begun: date) -> tuple[float, float]:
    """Slow in winter, quick in summer."""
    high = 80.0 if begun.month in (12, 1, 2) else 40.0
    return high - 20.0, high


def test_the_latest_start_is_in_time_and_a_week_later_is_not():
    stocking = date(2027, 5, 15)
    found = backward.latest(stocking, by_month)
    assert found.start + timedelta(days=by_month(found.start)[1] + 14) <= stocking
    assert found.last + timedelta(days=by_month(found.last)[1]) <= stocking
    later = found.last + timedelta(days=7)
    assert later + timedelta(days=by_month(later)[1]) > stocking
    assert found.order == date(2027, 4, 17)
    assert found.start < found.last


def test_what_is_never_ready_and_what_is_too_late_is_said():
    with pytest.raises(InputError) as error:
        backward.latest(date(2027, 5, 15), lambda _: (math.inf, math.inf))
    assert keys(error) == ["problem-startup-never"]
    with pytest.raises(InputError) as error:
        backward.latest(date(2027, 5, 15), by_month, today=date(2027, 5, 1))
    assert keys(error) == ["problem-startup-too-late"]


def test_what_growers_tell_is_longer_in_the_cold():
    low, high = backward.practice_days(20.0)
    assert 28.0 < low < 63.0
    assert 42.0 < high < 84.0


def test_a_start_before_the_winter_is_ready_long_before_and_has_to_be_fed():
    def frozen(begun: date) -> tuple[float, float]:
        return (30.0, 50.0) if begun.month in (6, 7, 8) else (math.inf, math.inf)

    found = backward.latest(date(2027, 4, 10), frozen)
    assert found.start.month in (6, 7, 8)
    assert found.waits
    assert not backward.latest(date(2027, 5, 15), by_month).waits


@pytest.mark.parametrize("most", [20.0, 45.0, 61.0, 90.5])
def test_a_start_is_never_some_days_late(most: float):
    stocking = date(2027, 5, 15)
    found = backward.latest(stocking, lambda _: (most - 10.0, most))
    assert found.last + timedelta(days=math.ceil(most)) <= stocking
    assert found.ready + timedelta(days=14) <= stocking
