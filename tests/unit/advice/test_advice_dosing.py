"""A dose that is asked for: its portions hold every limit, and whatever is refused has a milder way."""

import math
import re
from dataclasses import replace

import pytest

from aquacalc import tables
from aquacalc.advice.doses import answer, limestone, planning, refusals, request
from aquacalc.advice.doses.answer import Plan
from aquacalc.advice.doses.request import Request
from aquacalc.errors import InputError
from aquacalc.water import ammonia, carbonate, dosing, supplements

NAN = math.nan
WISH = Request("potassium_bicarbonate", "alkalinity", 71.4, 600.0, 6.6, 35.7, 24.0)
SALT = Request("sodium_chloride", "Cl", 60.0, 1000.0, 6.8, 40.0, 24.0, element_mg_l=0.0)
IRON = Request("fe_dtpa", "Fe", 2.0, 800.0, 6.4, 40.0, 24.0, strength=0.11)


def plan(wish: Request = WISH, **changed: object) -> Plan:
    return planning.plan(replace(wish, **changed))  # type: ignore[arg-type]


ACID = Request(
    "hydrochloric_acid", "alkalinity", 75.0, 1000.0, 7.6, 250.0, 18.0, conductivity_us_cm=612.5, into="vessel"
)
TREATED = Request(
    "thiosulfate_pentahydrate", "chlorine", 0.0, 150.0, 7.6, 60.0, 15.0, element_mg_l=2.0, into="vessel"
)
POTASSIUM = replace(WISH, chemical="potassium_sulphate", goal="K", element_mg_l=0.0)

REFUSED = {
    "acid": plan(chemical="hydrochloric_acid"),
    "acid-goal": plan(ACID, goal="ph", wished=7.0),
    "acid-low": plan(ACID, wished=10.0),
    "school-acid": plan(ACID, setting="school"),
    "nothing-to-lower": plan(ACID, wished=260.0),
    "chlorine-not-told": plan(TREATED, element_mg_l=NAN),
    "calcite": plan(wished=200.0, alkalinity_mg_l=180.0, calcium_mg_l=200.0, ph=7.6),
    "air-alone": plan(into="vessel", goal="ph", ph=6.0, wished=6.8),
    "not-for-the-loop": plan(chemical="ammonium_chloride"),
    "school": plan(chemical="potassium_hydroxide", setting="school"),
    "no-effect": plan(chemical="epsom_salt"),
    "nothing-to-raise": plan(wished=20.0),
    "ph-high": plan(goal="ph", wished=8.2),
    "limestone": plan(chemical="calcium_carbonate", wished=300.0),
    "chelate": plan(IRON, chemical="fe_edta", ph=7.4),
    "ammonia": plan(tan_mg_l=8.0),
    "hydroxide": plan(chemical="potassium_hydroxide", days=1.0),
    "ph-step": plan(chemical="potassium_carbonate", days=1.0),
    "sour": plan(
        TREATED, into="loop", chemical="ascorbic_acid", ph=6.0, alkalinity_mg_l=2.0, element_mg_l=4.0
    ),
    "element-day": plan(POTASSIUM, wished=120.0, days=1.0),
    "element-high": plan(IRON, wished=6.0),
    "too-many": plan(chemical="potassium_hydroxide", ph=6.8, alkalinity_mg_l=10.0),
    "sodium": plan(SALT, wished=200.0),
    "crops": plan(SALT, crops=("strawberry",), wished=200.0),
}


@pytest.mark.parametrize("reason", answer.REASONS)
def test_each_reason_is_found_and_has_its_two_texts_with_the_amounts_at_hand(reason: str):
    refusal = REFUSED[reason].refusal
    assert refusal is not None
    assert refusal.reason == reason
    catalogue = (tables.DATA / "words.en.ftl").read_text("utf-8")
    given = {amount.name for amount in refusal.amounts} | {"name"}
    for stem in ("no", "instead"):
        text = re.search(rf"^panel-dose-{stem}-{reason} = (.+)$", catalogue, re.MULTILINE)
        assert text is not None
        assert set(re.findall(r"\{ \$(\w+) \}", text[1])) <= given


def test_grams_are_those_of_the_table_and_a_portion_is_half_a_days_most():
    made = plan()
    assert made.refusal is None
    assert made.grams == pytest.approx(35.7 / 10.0 * 20.01 * 0.6, rel=1e-3)
    assert (made.portions, made.a_day) == (2, 2)
    most = dosing.daily_limit(request.place_of(WISH), made.chemical).dose.grams
    assert made.portion_g == pytest.approx(most / 2.0)
    little = plan(wished=40.0)
    assert little.portions == 1
    assert little.portion_g == pytest.approx(little.grams)
    assert made.elements_mg_l["K"] == pytest.approx(35.7 * 0.781, rel=1e-3)


def test_weaker_goods_take_more():
    assert plan(strength=0.5).grams == pytest.approx(2.0 * plan().grams)


def test_a_hydroxide_is_given_in_many_portions_none_past_its_share_of_the_carbon_dioxide():
    made = plan(chemical="potassium_hydroxide")
    assert made.refusal is None
    assert made.first is not None
    assert made.first.hydroxide_share <= dosing.HYDROXIDE_SHARE_ADVISED + 1e-9
    assert made.portions > 4
    assert made.a_day == 4
    assert made.portions * made.portion_g >= made.grams * 0.99
    assert 4.0 * made.portion_g == pytest.approx(made.day_g)


def test_below_five_and_a_half_a_day_moves_half_a_unit_in_four_portions():
    deep = plan(ph=5.3, alkalinity_mg_l=5.0, wished=40.0)
    assert deep.a_day == 4
    water = request.water_of(deep.request)
    day_mg_l = dosing.rise_of_grams_mg_l(deep.chemical, deep.day_g, 600.0)
    assert float(dosing.after_rise(water, deep.chemical, day_mg_l).ph) == pytest.approx(5.8)
    low = plan(ph=5.6, alkalinity_mg_l=5.0, wished=40.0)
    assert low.a_day == 2
    day_mg_l = dosing.rise_of_grams_mg_l(low.chemical, low.day_g, 600.0)
    after = dosing.after_rise(request.water_of(low.request), low.chemical, day_mg_l)
    assert float(after.ph) == pytest.approx(5.9)


def test_acid_goes_into_the_vessel_only_and_sets_the_alkalinity_not_the_ph():
    made = plan(ACID)
    assert made.refusal is None
    # The reference's worked example, by PHREEQC: W34.
    assert made.grams == pytest.approx(127.5, abs=0.1)
    assert made.first is not None
    assert made.first.ph_at_once == pytest.approx(5.946, abs=0.02)
    assert made.dioxide_after_mg_l == pytest.approx(165.0, rel=0.02)
    assert made.ph_low == pytest.approx(8.255, abs=0.03)
    assert made.portion_g == pytest.approx(made.grams / 2.0)
    assert plan(ACID, strength=0.32).grams == pytest.approx(127.5 / 0.32, rel=1e-3)
    refused = plan(ACID, into="loop").refusal
    assert refused is not None
    assert refused.reason == "acid"


@pytest.mark.parametrize("into", ["loop", "vessel"])
def test_chlorine_is_taken_out_at_once_by_what_the_supplier_states(into: str):
    made = plan(TREATED, into=into)
    assert made.refusal is None
    assert made.grams == pytest.approx(2.1, rel=0.01)
    assert made.portions == 1
    half = plan(TREATED, into=into, strength=0.5)
    assert half.grams == pytest.approx(2.0 * made.grams)


def test_a_vessel_without_fish_gets_all_at_once_but_no_hydroxide_past_its_carbon_dioxide():
    made = plan(into="vessel")
    assert (made.portions, made.refusal) == (1, None)
    # What settles is what the air leaves, far above what a loop with fish holds.
    assert made.ph_low > plan().ph_low + 1.0
    assert plan(into="vessel", tan_mg_l=50.0).refusal is None
    refused = plan(into="vessel", chemical="potassium_hydroxide").refusal
    assert refused is not None
    assert refused.reason == "hydroxide"


@pytest.mark.parametrize("row", [row for row in tables.load("chemicals") if row.text("kind") != "ammonia"])
@pytest.mark.parametrize("goal", request.GOALS)
@pytest.mark.parametrize("into", ["loop", "vessel"])
def test_every_chemical_has_grams_for_every_wish_that_it_can_meet(row: tables.Row, goal: str, into: str):
    acid = row.text("kind") == "acid"
    now = 60.0 if acid else 36.0
    wished = {"alkalinity": 40.0, "ph": 7.0, "Fe": 1.0, "chlorine": 0.0}.get(goal, 10.0)
    made = plan(
        chemical=row.key,
        goal=goal,
        wished=wished,
        into=into,
        ph=6.0,
        alkalinity_mg_l=now,
        element_mg_l=0.2,
        carbon_dioxide_mg_l=20.0,
    )
    if refusals.works_for(row, goal) and (into == "vessel" or not acid):
        # Limestone cannot reach a wish, or hydroxides would take too many days: the grams still stand there.
        assert made.grams > 0.0
        assert made.refusal is None or made.refusal.reason in ("limestone", "hydroxide", "too-many", "sodium")
    else:
        assert made.refusal is not None
        assert made.refusal.reason in ("no-effect", "acid", "acid-goal")


@pytest.mark.parametrize("row", list(tables.load("chemicals")), ids=lambda row: row.key)
def test_a_school_is_offered_no_hydroxide_acid_or_ammonia(row: tables.Row):
    mild = row.key.endswith("carbonate") or row.key == "dolomite"
    harmless = row.text("kind") in ("supplement", "salt", "dechlorinator")
    assert refusals.may_offer(row, "school") == (mild or harmless)
    assert refusals.may_offer(row, "home") == (row.text("kind") != "ammonia")


def test_what_a_hydroxide_would_do_at_once_is_told_with_the_refusal():
    refusal = REFUSED["hydroxide"].refusal
    assert refusal is not None
    told = {amount.name: amount.number for amount in refusal.amounts}
    assert told["ph"] > 9.0
    assert told["mild"] == pytest.approx(plan().grams, rel=1e-6)


def test_ammonia_is_judged_at_the_highest_ph_on_the_way_and_not_at_that_of_now():
    assert plan(tan_mg_l=NAN).refusal is None
    made = plan(tan_mg_l=3.0)
    line = made.tan_line_mg_l
    assert made.ph_highest >= max(made.ph_low, made.ph_high)
    assert made.ph_judged == pytest.approx(made.ph_highest + 0.2)
    act = line * ammonia.unionised_fraction(made.ph_judged, 24.0)
    assert act == pytest.approx(0.05), "the line of warm water"
    assert plan(tan_mg_l=0.99 * line).refusal is None
    past = plan(tan_mg_l=1.01 * line).refusal
    assert past is not None
    assert past.reason == "ammonia"
    # The same ammonia is far below the act line in the water as it is.
    assert 1.01 * line * ammonia.unionised_fraction(6.6, 24.0) < 0.5 * act


def test_the_water_change_that_is_named_brings_ammonia_to_the_line():
    refusal = REFUSED["ammonia"].refusal
    assert refusal is not None
    told = {amount.name: amount.number for amount in refusal.amounts}
    assert told["tan"] * (1.0 - told["share"]) == pytest.approx(told["line"])


def test_trout_are_held_to_a_stricter_line():
    assert plan(species="rainbow_trout").tan_line_mg_l == pytest.approx(plan().tan_line_mg_l / 2.0)


def test_a_school_gets_carbonates_but_no_hydroxide():
    for name in ("potassium_bicarbonate", "potassium_carbonate", "calcium_carbonate"):
        assert plan(chemical=name, setting="school").refusal is None
    for name in ("potassium_hydroxide", "calcium_hydroxide", "magnesium_hydroxide"):
        refused = plan(chemical=name, setting="school").refusal
        assert refused is not None
        assert refused.reason == "school"


def test_limestone_reaches_where_calcite_is_at_its_solubility():
    place = request.place_of(replace(WISH, calcium_mg_l=60.0))
    of = dosing.chemical("calcium_carbonate")
    most = limestone.limestone_reach_mg_l(place, of)
    calcium = 60.0 + (most - 35.7) * of.elements["Ca"]
    water = place.water
    ph = carbonate.ph_at_carbon_dioxide(
        most, place.usual_carbon_dioxide_mg_l, water.temperature_c, water.ionic_strength
    )
    index = carbonate.calcite_saturation_index(ph, most, calcium, water.temperature_c, water.ionic_strength)
    assert index == pytest.approx(0.0, abs=1e-6)
    assert plan(chemical="calcium_carbonate", calcium_mg_l=60.0, wished=most - 5.0).refusal is None
    refused = plan(chemical="calcium_carbonate", calcium_mg_l=60.0, wished=most + 5.0).refusal
    assert refused is not None
    assert refused.reason == "limestone"


def test_salt_is_refused_by_the_crop_that_cannot_take_it_and_not_by_one_that_can():
    little = {"wished": 70.0}
    assert plan(SALT, **little, crops=("tomato",)).refusal is None
    refused = plan(SALT, **little, crops=("strawberry",)).refusal
    assert refused is not None
    assert refused.reason == "crops"


def test_iron_by_its_label_whether_it_states_iron_or_chelate():
    assert plan(IRON).grams == pytest.approx(14.5, abs=0.1)
    assert plan(IRON, strength=1.0).grams == pytest.approx(14.5, abs=0.1)
    assert plan(IRON, strength=0.06).grams == pytest.approx(2.0 * 0.8 / 0.06, rel=1e-6)


def test_a_solution_is_measured_in_millilitres():
    assert plan(IRON, stock_g_l=50.0).portion_ml == pytest.approx(plan(IRON).portion_g * 20.0)
    assert math.isnan(plan(IRON).portion_ml)


def test_more_potassium_than_an_event_takes_is_parted():
    made = plan(chemical="potassium_sulphate", goal="K", wished=100.0, element_mg_l=20.0)
    assert made.portions == 2
    assert made.bound_by == "K"
    base = plan(wished=35.7 + 100.0)
    of, rise = dosing.chemical("potassium_bicarbonate"), base.elements_mg_l["K"]
    assert rise > supplements.MOST_IN_A_DAY_MG_L["K"]
    brought = dosing.element_rises_mg_l(of, base.portion_g, 600.0)["K"]
    assert brought <= supplements.MOST_IN_A_DAY_MG_L["K"] + 1e-6


def test_a_base_can_be_asked_for_by_its_potassium():
    made = plan(goal="K", wished=40.0, element_mg_l=0.0, volume_l=1000.0)
    assert made.grams == pytest.approx(102.4, abs=0.1)
    assert made.rise_mg_l == pytest.approx(51.2, abs=0.1)


def test_readings_that_do_not_go_together():
    assert not plan().is_doubtful
    assert plan(ph=6.0, alkalinity_mg_l=150.0, wished=170.0).is_doubtful
    with pytest.raises(InputError) as caught:
        plan(ph=9.5, alkalinity_mg_l=0.5, goal="alkalinity", wished=20.0)
    assert caught.value.problems[0].key == "problem-no-such-water"


def test_a_chemical_that_is_not_known_offers_the_nearest():
    with pytest.raises(InputError) as caught:
        plan(chemical="potasium_bicarbonate")
    assert caught.value.problems[0].nearest == "potassium_bicarbonate"


@pytest.mark.parametrize(
    ("chemical", "goal", "slip", "most"),
    [
        ("fe_dtpa", "Fe", 50.0, 3.0),
        ("potassium_sulphate", "K", 400.0, 200.0),
        ("epsom_salt", "Mg", 200.0, 50.0),
        ("gypsum", "Ca", 400.0, 150.0),
    ],
)
def test_a_slip_of_the_decimal_point_is_asked_about_for_every_element(
    chemical: str, goal: str, slip: float, most: float
):
    # Upper ends of the targets for plants: iron after SRAC 454 (from memory), else common practice.
    wish = replace(WISH, chemical=chemical, goal=goal, element_mg_l=0.0)
    refusal = plan(wish, wished=slip).refusal
    assert refusal is not None
    assert refusal.reason == "element-high"
    made = plan(wish, wished=most)
    assert made.refusal is None or made.refusal.reason != "element-high"


def test_what_comes_along_counts_too():
    # 200 mg/L of chloride by potassium chloride brings 221 of potassium.
    refusal = plan(WISH, chemical="potassium_chloride", goal="Cl", wished=200.0, element_mg_l=0.0).refusal
    assert refusal is not None
    assert refusal.reason == "element-high"


def test_ascorbic_acid_is_counted_with_its_acid_and_refused_where_the_water_cannot_take_it():
    # Reference: uses up to 1.4 mg/L of alkalinity for each mg/L of chlorine (field note, read-2nd).
    water = {"chemical": "ascorbic_acid", "into": "loop", "element_mg_l": 4.0}
    sour = plan(TREATED, **water, ph=6.0, alkalinity_mg_l=2.0)
    assert sour.refusal is not None
    assert sour.refusal.reason == "sour"
    # PHREEQC has 4.6 for two equivalents of acid a mole and 5.1 for one.
    assert 4.0 < sour.ph_low < 5.1
    buffered = plan(TREATED, **water, ph=7.2, alkalinity_mg_l=60.0)
    assert buffered.refusal is None
    assert buffered.rise_mg_l == pytest.approx(-5.6, abs=0.1)
    assert buffered.ph_low < 7.2
    assert (
        plan(TREATED, **{**water, "chemical": "sodium_ascorbate"}, ph=6.0, alkalinity_mg_l=2.0).refusal
        is None
    )
