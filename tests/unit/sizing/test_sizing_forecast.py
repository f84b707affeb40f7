"""The water of foretold days: its peak, what each deed takes off, one answer by panel and command."""

from dataclasses import replace
from datetime import date
from functools import partial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc import tables
from aquacalc.climate import loop, spell
from aquacalc.climate.loop import Loop
from aquacalc.garden import surroundings
from aquacalc.garden.file import GardenFile
from aquacalc.panels.frame import desk
from aquacalc.panels.trouble import three_days
from aquacalc.sentences import forecast as sentences
from aquacalc.sizing import forecast
from aquacalc.sizing.forecast import Asked, Day

TANK = Loop(1000.0, 1.25, 4.4, 0.0, loop.FOAM_W_M_K, False, 0.0, 2.0, False, True, 30.0)
HOT = Asked(TANK, "shade", (Day(36.0, 24.0),) * 3, 26.0, 8.0, "clear", 45.0, 2.0, 40.0, 200, 10.0)
COLD = replace(HOT, days=(Day(4.0, -4.0),) * 3, water_c=9.0, day_of_year=15)

CARP = tables.load("species").row("common_carp")


def middle(way):
    return float(way.peak_c.middle)


def test_every_deed_takes_some_off_a_hot_day_and_all_take_most():
    ways = forecast.forecast(HOT, CARP).ways
    assert set(ways) == {"now", "shade", "night", "rest", "bottles", "all"}
    for name, way in ways.items():
        assert name == "now" or middle(ways["all"]) <= middle(way) < middle(ways["now"])


def test_every_deed_keeps_some_warmth_in_cold_days():
    ways = forecast.forecast(COLD, CARP).ways
    assert set(ways) == {"now", "lid", "day", "rest", "all"}
    lowest = {name: float(way.lowest_c.middle) for name, way in ways.items()}
    assert all(lowest[name] > lowest["now"] for name in ways if name != "now")


def test_what_changes_nothing_is_not_offered():
    inside = replace(HOT, cover="indoors", bottles=0.0, loop=replace(TANK, beds_m2=0.0))
    assert set(forecast.forecast(inside, CARP).ways) == {"now"}
    assert set(forecast.forecast(replace(COLD, loop=replace(TANK, lid=True)), CARP).ways) == {
        "now",
        "day",
        "rest",
    }


def test_ice_takes_off_what_its_melting_takes():
    # Hardly any exchange with the air: what ten bottles of two kilograms take is what melts and warms them.
    closed = replace(
        TANK, lid=True, lid_m=5.0, insulation_m=5.0, beds_m2=0.0, aerated=False, gain_w=0.0, walls_m2=0.01
    )
    day = (Day(26.0, 26.0),)
    still = replace(HOT, loop=closed, days=day, cover="indoors", humidity_pct=100.0)
    ways = forecast.forecast(still, CARP, members=1).ways
    fall = float(ways["now"].lowest_c.middle) - float(ways["bottles"].lowest_c.middle)
    taken = 20.0 * spell.cold_of_ice_j_kg(26.0) / (1000.0 * 4167.0)
    assert fall == pytest.approx(taken, rel=0.1)


@settings(max_examples=15, deadline=None)
@given(st.floats(15.0, 42.0), st.floats(0.0, 15.0), st.floats(0.5, 5.0))
def test_hotter_air_makes_hotter_water(high, span, more):
    days = replace(HOT, days=(Day(high, high - span),) * 2, bottles=0.0)
    hotter = replace(days, days=(Day(high + more, high - span + more),) * 2)
    assert middle(forecast.forecast(hotter, CARP, 1).ways["now"]) > middle(
        forecast.forecast(days, CARP, 1).ways["now"]
    )


def test_panel_and_command_tell_one_peak_for_the_yard():
    at = desk.open_desk("demo:yard")
    made = three_days.panel(at)
    values = {**made.values, "days": ((40.0, 26.0), (41.0, 27.0)), "water": 27.0, "bottles": 6.0}
    shown = three_days.compute(at, at.file.today, values)
    days = [Day(40.0, 26.0), Day(41.0, 27.0)]
    asked = forecast.of_garden(at.garden, days, 27.0, "clear", 6.0, at.file.today)
    row = tables.load("species").row("channel_catfish")
    assert forecast.kind_of(asked, row) == shown.kind == "heat"
    told = forecast.forecast(asked, row, error_k=partial(surroundings.error_k, at.garden))
    assert float(shown.ways["now"].peak_c.middle) == pytest.approx(middle(told.ways["now"]), abs=1e-6)
    assert told.level == "emergency"
    assert "emergency" in sentences.title(told, at.reader)


def test_without_a_reading_the_days_begin_at_the_usual_water():
    garden = GardenFile.open("demo:yard", date(2027, 1, 10)).garden
    asked = forecast.of_garden(garden, [Day(5.0, -3.0)], None, "clear", 0.0, date(2027, 1, 10))
    assert asked.water_c == pytest.approx(5.8, abs=0.5)
    assert np.isfinite(asked.humidity_pct)
