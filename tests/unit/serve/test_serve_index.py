"""The first page: gardens to choose from, and links to every question."""

import shutil
from pathlib import Path

from aquacalc.garden import places
from aquacalc.pages.html import Html
from aquacalc.serve import gardens, index, notebooks
from aquacalc.words import Reader


def own_garden(folder: Path, name: str) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    text = places.starter().read_text("utf-8").replace('name = "My garden"', f'name = "{name}"')
    (folder / places.GARDEN).write_text(text, "utf-8")


def listed(folder: Path, chosen: str) -> Html:
    pages = notebooks.pages(places.workbook())
    return index.index(pages, gardens.choices(folder), chosen, Reader())


def test_own_gardens_stand_before_the_invented_ones(tmp_path: Path):
    own_garden(tmp_path, "Backyard")
    own_garden(tmp_path / "school", "School")
    shutil.copytree(tmp_path / "school", tmp_path / "broken")
    (tmp_path / "broken" / places.GARDEN).write_text("nonsense", "utf-8")
    found = gardens.choices(tmp_path)
    assert [one.name for one in found[:3]] == ["Backyard", "broken", "School"]
    assert [one.own for one in found] == [True] * 3 + [False] * len(places.demos())


def test_without_an_own_garden_each_question_takes_the_demo_that_suits_it(tmp_path: Path):
    assert [one.key for one in gardens.choices(tmp_path)[:2]] == ["", "demo:yard"]
    assert "an invented garden that suits the question" in listed(tmp_path, "")


def test_a_name_with_tags_stays_a_name(tmp_path: Path):
    own_garden(tmp_path, "<script>alert(1)</script>")
    page = listed(tmp_path, str(tmp_path / places.GARDEN))
    assert "<script>" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_every_page_and_every_part_is_a_link_and_the_chosen_garden_is_marked(tmp_path: Path):
    page = listed(tmp_path, "demo:southern")
    for one in notebooks.pages(places.workbook()):
        assert f'href="/voila/render/{one.file}"' in page
        assert page.count(f'href="/voila/render/{one.file}#') == len(one.parts)
    assert 'value="demo:southern" selected' in page
    assert page.count(" selected") == 1
    assert '<html lang="en">' in page
