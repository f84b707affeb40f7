"""Panels for trouble: each answers alone, follows the garden, and says the steps beneath its number."""

import re
from collections.abc import Callable

import pytest

from aquacalc import words
from aquacalc.advice import triage as advice
from aquacalc.hydraulics import leaks
from aquacalc.panels import away, chlorine_in, desk, leak, spell, triage
from aquacalc.panels.desk import Desk
from aquacalc.panels.frame import Panel

ALL: dict[str, Callable[[Desk | None], Panel]] = {
    "triage": triage.panel,
    "leak": leak.panel,
    "chlorine": chlorine_in.panel,
    "heat": lambda mine: spell.panel("heat", mine),
    "cold": lambda mine: spell.panel("cold", mine),
    "away": away.panel,
}


@pytest.fixture(scope="module")
def mine() -> Desk:
    return desk.open_desk("demo:yard")


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace(words.NO_BREAK_SPACE, " ")


@pytest.mark.parametrize("name", ALL)
def test_a_panel_answers_with_and_without_a_garden(name: str, mine: Desk):
    for at_hand in (None, mine):
        made = ALL[name](at_hand)
        assert 'role="status"' in made.result.value
        assert made.problems.value == ""


@pytest.mark.parametrize("name", ALL)
def test_a_box_that_refuses_keeps_the_last_answer(name: str):
    made = ALL[name](None)
    answer = made.result.value
    field = next(field for field in made.fields.values() if hasattr(field, "box"))
    field.box.value = "five"
    assert made.result.value == answer
    assert made.problems.value != ""


def test_every_sign_of_the_list_is_answered_at_once(mine: Desk):
    for at_hand in (None, mine):
        made = triage.panel(at_hand)
        for label, sign in made.fields["sign"].list.options:
            made.fields["sign"].list.value = sign
            text = plain(made.result.value)
            assert text.strip().startswith(f"{label}: do this now")
            assert text.index("Do now") < text.index("Then measure") < text.index("Never")


def test_leaves_ask_for_no_numbers():
    made = triage.panel()
    made.fields["sign"].list.value = "leaf_new_veins"
    assert [n for n, field in made.fields.items() if field.widget.layout.display != "none"] == ["sign"]


def test_litres_and_chlorine_that_are_typed_become_grams():
    made = triage.panel()
    assert "Change a third of the water: first treated" in plain(made.result.value)
    made.fields["chlorine"].box.value = "2"
    made.fields["water"].box.value = "1500"
    assert "500 L. Into the new water first: 7 g of" in plain(made.result.value)


def test_the_garden_fills_the_fields_and_its_time_goes_with_its_fish(mine: Desk):
    made = triage.panel(mine, "power_out")
    assert made.fields["sign"].value == "power_out"
    assert made.values["chlorine"] == mine.garden.top_up.chlorine_max_mg_l
    assert "You have" in plain(made.result.value)
    made.fields["species"].list.value = "goldfish"
    assert "Count in minutes" in plain(made.result.value)


def test_an_oxygen_reading_is_judged_for_the_fish():
    made = triage.panel()
    made.fields["species"].list.value = "rainbow_trout"
    made.fields["oxygen"].box.value = "3"
    assert "By your reading: emergency" in plain(made.result.value)


def test_a_leak_that_is_filled_as_fast_lasts_without_end():
    made = leak.panel()
    made.fields["water"].box.value = "300 L"
    made.fields["loss"].box.value = "2 L/min"
    assert "The water lasts 2.5 hours" in plain(made.result.value)
    made.fields["inflow"].box.value = "2 L/min"
    assert "the water stays" in plain(made.result.value)


def test_a_small_loss_may_be_plants_and_sun():
    made = leak.panel()
    low, high = leaks.usual_loss_l_day(1000.0)
    made.fields["loss"].box.value = f"{low} L/day"
    assert "may be no leak" in plain(made.result.value)
    made.fields["loss"].box.value = f"{high + 1} L/day"
    assert "it is a leak" in plain(made.result.value)


def test_chlorine_that_ran_in_is_said_as_grams_and_in_the_loop():
    made = chlorine_in.panel()
    made.fields["chlorine"].box.value = "1.5"
    made.fields["ran_in"].box.value = "150"
    made.fields["water"].box.value = "1500"
    text = plain(made.result.value)
    # 150 L at 1.5 mg/L are 0.225 g of chlorine, 7 g for each gram; mixed into 1500 L it is 0.15 mg/L.
    assert "1.6 g of Sodium thiosulfate pentahydrate against what ran in" in text
    assert "it would be 0.15 mg/L of chlorine" in text
    made.fields["chlorine"].box.value = "0"
    assert "Ask the supplier" in plain(made.result.value)


def test_trout_in_a_hot_spell_and_the_ice_that_holds_them():
    made = spell.panel("heat")
    text = plain(made.result.value)
    assert "emergency for these fish" in text or "act today for these fish" in text
    assert "frozen bottles of 2 L" in text
    made.fields["walls"].list.value = "wrapped"
    assert "frozen bottle" not in plain(made.result.value)


def test_water_that_is_over_the_line_already_says_so():
    made = spell.panel("heat")
    made.fields["water"].box.value = "24 °C"
    assert "already" in plain(made.result.value)
    cold = spell.panel("cold")
    cold.fields["water"].box.value = "10 °C"
    assert "already: no feed" in plain(cold.result.value)


def test_spare_water_for_a_fortnight():
    made = away.panel()
    made.fields["water"].box.value = "1500 L"
    text = plain(made.result.value)
    assert "lasts 1.8 to 5.3 days: somebody has to top up" in text
    made.fields["spare"].box.value = "700 L"
    assert "longer than you are away" in plain(made.result.value)


def test_the_panels_say_the_steps_of_their_sign(mine: Desk):
    for name, sign in {"leak": "leak", "chlorine": "chlorine_in", "heat": "heat", "cold": "cold"}.items():
        first = advice.of(sign).never[0]
        assert words.say(first, words.Reader()) in plain(ALL[name](mine).result.value)
