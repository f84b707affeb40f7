"""Changes of water: enough of them and not one too many, large against small, what else moves."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.errors import InputError
from aquacalc.panels.frame.desk import open_desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.water import change_water
from aquacalc.water import salts
from aquacalc.words import NO_BREAK_SPACE


@pytest.fixture
def panel() -> Panel:
    return change_water.panel()


def plain(markup: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", markup)).replace(NO_BREAK_SPACE, " ")


def type_in(panel: Panel, **texts: str) -> None:
    for name, text in texts.items():
        panel.fields[name].box.value = text


@given(st.floats(1.0, 500.0), st.floats(0.01, 0.99), st.floats(0.0, 0.9), st.floats(0.02, 0.5))
def test_the_changes_reach_the_target_and_one_fewer_does_not(now, way, new_share, share):
    new = now * new_share
    target = now - (now - new) * way
    times = salts.changes_for(now, target, new, share)
    assert salts.after_changes_mg_l(now, new, share, times) <= target * (1.0 + 1e-6)
    assert salts.after_changes_mg_l(now, new, share, times - 1) >= target * (1.0 - 1e-6)


@pytest.mark.parametrize(
    ("now", "target", "new"), [(60.0, 30.0, 30.0), (60.0, 20.0, 30.0), (20.0, 30.0, 0.0)]
)
def test_a_target_beyond_the_new_water_is_refused(now, target, new):
    with pytest.raises(InputError):
        salts.changes_for(now, target, new, 0.25)


def test_small_changes_take_more_water(panel: Panel):
    ways = panel.compute(panel.values).ways
    assert [one.share for one in ways] == sorted(one.share for one in ways)
    assert ways[0].litres > ways[-1].litres


def test_the_panel_says_it_in_words(panel: Panel):
    assert "3 changes of 25 %, 250 L each and 750 L in all, bring it to 25 mg/L" in plain(panel.result.value)
    type_in(panel, share="50 %")
    assert "One change of 50 %" in plain(panel.result.value)


def test_cold_new_water_and_a_rising_ph_are_warned_of(panel: Panel):
    type_in(panel, warm="25", new_warm="12", ph="6.4", alkalinity="20", new_ph="8", new_alkalinity="180")
    text = plain(panel.result.value)
    assert "more than 1 °C in an hour" in text
    assert "pH rises to" in text
    assert "ammonia gets more poisonous" in text


def test_waters_of_one_kind_keep_their_ph(panel: Panel):
    type_in(panel, warm="25", new_warm="25", ph="7.2", alkalinity="80", new_ph="7.2", new_alkalinity="80")
    found = panel.compute(panel.values)
    assert found.ph == pytest.approx(7.2, abs=1e-3)
    assert found.warm_c == 25.0


@pytest.mark.parametrize(
    ("texts", "sentence"),
    [
        ({"target": "60"}, "there already"),
        ({"new": "40"}, "cannot bring it there"),
        (
            {"warm": "25", "ph": "4.1", "alkalinity": "300", "new_ph": "10", "new_alkalinity": "5"},
            "does not exist",
        ),
    ],
)
def test_what_cannot_be_has_one_sentence_and_the_old_answer(
    panel: Panel, texts: dict[str, str], sentence: str
):
    type_in(panel, **texts)
    assert sentence in plain(panel.problems.value)
    assert "3 changes of" in plain(panel.result.value)


def test_only_nitrate_has_a_bed_in_place_of_it(panel: Panel):
    assert "leaf lettuce" in plain(panel.result.value)
    panel.fields["what"].list.value = "chloride"
    assert "leaf lettuce" not in plain(panel.result.value)


def test_a_garden_fills_its_water():
    desk = open_desk("demo:yard")
    assert change_water.panel(desk).values["new_ph"] == desk.garden.top_up.ph
