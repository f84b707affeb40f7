"""What counts of a season, on tries made by hand."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.outcome import musts, outcome
from aquacalc.season.result import DAILY, FISH, Tries
from aquacalc.sizing import balance

DAYS, MEMBERS = 28, 4
GOOD = {
    "water_c": 26.0,
    "oxygen_mg_l": 7.0,
    "oxygen_min_mg_l": 6.0,
    "potassium_mg_l": 40.0,
    "chloride_mg_l": 40.0,
    "ration": 1.0,
    "feed_g": 10.0,
    "fish_kg": 2.0,
}


@pytest.fixture(scope="module")
def yard():
    found = GardenFile.open("demo:yard/before").garden
    batch = replace(found.fish[0], weight_g=50.0, final_weight_g=500.0, count=10)
    return replace(found, fish=(batch,), crops=(), wishes=replace(found.wishes, kept_before=False))


@pytest.fixture(scope="module")
def limits(yard):
    return balance.balance(yard, members=1)


def made(fish=None, **daily) -> Tries:
    """Tries in which all is well but for what is named."""
    shape = (MEMBERS, DAYS)
    days = {name: np.broadcast_to(np.asarray(GOOD.get(name, 0.0)), shape).copy() for name in DAILY}
    days |= {name: np.broadcast_to(np.asarray(values), shape) for name, values in daily.items()}
    fishes = {name: np.zeros((1, *shape)) for name in FISH}
    fishes["count"][:] = 10.0
    fishes["weight_g"][:] = 200.0
    for name, values in (fish or {}).items():
        fishes[name] = np.broadcast_to(np.asarray(values, dtype=np.float64), (1, *shape)).copy()
    crops = {name: np.zeros((0, *shape)) for name in ("picked_kg", "stands")}
    return Tries(date(2027, 6, 1), (), days, fishes, crops)


def on(day: int, value: float, rest: float = 0.0) -> np.ndarray:
    found = np.full(DAYS, rest)
    found[day] = value
    return found


def held(yard, limits, key, **daily) -> float:
    return musts.judged(yard, made(**daily), limits)[key].held


def test_where_all_is_well_every_must_holds(yard, limits):
    found = musts.judged(yard, made(), limits)
    assert {key for key, one in found.items() if one.held < 1.0} == set()
    assert {"oxygen", "ammonia", "nitrite", "nitrate", "ration", "density", "heat", "cold"} <= set(found)


@pytest.mark.parametrize(
    ("key", "daily"),
    [
        ("oxygen", {"oxygen_min_mg_l": on(3, 2.0, 6.0)}),
        ("nitrate", {"nitrate_mg_l": on(3, 400.0)}),
        ("heat", {"water_c": on(3, 36.0, 26.0)}),
        ("cold", {"water_c": on(3, 1.0, 26.0)}),
        ("ration", {"ration": 0.5}),
        ("density", {"fish_kg": 500.0}),
        ("first_year", {"feed_g": 5000.0}),
    ],
)
def test_one_bad_day_breaks_its_must_alone(yard, limits, key, daily):
    found = musts.judged(yard, made(**daily), limits)
    assert [name for name, one in found.items() if one.held < 1.0] == [key]


def test_ammonia_may_pass_its_line_on_five_days(yard, limits):
    five, six = (np.where(np.arange(DAYS) < days, 1.0, 0.0) for days in (5, 6))
    assert held(yard, limits, "ammonia", unionised_max_mg_l=five) == 1.0
    assert held(yard, limits, "ammonia", unionised_max_mg_l=six) == 0.0


def test_the_share_of_tries_is_told(yard, limits):
    oxygen = np.full((MEMBERS, DAYS), 6.0)
    oxygen[0, 5] = 1.0
    found = musts.judged(yard, made(oxygen_min_mg_l=oxygen), limits)["oxygen"]
    assert found.held == 0.75
    assert found.worst.tolist() == [1.0, 6.0, 6.0, 6.0]


def test_nothing_is_asked_of_water_without_fish(yard, limits):
    nobody = made({"count": 0.0, "weight_g": np.nan}, oxygen_min_mg_l=0.0, nitrate_mg_l=400.0, fish_kg=0.0)
    found = musts.judged(yard, nobody, limits)
    assert found["oxygen"].held == found["nitrate"].held == 1.0
    assert np.isnan(found["oxygen"].worst).all()


def test_who_has_kept_fish_before_is_not_held_to_half(yard, limits):
    before = replace(yard, wishes=replace(yard.wishes, kept_before=True))
    assert "first_year" not in musts.judged(before, made(), limits)


def test_a_power_cut_is_told_as_the_share_of_the_fish_that_outlasts_it(yard, limits):
    bare = replace(yard, power=replace(yard.power, backup="none"))
    short = balance.balance(bare, members=1)
    few, many = (
        musts.judged(bare, made(fish_kg=kilograms), short)["power_cut"] for kilograms in (0.0, 500.0)
    )
    assert (few.held, few.worst.max()) == (1.0, 1.0)
    assert many.held == 0.0
    assert 0.0 <= many.worst.min() <= many.worst.max() < 0.5


def test_fish_count_by_the_kilograms_that_they_grew_here(yard, limits):
    taken = made({"taken": on(20, 4.0), "taken_kg": on(20, 2.4), "count": on(0, 10.0), "weight_g": 600.0})
    found = outcome.outcome(yard, taken, limits, outcome.wanted(yard))
    assert found.fish_of_size[0] == pytest.approx(4.0)
    # Four of 600 g that came with 50 g.
    assert found.fish_kg[0] == pytest.approx(4 * 0.55)


def test_who_leaves_too_small_is_not_of_size(yard, limits):
    small = {"taken": on(20, 10.0), "taken_kg": on(20, 2.0), "count": on(0, 10.0), "weight_g": 200.0}
    found = outcome.outcome(yard, made(small), limits, outcome.wanted(yard))
    assert found.fish_of_size[0] < 0.01
    assert found.progress[0] == pytest.approx(0.4)


def test_what_a_garden_without_wishes_means_to_give_is_what_it_stocks(yard):
    bare = replace(yard, wishes=type(yard.wishes)())
    found = outcome.wanted(bare)
    assert (found.fish, found.fish_kg, found.heads_per_week) == (10.0, pytest.approx(4.5), 0.0)


def test_money_is_told_only_where_all_prices_are_known(yard, limits):
    goal = outcome.wanted(yard)
    found = outcome.outcome(yard, made(feed_g=1000.0 / DAYS), limits, goal)
    dearer = replace(yard, prices=replace(yard.prices, feed_kg=yard.prices.feed_kg + 1.0))
    more = outcome.outcome(dearer, made(feed_g=1000.0 / DAYS), limits, goal)
    assert more.money_year[0] - found.money_year[0] == pytest.approx(1.0)
    unknown = replace(yard, prices=replace(yard.prices, feed_kg=None))
    assert outcome.outcome(unknown, made(), limits, goal).money_year is None
