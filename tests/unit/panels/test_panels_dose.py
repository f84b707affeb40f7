"""The sentence with blanks and the top-up panel: answers without a garden, in steps, with what not to do."""

import re

import pytest

from aquacalc import words
from aquacalc.advice.doses import request
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.water import dose, reading
from aquacalc.water import dosing


def plain(made: Panel) -> str:
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", made.result.value))
    return text.replace(words.NO_BREAK_SPACE, " ")


def shown(made: Panel) -> set[str]:
    return {name for name, field in made.fields.items() if field.widget.layout.display != "none"}


def filled(make: Panel, **values: object) -> Panel:
    make.fill(values)
    return make


def test_the_sentence_is_answered_in_steps_with_a_test_before_and_after():
    made = dose.panel()
    assert made.problems.value == ""
    text = plain(made)
    assert "43 g of Potassium bicarbonate" in text
    assert "71 mg/L CaCO3 (4 dKH)" in text
    steps = re.findall(r"<li>(.*?)</li>", made.result.value.split("<ol>")[1].split("</ol>")[0])
    assert steps[0].startswith("Test")
    assert steps[-1].startswith("Test pH, alkalinity and ammonia again")
    assert "Never:" in text
    assert "by date" in text


def test_blanks_take_any_unit():
    made = dose.panel()
    made.fields["volume"].box.value = "158,5 US gal"
    made.fields["to_alkalinity"].box.value = "71.4 mg/L CaCO3"
    assert "43 g of Potassium bicarbonate" in plain(made)


def test_caustics_come_with_goggles_first_aid_and_portions():
    text = plain(filled(dose.panel(), chemical="potassium_hydroxide"))
    for said in (
        "Goggles and gloves",
        "never water onto the solid",
        "rinse",
        "locked away",
        "next portion",
        "500 mL",
    ):
        assert said in text


def test_a_refusal_says_why_and_what_instead_and_no_grams_to_weigh():
    made = filled(dose.panel(), chemical="potassium_hydroxide", days=1.0)
    text = plain(made)
    assert "<ol>" not in made.result.value
    assert "takes the pH to" in text
    assert "43 g of potassium bicarbonate" in text
    assert "Ammonia first" in plain(filled(dose.panel(), tan=6.0))


def test_limestone_hangs_in_a_bag():
    text = plain(filled(dose.panel(), chemical="calcium_carbonate"))
    assert "net bag" in text
    assert "Right after the first portion" not in text


def test_an_element_that_was_not_tested_is_said_to_count_as_none():
    iron = {"goal": "Fe", "chemical": "fe_dtpa", "strength": 0.11, "ph": 6.4}
    made = filled(dose.panel(), **iron)
    assert "counts as none" in plain(made)
    assert "counts as none" not in plain(filled(made, element=0.5, stock=50.0))
    assert "of the solution" in plain(made)


def test_only_what_matters_is_asked():
    made = dose.panel()
    assert {"alkalinity", "to_alkalinity", "tan", "calcium", "potassium"} <= shown(made)
    assert not {"to_ph", "element", "crop", "chlorine", "vessel_volume"} & shown(made)
    filled(made, goal="Fe", chemical="fe_dtpa", strength=0.11)
    assert shown(made) >= {"element", "to_element", "ph"}
    assert not {"alkalinity", "to_alkalinity", "tan", "crop"} & shown(made)
    filled(made, goal="Cl", chemical="sodium_chloride")
    assert {"crop", "conductivity"} <= shown(made)
    # Only the reagent that is an acid asks what the water can take.
    filled(made, goal="chlorine", chemical="thiosulfate_pentahydrate")
    assert not {"ph", "alkalinity"} & shown(made)
    filled(made, goal="chlorine", chemical="ascorbic_acid")
    assert {"ph", "alkalinity", "temperature"} <= shown(made)


@pytest.mark.parametrize("setting", ["home", "school"])
@pytest.mark.parametrize("into", ["loop", "vessel"])
@pytest.mark.parametrize("goal", request.GOALS)
def test_every_chemical_that_is_offered_has_an_answer_with_its_cautions(goal: str, into: str, setting: str):
    made = filled(dose.panel(), goal=goal, into=into, setting=setting)
    offered = [key for _, key in made.fields["chemical"].list.options]
    assert offered
    assert made.values["chemical"] in (dose.FIRST[goal], dosing.MILDEST_BASE)
    for key in offered:
        lowers = key.endswith(("acid", "acid_monohydrate")) and key != "ascorbic_acid"
        filled(made, chemical=key, to_alkalinity=30.0 if lowers else 71.4)
        assert made.values["chemical"] == key
        assert made.problems.value == ""
        text = plain(made)
        assert ("Never:" in text) or "<ol>" not in made.result.value
        if "<ol>" in made.result.value:
            assert re.search(r"\btest", text, re.IGNORECASE)
            assert "Keep it" in text
            assert ("rinse with running water" in text) == ("hydroxide" in key or lowers)
            assert ("Goggles and gloves" in text or "goggles and gloves on" in text) == (
                "hydroxide" in key or lowers
            )
        assert not (lowers and into == "loop")
        assert not (setting == "school" and ("hydroxide" in key or lowers))


@pytest.mark.parametrize("strength", [1.0, 0.11])
def test_a_chelate_is_told_by_its_iron_whichever_the_label_states(strength: float):
    text = plain(filled(dose.panel(), goal="Fe", chemical="fe_dtpa", ph=6.4, strength=strength))
    assert "of 11 %" in text


def test_a_chelate_at_the_edge_of_its_ph_is_said_to_let_go():
    iron = {"goal": "Fe", "chemical": "fe_dtpa"}
    assert "lets go of its iron within days" in plain(filled(dose.panel(), **iron, ph=6.8))
    assert "lets go" not in plain(filled(dose.panel(), **iron, ph=6.4))
    assert "its end is pH 7" in plain(filled(dose.panel(), **iron, ph=7.2))


def test_a_school_hears_what_is_left_out_and_what_to_take_instead():
    made = filled(dose.panel(), chemical="potassium_hydroxide", setting="school")
    assert made.values["chemical"] == "potassium_bicarbonate"
    assert "left out" in plain(made)
    assert "left out" not in plain(filled(made, setting="home"))


def test_acid_is_offered_for_the_vessel_alone_and_aired_and_tested():
    made = filled(
        dose.panel(),
        into="vessel",
        chemical="hydrochloric_acid",
        alkalinity=250.0,
        to_alkalinity=75.0,
        ph=7.6,
    )
    made.fields["vessel_volume"].box.value = "1000 L"
    text = plain(made)
    for said in (
        "never into the loop",
        "kills fish",
        "12 to 24 hours",
        "acid into water",
        "two tests",
        "bleach",
    ):
        assert said in text
    filled(made, into="loop")
    assert made.values["chemical"] == "potassium_bicarbonate"


def test_any_unit_and_basis_is_read():
    made = dose.panel()
    for text, mg_l in (("4 dKH", 71.39), ("1.4266 meq/L", 71.39), ("71.39 mg/L CaCO3", 71.39)):
        made.fields["to_alkalinity"].box.value = text
        assert made.values["to_alkalinity"] == pytest.approx(mg_l, rel=1e-3)
    for text, as_n in (
        ("1", 1.0),
        ("1.2159 NH3", 1.0),
        ("1.2879 mg/L as NH4", 1.0),
        ("2 N", 2.0),
        ("", None),
    ):
        made.fields["tan"].box.value = text
        expected = None if as_n is None else pytest.approx(as_n, rel=1e-3)
        assert made.values["tan"] == expected
    made.fields["tan"].box.value = "two NH3"
    assert made.fields["tan"].problem is not None


def test_spoons_of_the_shelf_are_told_and_else_how_to_come_by_them():
    mine = desk.open_desk("demo:yard")
    made = filled(dose.panel(mine), alkalinity=36.0, to_alkalinity=40.0, ph=6.6)
    assert "spoon" in plain(made)
    assert "level spoon of it once" not in plain(made)
    assert "level spoon of it once" in plain(dose.panel())
    assert "(4 spoons)" in plain(filled(dose.panel(), spoon=5.3))
    assert "99 %" in plain(made)


def test_whose_turn_it_is_follows_the_readings():
    assert "Next a potassium base" in plain(filled(dose.panel(), potassium=30.0, calcium=60.0))
    assert "Next a calcium base" in plain(filled(dose.panel(), potassium=150.0, calcium=60.0))
    assert "brings more than 100 mg/L of calcium" in plain(filled(dose.panel(), tap_calcium=140.0))
    assert "No potassium base and no calcium base" in plain(
        filled(dose.panel(), tap_calcium=140.0, potassium=240.0)
    )


def test_how_much_a_week_is_by_the_growers_readings_where_there_are_some():
    mine = desk.open_desk("demo:yard")
    text = plain(filled(dose.panel(mine), alkalinity=36.0, ph=6.6))
    assert "by your own alkalinity readings" in text
    assert "The feed alone" in text
    mine.log = None
    text = plain(filled(dose.panel(mine), alkalinity=36.0, ph=6.6))
    assert "How much a week: about" in text
    assert "by the feed alone" in text


def test_chlorine_of_a_strip_is_not_trusted_and_the_supplier_is():
    made = dose.panel(desk.open_desk("demo:yard"))
    filled(made, goal="chlorine", into="vessel")
    assert made.values["chlorine"] == desk.open_desk("demo:yard").garden.top_up.chlorine_max_mg_l
    assert "no proof" in plain(made)
    assert "Nobody told" in plain(filled(made, chlorine=0.0))


def test_it_follows_the_reading_above_and_says_what_that_did_not_tell():
    mine = desk.open_desk("demo:yard")
    above = reading.panel(mine)
    made = dose.panel(mine, above)
    assert above.told is not None
    given = above.told.answer.judgement.given
    assert made.values["alkalinity"] == pytest.approx(given.value("alkalinity"), rel=0.005)
    assert made.values["ph"] == given.value("ph")
    assert "Nothing to give: 200 mg/L CaCO3" in plain(made)
    typed = {"tan": "0.2 N", "ph": "6.4", "kh": "1 dKH", "temp": "77 F", "nitrite": "", "nitrate": ""}
    for name, text in typed.items():
        above.fields[name].set(text)
    above.refresh()
    action = next(one for one in above.told.answer.actions if one.goods is not None)
    assert action.goods is not None
    assert f"first {words.quantity(action.goods.grams, 'dose', mine.reader)}".replace(
        words.NO_BREAK_SPACE, " "
    ) in plain(made)
    above.fields["tan"].box.value = ">4 NH4"
    assert "past the end of its kit" in made.whence.value
    assert "No: ammonia of 3.1 mg/L as N" in plain(made)
    above.fields["tan"].box.value = ""
    assert made.values["tan"] is None
    assert "look at what stands here: ammonia (TAN)" in made.whence.value


def test_another_tank_without_litres_gets_no_portion_of_the_garden():
    mine = desk.open_desk("demo:yard")
    above = reading.panel(mine)
    made = dose.panel(mine, above)
    above.fields["whose"].list.value = reading.OTHER
    for name, text in {"ph": "6.4", "kh": "1 dKH", "temp": "25 C"}.items():
        above.fields[name].box.value = text
    assert made.values["volume"] == dose.UNKNOWN_TANK_L
    assert "litres of water and fish" in made.whence.value
    assert "level spoon of it once" in plain(made)
    above.fields["litres"].box.value = "60 L"
    assert made.values["volume"] == 60.0


def test_each_element_has_its_own_aim():
    made = dose.panel()
    for goal, aim in dose.AIMS.items():
        made.fields["goal"].list.value = goal
        assert made.values["to_element"] == aim
        assert made.values["chemical"] == dose.FIRST[goal]
        made.fields["goal"].list.value = "alkalinity"
    assert filled(made, goal="K", to_element=55.0).values["to_element"] == 55.0


def test_what_is_too_little_to_weigh_comes_from_a_solution():
    made = filled(dose.panel(), goal="chlorine", volume=20.0, chlorine=0.5)
    assert "0.07 g is what it takes" in plain(made)
    assert "dissolve 1 g in 1 L of water and take 70 mL" in plain(made)
    assert "too little to weigh" not in plain(filled(made, volume=1000.0))
    base = filled(dose.panel(), volume=10.0)
    assert "too little to weigh" in plain(base)


def test_a_ph_that_is_there_already_is_called_ph():
    text = plain(filled(dose.panel(), goal="ph", ph=7.4, to_ph=6.8))
    assert "Nothing to give: pH 7.4 is there, pH 6.8 is wished" in text


def test_a_school_hears_of_bases_only_where_a_base_is_asked_for():
    assert "left out" not in plain(filled(dose.panel(), goal="Mg", setting="school"))


def test_a_garden_fills_the_blanks():
    mine = desk.open_desk("demo:yard")
    made = dose.panel(mine)
    assert made.values["species"] == mine.garden.fish[0].species
    assert made.values["setting"] == mine.garden.site.setting
    assert made.values["crop"] in {plan.crop for plan in mine.garden.crops}


def test_water_that_cannot_be_is_refused_with_a_sentence():
    made = filled(dose.panel(), ph=9.8, alkalinity=0.5)
    assert "No water has this pH" in made.problems.value
