"""How much a water that was read lets fish be fed: the ladder of the season, and what stands beside it."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc import tables
from aquacalc.judge import feed, lines, nitrite, ration, temperature, water
from aquacalc.judge.feed import Feed
from aquacalc.judge.values import Value
from aquacalc.judge.water import Facts
from aquacalc.tables import Row
from aquacalc.water import ammonia

SPECIES = tables.load("species")
TILAPIA, TROUT = ((SPECIES.row(key),) for key in ("nile_tilapia", "rainbow_trout"))
Fish = tuple[Row, ...]


def fed(*read: Value, fish: Fish = TILAPIA, base_waits: bool = False, **more: Any) -> Feed:
    facts = Facts({one.parameter: one for one in read}, fish, **more)
    return feed.feed(facts, water.judge(facts, draws=1), base_waits)


def known(parameter: str, value: float) -> Value:
    """A reading that leaves nothing open."""
    return Value(parameter, value, value, value)


@given(
    tan=st.floats(0.01, 15.0),
    ph=st.floats(6.0, 8.8),
    there=st.floats(0.01, 3.0),
    chloride=st.floats(0.0, 80.0),
    cold=st.booleans(),
)
def test_a_season_that_looks_at_the_same_water_stands_on_the_same_place(
    tan: float, ph: float, there: float, chloride: float, cold: bool
):
    """What a season's morning allows from the full ration is what a reading of the same values allows."""
    fish, celsius = (TROUT, 13.0) if cold else (TILAPIA, 26.0)
    values = {"tan": tan, "ph": ph, "nitrite": there, "chloride": chloride, "temperature": celsius}
    found = fed(*(known(name, value) for name, value in values.items()), fish=fish)
    x = ration.share_of_line(
        tan * ammonia.unionised_fraction(ph, celsius),
        there,
        lines.begins_at("unionised_ammonia", "act today", fish),
        nitrite.begins_at("act today", chloride, fish),
    )
    assert found.x == pytest.approx(float(x))
    other = {name: Value(name, value) for name, value in values.items() if name != "nitrite"}
    emergency = nitrite.level(there, chloride, fish) == "emergency"
    by_tan = water.judge(Facts(other, fish), draws=1).level == "emergency"
    if not by_tan:
        morning = ration.look(ration.top(1), np.array([found.x]), np.array([emergency]))
        assert found.share == float(morning.share[0])


@pytest.mark.parametrize(
    ("there", "share"), [(0.2, 1.0), (0.35, 0.8), (0.5, 0.5), (0.7, 0.25), (0.95, 0.0), (1.2, 0.0)]
)
def test_the_worse_the_water_the_less_the_feed(there: float, share: float):
    assert fed(known("nitrite", there)).share == share


def test_total_ammonia_alone_holds_nothing_back():
    # Trout kept through months of 1 to 3 mg/L at pH 7.6 grew as well.
    quiet = (Value("tan", 3.0, 2.0, 4.0), Value("ph", 6.6, 6.4, 6.8), Value("temperature", 15.0))
    assert water.judge(Facts({one.parameter: one for one in quiet}, TROUT), draws=1).level == "act today"
    assert fed(*quiet, fish=TROUT) == Feed(0, "", pytest.approx(4.0 * 0.0017 / 0.025, rel=0.05))


def test_a_reading_counts_at_the_high_end_of_what_its_kit_allows():
    assert fed(Value("nitrite", 0.25, 0.2, 0.29)).share == 1.0
    assert fed(Value("nitrite", 0.25, 0.2, 0.4)).share == 0.8
    assert fed(Value("nitrite", 0.25)).share == 0.8, "a kit that is not described has the usual error"
    assert fed(Value("nitrite", 0.25, 0.25, math.inf, beyond="above")).share == 0.0


@pytest.mark.parametrize("value", [0.0, 0.5])
@pytest.mark.parametrize("parameter", ["tan", "nitrite"])
def test_what_stands_under_the_first_step_of_its_kit_lowers_no_feed(parameter: str, value: float):
    clean = Value(parameter, value, -math.inf, 0.5, beyond="below")
    assert fed(clean, Value("ph", 8.0), Value("temperature", 20.0)).share == 1.0


def test_any_emergency_sign_or_chlorine_means_none():
    assert fed(known("chlorine", 0.2)).share == 0.0
    assert fed(known("nitrate", 600.0)) == Feed(5, "emergency", 0.0)
    assert fed(known("oxygen", 8.0), signs=("jumping",)).why == "signs"


def test_oxygen_and_temperature_stand_beside_the_ladder():
    assert fed(known("oxygen", 4.2)).why == "oxygen"
    assert fed(known("oxygen", 5.0)).share == 1.0, "a little short: the fish themselves eat less"
    for celsius, share in ((10.0, 0.0), (25.0, 1.0), (34.0, 0.5), (35.5, 0.0)):
        assert fed(known("temperature", celsius)).share == share
    both = fed(known("temperature", 34.0), known("nitrite", 0.7))
    assert (both.share, both.why) == (0.25, "nitrite"), "the lower level counts"


@pytest.mark.parametrize("key", SPECIES.keys())
def test_no_fish_is_fed_where_heat_is_acted_on(key: str):
    row = (SPECIES.row(key),)
    stop = temperature.no_feed_from_c(row)
    assert stop <= min(temperature.act_above_c(row), temperature.highest_c(row))
    assert fed(known("temperature", stop), fish=row).share == 0.0


def test_no_feed_while_ammonia_keeps_a_base_out():
    assert fed(known("tan", 8.0), known("ph", 6.2), base_waits=True).why == "base"


def test_without_fish_nothing_is_held_back():
    assert fed(known("nitrite", 5.0), fish=()).share == 1.0


@given(st.floats(0.01, 6.0), st.floats(0.0, 3.0), st.floats(0.0, 100.0))
def test_more_nitrite_or_less_chloride_never_feeds_more(there: float, more: float, chloride: float):
    salted = fed(known("nitrite", there), known("chloride", chloride))
    assert fed(known("nitrite", there + more), known("chloride", chloride)).share <= salted.share
    assert fed(known("nitrite", there), known("chloride", chloride / 2.0)).share <= salted.share


def test_calm_is_seven_tenths_of_the_line():
    here = (known("ph", 7.6), known("temperature", 26.0))
    facts = Facts({one.parameter: one for one in (known("tan", 3.0), *here)}, TILAPIA)
    there = fed(known("tan", feed.calm_mg_l(facts, "unionised_ammonia")), *here)
    assert there.x == pytest.approx(ration.CALM_BELOW)
