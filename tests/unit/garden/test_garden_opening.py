"""When a crop can be set out, what keeps it out, and what suits instead."""

from dataclasses import replace

import numpy as np
import pytest
from hand_made_garden import garden

from aquacalc import crops, tables
from aquacalc.garden import opening
from aquacalc.garden.model import Garden, MonthlyClimate
from aquacalc.garden.usual_year import UsualYear

ALL = np.ones(365, dtype=np.bool_)


def year(air_c: float = 20.0, light: float = 20.0, water_c: float = 20.0, night_c: float | None = None):
    same = np.ones(365)
    return UsualYear(
        air_c=air_c * same,
        night_c=(air_c if night_c is None else night_c) * same,
        outdoor_night_c=15.0 * same,
        light_mol_m2_d=light * same,
        water_c=water_c * same,
    )


@pytest.fixture
def warm() -> Garden:
    made = garden()
    return replace(
        made, site=replace(made.site, climate=MonthlyClimate((35.0,) * 12, (20.0,) * 12), latitude_deg=5.0)
    )


def why(key: str, of: Garden, found: UsualYear) -> str:
    reasons = set(opening.reasons(crops.crop(key), of.site, found))
    assert len(reasons) == 1
    return str(reasons.pop())


def test_each_reason_by_its_own_cause(warm: Garden):
    assert why("lettuce_leaf", warm, year()) == ""
    assert why("lettuce_leaf", warm, year(air_c=6.0)) == "too_cold"
    assert why("lettuce_leaf", warm, year(water_c=7.0)) == "too_cold"
    assert why("lettuce_leaf", warm, year(air_c=33.0)) == "too_hot"
    assert why("lettuce_leaf", warm, year(water_c=33.0)) == "too_hot"
    assert why("lettuce_leaf", warm, year(light=5.0)) == "too_dark"
    assert why("lettuce_leaf", warm, year(night_c=-3.0)) == "frost"


def test_a_head_is_kept_out_where_too_little_of_it_is_worth_picking(warm: Garden):
    """At 31 C lettuce grows well enough, but under two fifths are worth cutting; bred for heat more."""
    hot, lettuce = year(air_c=31.0), crops.crop("lettuce_leaf")
    time = opening.bed_time(lettuce, hot)
    assert time.warmth.min() > opening.LEAST_WARMTH
    assert time.worth.max() < opening.LEAST_WORTH < opening.bed_time(lettuce, hot, tolerant=True).worth.min()
    assert why("lettuce_leaf", warm, hot) == "too_hot"


def test_the_time_in_the_bed_is_the_sum_of_its_days():
    lettuce = crops.crop("lettuce_leaf")
    time = opening.bed_time(lettuce, year(air_c=10.0))
    assert time.days == pytest.approx(np.full(365, 60.0))
    assert time.warmth == pytest.approx(np.full(365, 0.5))
    assert np.isinf(opening.bed_time(lettuce, year(air_c=1.0)).days).all()


def test_deadly_heat_ends_what_stands_and_a_warm_week_does_not(warm: Garden):
    lettuce, usual = crops.crop("lettuce_leaf"), year()
    for length, dies in ((2, False), (7, True)):
        air = usual.air_c.copy()
        air[100 : 100 + length] = 36.0
        spell = replace(usual, air_c=air, night_c=air)
        stands = opening.standing(lettuce, warm.site, spell)
        assert stands.all() != dies
        assert stands[:102].all()
    cool = replace(usual, air_c=np.where(np.arange(365) < 7, 33.0, 20.0))
    assert opening.standing(lettuce, warm.site, replace(cool, night_c=cool.air_c)).all()


def test_in_a_bed_are_the_days_from_setting_out_to_the_last_pick(warm: Garden):
    assert opening.in_bed(crops.crop("basil"), warm.site, year(air_c=26.0, water_c=25.0)).all()
    assert not opening.in_bed(crops.crop("lettuce_leaf"), warm.site, year(air_c=33.0)).any()


def test_what_stands_the_heat_is_named_listed_crops_first(warm: Garden):
    hot = year(air_c=31.0, water_c=28.0)
    found = opening.suits_instead(warm, hot, "media", ALL, "too_hot")
    assert "basil" in found
    grow = [crops.warmth_factor(crops.crop(key), 31.0, 28.0) for key in found]
    assert min(grow) >= opening.STANDS_HEAT_FROM
    own = replace(warm, crops=(replace(warm.crops[0], crop="kangkong"),))
    assert opening.suits_instead(own, hot, "raft", ALL, "too_hot")[0] == "kangkong"


def test_what_law_or_open_water_speaks_against_is_never_named_unless_the_grower_lists_it(warm: Garden):
    keys = tables.load("crops").keys()
    opposed = [key for key in keys if {"law", "invasive"} & set(crops.crop(key).cautions)]
    assert "kangkong" in opposed
    for kind in ("media", "raft", "channel"):
        found = opening.suits_instead(
            replace(warm, crops=()), year(air_c=30.0, water_c=27.0), kind, ALL, "too_hot", most=99
        )
        assert found
        assert not set(opposed) & set(found)
        assert all(tables.load("crops").row(key).number(f"suit_{kind}") > 0.0 for key in found)


def test_in_the_cold_hardier_crops_are_named_and_in_the_dark_none(warm: Garden):
    cold = year(air_c=12.0, water_c=12.0)
    assert why("tomato", warm, cold) == "too_cold"
    assert "kale" in opening.suits_instead(warm, cold, "media", ALL, "too_cold", most=99)
    assert opening.suits_instead(warm, year(light=3.0), "media", ALL, "too_dark") == ()
