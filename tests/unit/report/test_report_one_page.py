"""One page as files: HTML and PDF with names that never overwrite."""

import os
from datetime import datetime
from pathlib import Path

import pytest

from aquacalc.errors import InputError
from aquacalc.report import one_page, pdf

NOW = datetime(2027, 5, 3, 7, 15)
PAGE = "<!doctype html><title>x</title><p>a page</p>"


def save(folder: Path, page: str = PAGE) -> one_page.Saved:
    return one_page.save(page, "reading", "a4", folder, NOW)


def test_it_is_named_by_what_it_is_and_the_minute(tmp_path: Path):
    written = save(tmp_path)
    assert written.html.name == "reading-2027-05-03-0715.html"
    assert written.pdf == written.html.with_suffix(".pdf")
    assert written.pdf.read_bytes().startswith(b"%PDF")
    assert written.html.read_text("utf-8") == PAGE


def test_nothing_is_overwritten(tmp_path: Path):
    first = save(tmp_path, "<p>one</p>")
    second = save(tmp_path, "<p>two</p>")
    assert second.html.name == "reading-2027-05-03-0715-2.html"
    assert first.html.read_text("utf-8") == "<p>one</p>"
    second.html.unlink()
    assert save(tmp_path).html.name == "reading-2027-05-03-0715-3.html"  # a PDF of that name is there


def test_without_a_printer_the_page_is_there_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(pdf, "write", lambda *_: False)
    written = save(tmp_path)
    assert written.pdf is None
    assert save(tmp_path, "<p>later</p>").html.name == "reading-2027-05-03-0715-2.html"
    assert written.html.read_text("utf-8") == PAGE


def test_the_current_folder_is_meant_where_none_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    assert one_page.save(PAGE, "reading", "letter", now=NOW).html.parent == tmp_path


@pytest.mark.parametrize("fails", ["page", "print"])
def test_a_full_disk_is_told_and_leaves_nothing_half_made(
    fails: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(*((os, "fsync", full) if fails == "page" else (Path, "write_bytes", full)))
    with pytest.raises(InputError) as caught:
        save(tmp_path)
    assert caught.value.problems[0].key == "problem-disk-full"
    assert [one.name for one in tmp_path.iterdir() if one.suffix == ".pdf"] == []
    assert all(one.read_text("utf-8") == PAGE for one in tmp_path.iterdir())
