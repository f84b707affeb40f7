"""A reading on one printed page: what it holds, that it escapes names, and that it stays one page."""

import re
from datetime import date
from pathlib import Path

import pypdfium2
import pytest

from aquacalc.advice.reading import actions, given
from aquacalc.garden.file import GardenFile
from aquacalc.pages import reading_sheet, style
from aquacalc.pages.reading_sheet import Told
from aquacalc.report import pdf
from aquacalc.words import NO_BREAK_SPACE, Reader

MADE = date(2027, 5, 3)
SEVERE = (
    *("tan=6 N", "ph=5.8", "temp=29 C", "kh=9 dKH", "oxygen=2", "nitrite=3 NO2", "nitrate=120 NO3"),
    *("gh=3 dGH", "chlorine=1", "chloride=10", "ec=900", "signs=gasping"),
)


def told(*typed: str, name: str = "", garden: str = "", logged: date | None = None) -> Told:
    opened = GardenFile.open(garden).garden if garden else None
    return Told(actions.answer(given.read(typed, opened)), name, logged)


def page(of: Told) -> str:
    return reading_sheet.page(of, Reader(), MADE).replace(NO_BREAK_SPACE, " ")


def test_it_holds_what_a_grower_needs_beside_the_tank():
    said = page(
        told("tan=2 NH4", "ph=7.6", "temp=26", "nitrite=1 N", "litres=1000", "fish=warm", name="My pond")
    )
    assert "My pond · made 3 May 2027 · version" in said
    assert 'Status: <span class="level emergency">emergency</span>, by nitrite' in said
    assert said.count("☐") >= 3
    assert " as N" in said
    assert "Portions, each only after a test" in said
    assert "<h2>Do not</h2>" in said
    assert "Test again in" in said
    assert "Doses are for 1000 L" in said


def test_the_most_urgent_reading_stands_first():
    said = page(told("tan=0 N", "ph=7", "temp=24", "nitrate=300 N", "fish=warm"))
    rows = said.partition("<h2>Readings</h2>")[2]
    assert rows.index("nitrate") < rows.index("ammonia (TAN)")


def test_without_grams_there_is_no_table_of_portions():
    assert "Portions" not in page(told("nitrite=2 N", "fish=warm"))


def test_readings_from_the_log_say_their_day():
    assert "of 1 March 2027" in page(told("ph=7", logged=date(2027, 3, 1)))


def test_a_name_is_escaped_and_cut():
    said = page(told("ph=7", name="<b>A & B</b>" + "x" * 100))
    assert "&lt;b&gt;A &amp; B" in said
    assert "x" * 60 not in said


def test_the_document_refers_to_nothing_outside():
    text = reading_sheet.document(told("ph=7"), Reader(), MADE, "a4")
    assert "http" not in text
    assert text.startswith("<!doctype html>")


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("garden", ["", "demo:yard", "demo:classroom", "demo:southern"])
def test_it_is_one_page_but_on_the_worst_day_and_never_of_small_type(
    tmp_path: Path, paper: style.Paper, garden: str
):
    of = told(*SEVERE, name="A garden with a name", garden=garden)
    path = tmp_path / "x.pdf"
    document = reading_sheet.document(of, Reader(), MADE, paper)
    assert min(float(size) for size in re.findall(r"\.result[^{]*\{ font-size: ([0-9.]+)pt", document)) >= 9.0
    assert pdf.write(document, path, paper)
    with pypdfium2.PdfDocument(path) as printed:
        texts = [printed[page].get_textpage().get_text_bounded() for page in range(len(printed))]
    assert len(texts) <= 2
    assert "Do now, in this order" in texts[0]
    assert "Look at these again" in "".join(texts)
    usual = told("tan=2 NH4", "ph=7.6", "temp=26 C", "nitrite=1 N", name="A garden", garden=garden)
    assert pdf.write(reading_sheet.document(usual, Reader(), MADE, paper), path, paper)
    with pypdfium2.PdfDocument(path) as printed:
        assert len(printed) == 1


def test_the_page_names_its_fields_and_not_what_is_typed_to_the_command():
    said = page(told("tan=2", "ph=6", "nitrite=1"))
    assert "where it says Fish" in said
    assert "where it says New water" in said
    assert not re.search(r"[a-z]=[^\"]", re.sub(r"<[^>]*>", "", said))


def test_a_level_that_the_errors_leave_open_stands_in_its_frame():
    found = told("tan=2 NH4", "ph=7.9", "temp=26 C").answer
    assert any(
        text.endswith('may be as high as: <span class="level emergency">emergency</span>.')
        for text in reading_sheet.reasons(found, Reader())
    )


def test_what_stands_at_the_ends_of_several_kits_is_one_sentence():
    said = page(told(*SEVERE, garden="demo:yard"))
    assert "pH, nitrite and nitrate stand at the ends of their kits" in said
    assert said.count("never dilute for pH") == 1


def test_little_text_is_printed_large():
    few, many = (reading_sheet.type_pt(page(told(*typed)), "a4") for typed in (("ph=7",), SEVERE))
    assert few == max(reading_sheet.TYPE_PT)
    assert many < few - 1.0
