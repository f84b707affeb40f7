"""A workshop: a garden for each visitor, names that stay words, pages for the young, a code for the wall."""

from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest

from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.pages.html import Html
from aquacalc.serve import classroom, notebooks, visitors, wall
from aquacalc.serve.visitors import YOUNG_PAGES, Visitors
from aquacalc.words import Reader
from aquacalc.workshop.audience import AUDIENCES, YOUNG


@pytest.fixture
def room(tmp_path: Path) -> Visitors:
    opened = tmp_path / "opened"
    opened.mkdir()
    (opened / places.GARDEN).write_bytes(places.starter().read_bytes())
    return Visitors(opened, tmp_path / "home", "adults")


def test_each_visitor_has_a_garden_of_their_own_and_two_may_have_one_name(room: Visitors):
    one, other = room.come("Kim"), room.come("Kim")
    assert one.folder != other.folder
    mine = GardenFile.open(one.folder).change("name", "Mine").save()
    assert mine.garden.name == "Mine"
    assert GardenFile.open(other.folder).garden.name == "My garden"
    assert GardenFile.open(room.opened).garden.name == "My garden"
    room.reset(one.key)
    assert GardenFile.open(one.folder).garden.name == "My garden"


def test_a_name_stands_in_no_path_and_is_escaped(room: Visitors):
    one = room.come("../../<b>x</b>" + "y" * 100)
    assert one.folder.parent == room.home
    assert len(one.name) <= visitors.NAME_LETTERS
    page = classroom.mine(one, room.files(one), Html(""), Reader())
    assert "<b>" not in page
    shown = classroom.everybody(room.all(), datetime.now() + timedelta(minutes=3), "k", Html(""), Reader())
    assert "<b>" not in shown
    assert "3 min ago" in shown


def test_a_folder_without_a_garden_lends_the_demo_and_keeps_it(tmp_path: Path):
    room = Visitors(tmp_path, tmp_path / "home", "adults")
    one = room.come("Kim")
    own = GardenFile.open(one.folder)
    assert not own.read_only
    assert own.garden.name == GardenFile.open("demo:yard").garden.name


@pytest.mark.parametrize("audience", AUDIENCES)
def test_the_young_get_no_page_that_doses_or_kills_and_no_link_to_one(
    audience: visitors.Audience, tmp_path: Path
):
    room = Visitors(tmp_path, tmp_path / "home", audience)
    shown = [page.file for page in notebooks.pages(places.workbook()) if room.shows(page.file)]
    if audience in YOUNG:
        assert set(shown) <= set(YOUNG_PAGES)
        assert not room.shows(notebooks.PLAN)
    else:
        assert len(shown) > len(YOUNG_PAGES)


def test_links_to_hidden_pages_become_words():
    text = "Open [it](07_when_it_goes_wrong.ipynb#Water-leaks), or [size](01_size_the_garden.ipynb)."
    plain = visitors.unlinked(text, ["07_when_it_goes_wrong.ipynb"])
    assert plain == "Open it, or [size](01_size_the_garden.ipynb)."


def test_only_what_is_a_visitors_own_can_be_carried_away(room: Visitors):
    one = room.come("Kim")
    (one.folder / "secret.key").write_text("x", "utf-8")
    assert [path.name for path in room.files(one)] == [places.GARDEN]


def test_the_address_hangs_on_the_wall_as_a_code(tmp_path: Path):
    path = wall.write("http://192.0.2.7:8866/?token=abc", tmp_path)
    assert path.read_text("utf-8").count("<path") == 1


@pytest.mark.parametrize(("free_bytes", "full"), [(0, True), (8 * 1024**3, False)])
def test_over_the_machines_memory_the_room_is_full(
    free_bytes: int, full: bool, monkeypatch: pytest.MonkeyPatch
):
    memory = SimpleNamespace(available=free_bytes)
    monkeypatch.setattr(visitors.psutil, "virtual_memory", lambda: memory)
    assert visitors.is_full() == full


def test_a_full_room_is_told_on_the_list_and_in_place_of_a_page():
    for said in (classroom.full(Reader()), classroom.full_note(Reader())):
        assert "The room is full" in said
        assert "no memory left for another page" in said
