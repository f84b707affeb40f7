"""A bed is planted day by day: what is cut in the morning makes room for what follows."""

from datetime import date

import pytest

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.schedule import crops


@pytest.fixture(scope="module")
def yard():
    return GardenFile.open("demo:yard")


def beds(*plans: dict) -> dict[str, object]:
    return {"crop": [{"bed": "south bed", **plan} for plan in plans]}


SPRING = {"crop": "lettuce_leaf", "area": "18 sq ft", "first": date(2027, 4, 1), "last": date(2027, 5, 10)}


def test_a_bed_that_is_cut_in_a_month_is_planted_again_in_it(yard):
    after = {"crop": "basil", "area": "18 sq ft", "first": date(2027, 5, 12)}
    found = yard.changed(beds(SPRING, after)).garden
    assert [plan.last for plan in found.crops] == [date(2027, 5, 10), None]


def test_two_that_stand_on_the_same_day_do_not_fit(yard):
    early = {"crop": "basil", "area": "18 sq ft", "first": date(2027, 5, 10)}
    with pytest.raises(InputError) as error:
        yard.changed(beds(SPRING, early))
    assert [one.key for one in error.value.problems] == ["problem-crops-beyond-bed"]


def test_the_rest_of_a_bed_is_that_of_its_days(yard):
    after = {"crop": "basil", "first": date(2027, 5, 12)}
    found = yard.changed(beds({**SPRING, "area": "12 sq ft"}, after)).garden
    # What shares no day with another would have the whole bed; the fullest day is left free for all.
    assert found.crops[1].area_m2 == pytest.approx(found.beds[1].area_m2 - found.crops[0].area_m2)


def test_nothing_stands_after_its_last_day(yard):
    garden = yard.changed(beds(SPRING)).garden
    found = [one for one in crops.batches(garden) if one.in_bed]
    assert found
    assert max(one.leaves for one in found) <= date(2027, 5, 10)
    longer = yard.changed(beds({**SPRING, "last": date(2027, 6, 20)})).garden
    assert max(one.leaves for one in crops.batches(longer) if one.in_bed) > date(2027, 5, 10)


def test_a_last_day_before_the_first_is_told(yard):
    with pytest.raises(InputError) as error:
        yard.changed(beds({**SPRING, "last": date(2027, 3, 1)}))
    assert [(one.key, one.where) for one in error.value.problems] == [
        ("problem-dates-reversed", "crop 1 last")
    ]
