"""Feed of today: never more than appetite and cap, less in worse water, nitrogen kept with another bag."""

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from yard import yard

from aquacalc import fish, tables
from aquacalc.agenda import appetite, ration, today
from aquacalc.season.alone import Question

DAY = date(2027, 6, 1)
FEW = 20


def asked(species: str = "nile_tilapia", warm: float = 26.0, weight: float = 100.0, **more):
    question = Question(species, 30.0, weight, DAY, weight, np.full(12, warm))
    return today.Asked(question, warm, protein=0.32, spoon_g=5.0, **more)


@settings(max_examples=30)
@given(warm=st.floats(1.0, 39.0), weight=st.floats(1.0, 800.0), cap=st.floats(1.0, 500.0))
def test_never_more_than_the_loop_carries_and_half_a_step_more_than_appetite(warm, weight, cap):
    told = today.today(asked(warm=warm, weight=weight, cap_g_day=cap), FEW)
    step = max(2.5, 0.05 * told.grams)
    assert told.grams <= cap * (1.0 + 1e-6) + (told.why != "cap") * step
    assert told.grams <= float(told.appetite_g.middle) + step


@pytest.mark.parametrize(
    ("species", "warm", "why"),
    [
        ("nile_tilapia", 16.0, "cold"),
        ("nile_tilapia", 36.5, "hot"),
        ("rainbow_trout", 18.6, "temperature"),
        ("rainbow_trout", 21.0, "hot"),
        ("nile_tilapia", 26.0, ""),
    ],
)
def test_the_water_says_why(species, warm, why):
    told = today.today(asked(species, warm), FEW)
    assert told.why == why
    assert (told.grams == 0.0) == (why in ("cold", "hot"))


@pytest.mark.parametrize(
    ("readings", "why", "share"),
    [
        ({"tan": 3.0, "ph": 7.6}, "unionised_ammonia", 0.8),
        ({"oxygen": 5.0}, "low_oxygen", (5.0 - 1.0) / (5.5 - 1.0)),
        ({"oxygen": 2.0}, "emergency", 0.0),
        ({"tan": 0.1, "ph": 7.0, "nitrite": 0.0, "oxygen": 7.0}, "", 1.0),
    ],
)
def test_readings_hold_back_by_the_rules_of_the_season(readings, why, share):
    found = today.allowed(asked(readings=readings), fish.species("nile_tilapia"))
    assert found == (pytest.approx(share), why)


def test_a_sudden_change_halves():
    assert today.allowed(asked(yesterday_c=22.0), fish.species("nile_tilapia")) == (0.5, "sudden")


@given(st.floats(1.0, 500.0), st.floats(0.2, 0.5), st.floats(0.2, 0.5))
def test_equal_nitrogen_there_and_back(grams, one, other):
    there = today.equal_nitrogen_g(grams, one, other)
    assert there * other == pytest.approx(grams * one)
    assert today.equal_nitrogen_g(there, other, one) == pytest.approx(grams)


def test_the_table_holds_the_amount_of_today():
    question = asked(warm=28.0)
    [[cell]] = today.table(question, [100.0], [28.0])
    told = today.today(question)
    assert cell == (told.grams, told.spoons)


@pytest.mark.parametrize("key", [row.key for row in tables.load("species").rows])
def test_table_month_sheet_and_answer_say_one_amount_at_every_temperature(key: str):
    species = fish.species(key)
    batch = replace(yard().fish[0], species=key)
    weight_g = 100.0
    for warm in today.temperatures_c(species):
        question = asked(key, warm, weight_g)
        sheet = appetite._eaten_g(batch, 30, weight_g, np.array([warm]))[1, 0]
        [[cell]] = today.table(question, [weight_g], [warm])
        assert cell == ration.measured(float(sheet), question.spoon_g)
        assert today.today(question, FEW).grams == cell[0], warm


@pytest.mark.parametrize("key", ["nile_tilapia", "rainbow_trout", "channel_catfish", "goldfish"])
def test_a_table_has_temperatures_at_which_the_fish_eat(key):
    species = fish.species(key)
    warmths = today.temperatures_c(species)
    assert 3 <= len(warmths) <= 8
    assert fish.eats(warmths, species).all()


def test_more_days_need_more_feed_and_a_cap_less():
    long = today.today(asked(), FEW).buy_kg
    capped = today.today(asked(cap_g_day=20.0), FEW).buy_kg
    assert float(capped.high) <= 20.0 * 56 * today.SPARE / 1000.0 + 1e-9 < float(long.low)


@given(st.floats(0.1, 5000.0))
def test_every_weight_has_pellets_and_meals(weight):
    for name in ("meals", "pellet_sizes"):
        low, high = today.span_of(name, weight)
        assert 0.0 < low <= high
    assert not math.isnan(ration.measured(weight, 5.0)[0])
