"""The panel that judges a reading: with and without a garden, by its kit, and with what cannot be read."""

from aquacalc import words
from aquacalc.panels import desk, reading
from aquacalc.panels.desk import Desk
from aquacalc.panels.frame import Panel


def put(panel: Panel, **typed: str) -> str:
    for name, text in {**dict.fromkeys(reading.READINGS, ""), **typed}.items():
        panel.fields[name].set(text)
    panel.refresh()
    return panel.result.value


def test_it_answers_at_once_without_a_garden():
    panel = reading.panel()
    assert "Status: act today" in panel.result.value
    assert panel.problems.value == ""


def test_a_typed_reading_is_judged():
    panel = reading.panel()
    panel.fields["oxygen"].box.value = "2"
    assert "Status: emergency" in panel.result.value
    assert "<ol><li>Air now" in panel.result.value


def test_the_gardens_kit_counts_and_its_label_says_so():
    mine = Desk(desk.open_desk("demo:classroom").file)
    panel = reading.panel(mine)
    assert "NH3" in panel.fields["tan"].label
    assert "Goldfish" in panel.result.value
    said = put(panel, tan="0", ph="6.2", kh="1", temp="20")
    assert "Potassium bicarbonate: 4.3" in said


def test_fish_and_litres_can_be_chosen():
    panel = reading.panel()
    panel.fields["fish"].set("nile_tilapia")
    said = put(panel, chlorine="0.5", litres="2000")
    assert "Nile tilapia" in said
    assert "7" + words.NO_BREAK_SPACE + "g" in said


def test_what_cannot_be_read_keeps_the_last_answer():
    panel = reading.panel()
    before = panel.result.value
    put(panel, tan="two", ph="14")
    assert panel.result.value == before
    assert "cannot be read as a number" in panel.problems.value
    assert "2 to 12" in panel.problems.value
    put(panel, ph="7")
    assert panel.problems.value == ""


def test_it_follows_the_garden():
    mine = desk.open_desk("demo:yard")
    panel = reading.panel(mine)
    put(panel, tan="1", ph="7", temp="79F")
    mine.put(mine.file.change("fish.0.species", "rainbow_trout"))
    assert "Rainbow trout" in panel.result.value
