"""Base to a target pH: how much, of which, and how it enters."""

from dataclasses import replace

import numpy as np
import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Product
from aquacalc.season import basing
from aquacalc.water import ammonia


@pytest.fixture(scope="module")
def greenhouse():
    return GardenFile.open("demo:greenhouse").garden


def look(alkalinity, ph, on=False, before=np.nan, used=0.0, tan=0.0, act=0.05, target=7.0, every=1):
    kept = basing.Kept(np.array([on]), np.array([before]), np.full((2, 1), used))
    one = (alkalinity, ph, tan, ammonia.pka(25.0), act)
    portion, after = basing.portion_mg_l(
        basing.Seen(*(np.array([x]) for x in one)), kept, target, every, looks=True
    )
    return float(portion[0]), after


@pytest.mark.parametrize(
    ("alkalinity", "ph", "on", "expected"),
    [
        (16.0, 6.85, False, 0.0),  # not begun: less than 0.2 under the target
        (16.0, 6.85, True, 6.6),
        (8.0, 6.95, False, 4.0),  # by the floor
        (16.0, 6.70, False, 10.0),
        (14.0, 6.50, False, 10.0),
        (30.0, 6.75, False, 10.0),
        (16.0, 7.10, True, 0.0),
    ],
)
def test_a_portion_brings_the_ph_towards_its_target(alkalinity, ph, on, expected):
    assert look(alkalinity, ph, on)[0] == pytest.approx(expected, abs=0.05)


def test_what_the_loop_uses_is_given_with_it_and_sets_the_floor():
    used, after = look(16.0, 6.85, on=True, before=20.0, used=4.0)
    assert after.used_mg_l[:, 0].tolist() == [4.0, 4.0]
    assert used == pytest.approx(4.0 + 6.6, abs=0.05)
    # Twelve a day: the floor stands at 18.
    assert look(16.0, 7.05, before=28.0, used=12.0)[0] == pytest.approx(12.0 + 2.0)


def test_the_settled_ph_rises_by_little_in_a_day_and_never_past_the_ammonia_line():
    portion, _ = look(6.0, 6.6)
    assert portion == pytest.approx(6.0 * (10.0**0.3 - 1.0))
    acid, _ = look(3.0, 5.4)
    assert acid == pytest.approx(3.0 * (10.0**0.5 - 1.0))
    # 10 mg/L of ammonia may stand at 6.95 and no higher.
    most = float(ammonia.pka(25.0)) - np.log10(10.0 / 0.05 - 1.0)
    held, _ = look(20.0, most - 0.05, on=True, tan=10.0)
    assert held == pytest.approx(20.0 * (10.0**0.05 - 1.0))
    assert look(20.0, most + 0.01, on=True, tan=10.0)[0] == 0.0
    assert look(0.0, 4.5)[0] == basing.LEAST_PORTION_MG_L


def test_between_two_looks_nothing_is_given_and_the_next_portion_is_for_all_of_them():
    kept = basing.nothing_kept(1)
    seen = basing.Seen(*(np.array([x]) for x in (20.0, 6.5, 0.0, 9.25, 0.05)))
    nothing, _ = basing.portion_mg_l(seen, kept, 7.0, 3, looks=False)
    assert nothing[0] == 0.0
    often, seldom = (
        look(30.0, 6.5, used=3.0, before=33.0)[0],
        look(30.0, 6.5, used=3.0, before=33.0, every=3)[0],
    )
    assert seldom - often == pytest.approx(6.0)


def test_a_fishless_start_up_is_kept_where_its_rule_says():
    assert basing.fishless_mg_l(np.array([79.0, 80.0])).tolist() == [71.0, 0.0]


def test_bases_of_the_shelf_and_none_where_none_is_named(greenhouse):
    assert [one.key for one in basing.bases(greenhouse)] == ["potassium_bicarbonate", "calcium_hydroxide"]
    school = replace(greenhouse, site=replace(greenhouse.site, setting="school"))
    assert [one.key for one in basing.bases(school)] == ["potassium_bicarbonate", "calcium_carbonate"]
    hard = replace(greenhouse, top_up=replace(greenhouse.top_up, calcium_mg_l=140.0))
    assert [one.key for one in basing.bases(hard)] == ["potassium_bicarbonate"]
    weak = replace(greenhouse, products=(Product("lime", "calcium_hydroxide", 50.0),))
    assert basing.bases(weak)[0].grams_eq == pytest.approx(74.092 / 2.0 / 0.5)
    assert basing.bases(replace(greenhouse, products=())) == ()


@pytest.mark.parametrize(
    ("potassium", "calcium", "share"),
    [(5.0, 60.0, 0.9), (60.0, 60.0, 0.5), (120.0, 20.0, 0.1), (20.0, 30.0, 0.583)],
)
def test_what_the_water_has_less_of_is_given_more_of(potassium, calcium, share):
    assert basing.potassium_share(calcium, potassium) == pytest.approx(share, abs=0.001)


def test_an_equivalent_of_base_is_an_equivalent_of_alkalinity_with_its_ions(greenhouse):
    shelf = basing.bases(greenhouse)
    event = basing.given(5, np.array([2.0]), shelf, np.array([0.5]), False)
    assert event.added["alkalinity_eq"][0] == 0.0
    assert event.spread["alkalinity_eq"][0] == 2.0
    # One of each: 1 eq of potassium bicarbonate holds 1 mol of carbon and 39.1 g of potassium.
    assert event.spread["carbon_mol"][0] == pytest.approx(1.0)
    assert event.ions["potassium"][0] == pytest.approx(39.098, rel=1e-3)
    assert event.ions["calcium"][0] == pytest.approx(20.04, rel=1e-3)
    once = basing.given(5, np.array([2.0]), shelf, np.array([0.5]), True)
    assert once.added["alkalinity_eq"][0] == 2.0
    assert once.spread["alkalinity_eq"][0] == 0.0


def test_a_days_base_enters_whole_however_it_is_given():
    for how in ("drip", "parts", "once"):
        assert basing.shape(how).sum() == pytest.approx(1.0)
    assert np.count_nonzero(basing.shape("parts")) == 5


def test_potassium_base_stops_where_there_is_too_much_of_it(greenhouse):
    alone = replace(greenhouse, products=(Product("A", "potassium_bicarbonate", 100.0),))
    named, lent = basing.bases(alone)
    assert (named.in_need, lent.in_need, lent.key) == (False, True, "calcium_carbonate")
    share = basing.first_share((named, lent), np.array([20.0, 20.0, 20.0]), np.array([5.0, 199.0, 201.0]))
    assert share.tolist() == [1.0, 1.0, 0.0]
    both = replace(alone, products=(*alone.products, Product("B", "calcium_hydroxide", 95.0)))
    turns = basing.first_share(basing.bases(both), np.array([60.0, 60.0]), np.array([60.0, 201.0]))
    assert turns.tolist() == [0.5, 0.0]
    hard = replace(alone, top_up=replace(alone.top_up, calcium_mg_l=120.0))
    assert [one.key for one in basing.bases(hard)] == ["potassium_bicarbonate"]
