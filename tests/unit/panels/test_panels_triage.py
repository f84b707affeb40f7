"""Panels for trouble: each answers alone, follows the garden, and says the steps beneath its number."""

import re
from collections.abc import Callable

import pytest
from widget_tree import widgets_in

from aquacalc import words
from aquacalc.advice import triage as advice
from aquacalc.hydraulics import leaks
from aquacalc.pages import triage_page
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.trouble import away, chlorine_in, leak, spell, triage

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


def whole(panel: Panel) -> str:
    """All that a panel says, in the order in which it stands there."""
    after = panel.after.children[0].value if isinstance(panel, triage.StepsPanel) else ""
    return plain(panel.result.value + after)


def test_every_sign_of_the_list_is_answered_at_once(mine: Desk):
    for at_hand in (None, mine):
        made = triage.panel(at_hand)
        for label, sign in made.fields["sign"].list.options:
            made.fields["sign"].list.value = sign
            text = whole(made)
            first = plain(triage_page.first(advice.triage_of(sign, triage.of_garden(at_hand)), made.reader))
            assert text.strip().startswith(first)
            assert text.index(first) < text.index(f"{label}. Do it in this order")
            assert text.index("Do now") < text.index("Then measure") < text.index("Never")


def test_whoever_is_in_a_hurry_reads_before_typing():
    made = triage.panel()
    order = widgets_in(made)
    assert order.index(made.fields["sign"].widget) < order.index(made.result) < order.index(made.inputs)
    assert made.fields["sign"].widget not in made.inputs.children
    assert made.fields["oxygen"].widget in made.inputs.children


def test_leaves_ask_for_no_numbers():
    made = triage.panel()
    made.fields["sign"].list.value = "leaf_new_veins"
    assert [n for n, field in made.fields.items() if field.widget.layout.display != "none"] == ["sign"]


def test_litres_and_chlorine_that_are_typed_become_grams():
    made = triage.panel()
    assert "Change 25 % of the water: first treated" in plain(made.result.value)
    made.fields["chlorine"].box.value = "2"
    made.fields["water"].box.value = "1500"
    assert "380 L. Into the new water first: 5.2 g of" in plain(made.result.value)


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
    assert "By your reading: emergency" in whole(made)


def typed(made: Panel, **texts: str) -> str:
    for name, text in texts.items():
        field = made.fields[name]
        if hasattr(field, "box"):
            field.box.value = text
        else:
            field.list.value = text
    assert made.problems.value == ""
    return whole(made)


def test_only_what_the_sign_asks_to_measure_can_be_typed():
    made = triage.panel(None, "nitrite_high")
    shown = {name for name, field in made.fields.items() if field.widget.layout.display != "none"}
    assert {"nitrite", "chloride", "tan", "ph", "temp", "oxygen"} <= shown
    assert not {"kh", "total_chlorine"} & shown
    assert "total_chlorine" in triage.asked({"sign": "flashing"})


def test_a_nitrite_that_is_typed_becomes_grams_of_chloride_and_a_level():
    made = triage.panel(None, "nitrite_high")
    assert "Grams: the dose table" in plain(made.result.value)
    text = typed(made, species="channel_catfish", water="1000 L", nitrite="2 N", chloride="10")
    assert "Sodium chloride (plain salt): 49 g" in text
    assert text.index("Do now") < text.index("What your readings say") < text.index("Then measure")
    assert "Nitrite" in text[text.index("What your readings say") :]


def test_ammonia_and_chlorine_that_are_typed_are_judged():
    made = triage.panel(None, "ammonia_high")
    text = typed(made, species="nile_tilapia", tan="4 N", ph="8.4", temp="28 C")
    assert "emergency" in text[text.index("What your readings say") : text.index("Then measure")]
    poisoned = triage.panel(None, "flashing")
    text = typed(poisoned, water="1000 L", total_chlorine="0.5")
    # 0.5 mg/L in 1000 L are 0.5 g of chlorine, 7 g of thiosulfate for each.
    assert "3.5 g" in text[text.index("What your readings say") : text.index("Then measure")]


def test_a_reading_of_another_sign_does_not_count():
    made = triage.panel(None, "ammonia_high")
    typed(made, species="nile_tilapia", tan="4 N")
    made.fields["sign"].list.value = "power_out"
    assert "What your readings say" not in plain(made.result.value)


def test_a_leak_at_the_tank_is_a_clock_of_three_times():
    made = leak.panel()
    text = typed(made, intake="100 L", tank="900 L", loss="10 L/min", where="tank")
    assert "Left running, the pump is dry in 10 minutes" in text
    # 80 % of 900 L at 600 L an hour take 1.2 hours, after the first ten minutes.
    assert "fish lie on their sides 1.4 hours 180 L" in text
    assert "half of the water is gone 50 minutes 500 L" in text
    assert text.index("Do now") < text.index("Water left") < text.index("Then measure")
    assert "<svg" in made.result.value


def test_a_leak_elsewhere_leaves_the_tank_its_water():
    made = leak.panel()
    text = typed(made, intake="100 L", tank="900 L", loss="10 L/min", where="loop")
    assert "the fish keep their water" in text
    assert "fish lie on their sides" not in text
    assert "short of oxygen without air" in text
    assert "900 L" in text


def test_more_fish_are_short_of_oxygen_sooner_and_falling_water_makes_it_sooner_still():
    made = leak.panel()
    values = made.values | {"loss": 600.0, "inflow": 0.0, "intake": 100.0, "tank": 900.0}
    few, many = (made.compute(values | {"kg": kg}).clock.short[0] for kg in (5000.0, 20000.0))
    assert few > many
    elsewhere = made.compute(values | {"kg": 5000.0, "where": "loop"}).clock.short[0]
    assert few < elsewhere


def test_a_leak_that_is_filled_as_fast_lasts_without_end():
    made = leak.panel()
    assert "the water stays" in typed(made, inflow="10 L/min", loss="10 L/min")


def test_a_small_loss_may_be_plants_and_sun():
    made = leak.panel()
    low, high = leaks.usual_loss_l_day(made.values["intake"] + made.values["tank"])
    made.fields["loss"].box.value = f"{low} L/day"
    assert "may be no leak" in whole(made)
    made.fields["loss"].box.value = f"{high + 1} L/day"
    assert "it is a leak" in whole(made)


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


def test_gasping_fish_without_oxygen_are_tested_again_as_soon_as_a_reading_asks_for():
    made = triage.panel(sign="gasping")
    made.fields["oxygen"].box.value = "1.5"
    made.fields["species"].list.value = "channel_catfish"
    assert "Test again in 30 minutes at the latest" in plain(made.result.value)


def test_what_ran_in_stands_over_the_answer_and_the_rest_beneath():
    made = chlorine_in.panel()
    order = widgets_in(made)
    assert order.index(made.fields["ran_in"].widget) < order.index(made.result) < order.index(made.inputs)


def test_steps_for_later_are_not_headed_now():
    made = spell.panel("heat")
    made.fields["species"].list.value = "channel_catfish"
    made.fields["air"].box.value = "20 °C"
    text = plain(made.result.value)
    assert "Nothing has to be done yet" in text
    assert words.say("triage-head-ready", words.Reader()) in text
    assert words.say("triage-head-do", words.Reader()) not in text


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
        first = advice.triage_of(sign).never[0]
        assert words.say(first, words.Reader()) in whole(ALL[name](mine))
