"""The triage page: numbered through, on one sheet of either paper in large type, nothing beside it needed."""

import re
from datetime import date
from pathlib import Path

import pypdfium2
import pytest

from aquacalc.advice import triage
from aquacalc.advice.reading import actions, given
from aquacalc.advice.triage import Place
from aquacalc.pages import triage_page
from aquacalc.pages.style import Paper
from aquacalc.report import pdf
from aquacalc.words import Reader

MADE = date(2027, 2, 20)
FULL = Place(
    water_l=1500.0,
    response_h=0.6,
    chlorine_mg_l=2.0,
    species="channel_catfish",
    ran_in_l=100.0,
)


def test_steps_are_counted_through_from_doing_to_measuring():
    found = triage.triage_of("gasping", FULL)
    done = sum(step.kind == "do" for step in found.steps)
    markup = triage_page.parts(found, Reader())
    assert re.findall(r'<ol start="(\d+)">', markup) == ["1", str(done + 1)]
    assert markup.count("<li>") == len(found.steps) + len(found.likely) + len(found.never) + len(found.after)


def test_the_level_of_a_reading_stands_beside_its_cause():
    read = given.read(["oxygen=1", "fish=channel_catfish", "signs=gasping"])
    found = triage.triage_of("gasping", FULL, actions.answer(read))
    assert 'class="level emergency"' in triage_page.parts(found, Reader())
    assert 'class="level' not in triage_page.parts(triage.triage_of("gasping", FULL), Reader())


def test_the_name_of_a_garden_is_escaped():
    page = triage_page.document(triage.triage_of("heat"), Reader(), MADE, "<b>My & yard")
    assert "&lt;b&gt;My &amp; yard" in page


def test_the_page_needs_nothing_beside_it():
    page = triage_page.document(triage.triage_of("leak", FULL), Reader(), MADE)
    assert not re.search(r"https?://|<script|<link|url\(", page)
    assert "font-size: 14pt" in page


def test_the_link_carries_the_page():
    link = triage_page.link(triage.triage_of("brown_gills"), Reader(), MADE)
    assert 'download="brown-gills.html"' in link
    assert 'href="data:text/html' in link


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_sign_fits_one_sheet(paper: Paper, tmp_path: Path):
    pytest.importorskip("plutoprint")
    reader = Reader(paper=paper, units="us" if paper == "letter" else "metric")
    longer = []
    for sign in triage.signs():
        page = triage_page.document(
            triage.triage_of(sign, FULL), reader, MADE, "A garden with a rather long name"
        )
        assert pdf.write(page, tmp_path / "page.pdf", paper)
        with pypdfium2.PdfDocument(tmp_path / "page.pdf") as opened:
            if len(opened) > 1:
                longer.append(sign)
    assert longer == []
