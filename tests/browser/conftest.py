"""Fixtures of the browser tests. Without a Chromium they are skipped, unless AQUACALC_BROWSER=required."""

import os
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from lab import Notebook, chromium, chromium_path, workbook
from playwright.sync_api import Browser


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if chromium_path() is None:
        reason = "no Chromium or Chrome is installed"
        if os.environ.get("AQUACALC_BROWSER") == "required":
            pytest.fail(reason)
        pytest.skip(reason)
    with chromium() as running:
        yield running


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory, browser: Browser) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("own")
    with workbook(folder, tmp_path_factory.mktemp("home")) as running:
        yield running


@pytest.fixture
def open_notebook(browser: Browser, address: str) -> Iterator[Callable[[str], Notebook]]:
    opened: list[Notebook] = []

    def open_one(name: str, **size: Any) -> Notebook:
        opened.append(Notebook.open(browser, address, name, **size))
        return opened[-1]

    yield open_one
    for notebook in opened:
        notebook.page.close()
