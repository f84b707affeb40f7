"""One page as files in a folder: HTML, and PDF where this machine can print; nothing is ever overwritten."""

from dataclasses import dataclass
from datetime import datetime
from itertools import count
from pathlib import Path

from aquacalc import disk
from aquacalc.errors import InputError
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

    Where the name is taken, a number follows it. Raises `InputError` where the folder cannot be written.
    """
    stem = f"{name}-{(now or datetime.now()).strftime(MINUTE)}"
    written = _new(page, stem, (folder or Path.cwd()).resolve())
    printed = written.with_suffix(".pdf")
    try:
        return Saved(written, printed if pdf.write(page, printed, paper) else None)
    except OSError as fault:
        printed.unlink(missing_ok=True)
        raise disk.cannot_write(printed, fault) from fault


def _new(page: str, stem: str, folder: Path) -> Path:
    for number in count(1):
        path = folder / (f"{stem}.html" if number == 1 else f"{stem}-{number}.html")
        if path.with_suffix(".pdf").exists():
            continue
        try:
            # This refuses a file that is there already, also one that came this very moment.
            path.touch(exist_ok=False)
        except FileExistsError:
            continue
        except OSError as fault:
            raise disk.cannot_write(path, fault) from fault
        try:
            disk.replace_whole(path, page.encode())
        except InputError:
            path.unlink()
            raise
        return path
    raise AssertionError("numbers do not end")
