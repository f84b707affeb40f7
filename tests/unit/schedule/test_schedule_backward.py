"""From a wished harvest back to sowing: as late as will do, and the nearest one where the day cannot be."""

from datetime import date, timedelta

import numpy as np
import pytest
from seasons import garden

from aquacalc import crops
from aquacalc.garden import opening, usual_year
from aquacalc.schedule import backward
from aquacalc.schedule import crops as schedule

DAY = timedelta(days=1)


def grown(name: str, crop: str, first: date, days: int) -> float:
    """Growth of a crop from a day on, in days at its reference temperature."""
    year, of = usual_year.usual_year_of(garden(name)), crops.crop(crop)
    factor = opening.growth(of, year)
    at = (first.timetuple().tm_yday - 1 + np.arange(days)) % 365
    return float(factor[at].sum())


@pytest.mark.parametrize(
    ("name", "crop", "wished"),
    [
        ("yard", "kale", date(2028, 1, 15)),
        ("yard", "tomato", date(2027, 8, 1)),
        ("greenhouse", "lettuce_leaf", date(2027, 7, 1)),
        ("classroom", "basil", date(2027, 11, 20)),
        ("southern", "broccoli", date(2027, 8, 10)),
    ],
)
def test_a_batch_is_ready_on_the_day_and_planted_as_late_as_will_do(name: str, crop: str, wished: date):
    found = backward.for_harvest(crop, garden(name), wished)
    assert found is not None
    assert found.kept
    of = crops.crop(crop)
    days = (wished - found.plant).days
    # A planting on the 29th of February is not among them, so that the days of the year are consecutive.
    assert grown(name, crop, found.plant, days + 2) >= of.days.typical - 1.0
    assert found.plant < found.first_pick <= wished
    if found.first_pick == wished:
        assert grown(name, crop, found.plant + 2 * DAY, days - 3) < of.days.typical


def test_it_says_what_the_plan_of_the_season_says():
    batches = [one for one in schedule.batches(garden("greenhouse")) if one.crop == "lettuce_butterhead"]
    planned = [one for one in batches if one.state == "planned" and one.first_pick]
    assert len(planned) > 5
    for one in planned:
        found = backward.for_harvest(one.crop, garden("greenhouse"), one.first_pick)
        assert found is not None
        assert found.plant == one.plant


def test_young_plants_are_sown_so_many_days_ahead():
    found = backward.for_harvest("tomato", garden("yard"), date(2027, 8, 1))
    assert found is not None
    assert found.sow == found.plant - timedelta(days=round(crops.crop("tomato").nursery_days.typical))


@pytest.mark.parametrize("crop", ["radish", "mint"])
def test_what_is_sown_in_place_or_bought_is_not_sown_ahead(crop: str):
    found = backward.for_harvest(crop, garden("classroom"), date(2027, 7, 1))
    assert found is not None
    assert found.sow is None


def test_a_day_that_cannot_be_gets_the_nearest_first_pick():
    found = backward.for_harvest("okra", garden("yard"), date(2027, 7, 1))
    assert found is not None
    assert not found.kept
    assert found.first_pick > date(2027, 7, 1)
    earlier = backward.for_harvest("okra", garden("yard"), found.first_pick - DAY)
    assert earlier is not None
    assert not earlier.kept
    later = backward.for_harvest("okra", garden("yard"), found.first_pick)
    assert later is not None
    assert later.kept


def test_a_crop_that_never_gets_ready_is_none():
    assert backward.for_harvest("okra", garden("greenhouse"), date(2027, 8, 1)) is None


def test_short_and_long_growing_times_lie_around_the_first_pick():
    for crop in ("kale", "lettuce_leaf", "tomato"):
        found = backward.for_harvest(crop, garden("classroom"), date(2027, 7, 1))
        assert found is not None
        assert found.plant < found.early_pick <= found.first_pick <= found.late_pick
        assert (found.last_pick is None) == (crops.crop(crop).window_days.typical == 0.0)


def test_the_dark_of_winter_stands_still():
    of = garden("greenhouse")
    found = backward.for_harvest("kale", of, date(2028, 3, 20))
    assert found is not None
    year, crop = usual_year.usual_year_of(of), crops.crop("kale")
    factor = opening.growth(crop, year)
    still = (factor[[334 + 31 - 1, 0, 10]] < schedule.STILL_FACTOR).any()
    assert bool(found.stands_still) == bool(still)
