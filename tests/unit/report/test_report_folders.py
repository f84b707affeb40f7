import json
import os
import shutil
import time
from pathlib import Path

import pytest

from aquacalc.errors import InputError
from aquacalc.report import folders
from aquacalc.report.given import RUN_FILE


def made(whole: Path, **files: str) -> Path:
    """A finished folder with these files."""
    with folders.workplace(whole) as work:
        for name, text in files.items():
            (work / name).write_text(text, "utf-8")
        folders.finish(work, whole)
    return whole


def refusal(out: Path) -> str:
    with pytest.raises(InputError) as caught:
        folders.target(out)
    return caught.value.problems[0].key


def test_a_folder_that_is_not_there_or_empty_may_be_written(tmp_path: Path):
    assert folders.target(tmp_path / "plan") == tmp_path / "plan"
    (tmp_path / "plan").mkdir()
    assert folders.target(tmp_path / "plan") == tmp_path / "plan"


def test_the_current_folder_and_those_around_it_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    inner = tmp_path / "a" / "b"
    inner.mkdir(parents=True)
    monkeypatch.chdir(inner)
    for folder in (Path(), inner, inner.parent, Path("..")):
        assert refusal(folder) == "problem-out-kept"


def test_the_home_folder_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    assert refusal(tmp_path) == "problem-out-kept"
    assert refusal(Path("~")) == "problem-out-kept"


def test_a_file_in_its_place_is_refused(tmp_path: Path):
    (tmp_path / "plan").write_text("mine", "utf-8")
    assert refusal(tmp_path / "plan") == "problem-not-a-folder"


@pytest.mark.parametrize("ending", ["", folders.OLD, folders.FAILED])
def test_a_folder_that_holds_anything_else_is_refused(tmp_path: Path, ending: str):
    folder = tmp_path / f"plan{ending}"
    folder.mkdir()
    (folder / "diary.txt").write_text("mine", "utf-8")
    assert refusal(tmp_path / "plan") == "problem-out-strange"
    assert (folder / "diary.txt").read_text("utf-8") == "mine"


def test_our_own_folder_may_be_written_again(tmp_path: Path):
    whole = made(tmp_path / "plan", page="one")
    assert folders.target(whole) == whole


@pytest.mark.parametrize("name", ["page", "notes"])
def test_a_changed_or_added_file_is_never_lost(tmp_path: Path, name: str):
    whole = made(tmp_path / "plan", page="one")
    (whole / name).write_text("written by hand", "utf-8")
    assert refusal(whole) == "problem-out-strange"


def test_a_folder_inside_is_never_lost(tmp_path: Path):
    whole = made(tmp_path / "plan", page="one")
    (whole / "mine").mkdir()
    assert refusal(whole) == "problem-out-strange"


@pytest.mark.parametrize("text", ["", "{}", "[]", '{"files": 3}', '{"files": {"diary.txt": "x"}}', "\x00"])
def test_a_run_file_that_is_no_run_file_protects_nothing(tmp_path: Path, text: str):
    whole = tmp_path / "plan"
    whole.mkdir()
    (whole / RUN_FILE).write_text(text, "utf-8")
    (whole / "diary.txt").write_text("mine", "utf-8")
    assert refusal(whole) == "problem-out-strange"


def test_the_newest_old_folder_is_kept_and_no_other(tmp_path: Path):
    for text in ("one", "two", "three"):
        made(tmp_path / "plan", page=text)
    assert (tmp_path / "plan" / "page").read_text("utf-8") == "three"
    assert (tmp_path / "plan.old" / "page").read_text("utf-8") == "two"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["plan", "plan.old"]


def test_a_run_that_breaks_off_leaves_the_target_as_it_was(tmp_path: Path):
    whole = made(tmp_path / "plan", page="one")

    def break_off() -> None:
        with folders.workplace(whole) as work:
            (work / "page").write_text("half", "utf-8")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        break_off()
    assert (whole / "page").read_text("utf-8") == "one"
    assert [one.name for one in tmp_path.iterdir()] == ["plan"]


def test_a_failed_run_is_kept_beside_the_target_until_one_works(tmp_path: Path):
    whole = made(tmp_path / "plan", page="one")
    with folders.workplace(whole) as work:
        (work / "half").write_text("half", "utf-8")
        kept = folders.keep_failed(work, whole)
    assert (kept / "half").read_text("utf-8") == "half"
    assert (whole / "page").read_text("utf-8") == "one"
    assert folders.target(whole) == whole
    made(whole, page="two")
    assert not kept.exists()


def test_the_run_file_names_every_file_with_its_digest(tmp_path: Path):
    record = json.loads((made(tmp_path / "plan", page="one", table="two") / RUN_FILE).read_text("utf-8"))
    assert sorted(record["files"]) == ["page", "table"]
    assert record["files"]["page"] == "7692c3ad3540bb803c020b3aee66cd8887123234ea0c6e7143c0add73ff431ed"


@pytest.mark.skipif(os.name != "posix", reason="rights of files are another matter there")
def test_a_finished_folder_has_ordinary_rights(tmp_path: Path):
    (tmp_path / "ordinary").mkdir()
    whole = made(tmp_path / "plan", page="one")
    assert whole.stat().st_mode == (tmp_path / "ordinary").stat().st_mode


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path):
    (tmp_path / "file").write_text("", "utf-8")
    with (
        pytest.raises(InputError) as caught,
        folders.workplace(tmp_path / "file" / "plan"),
    ):
        pass
    assert caught.value.problems[0].key == "problem-cannot-write"


class Killed(BaseException):
    """Stands for the end of the process: nothing that follows it is done."""


@pytest.mark.parametrize("removed", [0, 1, 2])
def test_a_kill_while_an_old_folder_is_removed_refuses_no_later_run(
    removed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    whole = tmp_path / "plan"
    for text in ("one", "two"):
        made(whole, page=text, table=text)

    def removing(folder: Path, **_: object) -> None:
        if folder.is_dir():
            for path in sorted(path for path in folder.rglob("*") if path.is_file())[:removed]:
                path.unlink()
        raise Killed

    with monkeypatch.context() as killed:
        killed.setattr(shutil, "rmtree", removing)
        with pytest.raises(Killed):
            made(whole, page="three", table="three")
    assert folders.target(whole) == whole
    made(whole, page="four", table="four")
    assert (whole / "page").read_text("utf-8") == "four"
    for ending in (folders.OLD, folders.FAILED):
        old = tmp_path / f"plan{ending}"
        assert not old.exists() or len(list(old.iterdir())) == 3


def test_hidden_folders_that_killed_runs_left_are_taken_away_and_young_ones_stay(tmp_path: Path):
    names = {".plan-unfinished-old", ".plan-unfinished-young", ".plan-diary", ".planning-unfinished-old"}
    for name in names:
        (tmp_path / name).mkdir()
        (tmp_path / name / "half").write_text("half", "utf-8")
    long_ago = time.time() - 2 * folders.LEFT_BEHIND_S
    for name in names - {".plan-unfinished-young"}:
        os.utime(tmp_path / name / "half", (long_ago, long_ago))
        os.utime(tmp_path / name, (long_ago, long_ago))
    made(tmp_path / "plan", page="one")
    assert {one.name for one in tmp_path.iterdir()} == names - {".plan-unfinished-old"} | {"plan"}


def test_a_folder_on_a_full_disk_is_told_as_that(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def full(*_: object, **__: object) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(folders.tempfile, "mkdtemp", full)
    with pytest.raises(InputError) as caught, folders.workplace(tmp_path / "plan"):
        pass
    assert caught.value.problems[0].key == "problem-disk-full"
