"""What holds for any dose: it comes out as wished, conserves, or is refused with a milder way."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from aquacalc import tables, units, words
from aquacalc.advice.doses import planning, request
from aquacalc.advice.doses.request import Request
from aquacalc.panels.water import dose as panel
from aquacalc.water import ammonia, carbonate, dosing, supplements, top_up

BASES = (
    "potassium_hydroxide",
    "calcium_hydroxide",
    "potassium_carbonate",
    "potassium_bicarbonate",
    "sodium_bicarbonate",
    "calcium_carbonate",
)
GOODS = (
    *BASES,
    "thiosulfate_pentahydrate",
    "citric_acid",
    "gypsum",
    "epsom_salt",
    "sodium_chloride",
    "fe_dtpa",
    "fe_edta",
    "hydrochloric_acid",
    "urea",
)
REAGENTS = ("thiosulfate_pentahydrate", "thiosulfate_anhydrous", "sodium_ascorbate", "ascorbic_acid")


@st.composite
def requests(draw: st.DrawFn, goods: tuple[str, ...] = GOODS, goal: str | None = None) -> Request:
    goal = goal or draw(st.sampled_from(request.GOALS))
    into = draw(st.sampled_from(("loop", "vessel"))) if goods is GOODS else "loop"
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
        element_mg_l=draw(unknown | st.floats(0.0, 5.0)),
        into=into,  # type: ignore[arg-type]
    )


@settings(max_examples=60, deadline=None)
@given(requests(BASES, "alkalinity"))
def test_a_dose_solved_again_gives_the_wish_and_conserves_alkalinity_and_carbon(wish: Request):
    assume(wish.wished > wish.alkalinity_mg_l + 0.5)
    made = planning.plan(wish)
    assume(made.grams > 0.0)
    of, before = made.chemical, request.water_of(wish)
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
    made = planning.plan(wish)
    assume(made.rise_mg_l > 0.0)
    assert made.ph_low == pytest.approx(wish.wished, abs=1e-6)
    assert made.ph_high >= made.ph_low - 1e-9


ELEMENT_GOODS = {
    "Fe": ("fe_dtpa", "fe_eddha", "fe_edta"),
    "K": ("potassium_sulphate", "potassium_chloride", "potassium_bicarbonate"),
    "Ca": ("gypsum", "calcium_chloride_dihydrate", "calcium_chloride_anhydrous"),
    "Mg": ("epsom_salt",),
    "Cl": ("sodium_chloride", "potassium_chloride", "calcium_chloride_dihydrate"),
}


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(sorted(ELEMENT_GOODS)).flatmap(lambda one: requests(ELEMENT_GOODS[one], one)))
def test_a_wished_element_is_there_after_the_grams(wish: Request):
    made = planning.plan(replace(wish, ph=6.0, crops=(), element_mg_l=0.0))
    assume(made.grams > 0.0)
    purity = supplements.purity_of_label(wish.strength, made.chemical.elements["Fe"], fe_high(wish.chemical))
    pure_g = made.grams * purity * made.chemical.elements[wish.goal]
    assert pure_g * 1000.0 / wish.volume_l == pytest.approx(wish.wished)
    assert made.elements_mg_l[wish.goal] == pytest.approx(wish.wished)


def fe_high(name: str) -> float:
    return tables.load("chemicals").row(name).number("fe_high_g_g")


@given(
    st.sampled_from(
        ("thiosulfate_pentahydrate", "thiosulfate_anhydrous", "sodium_ascorbate", "ascorbic_acid")
    ),
    st.floats(0.05, 5.0),
    st.floats(20.0, 5000.0),
    st.floats(0.2, 1.0),
)
def test_reagent_for_chlorine_covers_it_and_no_more_than_three_times(
    name: str, chlorine_mg_l: float, volume_l: float, strength: float
):
    wish = Request(
        name, "chlorine", 0.0, volume_l, 7.5, 60.0, 15.0, strength, element_mg_l=chlorine_mg_l, into="vessel"
    )
    made = planning.plan(wish)
    row = tables.load("chemicals").row(name)
    taken_mg_l = made.grams * strength * 1000.0 / volume_l / row.number("dechlorination_middle_g_g")
    assert chlorine_mg_l * (1.0 - 1e-9) <= taken_mg_l <= 3.0 * chlorine_mg_l


@given(
    st.sampled_from(("hydrochloric_acid", "phosphoric_acid", "nitric_acid", "citric_acid")),
    st.floats(6.8, 8.4),
    st.floats(60.0, 300.0),
    st.floats(5.0, 30.0),
    st.floats(0.1, 0.9),
)
def test_acid_leaves_the_wished_alkalinity_and_takes_no_carbon(
    name: str, ph: float, alkalinity: float, celsius: float, share: float
):
    wished = 20.0 + share * (alkalinity - 20.0) * 0.95
    wish = Request(name, "alkalinity", wished, 500.0, ph, alkalinity, celsius, 0.5, into="vessel")
    made = planning.plan(wish)
    assert made.refusal is None
    before = request.water_of(wish)
    rise = float(dosing.rise_of_grams_mg_l(made.chemical, made.grams, 500.0, 0.5))
    after = dosing.after_rise(before, made.chemical, rise)
    assert float(after.alkalinity_mg_l) == pytest.approx(wished)
    assert after.inorganic_carbon_mmol_l == before.inorganic_carbon_mmol_l
    assert made.first is not None
    assert made.first.ph_at_once < ph
    assert made.dioxide_after_mg_l > float(before.carbon_dioxide_mg_l)


@given(
    st.sampled_from(BASES),
    st.floats(5.5, 7.9),
    st.floats(5.0, 250.0),
    st.floats(2.0, 34.0),
    st.floats(0.5, 40.0),
    st.floats(0.1, 20.0),
)
def test_more_base_never_lowers_ph_and_more_carbon_dioxide_never_raises_it(
    name: str, ph: float, alkalinity: float, celsius: float, rise: float, more: float
):
    water, of = carbonate.water(ph, alkalinity, celsius, 0.006), dosing.chemical(name)
    little, much = (float(dosing.after_rise(water, of, one).ph) for one in (rise, rise + more))
    assert ph - 1e-6 <= little <= much + 1e-6
    settled = [
        float(carbonate.ph_at_carbon_dioxide(alkalinity + one, 5.0, celsius, 0.006)) for one in (0.0, rise)
    ]
    assert settled[0] < settled[1]
    with_gas = water.plus(0.0, more / 10.0)
    assert float(with_gas.ph) <= ph + 1e-6
    assert float(carbonate.ph_at_carbon_dioxide(alkalinity, 5.0 + more, celsius, 0.006)) <= float(
        carbonate.ph_at_carbon_dioxide(alkalinity, 5.0, celsius, 0.006)
    )


@given(
    st.sampled_from(BASES),
    st.floats(1.0, 500.0),
    st.floats(20.0, 5000.0),
    st.floats(0.2, 1.0),
)
def test_grams_and_rises_go_there_and_back(name: str, rise: float, volume_l: float, purity: float):
    of = dosing.chemical(name)
    grams = dosing.grams_for_alkalinity(of, rise, volume_l, purity)
    assert dosing.rise_of_grams_mg_l(of, grams, volume_l, purity) == pytest.approx(rise)
    twice = dosing.grams_for_alkalinity(of, rise, 2.0 * volume_l, purity / 2.0)
    assert twice == pytest.approx(4.0 * grams)
    base = units.unit("dkh").from_base(rise)
    assert units.unit("dkh").to_base(base) == pytest.approx(rise)


@settings(max_examples=60, deadline=None)
@given(requests(BASES, "alkalinity"))
def test_a_first_portion_keeps_every_limit_of_a_day(wish: Request):
    # A wish above what is there, by little enough that many a plan stands.
    above = wish.alkalinity_mg_l + wish.wished / 5.0
    made = planning.plan(replace(wish, days=math.nan, wished=above))
    assume(made.refusal is None and made.first is not None and "slow" not in made.cautions)
    assert made.first is not None
    assert made.first.ph_at_once - made.first.ph_before <= 0.3 + 1e-6
    assert made.first.ph_at_once <= dosing.HIGHEST_PH + 1e-6
    assert made.first.hydroxide_share <= dosing.HYDROXIDE_SHARE_ADVISED + 1e-9
    assert 0.0 < made.portion_g <= made.grams * (1.0 + 1e-9)
    if not math.isnan(wish.tan_mg_l):
        highest = wish.tan_mg_l * ammonia.unionised_fraction(made.ph_judged, wish.temperature_c)
        assert highest <= wish.act_line_mg_l * (1.0 + 1e-9)


@settings(max_examples=150, deadline=None)
@given(requests())
def test_whatever_is_asked_there_is_a_plan_or_a_reason_with_a_milder_way(wish: Request):
    made = planning.plan(wish)
    said = panel.draw(words.Reader(), panel.Answer(made))
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
