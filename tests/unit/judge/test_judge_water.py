"""A water judged as a whole: what is not told, what only bounds, what is not judged; on floats and arrays."""

import math

import numpy as np
import pytest

from aquacalc import tables
from aquacalc.judge import ammonia, lines, nitrite, oxygen, salt, sizes, temperature, water
from aquacalc.judge.levels import RANKED, Level, reaches, worst
from aquacalc.judge.values import Value
from aquacalc.judge.water import Facts
from aquacalc.tables import Row

Fish = tuple[Row, ...]
TROUT: Fish = (tables.load("species").row("rainbow_trout"),)
TILAPIA: Fish = (tables.load("species").row("nile_tilapia"),)


def facts(*values: Value, fish: Fish = TILAPIA) -> Facts:
    return Facts({one.parameter: one for one in values}, fish)


def level(parameter: str, *values: Value, fish: Fish = TILAPIA) -> Level:
    one = water.judge(facts(*values, fish=fish), draws=1).of(parameter)
    assert one is not None
    return one.level


def test_floats_and_arrays_are_judged_alike():
    tan, ph = np.array([0.2, 2.5, 8.0, math.nan]), np.array([7.0, 8.4, 6.0, 7.0])
    found = ammonia.ranks(tan, ph, 26.0, TILAPIA)
    for place, rank in enumerate(found):
        assert RANKED[rank] == ammonia.level(float(tan[place]), float(ph[place]), 26.0, TILAPIA)
    values = np.linspace(0.0, 30.0, 61)
    for ranks, each in (
        (oxygen.ranks(values, TROUT), oxygen.level),
        (temperature.ranks(values, TROUT), temperature.level),
        (salt.ranks(values, TROUT), salt.level),
        (nitrite.ranks(values, 40.0, TROUT), lambda one, fish: nitrite.level(one, 40.0, fish)),
    ):
        assert [RANKED[rank] for rank in ranks] == [each(float(one), TROUT) for one in values]


def test_the_strictest_of_several_fish_counts():
    both = (*TILAPIA, *TROUT)
    assert oxygen.begins_below("watch", both) == oxygen.begins_below("watch", TROUT)
    assert lines.begins_at("nitrate", "act today", both) == 75.0
    for value in (0.5, 3.0, 5.0, 8.0):
        assert oxygen.level(value, both) == worst(oxygen.level(value, fish) for fish in (TILAPIA, TROUT))


@pytest.mark.parametrize("chloride", [0.0, 10.0, 40.0, 200.0, math.nan])
@pytest.mark.parametrize("fish", [TILAPIA, TROUT], ids=["tilapia", "trout"])
@pytest.mark.parametrize("at", ["watch", "act today", "emergency"])
def test_the_line_of_nitrite_is_where_its_level_begins(chloride: float, fish: Fish, at: Level):
    line = float(nitrite.begins_at(at, chloride, fish))
    below, above = (nitrite.level(line * times, chloride, fish) for times in (0.999, 1.001))
    assert not reaches(below, at)
    assert reaches(above, at)


def test_salt_is_judged_beside_the_crop_that_stands_least():
    assert salt.level(0.2, TILAPIA) == "fine"
    assert salt.level(0.2, TILAPIA, ("tomato", "strawberry")) == "act today"
    assert salt.level(0.2, TILAPIA, ("tomato",)) == "fine"
    assert salt.level(4.0, TROUT, ("tomato",)) == "emergency"


def test_a_bound_counts_on_its_open_side():
    assert level("ph", Value("ph", 9.5, beyond="above")) == "emergency"
    assert level("ph", Value("ph", 7.8, beyond="above")) == "act today"
    assert level("ph", Value("ph", 6.2, beyond="above")) == "not known"
    assert level("oxygen", Value("oxygen", 9.0, beyond="above")) == "fine"
    assert level("oxygen", Value("oxygen", 9.0, beyond="below")) == "not known"
    assert level("tan", Value("tan", 0.5, beyond="below")) == "fine"
    mild = (Value("ph", 6.5), Value("temperature", 25.0))
    assert level("tan", Value("tan", 5.0, beyond="above"), *mild) == "act today"


def test_a_poison_under_the_first_step_of_an_untold_kit_is_not_known():
    for parameter in ("tan", "nitrite", "nitrate"):
        clean = Value(parameter, 0.3, beyond="below", told=False, may_be=(0.3, 0.1))
        assert level(parameter, clean) == "not known"


def test_each_thing_takes_the_severest_meaning_of_a_number():
    bare = Value("alkalinity", 15.0, told=False, may_be=(15.0, 267.7))
    ph, warm = Value("ph", 6.9), Value("temperature", 25.0)
    assert level("alkalinity", bare, ph, warm) == "watch"
    told = {one: level("carbon_dioxide", Value("alkalinity", one), ph, warm) for one in bare.may_be}
    assert told[15.0] == "fine"
    assert level("carbon_dioxide", bare, ph, warm) == told[267.7] != "fine"


def test_an_untold_temperature_is_warm_for_ammonia_and_cold_for_carbon_dioxide():
    read = (Value("ph", 6.8), Value("alkalinity", 60.0), Value("tan", 1.0))
    untold = facts(*read)
    cold, warm = (
        facts(*read, Value("temperature", one)) for one in (water.ASSUMED_COLD_C, water.ASSUMED_WARM_C)
    )
    assert water.carbon_dioxide_mg_l(untold) == water.carbon_dioxide_mg_l(cold)
    assert water.carbon_dioxide_mg_l(untold) > water.carbon_dioxide_mg_l(warm)
    (first, second) = (water.judge(one, draws=1).of("unionised_ammonia") for one in (untold, warm))
    assert first is not None
    assert second is not None
    assert first.value == second.value


def test_what_was_not_judged_is_named_with_its_reason():
    old = Value("nitrite", 9.0, age_days=40.0)
    found = water.judge(facts(old, Value("tan", 0.1), Value("oxygen", 8.0), fish=()), draws=1)
    why = {one.parameter: one.why for one in found.unjudged}
    assert why["nitrite"] == "too old"
    assert why["oxygen"] == why["tan"] == "no fish"
    assert why["ph"] == "not read"
    assert found.level == "not known", "nothing was judged"


def test_sizes_come_from_the_ph():
    assert sizes.change_shares(5.8) == (0.25, 0.25)
    assert sizes.change_shares(7.0) == (0.25, 0.5)
