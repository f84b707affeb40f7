"""The panel under a reading: what is done to its water, before and after, in step with the reading above."""

import re

import pytest

from aquacalc import kits, words
from aquacalc.advice.reading import fish
from aquacalc.charts.canvas import WIDTHS
from aquacalc.garden.model import KitScale
from aquacalc.pages.kit import scale_of
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.water import reading, what_if
from aquacalc.panels.water.reading import ReadingPanel


def panels(name: str = "", **typed: str) -> tuple[ReadingPanel, Panel]:
    opened = desk.open_desk(name) if name else None
    above = reading.panel(opened)
    below = what_if.panel(above, opened)
    for field, text in {**dict.fromkeys(reading.READINGS, ""), **typed}.items():
        above.fields[field].set(text)
    above.refresh()
    return above, below


def said(panel: Panel) -> str:
    text = re.sub(r"<svg.*?</svg>", "", panel.result.value, flags=re.DOTALL)
    return text.replace(words.NO_BREAK_SPACE, " ")


def kits_of(name: str) -> KitScale:
    return scale_of(desk.open_desk(name).garden, "tan")


def rows(panel: Panel) -> list[list[str]]:
    found = re.findall(r"<tr>(.*?)</tr>", said(panel), re.DOTALL)
    return [re.sub(r"<[^>]*>", "|", row).replace("||", "|").strip("|").split("|") for row in found[1:]]


READ = {"tan": "1.5 N", "ph": "7.6", "temp": "26 C", "kh": "120 mg/L CaCO3"}


def test_each_deed_has_its_row_under_the_water_as_read():
    _, below = panels(**READ)
    names = [row[0] for row in rows(below)]
    assert names[0] == "as read, nothing done"
    assert names[1:] == [
        "Potassium bicarbonate, alkalinity up by 20 mg/L CaCO3",
        "strong air, carbon dioxide down to 3 mg/L",
        "5 °C warmer",
        "25 % changed for the new water, treated and as warm",
        "all of them: change, warmth, base, air",
    ]
    assert "act from 0.025" in said(below)


def test_it_follows_the_reading_above():
    above, below = panels(**READ)
    before = rows(below)[0]
    above.fields["ph"].box.value = "7.0"
    assert rows(below)[0] != before
    assert rows(below)[0][1] == "7.0"


def test_a_refused_reading_leaves_the_what_ifs_of_the_last_good_one():
    above, below = panels(**READ)
    before = below.result.value
    above.fields["ph"].box.value = "seven"
    assert below.result.value == before


def test_the_title_names_what_passes_the_line():
    above, below = panels(**READ | {"tan": "0.7 N"})
    assert "Not now: strong air would take" in said(below)
    above.fields["fish"].list.value = "warm"
    assert "None of these takes" in said(below)
    above.fields["tan"].box.value = "5 N"
    assert "Ammonia first" in said(below)


def test_a_moved_slider_and_a_typed_amount_say_the_same():
    _, first = panels(**READ)
    _, second = panels(**READ)
    first.fields["rise"].slider.value = 30.0
    second.fields["rise"].box.value = "30"
    assert first.result.value == second.result.value
    assert "up by 30 mg/L" in said(first)


def test_what_cannot_be_read_stands_under_its_field_and_the_answer_stays():
    _, below = panels(**READ)
    before = below.result.value
    below.fields["share"].box.value = "200 %"
    assert "aq-problem" in below.fields["share"].sentence.value
    assert below.result.value == before
    assert "aq-old" in below.result._dom_classes


def test_without_alkalinity_it_asks_for_it_and_still_shows_the_map():
    _, below = panels(tan="1.5 N", ph="7.6", temp="26 C")
    assert "Write alkalinity (KH) above" in said(below)
    assert "<svg" in below.result.value


@pytest.mark.parametrize("typed", [{"ph": "7", "kh": "4 dKH"}, {"ph": "7", "kh": "4 dKH", "tan": "0 N"}])
def test_without_ammonia_the_map_is_an_example_and_says_so(typed: dict[str, str]):
    _, below = panels(**typed)
    assert "drawn for 1 mg/L as N of ammonia, as an example: none was read" in said(below)
    assert below.result.value.count("<svg") == len(WIDTHS)
    assert "<table" in below.result.value
    assert ("Test ammonia as well" in said(below)) == ("tan" not in typed)


def test_where_the_kit_reads_nothing_the_map_is_of_its_smallest_step():
    _, below = panels("demo:classroom", tan="0", ph="7", kh="4 dKH", temp="22 C")
    scale = kits_of("demo:classroom")
    smallest = min(step for step in scale.steps if step > 0.0)
    inside = words.number(kits.as_inside(smallest, scale) or 0.0)
    assert f"drawn for {inside} mg/L as N of ammonia, the smallest step of your kit" in said(below)
    assert "Small dots" not in below.result.value
    above = panels("demo:classroom", **READ)[1]
    assert "drawn for" not in said(above)
    assert "Small dots" in above.result.value


def test_readings_that_do_not_go_together_are_to_be_repeated():
    for typed in ({"ph": "9.8", "kh": "0.2 dKH"}, {"ph": "4.2", "kh": "10 dKH"}):
        _, below = panels(tan="1 N", temp="20 C", **typed)
        assert "pH and alkalinity do not go together" in said(below)
        assert "<table" not in below.result.value


def test_too_much_lye_is_spoken_against():
    _, below = panels(tan="0.2 N", ph="6.8", temp="24 C", kh="40 mg/L CaCO3")
    below.fields["chemical"].list.value = "potassium_hydroxide"
    assert "more than the carbon dioxide in the water can take" in said(below)


def test_the_gardens_top_up_water_stands_in_the_fields():
    _, below = panels("demo:yard", **READ)
    top_up = desk.open_desk("demo:yard").garden.top_up
    assert below.values["new_ph"] == top_up.ph
    assert below.values["new_alkalinity"] == top_up.alkalinity_mg_l


def test_it_works_for_the_fish_and_units_of_each_demo():
    for name in ("yard", "greenhouse", "classroom", "southern"):
        above, below = panels(f"demo:{name}", tan="1", ph="7.2", kh="3 dKH", temp="20 C")
        assert below.problems.value == ""
        assert above.told is not None
        assert above.told.answer.judgement.given.species[0].key not in fish.WARMTH
        assert len(rows(below)) == 6


def test_another_tank_does_not_have_the_gardens_top_up_water():
    above, below = panels("demo:yard", **READ)
    top_up = desk.open_desk("demo:yard").garden.top_up
    above.fields["whose"].list.value = reading.OTHER
    assert below.values["new_ph"] != top_up.ph
    assert below.values["new_alkalinity"] != top_up.alkalinity_mg_l
    above.fields["whose"].list.value = reading.OWN
    assert below.values["new_ph"] == top_up.ph


def test_air_that_has_no_more_to_drive_out_says_so():
    _, below = panels(**READ | {"ph": "8.2"})
    assert "strong air, carbon dioxide is less than 3 mg/L already" in said(below)
    assert "down to" not in said(below)
