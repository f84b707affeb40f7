"""Top-up water: no water and no salt is lost, more exchange never leaves more, nothing falls below zero."""

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from aquacalc import words
from aquacalc.advice.new_water import hard_water, rain, use_up
from aquacalc.advice.new_water import top_up as advice
from aquacalc.judge import lines
from aquacalc.panels.water import top_up_answers
from aquacalc.water import chlorine, top_up

FEW = settings(max_examples=40, deadline=None)
MEMBERS = 20
monthly = st.lists(st.floats(0.0, 200.0), min_size=12, max_size=12).map(tuple)
rates = st.floats(0.01, 20.0)
levels = st.floats(0.0, 400.0)

LINE_MG_L = lines.begins_at("chlorine", "emergency")


@given(levels, levels, st.floats(0.0, 80.0), st.floats(0.0, 80.0), st.floats(0.0, 5.0), st.integers(1, 60))
def test_salt_that_came_in_is_there_or_went_out(
    start: float, tap: float, evaporation: float, out: float, input_g: float, days: int
):
    volume = 1000.0
    flows = (np.full(days, evaporation), np.full(days, out))
    level = top_up.by_day_mg_l(volume, start, tap, flows, np.full(days, input_g))
    held = volume * (level[-1] - level[0])
    came = days * (tap * (evaporation + out) + 1000.0 * input_g)
    # What left lies between the lowest and the highest level of each day times the water let out.
    ends = np.stack([level[:-1], level[1:]])
    least, most = float(out * ends.min(axis=0).sum()), float(out * ends.max(axis=0).sum())
    assert least - 1e-3 <= came - held <= most + 1e-3


@given(levels, st.floats(0.0, 80.0), st.floats(0.0, 80.0), st.floats(-5.0, 5.0), st.floats(0.1, 50.0))
def test_more_exchange_never_raises_the_end(
    tap: float, evaporation: float, out: float, input_g: float, more: float
):
    days = 60
    still = np.full(days, evaporation)
    given_g = np.full(days, input_g)
    assume(tap * evaporation + 1000.0 * input_g >= 0.0)
    less = top_up.by_day_mg_l(1000.0, tap, tap, (still, np.full(days, out)), given_g)
    flushed = top_up.by_day_mg_l(1000.0, tap, tap, (still, np.full(days, out + more)), given_g)
    assert np.all(flushed <= less + 1e-6)
    assert np.all(flushed >= 0.0)


@given(levels, st.floats(10.0, 300.0), st.floats(0.0, 1.0))
def test_lime_takes_no_more_than_stands_above_its_line(level: float, line: float, share: float):
    taken = float(top_up.lime_mg_l(level, line, share))
    assert 0.0 <= taken <= max(level - line, 0.0) + 1e-9
    assert float(top_up.lime_mg_l(level, math.inf, share)) == 0.0


@FEW
@given(monthly, monthly, st.floats(0.0, 20.0), levels, st.floats(0.0, 30.0))
def test_a_hard_year_is_finite_in_order_and_never_below_zero(
    water: tuple[float, ...], feed: tuple[float, ...], planted: float, tap: float, out: float
):
    asked = hard_water.Hard(
        volume_l=1000.0,
        top_up_l_d=water,
        let_out_l_d=min(out, max(water)),
        feed_g_d=feed,
        protein_share=0.35,
        planted_m2=planted,
        alkalinity_mg_l=tap,
        hardness_mg_l=tap,
        sodium_mg_l=tap / 10.0,
        temperature_c=22.0,
    )
    found = hard_water.after_a_year(asked, members=MEMBERS)
    for end in found.ends.values():
        low, middle, high = end.after
        assert 0.0 <= low <= middle <= high < math.inf
        assert end.hold_l_d[0] <= end.hold_l_d[2]
    assert np.all(hard_water.use_g_d(asked, MEMBERS) >= 0.0)
    said = top_up_answers.year(words.Reader(units="us"), found)
    assert "nan" not in said
    made = use_up.plan(replace(asked, now_mg_l=200.0), date(2028, 2, 29), members=MEMBERS)
    assert list(made.tests) == sorted(set(made.tests))
    days = [made.reaches[0].early, made.reaches[0].late]
    assert days[1] is None or (days[0] is not None and days[0] <= days[1])
    assert "nan" not in top_up_answers.plan(words.Reader(), made)


@given(st.floats(0.0, 20.0), rates, st.floats(0.0, 400.0), st.floats(0.0, 100.0))
def test_a_residual_falls_and_never_is_negative(start: float, rate: float, days: float, more: float):
    left = float(chlorine.residual_mg_l(start, rate, days))
    assert 0.0 <= float(chlorine.residual_mg_l(start, rate, days + more)) <= left <= start


@given(st.floats(0.01, 20.0), rates)
def test_the_days_that_are_told_end_at_the_line(start: float, rate: float):
    days = float(chlorine.days_to(start, LINE_MG_L, rate))
    end = float(chlorine.residual_mg_l(start, rate, days))
    assert end == pytest.approx(min(start, LINE_MG_L))


@given(st.floats(0.0, 20.0), st.floats(0.5, 5000.0), st.floats(1.0, 20.0))
def test_mixing_in_conserves_chlorine_and_the_dose_covers_it(tap: float, new: float, larger: float):
    whole = new * larger
    assert chlorine.after_mixing_mg_l(tap, new, whole) * whole == pytest.approx(tap * new)
    assert chlorine.possible_residual_mg_l(tap, new / whole) <= tap


@given(st.floats(0.001, 5.0), st.floats(0.0, 1.0))
def test_up_to_the_share_that_is_proved_nothing_above_the_line_hides(limit: float, part: float):
    share = chlorine.share_proved(limit, LINE_MG_L)
    assert 0.0 < share <= 1.0
    assert chlorine.possible_residual_mg_l(limit, part * share) <= lines.begins_at(
        "chlorine", "emergency"
    ) * (1.0 + 1e-9)


@FEW
@given(
    st.sampled_from(["chlorine", "chloramine", "none", "not known"]),
    st.floats(0.0, 20.0),
    st.floats(1.0, 900.0),
    st.floats(0.001, 5.0),
    st.floats(4.5, 9.5),
    st.one_of(st.just(math.nan), st.floats(0.0, 5.0)),
)
def test_every_tap_has_an_answer_in_order(
    told: str, most: float, new: float, limit: float, ph: float, seen: float
):
    tap = advice.Tap(
        told,  # type: ignore[arg-type]
        most,
        new,
        900.0,
        7.0,
        20.0,
        bucket_ammonia_mg_l=seen,
        test_limit_mg_l=limit,
        tap_ph=ph,
    )
    found = advice.treatment(tap)
    assert found.reagent_g >= found.least_g >= 0.0
    for span in (found.dark_d, found.aired_d, found.sun_d or (0.0, 0.0, 0.0)):
        assert 0.0 <= span[0] <= span[1] <= span[2]
    assert found.chlorine_mg_l >= (0.0 if told == "none" else most)
    assert "nan" not in top_up_answers.treatment(words.Reader(units="us"), found)


@FEW
@given(monthly, monthly, st.floats(0.0, 3000.0), st.floats(1.0, 100.0))
def test_a_barrel_makes_and_loses_no_water(
    fallen: tuple[float, ...], wanted: tuple[float, ...], holds: float, roof: float
):
    assume(sum(fallen) > 0.0)
    found = rain.year(rain.Roof(roof, fallen, wanted, holds))
    parts = (found.caught_l, found.given_l, found.over_l, found.missing_l)
    assert all(float(part.min()) >= -1e-6 for part in parts)
    assert found.given_l + found.missing_l == pytest.approx(found.wanted_l)
    # A year's balance closes but for what the barrel holds more or less at its two ends.
    assert abs(found.caught_l.sum() - found.given_l.sum() - found.over_l.sum()) <= holds + 1e-6
    larger = rain.year(rain.Roof(roof, fallen, wanted, holds + 500.0))
    assert larger.missing_l.sum() <= found.missing_l.sum() + 1e-6
    assert "nan" not in top_up_answers.roof(words.Reader(), found)


@given(st.floats(50.0, 400.0), st.floats(20.0, 300.0), st.floats(0.005, 0.2))
def test_hard_water_left_alone_settles_to_its_line_and_no_further(level: float, line: float, share: float):
    before = level
    for _ in range(int(8.0 / share)):
        after = level - float(top_up.lime_mg_l(level, line, share))
        assert after <= level
        level = after
    # What lies above the line falls by the same share each day; what lies below stays.
    assert level == pytest.approx(line, abs=0.2) if before > line else level == before
