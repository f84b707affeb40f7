"""Each sheet names what it rests on; keys lead to the list of texts, and from there back."""

import re

import plans
import pytest

from aquacalc.pages import sheets, trail
from aquacalc.report import contents
from aquacalc.tables import Cited
from aquacalc.words import Reader

DEMOS = ("yard", "greenhouse", "classroom", "southern")


def test_every_sheet_says_what_it_rests_on():
    assert list(trail.FOLDER) == list(sheets.FOLDER)
    assert list(trail.WALL) == list(sheets.WALL)


@pytest.mark.slow
@pytest.mark.parametrize("name", DEMOS)
def test_every_key_leads_to_a_text_and_every_text_back_to_who_names_it(name: str):
    plan = plans.of_season(name)
    page = contents.with_ways_back(f"<main>{sheets.folder(plan)}{sheets.wall(plan)}</main>")
    links = set(re.findall(r'href="#([^"]+)"', page))
    assert links <= set(re.findall(r' id="([^"]+)"', page))
    texts = re.findall(r'<span id="source-(\w+)">[^<]*</span><span class="back">(.*?)</span>', page)
    assert len(texts) == page.count('<span id="source-') > 20
    for key, back in texts:
        named = re.findall(r'href="#([\w-]+)"', back)
        assert named
        for anchor in named:
            # From the heading of the sheet, or of its first page, to the next sheet the key is named.
            assert anchor != "folder-sources"
            part = page.partition(f' id="{anchor}">')[2]
            part = re.split(rf'<h[12] id="(?!{anchor}-\d)', part)[0]
            assert f'href="#source-{key}"' in part


def test_a_finding_names_its_own_sources():
    plan = plans.of_season("yard")
    page = sheets.folder(plan, "findings")
    first = next(one for one in plan.findings if not {"OWN", "TRADE"} >= set(one.sources))
    notes = re.findall(r'<span class="trail">(.*?)</span>', page)
    named = {source.partition(":")[0] for source in first.sources} - {"OWN", "TRADE"}
    assert set(re.findall(r'href="#source-(\w+)"', notes[0])) == named


def test_a_key_inside_another_word_is_no_link():
    made = trail.linked("FA16 and FA160 <b>", [Cited("FA16", "read")])
    assert made == '<a href="#source-FA16">FA16</a> and FA160 &lt;b&gt;'


def test_a_fold_holds_note_and_texts_and_nothing_is_folded_where_nothing_is_cited():
    made = trail.fold([Cited("FA16", "read")], Reader())
    assert made.startswith("<details><summary>What this rests on</summary>")
    assert "FA16 (read)" in made
    assert "<li>FA16: " in made
    assert trail.fold([], Reader()) == ""
