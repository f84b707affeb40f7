"""`aquacalc new`: a grower's own folder."""

import re
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from aquacalc import disk
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile


@dataclass(frozen=True)
class Made:
    """File names that were written, and those that were there already and left alone."""

    written: tuple[str, ...]
    kept: tuple[str, ...]


def make(folder: Path, today: date | None = None) -> Made:
    """Write the starter garden, its log and page, and the notebooks into `folder`.

    A file that is there already is left alone. today: the starter's plan begins on the next first of May.
    """
    if folder.exists() and not folder.is_dir():
        raise InputError(Problem("problem-not-a-folder", found=str(folder)))
    sources = _contents(today or date.today())
    was_there = folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise disk.cannot_write(folder, fault) from fault
    kept = tuple(name for name in sources if (folder / name).exists())
    written: list[str] = []
    try:
        for name, source in sources.items():
            if name not in kept:
                disk.replace_whole(folder / name, source)
                written.append(name)
    except InputError:
        # Half a folder would be taken for a whole one by the next try.
        for name in written:
            (folder / name).unlink()
        if not was_there:
            folder.rmdir()
        raise
    return Made(tuple(written), kept)


def _contents(today: date) -> dict[str, bytes]:
    """Every file of a new folder by its name."""
    starter = {path.name: path.read_bytes() for path in sorted(places.starter_folder().iterdir())}
    for name in (places.GARDEN, "log.csv"):
        starter[name] = _from_now_on(starter[name].decode("utf-8"), today).encode("utf-8")
    notebooks = {path.name: path.read_bytes() for path in sorted(places.workbook().glob("*.ipynb"))}
    return {**starter, **notebooks}


def _from_now_on(text: str, today: date) -> str:
    """The text with its dates moved by whole years, so that the plan does not begin before today."""
    begins = GardenFile.open(places.starter(), today).garden.season.start
    years = 0
    while begins.replace(year=begins.year + years) < today:
        years += 1

    def moved(found: re.Match[str]) -> str:
        return f"{int(found[1]) + years}{found[2]}"

    return re.sub(r"\b(20\d\d)(-\d\d-\d\d)\b", moved, text)
