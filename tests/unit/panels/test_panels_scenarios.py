"""Numbers under a name: kept by one, opened by another, taken back in one step; names stand in no path."""

from pathlib import Path

import pytest

from aquacalc.errors import InputError
from aquacalc.panels.frame import scenarios
from aquacalc.panels.frame.desk import Desk, open_desk
from aquacalc.panels.frame.scenarios import Scenarios
from aquacalc.panels.size import size
from aquacalc.panels.size.size import SizePanel


@pytest.fixture(scope="module")
def demo() -> Desk:
    return open_desk("demo:yard")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(scenarios.PLACE, str(tmp_path / "shared"))
    return tmp_path / "shared"


def shelf(panel: SizePanel) -> Scenarios:
    (found,) = [one for one in panel.left.children if isinstance(one, Scenarios)]
    return found


def test_what_one_keeps_another_opens_and_takes_back(folder: Path, demo: Desk):
    one, other = size.panel(demo), size.panel(demo)
    one.fields["fish_count"].box.value = "77"
    one.fields["backup"].list.value = "no"
    mine, theirs = shelf(one), shelf(other)
    mine.name.value = " More <b>fish</b>/../ "
    mine.keep_these.click()
    assert [path.parent for path in folder.iterdir()] == [folder]
    assert "<b>" not in mine.said.value
    theirs.fold.value = True
    assert [name for name, _ in theirs.list.options] == ["More <b>fish</b>/../"]
    before = other.values
    theirs.show_chosen.click()
    assert other.values == one.values
    assert other.result.value == one.result.value
    other.step_back.click()
    assert other.values == before


def test_refused_numbers_and_missing_names_are_not_kept(folder: Path, demo: Desk):
    made = size.panel(demo)
    mine = shelf(made)
    mine.keep_these.click()
    assert 'role="alert"' in mine.said.value
    mine.name.value = "x"
    made.fields["fish_count"].box.value = "many"
    mine.keep_these.click()
    assert "Nothing is kept" in mine.said.value
    assert not folder.exists()


def test_what_no_longer_fits_or_is_none_of_ours_is_left_out(folder: Path, demo: Desk):
    made = size.panel(demo)
    before = made.values
    scenarios.save(folder, "size", "odd", {"fish_count": -4.0, "gone": 1.0, "backup": "perhaps"})
    (folder / "size-1.json").write_text("[", "utf-8")
    (folder / "size-2.json").write_text('{"name": 3}', "utf-8")
    mine = shelf(made)
    mine.fold.value = True
    assert len(mine.list.options) == 1
    mine.show_chosen.click()
    assert made.values == before


def test_a_shelf_ends_somewhere_but_can_be_written_over(folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(scenarios, "MOST", 2)
    for name in ("a", "b"):
        scenarios.save(folder, "size", name, {})
    with pytest.raises(InputError):
        scenarios.save(folder, "size", "c", {})
    scenarios.save(folder, "size", "b", {"fish_count": 3.0})
    assert scenarios.load(scenarios.names(folder, "size")["b"])[1] == {"fish_count": 3.0}


def test_where_no_folder_is_named_nothing_is_offered(demo: Desk, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv(scenarios.PLACE, raising=False)
    assert not any(isinstance(one, Scenarios) for one in size.panel(demo).left.children)


def test_a_folder_that_takes_nothing_is_told(tmp_path: Path):
    (tmp_path / "file").write_text("", "utf-8")
    with pytest.raises(InputError):
        scenarios.save(tmp_path / "file" / "shared", "size", "x", {})
