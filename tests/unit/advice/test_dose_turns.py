"""Whose base is next, and how much a week: readings go before doses, and both before the feed."""

import math
from datetime import date, timedelta

import pytest

from aquacalc.advice.doses import ratio, weekly
from aquacalc.advice.doses.ratio import Minerals
from aquacalc.garden import litres
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Product
from aquacalc.logbook.log import Log, Reading, Row

NAN = math.nan
FIRST = date(2027, 3, 1)
GARDEN = GardenFile.open("demo:yard").garden


@pytest.mark.parametrize(
    ("minerals", "metal", "why"),
    [
        (Minerals(), "either", "not-known"),
        (Minerals(30.0, 60.0), "K", "low"),
        (Minerals(70.0, 60.0), "K", "between"),
        (Minerals(110.0, 60.0), "Ca", "between"),
        (Minerals(150.0, 60.0), "Ca", "high"),
        (Minerals(150.0, 60.0, 120.0), "K", "hard"),
        (Minerals(top_up_calcium_mg_l=100.0), "either", "not-known"),
        (Minerals(210.0, 60.0), "Ca", "potassium-high"),
        (Minerals(210.0, NAN), "Ca", "potassium-high"),
        (Minerals(210.0, 60.0, 120.0), "neither", "both-high"),
        (Minerals(given_potassium_g=50.0), "Ca", "high"),
        (Minerals(given_potassium_g=10.0, given_calcium_g=40.0), "K", "low"),
        # What was measured goes before what was given.
        (Minerals(30.0, 60.0, NAN, 50.0, 0.0), "K", "low"),
    ],
)
def test_the_next_base_keeps_potassium_at_one_to_two_times_the_calcium(
    minerals: Minerals, metal: str, why: str
):
    found = ratio.next_base(minerals)
    assert (found.metal, found.why) == (metal, why)


def test_turns_taken_by_the_rule_keep_the_ratio():
    minerals = Minerals()
    given = {"K": 0.0, "Ca": 0.0}
    for _ in range(60):
        metal = ratio.next_base(minerals).metal
        chosen = "K" if metal == "either" else metal
        # The same alkalinity, 1 eq: 39.1 g of potassium or 20.0 g of calcium.
        given[chosen] += 39.1 if chosen == "K" else 20.04
        minerals = Minerals(given_potassium_g=given["K"], given_calcium_g=given["Ca"])
    assert 1.0 <= given["K"] / given["Ca"] <= 2.0


def test_the_base_comes_from_the_shelf_but_no_hydroxide_in_a_school():
    shelf = (Product("Lime", "calcium_hydroxide", 93.0), Product("Lye", "potassium_hydroxide", 88.0))
    assert ratio.base_of("Ca", "home", shelf) == "calcium_hydroxide"
    assert ratio.base_of("K", "home", shelf) == "potassium_hydroxide"
    assert ratio.base_of("Ca", "school", shelf) == "calcium_carbonate"
    assert ratio.base_of("K", "school", shelf) == "potassium_bicarbonate"
    assert ratio.base_of("neither", "home", shelf) == ""


def log(slope_week: float, dose_g: float = 0.0, feed_g: float = NAN, weeks: int = 8) -> Log:
    """Weekly readings of alkalinity that run straight, doses of bicarbonate between them, feed each week."""
    rows = []
    for week in range(weeks):
        day = FIRST + timedelta(days=7 * week)
        readings = [Reading(day, "alkalinity", 90.0 + slope_week * week, "mg_l_caco3")]
        if dose_g > 0.0:
            readings.append(Reading(day, "dose", dose_g, "g", subject="potassium_bicarbonate"))
        if feed_g > 0.0:
            readings.append(Reading(day, "feed", feed_g, "g_d"))
        rows.append(Row(day, tuple(readings)))
    return Log("log.csv", tuple(rows))


def test_the_growers_readings_override_the_feed_and_both_are_there():
    found = weekly.of_garden(GARDEN, 120.0, log(-6.0))
    assert found.counts == "readings"
    assert found.use is found.by_readings
    assert found.use.middle == pytest.approx(6.0, abs=2.0)
    assert found.use.low <= found.use.middle <= found.use.high
    assert (found.count, found.days) == (8, 49)
    assert found.by_feed == weekly.of_garden(GARDEN, 120.0).by_feed
    assert not found.feed_noted


def test_base_that_was_given_meanwhile_counts_into_the_use():
    volume_l = litres.litres_of(GARDEN).whole
    dose_g = 10.0 / 10.0 * 20.01 * volume_l / 1000.0
    found = weekly.of_garden(GARDEN, 120.0, log(0.0, dose_g))
    # 10 mg/L of alkalinity a week, and the readings stand still.
    assert found.given_mg_l == pytest.approx(10.0, rel=1e-3)
    assert found.use.middle == pytest.approx(10.0, abs=2.0)


def test_few_readings_leave_the_feed_to_count():
    found = weekly.of_garden(GARDEN, 120.0, log(-6.0, weeks=3))
    assert found.counts == "feed"
    assert found.use is found.by_feed
    assert found.feed_g_day == 120.0


def test_the_feed_that_was_noted_goes_before_that_of_the_plan():
    found = weekly.of_garden(GARDEN, 120.0, log(-6.0, feed_g=60.0))
    assert found.feed_noted
    assert found.feed_g_day == 60.0
    assert found.by_feed.middle == pytest.approx(weekly.of_garden(GARDEN, 60.0).by_feed.middle)


def test_the_feed_uses_up_what_the_reference_says():
    # 100 g of feed with 32 % protein hold 5.12 g N, of which fish keep 30 %: 3.6 g CaCO3 per g of the rest.
    use = weekly.use_by_feed(100.0, 0.32, 1000.0)
    assert use.middle == pytest.approx(7.0 * 100.0 * 0.32 * 0.16 * 0.7 * 3.6, rel=1e-6)
    assert (use.low, use.high) == (0.0, pytest.approx(use.middle * 7.1 / 3.6))


def test_a_rising_alkalinity_asks_for_nothing():
    found = weekly.of_garden(GARDEN, 120.0, log(5.0))
    assert weekly.grams(found.use.middle, "potassium_bicarbonate", 1000.0) == 0.0
    assert weekly.grams(10.0, "potassium_bicarbonate", 1000.0) == pytest.approx(20.01, abs=0.01)


def test_only_bases_bring_the_minerals_that_take_turns():
    day = FIRST + timedelta(days=3)
    doses = (
        Reading(day, "dose", 100.0, "g", subject="potassium_bicarbonate"),
        Reading(day, "dose", 100.0, "g", subject="potassium_sulphate"),
    )
    book = Log("log.csv", (Row(day, doses),))
    assert ratio.given_g(book, day, "K") == pytest.approx(39.05, abs=0.01)
    assert ratio.given_g(book, day + timedelta(days=60), "K") == 0.0
