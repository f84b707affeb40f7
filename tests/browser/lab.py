"""The workbook under a headless Chromium that reaches this machine only.

`workbook(folder, home)` serves it as pages by the own command of the project, `jupyterlab(folder, home)` as
notebooks; `chromium()` starts the browser. `Notebook` is one that was opened: move a slider by keyboard, read
what a reader would see, and ask afterwards for console errors and for requests that left the machine.
"""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, Locator, Page, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
WORKBOOK = ROOT / "workbook"
TOKEN = "local"
START_SECONDS = 60
FAILED = '[data-mime-type="application/vnd.jupyter.error"], .jp-OutputArea pre:has-text("Traceback")'

# Everything but loopback resolves to nothing, and Chromium's own calls home are off.
CHROMIUM_FLAGS = [
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1 , EXCLUDE localhost",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--disable-dev-shm-usage",
]


def chromium_path() -> str | None:
    """The installed Chromium or Chrome, or None."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@contextmanager
def chromium() -> Iterator[Browser]:
    """A headless browser without a network. A browser is never downloaded."""
    as_root = hasattr(os, "geteuid") and os.geteuid() == 0
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=chromium_path(), args=CHROMIUM_FLAGS + (["--no-sandbox"] if as_root else [])
        )
        try:
            yield browser
        finally:
            browser.close()


def free_port() -> int:
    """A port of loopback that nobody listens on."""
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return int(listener.getsockname()[1])


def settings(home: Path) -> dict[str, str]:
    # Jupyter's own folders stand in the test's folder: a developer's settings neither help nor suffer.
    folders = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "JUPYTERLAB_SETTINGS_DIR": "settings",
        "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
        "IPYTHONDIR": "ipython",
    }
    python_path = os.pathsep.join(filter(None, [str(ROOT), os.environ.get("PYTHONPATH")]))
    return {
        **os.environ,
        **{name: str(home / part) for name, part in folders.items()},
        "PYTHONPATH": python_path,
    }


@contextmanager
def jupyterlab(folder: Path, home: Path) -> Iterator[str]:
    """The address of a JupyterLab that shows `folder`; its settings and log go into `home`."""
    port = free_port()
    command = [sys.executable, "-m", "aquacalc", "open", str(folder), "--lab", "--no-browser", "--"]
    options = [
        "--allow-root",
        f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0",
        f"--IdentityProvider.token={TOKEN}",
    ]
    with _running([*command, *options], home, f"http://127.0.0.1:{port}/api?token={TOKEN}"):
        yield f"http://127.0.0.1:{port}"


@contextmanager
def workbook(folder: Path, home: Path) -> Iterator[str]:
    """The address of the pages about the gardens of `folder`; settings and log go into `home`."""
    port = free_port()
    command = [sys.executable, "-m", "aquacalc", "open", str(folder), "--no-browser", "--"]
    options = [f"--port={port}", "--Voila.port_retries=0", f"--token={TOKEN}"]
    with _running([*command, *options], home, f"http://127.0.0.1:{port}/?token={TOKEN}"):
        yield f"http://127.0.0.1:{port}"


@contextmanager
def _running(command: list[str], home: Path, address: str) -> Iterator[None]:
    log = home / "server.log"
    with log.open("wb") as stream:
        server = subprocess.Popen(command, env=settings(home), stdout=stream, stderr=stream)
    try:
        _wait_for(address, server, log)
        yield
    finally:
        server.terminate()
        server.wait(timeout=30)


def _wait_for(address: str, server: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + START_SECONDS
    while time.monotonic() < end and server.poll() is None:
        try:
            with urllib.request.urlopen(address, timeout=2):
                return
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.2)
    raise RuntimeError(f"The server did not start:\n{log.read_text('utf-8', 'replace')[-3000:]}")


@dataclass
class Notebook:
    """One notebook opened in JupyterLab, or its page."""

    page: Page
    console: list[str] = field(default_factory=list)
    requests: list[str] = field(default_factory=list)

    @classmethod
    def watched(cls, browser: Browser | BrowserContext, width: int, height: int) -> "Notebook":
        """An empty page whose errors and requests are written down."""
        page = browser.new_page()
        page.set_viewport_size({"width": width, "height": height})
        notebook = cls(page)
        page.on("console", lambda said: notebook.console.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: notebook.console.append(str(error)))
        page.on("request", lambda request: notebook.requests.append(request.url))
        page.on("websocket", lambda socket: notebook.requests.append(socket.url))
        return notebook

    @classmethod
    def open(
        cls,
        browser: Browser,
        address: str,
        name: str = "",
        width: int = 1280,
        height: int = 800,
        part: str = "all",
    ) -> "Notebook":
        """Open the page of a notebook, which runs by itself, and wait for it; without a name the index.

        part: the heading that is shown; by default the whole page.
        """
        notebook = cls.watched(browser, width, height)
        notebook.page.goto(f"{address}/?token={TOKEN}")
        if name:
            notebook.page.goto(f"{address}/voila/render/{name}.ipynb#{part}", timeout=60_000)
            notebook.page.locator("#loading").wait_for(state="detached", timeout=60_000)
            failed = notebook.page.locator(FAILED)
            if failed.count():
                raise AssertionError(failed.first.inner_text())
        return notebook

    def move_slider(self, panel: str, key: str = "ArrowRight", steps: int = 1, which: int = 0) -> None:
        """Press an arrow key on the slider number `which` inside the element that `panel` selects."""
        handle = self.page.locator(f"{panel} .noUi-handle").nth(which)
        handle.focus()
        for _ in range(steps):
            self.page.keyboard.press(key)

    def type_into(self, box: str, text: str, which: int = 0) -> None:
        """Replace the text of a box and leave it, as a reader does."""
        field_ = self.page.locator(f"{box} input").nth(which)
        field_.fill(text)
        field_.press("Enter")

    def shows(self, selector: str, text: str) -> Locator:
        """Wait until an element that `selector` selects holds `text`."""
        found = self.page.locator(selector).filter(has_text=text).first
        found.wait_for(state="attached")
        return found

    def text(self, selector: str) -> str:
        """All text inside the elements that `selector` selects, charts' text included."""
        return "\n".join(self.page.locator(selector).all_text_contents())

    def left_the_machine(self) -> list[str]:
        """Requests to anything but loopback; data and blob addresses never leave the page."""
        local = {"127.0.0.1", "localhost"}
        parts = [(url, urlsplit(url)) for url in self.requests]
        return [
            url
            for url, at in parts
            if at.scheme in ("http", "https", "ws", "wss") and at.hostname not in local
        ]

    def picture(self, path: Path, top: int = 0, height: int = 0) -> None:
        """Write the page as a PNG: `height` pixels from `top`, or the whole of it."""
        tall = int(self.page.evaluate("() => document.documentElement.scrollHeight"))
        width = self.page.viewport_size["width"] if self.page.viewport_size else 1280
        clip = {"x": 0, "y": top, "width": width, "height": min(height or tall, tall - top)}
        self.page.screenshot(path=str(path), clip=clip, full_page=True)
