"""What if: pH is never averaged, carbon dioxide and ammonia follow, the level is that of the judgement."""

import math

import pytest

from aquacalc.advice.reading import given, judge, what_if
from aquacalc.advice.reading.judge import Judgement
from aquacalc.advice.reading.what_if import State, WhatIf, Wish
from aquacalc.water import carbonate


def judged(*typed: str) -> Judgement:
    return judge.judge(given.read([*typed, "fish=warm"]))


def found(*typed: str, wish: Wish = Wish()) -> WhatIf:  # noqa: B008  (frozen)
    return what_if.answer_of(judged(*typed), wish)


def after(deed: str, whole: WhatIf) -> what_if.After:
    return next(one for one in whole.after if one.deed == deed)


READ = ("tan=2", "ph=6.8", "temp=25", "kh=40 mg/L CaCO3")


def test_hard_tap_water_lifts_ph_further_than_the_mean_of_both_says():
    old = State(carbonate.water(6.4, 20.0, 25.0, 0.0089), 2.0, 14.0)
    tap = carbonate.water(7.8, 200.0, 25.0, 0.0089)
    new = what_if.changed(old, tap, 0.5, 0.3)
    assert new.ph_at_once > 0.7 * 6.4 + 0.3 * 7.8 + 0.2
    assert float(new.water.alkalinity_mg_l) == pytest.approx(0.7 * 20.0 + 0.3 * 200.0)
    assert new.tan_mg_l == pytest.approx(0.7 * 2.0 + 0.3 * 0.5)


def test_air_lifts_ph_and_leaves_alkalinity():
    whole = found(*READ)
    air = after("air", whole)
    assert air.state.carbon_dioxide_mg_l == pytest.approx(3.0)
    assert float(air.state.water.alkalinity_mg_l) == pytest.approx(40.0)
    assert air.state.unionised_mg_l > 3.5 * whole.now.unionised_mg_l


def test_water_that_holds_less_carbon_dioxide_already_stays_as_it_is():
    whole = found(*READ, wish=Wish(aired_mg_l=50.0))
    assert after("air", whole).state.ph_highest == pytest.approx(6.8, abs=1e-6)


def test_warmth_alone_makes_more_ammonia_of_the_same_total():
    whole = found(*READ)
    warm = after("heat", whole)
    assert float(warm.state.water.temperature_c) == 30.0
    assert 1.3 < warm.state.unionised_mg_l / whole.now.unionised_mg_l < 1.6


def test_a_base_is_judged_at_the_higher_of_both_ph():
    whole = found(*READ, wish=Wish(chemical="potassium_hydroxide", rise_mg_l=20.0))
    base = after("base", whole)
    assert base.state.ph_at_once > base.state.ph_settled > 6.8
    assert base.state.ph_highest == base.state.ph_at_once
    assert {"ph_step", "ph_high", "hydroxide_share"} <= set(base.against)


def test_the_level_it_leads_to_is_that_of_a_reading_of_such_water():
    whole = found(*READ)
    air = after("air", whole)
    same = judged("tan=2", f"ph={air.state.ph_highest}", "temp=25", "kh=40 mg/L CaCO3")
    by_hand = same.of("unionised_ammonia")
    assert by_hand is not None
    assert air.state.unionised_mg_l == pytest.approx(by_hand.value)
    assert air.level in ("act today", "watch")
    assert whole.level == judged(*READ).of("tan").level


def test_past_the_line_begins_at_the_act_line_of_the_fish():
    low, high = (found(f"tan={tan}", *READ[1:]) for tan in ("2", "5"))
    assert low.line == high.line == 0.05
    assert not after("air", low).passes
    assert after("air", high).passes
    assert not after("heat", high).passes


def test_all_of_them_come_one_after_the_other():
    wish = Wish(rise_mg_l=10.0, share=0.2)
    whole = found(*READ, wish=wish)
    ions = whole.now.water.ionic_strength
    tap = carbonate.water(wish.new_ph, wish.new_alkalinity_mg_l, 25.0, ions)
    by_hand = what_if.aired(
        what_if.dosed(what_if.heated(what_if.changed(whole.now, tap, 0.0, 0.2), 5.0), wish.chemical, 10.0),
        3.0,
    )
    both = after("all", whole).state
    assert both.ph_highest == pytest.approx(by_hand.ph_highest)
    assert both.tan_mg_l == pytest.approx(1.6)


def test_a_deed_without_an_amount_is_left_out():
    whole = found(*READ, wish=Wish(rise_mg_l=0.0, warmer_k=0.0, share=0.0))
    assert [one.deed for one in whole.after] == ["air"]


@pytest.mark.parametrize(
    ("typed", "missing"),
    [
        (("tan=2", "ph=7", "temp=25"), ("alkalinity",)),
        (("tan=2", "temp=25"), ("ph", "alkalinity")),
        (("tan=2", "ph=7", "kh=4"), ("alkalinity",)),
    ],
    ids=["no alkalinity", "neither", "unit not told"],
)
def test_without_ph_and_alkalinity_nothing_is_reckoned(typed: tuple[str, ...], missing: tuple[str, ...]):
    whole = found(*typed)
    assert whole.now is None
    assert whole.missing == missing
    assert whole.after == ()


def test_without_ammonia_ph_is_told_and_nothing_passes():
    whole = found(*READ[1:])
    assert math.isnan(whole.now.unionised_mg_l)
    assert not any(one.passes for one in whole.after)
    assert after("air", whole).state.ph_highest == pytest.approx(7.38, abs=0.05)


def test_rain_water_without_alkalinity_can_be_changed_for():
    whole = found(*READ, wish=Wish(new_ph=5.6, new_alkalinity_mg_l=0.0))
    assert float(after("change", whole).state.water.alkalinity_mg_l) == pytest.approx(30.0)
    assert after("change", whole).state.ph_at_once < 6.8


def test_water_that_holds_nothing_brings_no_carbon():
    whole = found(*READ, wish=Wish(new_ph=9.5, new_alkalinity_mg_l=0.0, share=0.8))
    left = float(after("change", whole).state.water.inorganic_carbon_mmol_l)
    assert left == pytest.approx(0.2 * float(whole.now.water.inorganic_carbon_mmol_l))


def test_a_ph_at_the_end_of_its_kit_stays_open_through_every_deed():
    plain, at_the_end = (found(*READ[:1], ph, *READ[2:]) for ph in ("ph=6.8", "ph=>6.8"))
    assert not plain.or_worse
    assert not any(one.or_worse for one in plain.after)
    assert at_the_end.or_worse
    assert all(one.or_worse for one in at_the_end.after)
