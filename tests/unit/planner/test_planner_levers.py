"""What may be moved in a garden: only what the grower has allowed, in positions that the file takes."""

from datetime import date

import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.planner import levers
from aquacalc.sizing import balance

OFFERS = [
    {"what": "air", "size": "40 L/min", "price": 60, "power": "30 W"},
    {"what": "bed", "bed": "north bed", "size": "10 sq ft", "price": 80},
    {"what": "biofilter", "medium": "expanded_clay", "size": "60 L", "price": 400},
    {"what": "cover", "price": 40},
    {"what": "barrel", "size": "1000 L", "price": 10},
]


@pytest.fixture(scope="module")
def yard():
    return GardenFile.open("demo:yard/before")


@pytest.fixture(scope="module")
def offered(yard):
    sold = {"wishes.sold_at": ["1 oz", "2 oz", "7 oz", "9 oz"], "wishes.to_buy_at_most": 250}
    return yard.changed({"offer": OFFERS, **sold})


def found(file: GardenFile) -> dict[str, levers.Lever]:
    own = levers.levers_of(file.garden, balance.balance(file.garden, members=1))
    return {lever.key: lever for lever in own}


def test_every_position_is_what_the_file_makes_of_it(offered):
    for lever in found(offered).values():
        option = lever.options[-1]
        (garden,) = offered.gardens([option.values])
        assert repr(garden) == repr(offered.changed(option.values).garden), lever.key
        assert repr(garden) != repr(offered.garden), lever.key


def test_nothing_is_bought_where_no_sum_is_named(yard):
    unnamed = yard.changed({"offer": OFFERS, "wishes.to_buy_at_most": None})
    assert not set(found(unnamed)) & {"air", "bed", "biofilter", "cover", "barrel"}
    assert {one.key for one in levers.beyond_the_sum(unnamed.garden)} == {"air", "bed", "biofilter", "cover"}


def test_what_costs_more_than_the_sum_is_no_lever(offered):
    assert set(found(offered)) & {"air", "bed", "biofilter", "cover"} == {"air", "bed", "cover"}
    assert [one.key for one in levers.beyond_the_sum(offered.garden)] == ["biofilter"]


def test_a_barrel_is_no_lever_of_a_garden_on_mains_water(offered):
    assert "barrel" not in found(offered)


def test_fish_are_bought_at_sold_weights_and_grow_here(offered):
    grams = [option.amount for option in found(offered)["bought_at"].options[1:]]
    # 2 oz is written already, 9 oz is more than a third of the final weight.
    assert grams == pytest.approx([28.35, 198.4], abs=0.1)


def test_fish_in_the_water_are_no_lever(yard):
    there = yard.changed({"fish.0.stocked": date(2026, 10, 1)})
    assert not set(found(there)) & {"number", "bought_at", "stocked"}


def test_a_start_up_is_not_stocked_before_its_day():
    southern = GardenFile.open("demo:southern")
    written, *others = found(southern)["stocked"].options
    assert others
    assert all(one.amount > written.amount for one in others)


def test_numbers_come_from_what_the_garden_carries(yard):
    few = yard.change("fish.0.count", 4)
    most = {file: max(o.amount for o in found(file)["number"].options[1:]) for file in (yard, few)}
    assert most[few] == pytest.approx(most[yard], rel=0.3)


def test_goldfish_are_not_taken_out(yard):
    kept = GardenFile.open("demo:classroom")
    assert not set(found(kept)) & {"until", "final_weight"}
