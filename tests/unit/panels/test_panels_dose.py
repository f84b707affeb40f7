"""The sentence with blanks and the top-up panel: answers without a garden, in steps, with what not to do."""

import re

import pytest

from aquacalc import words
from aquacalc.panels import desk, dose, top_up_water
from aquacalc.panels.frame import Panel


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
    assert steps[-1].startswith("Test again")
    assert "Never:" in text
    assert "by date" in text


def test_blanks_take_any_unit():
    made = dose.panel()
    made.fields["volume"].box.value = "158,5 US gal"
    made.fields["to_alkalinity"].box.value = "71.4 mg/L CaCO3"
    assert "43 g of Potassium bicarbonate" in plain(made)


def test_caustics_come_with_goggles_first_aid_and_portions():
    text = plain(filled(dose.panel(), chemical="potassium_hydroxide"))
    for said in ("Goggles and gloves", "never water onto the solid", "rinse", "locked away", "next portion"):
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
    assert {"alkalinity", "to_alkalinity", "tan"} <= shown(made)
    assert not {"to_ph", "element", "crop", "calcium"} & shown(made)
    filled(made, goal="Fe", chemical="fe_dtpa", strength=0.11)
    assert shown(made) >= {"element", "to_element", "ph"}
    assert not {"alkalinity", "to_alkalinity", "tan", "crop"} & shown(made)
    filled(made, goal="Cl", chemical="sodium_chloride")
    assert {"crop", "conductivity"} <= shown(made)


@pytest.mark.parametrize("goal", ["alkalinity", "ph", "Fe", "K", "Ca", "Mg", "Cl"])
def test_every_chemical_with_every_goal_has_an_answer(goal: str):
    made = dose.panel()
    for _, key in made.fields["chemical"].list.options:
        filled(made, goal=goal, chemical=key)
        assert made.problems.value == ""
        assert 'role="status"' in made.result.value


def test_a_garden_fills_the_blanks():
    mine = desk.open_desk("demo:yard")
    made = dose.panel(mine)
    assert made.values["species"] == mine.garden.fish[0].species
    assert made.values["setting"] == mine.garden.site.setting
    assert made.values["crop"] in {plan.crop for plan in mine.garden.crops}
    tap = top_up_water.panel(mine)
    assert tap.values["told"] == mine.garden.top_up.disinfectant
    assert tap.values["chlorine"] == mine.garden.top_up.chlorine_max_mg_l


def test_not_knowing_what_the_supplier_adds_is_treated_as_chloramine():
    text = plain(top_up_water.panel())
    assert "2.8 g of Sodium thiosulfate pentahydrate" in text
    assert "Nobody knows yet" in text
    assert "Standing does not remove it" in text
    assert "sets ammonia free" in text


def test_a_bucket_test_turns_what_was_told():
    made = filled(top_up_water.panel(), told="chlorine")
    assert "treated as chlorine." in plain(made)
    filled(made, bucket_ammonia=0.5)
    assert "treated as chloramine." in plain(made)
    assert "differ" in plain(made)


@pytest.mark.parametrize(
    ("question", "said"),
    [
        ("year", "After a year of this water"),
        ("mix", "64 % of the second water"),
        ("rain", "480 L"),
    ],
)
def test_each_question_asks_its_own_numbers(question: str, said: str):
    made = filled(top_up_water.panel(), question=question)
    assert said in plain(made)
    assert shown(made) == {"question", *top_up_water.ASKED[question]}


def test_no_mixture_and_no_exchange_are_said():
    assert "No mixture" in plain(filled(top_up_water.panel(), question="mix", wished=300.0))
    text = plain(filled(top_up_water.panel(), question="year", sodium=80.0))
    assert "No exchange keeps sodium under" in text


def test_water_that_cannot_be_is_refused_with_a_sentence():
    made = filled(dose.panel(), ph=9.8, alkalinity=0.5)
    assert "No water has this pH" in made.problems.value
