"""A plan of the beds of a garden: the schedule plants it as planned, and what is not met is told with why."""

from dataclasses import replace
from datetime import date

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Season
from aquacalc.planner import beds
from aquacalc.schedule import crops


@pytest.fixture(scope="module")
def yard():
    """Half a year, which is soon planned."""
    return GardenFile.open("demo:yard/before").changed({"season.end": date(2027, 8, 14)})


@pytest.fixture(scope="module")
def plan(yard):
    return beds.plan_beds(yard.garden)


def test_the_schedule_plants_all_of_it_as_planned(yard, plan):
    written = yard.changed({"crop": beds.entries(yard.garden, plan.plantings)}).garden
    found = [one for one in crops.batches(written) if one.in_bed]
    days = sorted((one.crop, one.bed, one.plant, one.first_pick, one.last_pick) for one in found)
    assert days == sorted(
        (one.crop, one.bed, one.plant, one.first_pick, one.last_pick) for one in plan.plantings
    )


def test_only_what_is_written_or_wished_is_planted(yard, plan):
    named = {"okra", "capsicum", "basil", "swiss_chard", "lettuce_leaf"}
    assert set(beds.listed(yard.garden)) == named
    assert {one.crop for one in plan.plantings} <= named


def test_a_crop_of_the_list_may_be_planted(yard):
    longer = yard.changed({"wishes.may_grow": ["pak_choi"]}).garden
    assert beds.listed(longer)[-1] == "pak_choi"


@pytest.mark.parametrize("crop", ["spinach", "pea"])
def test_heads_that_are_missing_have_a_reason(yard, crop):
    found = beds.plan_beds(yard.changed({"wishes.crop": crop}).garden)
    assert {one.why for one in found.unmet} == {"begins", "room", "hot"}
    (heat,) = (one for one in found.unmet if one.why == "hot")
    assert date(2027, 6, 1) < heat.first < heat.last <= yard.garden.season.end
    assert "basil" in heat.instead
    assert crop not in heat.instead


def test_no_fortnight_is_missed_that_ends_after_the_season(yard, plan):
    assert all(one.last <= yard.garden.season.end for one in plan.unmet)


def test_more_heads_than_the_beds_give_are_told_as_room(yard):
    asked = yard.changed({"wishes.heads": "60 heads/week"}).garden
    found = beds.plan_beds(asked)
    assert "room" in {one.why for one in found.unmet}
    assert found.steady["lettuce_leaf"] < 60.0


def test_every_crop_that_is_written_keeps_its_place(plan):
    assert {"okra", "capsicum", "basil"} <= {one.crop for one in plan.plantings}


def test_the_growers_own_numbers_go_with_the_crop(yard):
    own = yard.changed({"crop.0.yield": "3 kg/m2", "crop.0.loss": "5 %"})
    (okra,) = [one for one in own.garden.crops if one.crop == "okra"]
    found = beds.plan_beds(own.garden)
    written = own.changed({"crop": beds.entries(own.garden, found.plantings)}).garden
    after = [one for one in written.crops if one.crop == "okra"]
    assert after
    assert {(one.yield_kg_m2, one.loss_pct) for one in after} == {(okra.yield_kg_m2, okra.loss_pct)}


def test_wishes_against_each_other_are_told_in_one_sentence(yard):
    asked = yard.changed({"wishes.most_of_one": "5 %"}).garden
    with pytest.raises(InputError) as error:
        beds.plan_beds(asked)
    assert [one.key for one in error.value.problems] == ["problem-beds-contradict"]


def test_a_season_in_which_nothing_gets_ready_is_told(yard):
    short = replace(yard.garden, season=Season(date(2027, 12, 1), date(2027, 12, 14)))
    with pytest.raises(InputError) as error:
        beds.plan_beds(short)
    assert [one.key for one in error.value.problems] == ["problem-beds-nothing"]
