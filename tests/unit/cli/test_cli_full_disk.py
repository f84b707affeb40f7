"""A full disk, or an output that takes nothing: one sentence, status 3, nothing half-made."""

import os
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest
from small_disk import little_files, small_disk

from aquacalc.cli import command, folders
from aquacalc.errors import InputError
from aquacalc.garden import places

ROOT = Path(__file__).resolve().parents[3]
FULL = Path("/dev/full")

posix = pytest.mark.skipif(os.name != "posix", reason="that file and these limits are of other systems")


def aquacalc(*arguments: str, **options: object) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run([sys.executable, "-m", "aquacalc", *arguments], env=environment, **options)


@posix
@pytest.mark.parametrize("arguments", ["reading tan=1", "check demo:yard", "--help"])
@pytest.mark.parametrize("unbuffered", ["", pytest.param("1", marks=pytest.mark.slow)])
def test_an_output_that_takes_nothing_is_told_in_one_line(
    arguments: str, unbuffered: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("PYTHONUNBUFFERED", unbuffered)
    with FULL.open("wb") as full:
        done = aquacalc(*arguments.split(), stdout=full, stderr=subprocess.PIPE, cwd=tmp_path)
    assert done.returncode == command.RUN_FAILED
    (line,) = done.stderr.decode().splitlines()
    assert line.startswith("The command stopped before its end")


@posix
def test_where_not_even_the_reason_can_be_written_the_status_tells_it():
    with FULL.open("wb") as full:
        done = aquacalc("reading", "tan=1", stdout=full, stderr=full)
    assert done.returncode == command.RUN_FAILED


@posix
def test_whoever_has_seen_enough_does_not_stop_the_command(tmp_path: Path):
    read, write = os.pipe()
    os.close(read)
    try:
        done = aquacalc("check", "demo:yard", stdout=write, stderr=subprocess.PIPE, cwd=tmp_path)
    finally:
        os.close(write)
    assert (done.returncode, done.stderr) == (command.DONE, b"")


@posix
def test_new_on_a_full_disk_leaves_nothing(tmp_path: Path):
    with small_disk(64) as small:
        folder = small or tmp_path
        limit = None if small else partial(little_files, 20_000)
        done = aquacalc("new", "garden", cwd=folder, capture_output=True, preexec_fn=limit)
        left = [path.name for path in folder.iterdir()]
    assert done.returncode == command.RUN_FAILED
    (line,) = done.stderr.decode().splitlines()
    assert "the disk is full" in line
    assert left == []


def test_new_that_fails_keeps_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    (tmp_path / places.GARDEN).write_text("mine", "utf-8")

    def refuse(_: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", refuse)
        with pytest.raises(InputError):
            folders.make(tmp_path)
    assert [(one.name, one.read_text("utf-8")) for one in tmp_path.iterdir()] == [(places.GARDEN, "mine")]
    assert places.GARDEN in folders.make(tmp_path).kept


@posix
@pytest.mark.slow
@pytest.mark.parametrize("kilobytes", [40, 400, 1500])
def test_a_season_on_a_full_disk_leaves_the_old_plan_and_nothing_half_made(kilobytes: int, tmp_path: Path):
    """Too small for the notebook, for the data, for the pages."""
    with small_disk(kilobytes) as small:
        folder = small or tmp_path
        limit = None if small else partial(little_files, 10 * kilobytes)
        done = aquacalc(
            "season", "demo:yard", "--members", "2", cwd=folder, capture_output=True, preexec_fn=limit
        )
        left = [path.name for path in folder.iterdir() if not path.name.endswith(".failed")]
    assert done.returncode == command.RUN_FAILED
    assert b"Traceback" not in done.stderr
    assert len(done.stderr.decode().strip().splitlines()) == 1
    assert left == []
