"""`aquacalc open --lab`: our own notebooks start by themselves, other notebooks wait to be asked."""

import json
import shutil
from pathlib import Path

import pytest
from lab import TOKEN, WORKBOOK, Notebook, jupyterlab
from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

OURS, CHANGED = "00_start_here.ipynb", "changed.ipynb"
CODE = ".jp-CodeCell .jp-Cell-inputWrapper"


def test_ours_starts_folded_and_locked_and_a_changed_one_waits(tmp_path: Path, browser: Browser):
    folder, home = tmp_path / "own", tmp_path / "home"
    folder.mkdir()
    home.mkdir()
    shutil.copy(WORKBOOK / OURS, folder)
    read = json.loads((WORKBOOK / OURS).read_text("utf-8"))
    read["cells"][1]["source"] = "open('ran', 'w').close()"
    (folder / CHANGED).write_text(json.dumps(read), "utf-8")
    with jupyterlab(folder, home) as address:
        one = Notebook.watched(browser, 1280, 800)
        page = one.page
        page.goto(f"{address}/lab/tree/{OURS}?token={TOKEN}")
        page.wait_for_selector(".aq-answer", state="attached", timeout=60_000)
        assert page.locator(CODE).first.is_hidden()
        cells = page.locator(".jp-Notebook .jp-Cell").count()
        page.locator("h1").first.click()
        page.keyboard.press("d")
        page.keyboard.press("d")
        page.wait_for_timeout(300)
        assert page.locator(".jp-Notebook .jp-Cell").count() == cells
        page.get_by_role("button", name="Show or hide code").click()
        page.locator(CODE).first.wait_for(state="visible")
        assert one.console == []
        assert one.left_the_machine() == []

        page.goto(f"{address}/lab/tree/{CHANGED}?reset&token={TOKEN}")
        page.wait_for_selector(".jp-Notebook h1", timeout=60_000)
        page.wait_for_timeout(4000)
        assert page.locator(".aq-answer").count() == 0
        assert not (folder / "ran").exists()
        page.close()
