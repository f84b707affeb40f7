"""Which gardens a command line means."""

from pathlib import Path

import pytest

from aquacalc.errors import InputError
from aquacalc.many import gardens


@pytest.fixture
def club(tmp_path: Path) -> Path:
    for name in ("beech", "alder"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "garden.toml").touch()
    (tmp_path / "cedar.toml").touch()
    (tmp_path / "notes.txt").touch()
    (tmp_path / "empty").mkdir()
    return tmp_path


def test_a_folder_means_the_gardens_in_it(club: Path):
    assert [one.name for one in gardens.found([str(club)])] == ["alder", "beech", "cedar"]
    assert gardens.are_many([str(club)])


def test_one_garden_is_one_by_its_file_its_folder_or_its_demo(club: Path):
    for name in (str(club / "alder"), str(club / "cedar.toml"), "demo:yard", str(club / "nowhere")):
        assert not gardens.are_many([name]), name
        assert len(gardens.found([name])) == 1
    assert gardens.are_many(["demo:yard", "demo:southern"])


def test_a_garden_that_is_named_twice_is_one(club: Path):
    assert len(gardens.found([str(club), str(club / "alder")])) == 3


def test_a_folder_without_gardens_and_two_of_one_name_are_told_at_once(club: Path):
    with pytest.raises(InputError) as told:
        gardens.found([str(club / "empty"), str(club / "alder"), str(club / "Alder.toml")])
    assert [one.key for one in told.value.problems] == ["problem-no-gardens", "problem-gardens-alike"]
