from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hand_made_garden import garden

from aquacalc.climate import months
from aquacalc.crops import crop
from aquacalc.garden import frost, opening, usual_year
from aquacalc.garden.model import Garden, MonthDay, MonthlyClimate

# Cold winters, warm summers: the mean lowest air passes 6 C in the middle of April and of October.
LOW = (-4.0, -3.0, 1.0, 6.0, 11.0, 15.0, 17.0, 16.0, 12.0, 6.0, 1.0, -3.0)
NORTH = MonthlyClimate(air_max_c=tuple(one + 10.0 for one in LOW), air_min_c=LOW)
SOUTH = MonthlyClimate(air_max_c=NORTH.air_max_c[6:] + NORTH.air_max_c[:6], air_min_c=LOW[6:] + LOW[:6])


def place(climate: MonthlyClimate = NORTH, **site: object) -> Garden:
    made = garden()
    return replace(made, site=replace(made.site, climate=climate, **site))  # type: ignore[arg-type]


def dates(of: Garden) -> tuple[int, int] | None:
    return frost.dates(of.site, usual_year.usual_year_of(of).outdoor_night_c)


def first_and_last(days: np.ndarray) -> tuple[int, int]:
    found = np.flatnonzero(days)
    return int(found[0]), int(found[-1])


def planting(key: str, of: Garden) -> np.ndarray:
    return opening.reasons(crop(key), of.site, usual_year.usual_year_of(of)) == ""


def standing(key: str, of: Garden) -> np.ndarray:
    return opening.standing(crop(key), of.site, usual_year.usual_year_of(of))


def test_frost_is_estimated_from_the_nights_of_a_usual_year():
    last, first = dates(place())
    assert last == pytest.approx(months.day_of_year(4, 15), abs=3)
    assert first == pytest.approx(months.day_of_year(10, 16), abs=3)


def test_the_growers_own_dates_go_first():
    own = place(last_frost=MonthDay(3, 20), first_frost=MonthDay(11, 14))
    assert dates(own) == (months.day_of_year(3, 20), months.day_of_year(11, 14))


def test_one_own_date_gives_the_other_as_far_from_the_coldest_night():
    last, first = dates(place(last_frost=MonthDay(3, 1)))
    coldest = int(np.argmin(usual_year.usual_year_of(place()).outdoor_night_c))
    assert (last - coldest) % 365 == (coldest - first) % 365
    last, first = dates(place(first_frost=MonthDay(12, 1)))
    assert first == months.day_of_year(12, 1)
    assert (last - coldest) % 365 == (coldest - first) % 365


def test_a_southern_year_is_the_northern_one_half_a_year_later():
    north, south = dates(place()), dates(place(SOUTH, latitude_deg=-40.0))
    assert [(s - n) % 365 for n, s in zip(north, south, strict=True)] == pytest.approx([184, 184], abs=6)


def test_no_frost_indoors_nor_where_nights_are_warm():
    warm = MonthlyClimate((30.0,) * 12, (20.0,) * 12)
    assert dates(place(cover="indoors")) is None
    assert dates(place(warm, latitude_deg=5.0)) is None
    assert planting("tomato", place(warm, latitude_deg=5.0)).all()


def test_classes_are_set_out_one_after_the_other():
    """Hardy five weeks before the last frost, half-hardy two to three, tender on the day, others later."""
    warm_days = replace(NORTH, air_max_c=tuple(one + 12.0 for one in NORTH.air_max_c))
    mild = place(warm_days)
    last, _ = dates(mild)
    opens = {
        name: first_and_last(planting(key, mild))[0] - last
        for name, key in (("hardy", "spinach"), ("half", "lettuce_leaf"), ("tender", "cucumber"))
    }
    assert opens == {"hardy": -35, "half": -17, "tender": 0}
    assert first_and_last(planting("basil", mild))[0] - last >= 14
    nights = usual_year.usual_year_of(mild).night_c
    assert (nights[planting("basil", mild)] > frost.WARM_NIGHT_C).all()


def test_a_greenhouse_moves_both_dates_by_three_weeks():
    open_air, inside = place(), place(cover="greenhouse")
    tender = [first_and_last(standing("tomato", one)) for one in (open_air, inside)]
    assert tender[0][0] - tender[1][0] == frost.GREENHOUSE_DAYS
    assert tender[1][1] - tender[0][1] == frost.GREENHOUSE_DAYS


def test_frost_ends_tender_crops_and_hardy_ones_stand():
    cold = place()
    _, first = dates(cold)
    assert first_and_last(standing("tomato", cold))[1] == first - 1
    assert standing("kale", cold).all()
    nights = usual_year.usual_year_of(cold).night_c
    assert (standing("lettuce_leaf", cold) == (nights > -2.0)).all()


def test_heat_ends_a_crop_of_the_cool_season():
    hot = place(MonthlyClimate((42.0,) * 12, (28.0,) * 12), latitude_deg=15.0)
    assert not standing("lettuce_leaf", hot).any()


def test_where_every_night_may_freeze_only_hardy_crops_are_set_out():
    high = place(MonthlyClimate((19.0,) * 12, (5.0,) * 12))
    assert not standing("tomato", high)[planting("tomato", high)].any()
    summer = date(2027, 7, 1) + timedelta(days=20)
    assert planting("spinach", high)[months.day_of_year(summer.month, summer.day)]
    assert not planting("spinach", high)[months.day_of_year(1, 15)]
