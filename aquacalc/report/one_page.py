"""One page as files in a folder: HTML, and PDF where this machine can print; nothing is ever overwritten."""

from dataclasses import dataclass
from datetime import datetime
from itertools import count
from pathlib import Path

from aquacalc.pages.style import Paper
from aquacalc.report import pdf

MINUTE = "%Y-%m-%d-%H%M"


@dataclass(frozen=True)
class Saved:
    """Where a page was written; pdf: None where nothing on this machine prints."""

    html: Path
    pdf: Path | None


def save(
    page: str, name: str, paper: Paper, folder: Path | None = None, now: datetime | None = None
) -> Saved:
    """Write a page into a folder (the current one if not told), named by what it is and the minute.

    Where the name is taken, a number follows it.
    """
    stem = f"{name}-{(now or datetime.now()).strftime(MINUTE)}"
    written = _new(page, stem, (folder or Path.cwd()).resolve())
    printed = written.with_suffix(".pdf")
    return Saved(written, printed if pdf.write(page, printed, paper) else None)


def _new(page: str, stem: str, folder: Path) -> Path:
    for number in count(1):
        path = folder / (f"{stem}.html" if number == 1 else f"{stem}-{number}.html")
        if path.with_suffix(".pdf").exists():
            continue
        try:
            # "x" refuses a file that is there already, also one that came this very moment.
            with path.open("x", encoding="utf-8", newline="\n") as file:
                file.write(page)
        except FileExistsError:
            continue
        return path
    raise AssertionError("numbers do not end")
