"""Files are written whole or not at all."""

import errno
import os
import time
from pathlib import Path

import pytest

from aquacalc import disk
from aquacalc.errors import InputError


@pytest.mark.parametrize("step", ["fsync", "replace", "fdopen"])
@pytest.mark.parametrize(
    ("number", "key"),
    [
        (errno.ENOSPC, "problem-disk-full"),
        (errno.EFBIG, "problem-disk-full"),
        (errno.EACCES, "problem-cannot-write"),
    ],
)
def test_a_write_that_fails_leaves_the_old_file_and_no_other(
    step: str, number: int, key: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    path = tmp_path / "page.html"
    path.write_text("old", "utf-8")
    with monkeypatch.context() as broken:
        broken.setattr(os, step, refuse)
        with pytest.raises(InputError) as caught:
            disk.replace_whole(path, b"new")
    assert caught.value.problems[0].key == key
    assert caught.value.problems[0].found == str(path)
    assert [(one.name, one.read_text("utf-8")) for one in tmp_path.iterdir()] == [("page.html", "old")]


def test_what_a_killed_write_left_is_taken_away_and_what_is_young_stays(tmp_path: Path):
    old, young = tmp_path / ".page.html.a.tmp", tmp_path / ".page.html.b.tmp"
    for one in (old, young):
        one.write_text("half", "utf-8")
    long_ago = time.time() - 2 * disk.LEFT_BEHIND_S
    os.utime(old, (long_ago, long_ago))
    disk.replace_whole(tmp_path / "page.html", b"new")
    assert sorted(one.name for one in tmp_path.iterdir()) == [".page.html.b.tmp", "page.html"]


@pytest.mark.skipif(os.name != "posix", reason="rights of files are another matter there")
def test_rights_stay_and_a_link_stays_a_link(tmp_path: Path):
    path, link = tmp_path / "page.html", tmp_path / "link.html"
    path.write_text("old", "utf-8")
    path.chmod(0o640)
    link.symlink_to(path)
    disk.replace_whole(link, b"new")
    assert link.is_symlink()
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640
