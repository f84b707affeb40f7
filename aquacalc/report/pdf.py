"""A page as PDF: by the printing library, else by an installed browser."""

import io
import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from aquacalc.pages.style import SIZES, Paper

BROWSERS = (
    "microsoft-edge",
    "msedge",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "chromium",
    "chromium-browser",
)
PLACES = (
    "C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe",
    "C:/Program Files/Microsoft/Edge/Application/msedge.exe",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
)
"""Where browsers lie that stand on no search path; these were not tried on their systems."""

ADDRESS = "file:///page.html"
LONGEST_S = 120
POINTS_PER_MM = 72.0 / 25.4


def write(html: str, path: Path, paper: Paper) -> bool:
    """Print a page into a file; False where neither the library nor a browser is there.

    Raises `OSError` where the file cannot be written.
    """
    return _by_library(html, path, paper) or _by_browser(html, path)


def _by_library(html: str, path: Path, paper: Paper) -> bool:
    try:
        import plutoprint
    except ImportError:  # no wheel for this machine
        return False
    size = SIZES[paper]
    book = plutoprint.Book(
        size=plutoprint.PageSize(size.width_mm * POINTS_PER_MM, size.height_mm * POINTS_PER_MM)
    )
    # Links inside a page are written only where the page has an address, though it is never asked for.
    book.load_html(html, base_url=ADDRESS)
    # By way of memory, because the library says nothing where the disk takes only half of it.
    printed = io.BytesIO()
    book.write_to_pdf_stream(printed)
    path.write_bytes(printed.getvalue())
    return True


def browser() -> str | None:
    """An installed browser that can print without a window."""
    found = (shutil.which(name) for name in BROWSERS)
    there = (place for place in PLACES if Path(place).is_file())
    return next((name for name in found if name), None) or next(there, None)


def _by_browser(html: str, path: Path) -> bool:
    program = browser()
    if program is None:
        return False
    with tempfile.TemporaryDirectory() as name:
        # A profile of its own: a browser that is open already would take the page and print nothing.
        page, printed = Path(name) / "page.html", Path(name) / "page.pdf"
        page.write_text(html, "utf-8")
        command = [
            program,
            "--headless",
            "--disable-gpu",
            "--no-pdf-header-footer",
            f"--user-data-dir={Path(name) / 'profile'}",
            f"--print-to-pdf={printed}",
        ]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            command.append("--no-sandbox")  # browsers refuse to start for the administrator otherwise
        try:
            done = subprocess.run([*command, page.as_uri()], capture_output=True, timeout=LONGEST_S)
        except (OSError, subprocess.TimeoutExpired):
            return False
        if done.returncode != 0 or not printed.is_file():
            return False
        shutil.copyfile(printed, path)
    return True
