"""The books of the season's water: nothing is lost, made up or negative, in an hour, in a day, in a year."""

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
import seasons
import start_ups
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc import nitrogen
from aquacalc.garden.model import Measured
from aquacalc.season import hour as hourly
from aquacalc.season.hour import Hour, Rates, Water, advance, speeds
from aquacalc.water import carbonate, oxygen

CLOSED = 1e-9

# Whole seasons of the demo gardens


@pytest.fixture(scope="module", params=seasons.DEMOS)
def year(request: pytest.FixtureRequest):
    """A kept middle run with all of its hours."""
    with seasons.recorded() as steps:
        kept = seasons.simulated(seasons.garden(request.param))
    return kept, steps


def test_the_books_of_a_year_close(year):
    assert max(seasons.run_errors(*year).values()) < CLOSED


def test_the_books_close_with_counted_water_and_weighed_feed():
    yard = seasons.garden("yard")
    day = yard.season.start + timedelta(days=60)
    counted = (
        *yard.measured,
        Measured("water_use", 4.0, "L/h", day),
        Measured("feed", 12.0, "g/d", day),
    )
    with seasons.recorded() as steps:
        kept = seasons.simulated(replace(yard, measured=counted), days=120)
    assert max(seasons.run_errors(kept, steps).values()) < 1e-12
    with seasons.recorded() as steps:
        plain = seasons.simulated(yard, days=120)
    after, before = (
        [one.written.daily[name].sum() for name in ("top_up_l", "feed_g")] for one in (kept, plain)
    )
    assert after[0] != pytest.approx(before[0], rel=0.05)
    assert after[1] < 0.9 * before[1]


def test_what_a_run_writes_down_is_what_crossed_the_border(year):
    kept, steps = year
    inside = steps[24 * kept.before :]
    for name in ("taken_up_g", "denitrified_g", "nitrified_g"):
        by_day = np.array([getattr(step.flows, name) for step in inside]).reshape(-1, 24).sum(axis=1)
        assert seasons.by_day(kept, name) == pytest.approx(by_day, rel=1e-12, abs=1e-15)


def test_water_that_evaporates_leaves_everything_behind(year):
    kept, steps = year
    evaporated = sum(step.hour.evaporated_l for step in steps)
    assert evaporated > 0.1 * kept.waters[0].water_l


@pytest.mark.parametrize(
    ("process", "charge"), [("nitrate_denitrified", 0.9), ("ammonia_added", 1.1), ("tan_taken_up", 0.0)]
)
def test_books_that_do_not_close_are_found_out(monkeypatch: pytest.MonkeyPatch, process: str, charge: float):
    monkeypatch.setitem(nitrogen.CHARGE, process, charge)
    with seasons.recorded() as steps:
        kept = seasons.simulated(seasons.garden("classroom"), days=20)
    errors = seasons.run_errors(kept, steps)
    assert errors["alkalinity"] > 1e-6
    assert errors["nitrogen"] < CLOSED


def test_an_event_that_is_not_written_down_is_found_out():
    with seasons.recorded() as steps:
        kept = seasons.simulated(seasons.garden("yard"), days=20)
    kept.events.remove(next(event for event in kept.events if event.key == "top_up" and event.day == 7))
    errors = seasons.run_errors(kept, steps)
    assert errors["water"] > 1e-6
    assert errors["alkalinity"] > 1e-6


# One hour, whatever the water and whatever drives it


def amounts(high: float) -> st.SearchStrategy[float]:
    """From nothing at all, over traces, to a high end."""
    return st.floats(0.0, 1.0).map(lambda part: high * part**4)


@st.composite
def waters(draw: st.DrawFn, litres: float) -> Water:
    m3 = litres / 1000.0
    return Water(
        tan_g=draw(amounts(40.0)) * m3,
        nitrite_g=draw(amounts(40.0)) * m3,
        nitrate_g=draw(amounts(400.0)) * m3,
        solids_n_g=draw(amounts(100.0)) * m3,
        alkalinity_eq=draw(amounts(8.0)) * m3,
        carbon_mol=(draw(amounts(20.0)) + 1e-3) * m3,
        oxygen_g=draw(amounts(20.0)) * m3,
        ammonia_oxidisers_g_d=draw(amounts(90.0)) * m3,
        nitrite_oxidisers_g_d=draw(amounts(90.0)) * m3,
        water_l=litres,
    )


@st.composite
def hours(draw: st.DrawFn, litres: float) -> Hour:
    m3 = litres / 1000.0
    celsius = draw(st.floats(0.0, 42.0))
    exchange = draw(amounts(30.0)) * m3
    return start_ups.hour(celsius, litres=litres)._replace(
        mineralisation_1_h=draw(amounts(0.02)),
        excreted_g=draw(amounts(5.0)) * m3,
        solids_in_g=draw(amounts(3.0)) * m3,
        fish_oxygen_g=draw(amounts(60.0)) * m3,
        uptake_g=draw(amounts(3.0)) * m3,
        oxygen_exchange_m3=exchange,
        oxygen_gain_g=exchange * float(oxygen.saturation_mg_l(celsius)),
        carbon_exchange_m3=draw(amounts(30.0)) * m3,
        carbon_in_air_mol_m3=draw(st.floats(0.005, 0.05)),
        evaporated_l=draw(amounts(0.2)) * litres / 24.0,
        base_eq=draw(amounts(0.1)) * m3,
        carbon_in_mol=draw(amounts(0.1)) * m3,
    )


rates = st.builds(
    lambda gas, muddy, roots, rotting: start_ups.rates()._replace(
        denitrified_in_films=gas,
        denitrified_per_mineralised=muddy,
        oxygen_spared_g_g=min(2.857, rotting / max(muddy, 1e-9)),
        root_return=roots,
        breathed_carbon_mol_g=0.028,
        solids_oxygen_g_g_n=rotting,
    ),
    st.floats(0.0, 0.1),
    st.floats(0.0, 4.5),
    st.floats(0.0, 1.0),
    st.floats(0.0, 20.0),
)


@st.composite
def cases(draw: st.DrawFn) -> tuple[Water, Water, Hour, Rates]:
    """A water, another one from which the last hour's speeds come, what drives the hour, and the rates."""
    litres = draw(st.sampled_from([60.0, 1000.0, 20000.0]))
    return draw(waters(litres)), draw(waters(litres)), draw(hours(litres)), draw(rates)


def after(water: Water, other: Water, driven: Hour, fixed: Rates) -> seasons.Step:
    before = speeds(other, driven, fixed)
    return seasons.Step(water, *advance(water, speeds(water, driven, fixed), before, driven, fixed), driven)


many = settings(max_examples=60)


@many
@given(cases())
def test_an_hour_never_ends_below_nothing_and_its_books_close(case):
    step = after(*case)
    for name, amount in step.after._asdict().items():
        assert math.isfinite(amount), name
        assert amount >= 0.0, name
    # A flow is a difference of amounts: where hardly anything moves, their rounding is left.
    rounding = 1e-12 * (1.0 + seasons.held(step.before, case[3])["nitrogen"])
    for name in ("nitrogen_in_g", "taken_up_g", "denitrified_g", "breathed_mol", "nitrified_g"):
        assert getattr(step.flows, name) >= -rounding, name
    assert max(seasons.hour_errors(step, case[3]).values()) < CLOSED


def many_members(values, copies: int = 3):
    """The same amounts as arrays of members."""
    return type(values)(
        *(one if isinstance(one, carbonate.Constants) else np.full(copies, one) for one in values)
    )


@many
@given(cases())
def test_an_array_of_members_is_each_of_them(case):
    water, other, driven, fixed = case
    alone = after(*case)
    together = after(many_members(water), many_members(other), many_members(driven), fixed)
    for name, amount in alone.after._asdict().items():
        np.testing.assert_allclose(
            getattr(together.after, name), amount, rtol=1e-12, atol=1e-15, err_msg=name
        )
    for name, amount in alone.flows._asdict().items():
        np.testing.assert_allclose(getattr(together.flows, name), amount, rtol=1e-9, atol=1e-12, err_msg=name)


@many
@given(cases(), st.floats(1.0, 20.0))
def test_more_exchange_with_air_never_lowers_oxygen(case, factor: float):
    water, other, driven, fixed = case
    saturated = driven.oxygen_gain_g / driven.oxygen_exchange_m3 if driven.oxygen_exchange_m3 else 8.0
    # Not beyond saturation, in what evaporation leaves of the water.
    most = saturated * (water.water_l - driven.evaporated_l) / 1000.0
    water = water._replace(oxygen_g=min(water.oxygen_g, most))
    more = driven._replace(
        oxygen_gain_g=driven.oxygen_gain_g * factor, oxygen_exchange_m3=driven.oxygen_exchange_m3 * factor
    )
    less = after(water, other, driven, fixed).after.oxygen_g
    assert after(water, other, more, fixed).after.oxygen_g >= less * (1.0 - 1e-12)


@many
@given(cases(), st.floats(0.0, 10.0))
def test_more_feed_never_lowers_ammonia_and_never_raises_oxygen(case, more_g: float):
    water, other, driven, fixed = case
    fed = driven._replace(
        excreted_g=driven.excreted_g + more_g,
        solids_in_g=driven.solids_in_g + 0.3 * more_g,
        fish_oxygen_g=driven.fish_oxygen_g + 10.0 * more_g,
    )
    less, more = after(water, other, driven, fixed).after, after(water, other, fed, fixed).after
    assert more.tan_g >= less.tan_g * (1.0 - 1e-12)
    assert more.oxygen_g <= less.oxygen_g * (1.0 + 1e-12)


@many
@given(cases())
def test_without_fish_crops_or_bacteria_nothing_comes_in_goes_out_or_is_oxidised(case):
    water, other, driven, fixed = case
    driven = driven._replace(base_eq=0.0, carbon_in_mol=0.0)
    nobody = driven._replace(excreted_g=0.0, solids_in_g=0.0, fish_oxygen_g=0.0, uptake_g=0.0)
    bare = {"ammonia_oxidisers_g_d": 0.0, "nitrite_oxidisers_g_d": 0.0}
    whole = seasons.held(water, fixed)["nitrogen"]

    unfed = after(water, other, nobody._replace(uptake_g=driven.uptake_g), fixed)
    assert unfed.flows.nitrogen_in_g == 0.0
    assert seasons.held(unfed.after, fixed)["nitrogen"] <= whole * (1.0 + 1e-12)

    unplanted = after(water, other, driven._replace(uptake_g=0.0), fixed)
    assert unplanted.flows.taken_up_g == pytest.approx(0.0, abs=1e-12 * (1.0 + whole))

    sterile = after(
        water._replace(**bare), other._replace(**bare), driven._replace(uptake_g=0.0), fixed
    ).after
    assert sterile.ammonia_oxidisers_g_d == sterile.nitrite_oxidisers_g_d == 0.0
    assert sterile.nitrite_g == pytest.approx(water.nitrite_g, rel=1e-12)
    # Solids denitrify without nitrifying bacteria.
    assert sterile.nitrate_g <= water.nitrate_g * (1.0 + 1e-12)
    mineralised = water.solids_n_g + driven.solids_in_g - sterile.solids_n_g
    assert sterile.tan_g == pytest.approx(water.tan_g + driven.excreted_g + mineralised, rel=1e-12)

    shut = nobody._replace(
        oxygen_exchange_m3=0.0, oxygen_gain_g=0.0, carbon_exchange_m3=0.0, mineralisation_1_h=0.0
    )
    still = after(water._replace(**bare), other._replace(**bare), shut, fixed).after
    assert still.oxygen_g == pytest.approx(water.oxygen_g, rel=1e-12)
    assert still.carbon_mol == pytest.approx(water.carbon_mol, rel=1e-12)


@many
@given(st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.0, 100.0))
def test_an_amount_ends_between_where_it_was_and_its_balance(amount: float, gained: float, speed: float):
    found = hourly.relaxed(amount, gained, speed)
    end = gained / speed if speed > 0.0 else math.inf
    assert min(amount, end) * (1.0 - 1e-12) <= found <= max(amount, end) * (1.0 + 1e-12)


@many
@given(st.floats(0.0, 1e6), st.floats(0.0, 1e6))
def test_the_middle_of_an_hour_is_never_negative_nor_beyond_twice_the_last(now: float, before: float):
    assert 0.0 <= hourly.middle(now, before) <= 2.0 * now * (1.0 + 1e-12)
