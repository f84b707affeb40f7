"""What holds for any dose: it comes out as wished, conserves, or is refused with a milder way."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from aquacalc import words
from aquacalc.advice import dosing as advice
from aquacalc.advice.dosing import Request
from aquacalc.panels import dose as panel
from aquacalc.water import ammonia, carbonate, dosing, top_up

BASES = (
    "potassium_hydroxide",
    "calcium_hydroxide",
    "potassium_carbonate",
    "potassium_bicarbonate",
    "sodium_bicarbonate",
    "calcium_carbonate",
)
GOODS = (*BASES, "gypsum", "epsom_salt", "sodium_chloride", "fe_dtpa", "fe_edta", "hydrochloric_acid", "urea")


@st.composite
def requests(draw: st.DrawFn, goods: tuple[str, ...] = GOODS, goal: str | None = None) -> Request:
    goal = goal or draw(st.sampled_from(advice.GOALS))
    wished = st.floats(5.5, 8.5) if goal == "ph" else st.floats(0.1, 300.0)
    unknown = st.just(math.nan)
    return Request(
        chemical=draw(st.sampled_from(goods)),
        goal=goal,  # type: ignore[arg-type]
        wished=draw(wished),
        volume_l=draw(st.floats(50.0, 20_000.0)),
        ph=draw(st.floats(5.5, 8.2)),
        alkalinity_mg_l=draw(st.floats(5.0, 200.0)),
        temperature_c=draw(st.floats(2.0, 34.0)),
        strength=draw(st.floats(0.05, 1.0)),
        tan_mg_l=draw(unknown | st.floats(0.0, 20.0)),
        calcium_mg_l=draw(unknown | st.floats(1.0, 150.0)),
        days=draw(unknown | st.floats(1.0, 20.0)),
        species=draw(st.sampled_from(("nile_tilapia", "rainbow_trout"))),
        setting=draw(st.sampled_from(("home", "school", "community"))),
        crops=draw(st.sampled_from(((), ("strawberry",), ("tomato", "lettuce_leaf")))),
    )


@settings(max_examples=60, deadline=None)
@given(requests(BASES, "alkalinity"))
def test_a_dose_solved_again_gives_the_wish_and_conserves_alkalinity_and_carbon(wish: Request):
    assume(wish.wished > wish.alkalinity_mg_l + 0.5)
    made = advice.plan(wish)
    assume(made.grams > 0.0)
    of, before = made.chemical, advice.water_of(wish)
    rise = float(dosing.rise_of_grams_mg_l(of, made.grams, wish.volume_l, wish.strength))
    after = dosing.after_rise(before, of, rise)
    assert float(after.alkalinity_mg_l) == pytest.approx(wish.wished)
    brought = made.grams * wish.strength / of.grams_per_eq * of.carbon_mol_eq * 1000.0 / wish.volume_l
    assert float(after.inorganic_carbon_mmol_l - before.inorganic_carbon_mmol_l) == pytest.approx(
        brought, rel=1e-6, abs=1e-9
    )
    # Reading the water after the dose again finds the same carbon.
    again = carbonate.water(float(after.ph), wish.wished, wish.temperature_c, before.ionic_strength)
    assert float(again.inorganic_carbon_mmol_l) == pytest.approx(
        float(after.inorganic_carbon_mmol_l), rel=1e-4
    )


@settings(max_examples=60, deadline=None)
@given(requests(BASES, "ph"))
def test_a_wished_ph_is_the_one_that_it_settles_at(wish: Request):
    made = advice.plan(wish)
    assume(made.rise_mg_l > 0.0)
    assert made.ph_low == pytest.approx(wish.wished, abs=1e-6)
    assert made.ph_high >= made.ph_low - 1e-9


@settings(max_examples=60, deadline=None)
@given(requests(BASES, "alkalinity"))
def test_a_first_portion_keeps_every_limit_of_a_day(wish: Request):
    made = advice.plan(replace(wish, days=math.nan))
    assume(made.refusal is None and made.first is not None and "slow" not in made.cautions)
    assert made.first is not None
    assert made.first.ph_at_once - made.first.ph_before <= 0.3 + 1e-6
    assert made.first.ph_at_once <= dosing.HIGHEST_PH + 1e-6
    assert made.first.hydroxide_share <= dosing.HYDROXIDE_SHARE_ADVISED + 1e-9
    assert 0.0 < made.portion_g <= made.grams * (1.0 + 1e-9)
    if not math.isnan(wish.tan_mg_l):
        highest = wish.tan_mg_l * ammonia.unionised_fraction(made.ph_judged, wish.temperature_c)
        assert highest <= advice.act_line_mg_l(wish.species) * (1.0 + 1e-9)


@settings(max_examples=150, deadline=None)
@given(requests())
def test_whatever_is_asked_there_is_a_plan_or_a_reason_with_a_milder_way(wish: Request):
    made = advice.plan(wish)
    said = panel.draw(words.Reader(), made)
    assert "nan" not in said
    assert "inf " not in said
    if made.refusal is None:
        assert made.grams > 0.0
        assert "<ol>" in said
    else:
        told = {one.name: panel.said(one, words.Reader()) for one in made.refusal.amounts} | {"name": "it"}
        assert len(words.say(f"panel-dose-instead-{made.refusal.reason}", words.Reader(), **told)) > 20


@given(st.floats(1.0, 400.0), st.floats(1.0, 400.0), st.floats(0.0, 1.0))
def test_a_share_for_an_alkalinity_mixes_to_it(first: float, second: float, share: float):
    assume(abs(first - second) > 1.0)
    wished = first + share * (second - first)
    found = top_up.share_for_alkalinity(first, second, wished)
    assume(not math.isnan(found))
    mixed = carbonate.mix(carbonate.water(7.0, first, 20.0), carbonate.water(7.5, second, 20.0), found)
    assert float(mixed.alkalinity_mg_l) == pytest.approx(wished)


@given(
    st.floats(0.0, 300.0),
    st.floats(0.0, 100.0),
    st.floats(0.0, 100.0),
    st.floats(0.0, 5.0),
    st.floats(1, 400),
)
def test_more_let_out_never_leaves_more_behind(
    level: float, evaporation: float, discharge: float, input_g: float, days: float
):
    less = top_up.Loop(1000.0, evaporation, discharge)
    more = top_up.Loop(1000.0, evaporation, discharge + 10.0)
    first = float(top_up.after_days_mg_l(less, level, level, input_g, days))
    assert float(top_up.after_days_mg_l(more, level, level, input_g, days)) <= first + 1e-6
