"""What holds for any water: order, conservation, and doses that come out as wished."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.constants import MG_CACO3_PER_MEQ
from aquacalc.water import ammonia, carbonate, chlorine, dosing, oxygen, salts

temperatures = st.floats(0.0, 40.0)
strengths = st.floats(0.0, 0.05)
alkalinities = st.floats(0.5, 400.0)
carbons = st.floats(0.01, 10.0)
steps = st.floats(0.01, 5.0)
BASES = (
    "potassium_hydroxide",
    "calcium_hydroxide",
    "potassium_carbonate",
    "calcium_carbonate",
    "potassium_bicarbonate",
    "sodium_bicarbonate",
)
bases = st.sampled_from(BASES)


@given(st.floats(0.0, 35.0), steps, st.floats(0.0, 40.0), st.floats(0.6, 1.1))
def test_warm_or_salty_water_holds_less_oxygen(
    temperature: float, step: float, salinity: float, pressure: float
):
    now = oxygen.saturation_mg_l(temperature, salinity, pressure)
    assert oxygen.saturation_mg_l(temperature + step, salinity, pressure) < now
    assert oxygen.saturation_mg_l(temperature, salinity + step, pressure) < now


@given(temperatures, st.floats(0.5, 1.0), st.floats(0.01, 0.1))
def test_pressure_raises_oxygen(temperature: float, pressure: float, step: float):
    now = oxygen.saturation_mg_l(temperature, 0.0, pressure)
    assert oxygen.saturation_mg_l(temperature, 0.0, pressure + step) > now


@given(st.floats(5.0, 9.5), st.floats(0.0, 35.0), st.floats(0.01, 1.0), strengths)
def test_unionised_ammonia_rises_with_ph_and_temperature(
    ph: float, temperature: float, step: float, strength: float
):
    now = ammonia.unionised_fraction(ph, temperature)
    assert 0.0 < now < 1.0
    assert ammonia.unionised_fraction(ph + step, temperature) > now
    assert ammonia.unionised_fraction(ph, temperature + step) > now
    assert ammonia.unionised_fraction_at_ionic_strength(ph, temperature, strength) <= now * (1.0 + 1e-12)


@given(st.floats(6.5, 8.9), st.floats(0.0, 29.0), st.floats(0.01, 0.1), st.booleans())
def test_criteria_fall_with_ph_and_never_rise_with_temperature(
    ph: float, temperature: float, step: float, trout: bool
):
    acute = ammonia.acute_criterion_mg_l(ph, temperature, trout)
    chronic = ammonia.chronic_criterion_mg_l(ph, temperature)
    assert ammonia.acute_criterion_mg_l(ph + step, temperature, trout) < acute
    assert ammonia.chronic_criterion_mg_l(ph + step, temperature) < chronic
    assert ammonia.acute_criterion_mg_l(ph, temperature + step, trout) <= acute
    assert ammonia.chronic_criterion_mg_l(ph, temperature + step) <= chronic


@given(st.floats(-100.0, 500.0), st.floats(0.0, 15.0), temperatures, strengths)
def test_any_ph_gives_its_alkalinity_back(
    alkalinity: float, carbon: float, temperature: float, strength: float
):
    ph = carbonate.ph_closed(alkalinity, carbon, temperature, strength)
    back = carbonate.alkalinity_mg_l(ph, carbon, temperature, strength)
    assert back == pytest.approx(alkalinity, abs=1e-5)


@given(st.floats(-100.0, 500.0), st.floats(0.0, 200.0), temperatures, strengths)
def test_any_ph_at_held_carbon_dioxide_does_too(
    alkalinity: float, dioxide: float, temperature: float, strength: float
):
    ph = carbonate.ph_at_carbon_dioxide(alkalinity, dioxide, temperature, strength)
    back = carbonate.alkalinity_at_carbon_dioxide_mg_l(ph, dioxide, temperature, strength)
    assert back == pytest.approx(alkalinity, abs=1e-5)


@given(alkalinities, carbons, temperatures, strengths, steps)
def test_base_raises_ph_and_carbon_lowers_it(
    alkalinity: float, carbon: float, temperature: float, strength: float, step: float
):
    now = carbonate.ph_closed(alkalinity, carbon, temperature, strength)
    assert carbonate.ph_closed(alkalinity + step, carbon, temperature, strength) > now
    assert carbonate.ph_closed(alkalinity, carbon + step, temperature, strength) < now


@given(alkalinities, st.floats(0.1, 50.0), temperatures, strengths)
def test_closed_and_held_agree_at_the_same_carbon_dioxide(
    alkalinity: float, dioxide: float, temperature: float, strength: float
):
    ph = carbonate.ph_at_carbon_dioxide(alkalinity, dioxide, temperature, strength)
    carbon = carbonate.inorganic_carbon_mmol_l(ph, alkalinity, temperature, strength)
    assert carbonate.ph_closed(alkalinity, carbon, temperature, strength) == pytest.approx(ph, abs=1e-5)
    held = carbonate.carbon_dioxide_mg_l(ph, alkalinity, temperature, strength)
    assert held == pytest.approx(dioxide, rel=1e-6)


@given(st.lists(st.tuples(alkalinities, carbons, temperatures), min_size=2, max_size=6))
def test_a_state_has_the_same_ph_alone_and_in_company(states: list[tuple[float, float, float]]):
    alkalinity, carbon, temperature = np.array(states).T
    together = carbonate.ph_closed(alkalinity, carbon, temperature, 0.004)
    alone = [float(carbonate.ph_closed(a, c, t, 0.004)) for a, c, t in states]
    assert together == pytest.approx(alone, abs=1e-7)


waters = st.builds(carbonate.Water, alkalinities, carbons, temperatures, strengths)


@given(waters, waters, st.floats(0.0, 1.0))
def test_mixing_conserves_alkalinity_carbon_heat_and_ions(
    first: carbonate.Water, second: carbonate.Water, share: float
):
    mixed = carbonate.mix(first, second, share)
    for amount in ("alkalinity_mg_l", "inorganic_carbon_mmol_l", "temperature_c", "ionic_strength"):
        expected = (1.0 - share) * getattr(first, amount) + share * getattr(second, amount)
        assert getattr(mixed, amount) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@given(waters, waters, st.floats(0.01, 0.99), st.floats(0.01, 0.99))
def test_mixing_in_two_portions_is_mixing_in_one(
    first: carbonate.Water, second: carbonate.Water, one: float, other: float
):
    twice = carbonate.mix(carbonate.mix(first, second, one), second, other)
    once = carbonate.mix(first, second, 1.0 - (1.0 - one) * (1.0 - other))
    assert twice.alkalinity_mg_l == pytest.approx(once.alkalinity_mg_l)
    assert twice.ph == pytest.approx(once.ph, abs=1e-4)


@given(bases, st.floats(5.5, 7.4), st.floats(5.0, 200.0), temperatures, strengths, st.floats(0.05, 0.6))
def test_a_dose_for_a_ph_gives_that_ph(
    name: str, ph: float, alkalinity: float, temperature: float, strength: float, step: float
):
    before, of = carbonate.water(ph, alkalinity, temperature, strength), dosing.chemical(name)
    rise = dosing.rise_for_ph_mg_l(before, of, ph + step)
    assert rise > 0.0
    assert dosing.after_rise(before, of, rise).ph == pytest.approx(ph + step, abs=1e-5)


@given(
    bases, st.floats(5.5, 7.6), st.floats(5.0, 200.0), temperatures, st.floats(0.5, 30.0), st.floats(0.6, 1.0)
)
def test_the_days_portion_keeps_its_promises(
    name: str, ph: float, alkalinity: float, temperature: float, usual: float, purity: float
):
    place = dosing.Place(carbonate.water(ph, alkalinity, temperature, 0.009), 900.0, usual)
    of = dosing.chemical(name)
    day = dosing.daily_limit(place, of, purity)
    assert dosing.objections(day.dose) == ()
    assert day.dose.hydroxide_share <= dosing.HYDROXIDE_SHARE_ADVISED + 1e-9
    given_g = day.dose.grams * purity
    carried = given_g / of.grams_per_eq * 1000.0 / 900.0 * MG_CACO3_PER_MEQ
    assert carried == pytest.approx(day.dose.alkalinity_mg_l - alkalinity, rel=1e-6, abs=1e-9)


@given(st.floats(0.1, 200.0), st.floats(0.0, 0.09), st.floats(0.01, 0.9))
def test_a_change_of_the_right_share_meets_its_target(now: float, new: float, fall: float):
    target = now - fall * (now - new)
    share = salts.share_to_change(now, target, new)
    assert salts.after_change_mg_l(now, new, share) == pytest.approx(target)


@given(
    st.floats(0.0, 300.0),
    st.floats(0.0, 200.0),
    st.floats(0.0, 100.0),
    st.floats(0.0, 100.0),
    st.floats(0.0, 400.0),
)
def test_build_up_day_by_day_is_build_up_at_once(
    start: float, top_up: float, evaporation: float, discharge: float, days: float
):
    half = salts.build_up_mg_l(start, top_up, evaporation, discharge, 50.0, 1500.0, days / 2)
    twice = salts.build_up_mg_l(half, top_up, evaporation, discharge, 50.0, 1500.0, days / 2)
    once = salts.build_up_mg_l(start, top_up, evaporation, discharge, 50.0, 1500.0, days)
    assert twice == pytest.approx(once, rel=1e-9, abs=1e-9)


@given(st.floats(0.05, 5.0), st.floats(0.001, 0.04), st.floats(0.02, 4.0))
def test_chlorine_is_gone_after_the_days_that_were_told(start: float, end: float, rate: float):
    days = chlorine.days_to(start, end, rate)
    assert chlorine.residual_mg_l(start, rate, days) == pytest.approx(end)
    assert math.isfinite(days)
