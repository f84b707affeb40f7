"""The panel about top-up water: six questions, each with and without a garden, in any unit."""

import re
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest
import seasons

from aquacalc import words
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.trouble import chlorine_in
from aquacalc.panels.water import top_up_water

QUESTIONS = tuple(top_up_water.ASKED)
GARDENS = ("yard", "greenhouse", "classroom", "southern")


def filled(made: Panel, **values: Any) -> Panel:
    for name, value in values.items():
        made.fields[name].set(value)
    made.refresh()
    return made


def plain(made: Panel) -> str:
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", made.result.value))
    return text.replace(words.NO_BREAK_SPACE, " ")


def shown(made: Panel) -> set[str]:
    return {name for name, field in made.fields.items() if field.widget.layout.display != "none"}


@pytest.fixture(scope="module", params=GARDENS)
def of_garden(request: pytest.FixtureRequest) -> Panel:
    return top_up_water.panel(desk.open_desk(f"demo:{request.param}"))


@pytest.mark.parametrize("question", QUESTIONS)
def test_each_question_has_an_answer_with_a_garden(of_garden: Panel, question: str):
    text = plain(filled(of_garden, question=question))
    assert of_garden.problems.value == ""
    assert "falls through the air" in text or "fall through the air" in text
    assert not re.search(r"\b(nan|inf)\b", text)


@pytest.mark.parametrize("question", QUESTIONS)
def test_each_question_asks_its_own_numbers_and_ends_with_the_air_gap(question: str):
    made = filled(top_up_water.panel(), question=question)
    text = plain(made)
    assert shown(made) == set(top_up_water.asked(made.values))
    left_out = {"ph", "temperature", "species"} if question == "treat" else set()
    assert set(top_up_water.ASKED[question]) - left_out <= shown(made)
    assert "Let the water fall through the air" in text
    assert "local plumbing code" in text
    assert not re.search(r"\b(nan|inf)\b", text)


def test_a_question_begins_with_what_it_needs_and_asks_more_where_that_matters():
    made = top_up_water.panel()
    assert not {"ph", "temperature", "species"} & shown(made)
    assert {"ph", "temperature", "species"} <= shown(filled(made, tan=1.0))
    assert shown(filled(made, told="none")) == {"question", "told"}


def test_what_is_too_little_to_weigh_comes_from_a_solution():
    made = filled(top_up_water.panel(), told="chlorine", chlorine=0.4, new=20.0, strength=1.0)
    assert "56 mL" in plain(made)
    assert "too little to weigh" in plain(made)
    assert "too little to weigh" not in plain(filled(made, new=500.0))


def test_the_garden_fills_the_blanks():
    mine = desk.open_desk("demo:yard")
    made = top_up_water.panel(mine)
    assert made.values["told"] == mine.garden.top_up.disinfectant
    assert made.values["chlorine"] == mine.garden.top_up.chlorine_max_mg_l
    assert max(made.values["daily"]) == made.values["daily"][5]
    assert made.values["planted"] == sum(plan.area_m2 for plan in mine.garden.crops)
    assert made.values["feed"][6] > made.values["feed"][0]
    assert made.values["start"] == mine.garden.season.start
    # The last reading of its log.
    assert made.values["now"] == 200.0


def test_not_knowing_what_the_supplier_adds_is_treated_as_chloramine():
    text = plain(top_up_water.panel())
    assert "2.8 g of Sodium thiosulfate pentahydrate" in text
    assert "Nobody knows yet" in text
    assert "Standing is no treatment" in text
    assert "sets ammonia free" in text


def test_a_bucket_test_turns_what_was_told():
    made = filled(top_up_water.panel(), told="chlorine")
    assert "treated as chlorine." in plain(made)
    assert "in full summer sun" in plain(made)
    filled(made, bucket_ammonia=0.5)
    assert "treated as chloramine." in plain(made)
    assert "differ" in plain(made)


def test_a_strip_is_no_proof_and_a_fine_test_is():
    made = top_up_water.panel()
    assert "A clear test proves nothing here" in plain(made)
    assert "proof for 10 L" in plain(made)
    assert "proof enough" in plain(filled(made, test_limit=0.02))


def test_what_is_there_already_counts_with_what_the_reagent_frees():
    made = filled(top_up_water.panel(), tan=1.0, ph=8.4)
    assert "passes the line from which to act" in plain(made)


def test_a_well_has_nothing_to_treat():
    assert "Nothing to treat" in plain(filled(top_up_water.panel(), told="none"))


def test_more_new_water_than_the_loop_is_one_clear_sentence():
    made = filled(top_up_water.panel(), new=3000.0)
    assert "3000 L of new water is more than all the water that circulates" in made.problems.value
    assert "aq-old" in made.result._dom_classes


def test_the_garden_s_water_by_month_and_litres_that_were_counted():
    made = filled(top_up_water.panel(desk.open_desk("demo:southern")), question="daily")
    assert shown(made) == {"question", "weather", "counted"}
    assert "a day in January" in plain(made)
    assert "You counted 30 L a day" in plain(filled(made, counted=210.0))
    filled(made, weather="hot-dry")
    assert "open" in shown(made)


def test_a_hard_year_says_what_moves_it_and_what_no_exchange_does():
    made = filled(top_up_water.panel(), question="year", sodium=80.0, conductivity=500.0)
    text = plain(made)
    assert "What moves this most" in text
    assert "no exchange does: rain water or reverse osmosis" in text
    assert "µS/cm" in text
    assert "line_alkalinity" in shown(made)
    filled(made, hold="sodium", line_sodium=100.0)
    assert {"line_sodium"} == {name for name in shown(made) if name.startswith("line_")}
    assert "no exchange does" not in plain(made).split("sodium 80")[1].split("conductivity")[0]


def test_a_year_in_which_all_is_used_up_asks_for_tests():
    text = plain(filled(top_up_water.panel(), question="year", feed=(300.0,) * 12))
    assert "alkalinity used up" in text
    assert "pH falls and the filter stops" in text


def test_a_plan_for_hard_water_has_dates_of_tests_and_no_dose_by_a_date():
    made = filled(
        top_up_water.panel(), question="plan", start=date(2027, 4, 1), feed=(150.0,) * 12, daily=(10.0,) * 12
    )
    text = plain(made)
    assert "Alkalinity comes down from 210 mg/L CaCO3 to 80 mg/L CaCO3 from" in text
    assert "Test alkalinity and pH from 1 April 2027 on: 1 Apr" in text
    assert "Nothing is dosed by a date" in text
    assert "If two tests in a row do not fall" in text
    assert "grams" not in text
    assert "not within a year" in plain(filled(made, feed=(0.0,) * 12))
    assert "nothing left to wait for" in plain(filled(made, now=50.0))


def test_the_plan_of_a_hard_garden_agrees_with_its_season():
    made = top_up_water.panel(desk.open_desk("demo:yard/before"))
    filled(made, question="plan", now=170.0)
    run = seasons.season("yard/before")
    middle = np.median(run.daily["alkalinity_mg_l"], axis=0)
    # For good: lime that settles in spring takes it near the line for some days before.
    above = np.flatnonzero(middle[:200] > 80.0)
    reached = run.first + timedelta(days=int(above[-1]) + 1)
    found = made.compute(made.values).reaches[0]
    assert abs((found.middle - reached).days) < 30


def test_the_grower_s_own_fall_goes_first_and_both_are_shown():
    made = filled(top_up_water.panel(), question="plan", seen=20.0)
    assert "By your own tests it falls by 20 mg/L CaCO3 a week" in plain(made)
    assert "By the feed it" in plain(made)


def test_a_mixture_in_litres_with_its_salts():
    text = plain(filled(top_up_water.panel(), question="mix"))
    assert "36 L of the first water and 64 L of the second (64 %)" in text
    assert "hardness 91 mg/L CaCO3 and sodium 7.8 mg/L" in text
    assert "No mixture" in plain(filled(top_up_water.panel(), question="mix", wished=300.0))


@pytest.mark.parametrize("kind", top_up_water.ROOFS)
def test_every_roof_has_its_sentence_and_the_barrel_its_months(kind: str):
    text = plain(filled(top_up_water.panel(), question="rain", roof_kind=kind))
    assert words.say(f"panel-top-up-roof-{kind}", words.Reader()) in text
    assert text.count("15 days") == 12
    assert "needs buffer" in text


def test_a_barrel_that_lasts_says_so():
    made = filled(top_up_water.panel(), question="rain", barrel=5000.0, roof=40.0)
    assert "does not run dry" in plain(made)


def test_one_number_or_twelve_in_any_unit():
    made = filled(top_up_water.panel(), question="rain")
    box = made.fields["daily"].box
    box.value = "10 US gal"
    assert made.values["daily"] == pytest.approx((37.8541,) * 12)
    box.value = "1; 2; 3; 4; 5; 6; 7; 8; 9; 10; 11; 12,5"
    assert made.values["daily"] == (*range(1, 12), 12.5)
    for wrong, said in (("1; 2; 3", "twelve"), ("-4", "outside"), ("much", "cannot be read")):
        box.value = wrong
        assert said in made.problems.value + made.fields["daily"].sentence.value
        assert made.values["daily"] == (*range(1, 12), 12.5)


def test_no_rain_and_more_let_out_than_comes_in_are_refused_with_a_sentence():
    made = filled(top_up_water.panel(), question="rain", rain=(0.0,) * 12)
    assert "no rain falls in any month" in made.problems.value
    made = filled(top_up_water.panel(), question="year", discharge=30.0)
    assert "more is let out each day (30 L) than is topped up (20 L)" in made.problems.value


def test_chlorine_that_ran_in_ends_with_the_air_gap_and_a_range_of_ammonia():
    text = plain(chlorine_in.panel(desk.open_desk("demo:yard")))
    assert "Let the water fall through the air" in text
    assert re.search(r"If it was chloramine, [0-9.]+ to [0-9.]+ mg/L as N", text)
