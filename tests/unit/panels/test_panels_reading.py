"""The panel that judges a reading: with and without a garden, by its kit, and with what cannot be read."""

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import pytest

from aquacalc import words
from aquacalc.advice.reading import actions, given
from aquacalc.pages import style
from aquacalc.panels.frame import desk
from aquacalc.panels.frame import panel as frame
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.water import logged, reading
from aquacalc.sentences import reading as sentences


def put(panel: Panel, **typed: str) -> str:
    for name, text in {**dict.fromkeys(reading.READINGS, ""), **typed}.items():
        panel.fields[name.replace("_", "-")].set(text)
    panel.refresh()
    return str(panel.result.value).replace(words.NO_BREAK_SPACE, " ")


def under(panel: Panel, name: str) -> str:
    return str(panel.fields[name].sentence.value)


def test_it_answers_at_once_without_a_garden():
    panel = reading.panel()
    assert 'Status: <span class="level act-today">act today</span>' in panel.result.value
    assert "These readings are an example" in panel.result.value
    assert panel.problems.value == ""


def test_a_typed_reading_is_judged():
    panel = reading.panel()
    panel.fields["oxygen"].box.value = "2"
    assert '<span class="level emergency">emergency</span>' in panel.result.value
    assert "<li>Air now" in panel.result.value
    assert "example" not in panel.result.value


def test_it_says_what_the_command_says():
    typed = {"tan": "3", "ph": "7.9", "temp": "79", "nitrite": "2"}
    garden = desk.open_desk("demo:yard").garden
    found = actions.answer(given.read([f"{name}={text}" for name, text in typed.items()], garden))
    said = put(reading.panel(desk.open_desk("demo:yard")), **typed)
    for text in (*sentences.actions(found, garden.reader), sentences.again(found, garden.reader)):
        assert text.replace(words.NO_BREAK_SPACE, " ").split("“")[0] in said


def test_the_readings_stand_with_the_most_urgent_first():
    said = put(reading.panel(), tan="0 N", ph="7", temp="24", nitrate="300 N", fish="warm")
    table = said.partition("<table>")[2]
    assert table.index("nitrate") < table.index("ammonia (TAN)")


def test_the_gardens_kit_counts_and_its_label_says_so():
    panel = reading.panel(desk.open_desk("demo:classroom"))
    assert "NH3" in panel.fields["tan"].label
    assert "NH3" in panel.fields["tan"].box.description
    said = put(panel, tan="0", ph="6.2", kh="1", temp="20")
    assert "Goldfish" in said
    assert "Potassium bicarbonate: " in said


def test_it_begins_with_the_last_row_of_the_log_and_says_its_day():
    panel = reading.panel(desk.open_desk("demo:classroom"))
    values = panel.values
    assert (values["tan"], values["ph"], values["temp"], values["kh"]) == ("0.2 NH3", "6.2", "22 C", "1")
    assert "the last row of the garden's log, of 30 August 2027" in panel.result.value
    assert panel.told is not None
    assert panel.told.logged == date(2027, 8, 30)
    panel.fields["ph"].box.value = "6.4"
    assert "garden's log" not in panel.result.value
    assert panel.told.logged is None


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_what_stands_in_the_fields_is_what_the_log_holds(name: str):
    opened = desk.open_desk(f"demo:{name}")
    found = logged.last(opened.log, opened.garden, opened.reader)
    assert found is not None
    assert opened.log is not None
    row = next(row for row in opened.log.rows if row.day == found.day)
    short = {parameter: field_ for field_, parameter in reading.READINGS.items()}
    typed = [f"{short[one]}={text}" for one, text in found.typed.items()]
    read = given.read(typed, opened.garden)
    for one in row.readings:
        if one.parameter in found.typed and one.basis != "not known":
            assert read.value(one.parameter) == pytest.approx(one.value, abs=0.01)


def test_a_logged_reading_keeps_the_error_of_the_kit():
    panel = reading.panel(desk.open_desk("demo:classroom"))
    assert panel.told is not None
    alkalinity = panel.told.answer.judgement.given.measures["alkalinity"]
    assert alkalinity.low < alkalinity.value <= alkalinity.high


def test_a_log_that_cannot_be_read_is_told_and_an_example_stands_there(tmp_path: Path):
    source = desk.open_desk("demo:classroom").file.path
    (tmp_path / "garden.toml").write_bytes(source.read_bytes())
    (tmp_path / "log.csv").write_text("no header\n1\n", "utf-8")
    panel = reading.panel(desk.open_desk(str(tmp_path)))
    assert panel.values["tan"] == reading.EXAMPLE["tan"]
    assert "The log could not be read, so it filled in nothing: log.csv: no row" in panel.result.value
    assert "These readings are an example" in panel.result.value


def test_another_tank_knows_nothing_of_the_garden():
    panel = reading.panel(desk.open_desk("demo:classroom"))
    put(panel, tan="1", ph="7", temp="20", whose=reading.OTHER)
    panel.fields["whose"].list.value = reading.OWN
    panel.fields["whose"].list.value = reading.OTHER
    said = panel.result.value
    assert "NH3" not in panel.fields["tan"].label
    assert "Goldfish" not in said
    assert "No litres were given" in said
    panel.fields["fish"].list.value = "cold"
    panel.fields["litres"].box.value = "500"
    assert "fish of cold water" in panel.result.value
    assert "500" + words.NO_BREAK_SPACE + "L" in panel.result.value


def test_the_gardens_log_is_no_reading_of_another_tank():
    panel = reading.panel(desk.open_desk("demo:yard"))
    before = {name: panel.values[name] for name in reading.READINGS}
    assert any(before.values())
    panel.fields["ph"].box.value = "6.9"
    panel.fields["whose"].list.value = reading.OTHER
    assert {name: panel.values[name] for name in reading.READINGS if panel.values[name]} == {"ph": "6.9"}
    panel.fields["whose"].list.value = reading.OWN
    assert {name: panel.values[name] for name in reading.READINGS} == {**before, "ph": "6.9"}


def test_a_panel_without_a_reading_asks_for_one_in_plain_words():
    panel = reading.panel()
    put(panel)
    assert "Nothing to judge yet" in panel.problems.value
    assert "aq-old" in panel.result._dom_classes


def test_fish_and_litres_can_be_chosen():
    panel = reading.panel()
    said = put(panel, chlorine="0.5", litres="2000", fish="nile_tilapia")
    assert "Nile tilapia" in said
    assert "7 g" in said


def test_what_the_fish_show_counts():
    calm = put(reading.panel(), ph="6.9", temp="24")
    assert "emergency" not in calm.partition("<table>")[0].partition("</p>")[0]
    assert "emergency" in put(reading.panel(), ph="6.9", temp="24", signs="gasping")


def test_what_cannot_be_read_stands_under_its_field_and_the_last_answer_stays():
    panel = reading.panel()
    before = panel.result.value
    put(panel, tan="two", ph="14")
    assert panel.result.value == before
    assert "aq-old" in panel.result._dom_classes
    assert "cannot be read as a number" in under(panel, "tan")
    assert "2 to 12" in under(panel, "ph")
    assert "One entry above cannot be used" in panel.problems.value
    assert "cannot be read" not in panel.problems.value
    assert panel.values["tan"] == "two"
    put(panel, ph="7")
    assert panel.problems.value == under(panel, "tan") == under(panel, "ph") == ""
    assert "aq-old" not in panel.result._dom_classes


def test_nothing_written_at_all_is_asked_for():
    panel = reading.panel()
    put(panel)
    assert "aq-problem" in panel.problems.value


def test_a_wrong_volume_stands_under_the_litres():
    panel = reading.panel()
    put(panel, ph="7", litres="many")
    assert "cannot be read as a number" in under(panel, "litres")


def test_it_follows_the_garden():
    mine = desk.open_desk("demo:yard")
    panel = reading.panel(mine)
    put(panel, tan="1", ph="7", temp="79F")
    mine.put(mine.file.change("fish.0.species", "rainbow_trout"))
    assert "Rainbow trout" in panel.result.value


def test_listeners_hear_each_new_answer_and_no_refused_one():
    panel, heard = reading.panel(), []
    panel.on_answer(lambda: heard.append(panel.told))
    panel.fields["ph"].box.value = "7"
    panel.fields["ph"].box.value = "seven"
    assert len(heard) == 1


@dataclass
class Printer:
    """Keeps what it was given to write."""

    given: list[tuple[str, str, str]] = field(default_factory=list)
    prints: bool = True

    def __call__(self, page: str, name: str, paper: str) -> SimpleNamespace:
        self.given.append((page, name, paper))
        html = Path("/here/reading-1.html")
        return SimpleNamespace(html=html, pdf=html.with_suffix(".pdf") if self.prints else None)


def test_the_answer_is_written_on_one_page_and_its_names_are_told():
    printer = Printer()
    panel = reading.panel(Desk(desk.open_desk("demo:yard").file), printer)
    put(panel, tan="3", ph="7.9", temp="79F")
    panel.button.click()
    page, name, paper = printer.given[0]
    assert (name, paper) == ("reading", "letter")
    assert "Dustwillow yard" in page
    assert "reading-1.html and reading-1.pdf" in panel.saved.value
    assert "/here" in panel.saved.value
    printer.prints = False
    panel.button.click()
    assert "makes no PDF" in panel.saved.value


def test_an_answer_to_other_entries_is_not_put_on_paper():
    printer = Printer()
    panel = reading.panel(Desk(desk.open_desk("demo:yard").file), printer)
    put(panel, tan="3", ph="7.9", temp="79F")
    put(panel, tan="much")
    assert panel.refused
    panel.button.click()
    assert printer.given == []
    assert "Nothing was written" in panel.saved.value
    put(panel, tan="3")
    assert not panel.refused
    panel.button.click()
    assert len(printer.given) == 1


def test_without_a_printer_there_is_no_button():
    assert not hasattr(reading.panel(), "button")


def test_levels_wear_the_frames_of_the_printed_pages():
    printed = style.STYLE.read_text("utf-8")
    for level in ("fine", "watch", "not-known", "emergency", "act-today", "act-today::after"):
        rule = next(line for line in printed.splitlines() if line.startswith(f".{level} {{"))
        assert f".aq-panel {rule}" in frame.STYLE
    assert "\n.level" not in frame.STYLE
