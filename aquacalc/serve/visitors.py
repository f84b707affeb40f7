"""Who is in at a workshop: each visitor with a garden of their own, kept until the session ends."""

import re
import secrets
import shutil
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import psutil

from aquacalc.errors import InputError
from aquacalc.garden import file, places
from aquacalc.garden.file import GardenFile
from aquacalc.serve import notebooks
from aquacalc.serve.notebooks import Page
from aquacalc.workshop.audience import YOUNG, Audience

YOUNG_PAGES = ("00_start_here.ipynb", "01_size_the_garden.ipynb", "08_build_the_loop.ipynb")
"""Pages that dose nothing and kill nothing; the young get these, and no link to any other."""

KEPT = (places.GARDEN, "log.csv")
CHEMICALS = ("product", "start_up")
"""Sections of a garden file that name them."""
TAKEN = (".html", ".pdf", ".csv", ".toml", ".ics")
"""Ends of the names of files that a visitor may carry away."""
NAME_LETTERS = 24
PAGE_BYTES = 175e6
"""What an open page holds, measured."""
ROOM_BYTES = 2.0 * PAGE_BYTES
"""With less left than this nobody more is let in. Common practice, no source."""

_LINK = re.compile(r"\[([^]]+)\]\(([^)#\s]+\.ipynb)[^)]*\)")


@dataclass
class Visitor:
    """Somebody at the workshop. name: as they call themselves. kernel: of the page that they look at."""

    key: str
    name: str
    folder: Path
    seen: datetime
    kernel: str = ""


class Visitors:
    """Everybody who is in. opened: whose garden each gets a copy of; home: where the copies lie; shared: what
    one shows the others."""

    def __init__(self, opened: Path, home: Path, audience: Audience) -> None:
        self.opened, self.home, self.audience = opened, home, audience
        self.shared = home / "shared"
        self._in: dict[str, Visitor] = {}

    def come(self, name: str) -> Visitor:
        """Let somebody in, with a fresh copy of the garden. The name stands in no file."""
        key = secrets.token_hex(8)
        one = Visitor(key, name.strip()[:NAME_LETTERS] or "?", self.home / key, datetime.now())
        self._in[key] = one
        self.reset(key)
        return one

    def reset(self, key: str) -> None:
        """Give a visitor the garden as it was at first; what they wrote is gone."""
        folder = self._in[key].folder
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        source = self.opened
        if not (source / places.GARDEN).is_file():
            source = places.garden_path(file.DEFAULT).parent
        for name in KEPT[:1] if self.young else KEPT:
            if (source / name).is_file():
                shutil.copyfile(source / name, folder / name)
        if self.young:
            _without_chemicals(folder / places.GARDEN)

    def get(self, key: str) -> Visitor | None:
        """The visitor of a key; None where there is none."""
        return self._in.get(key)

    def all(self) -> list[Visitor]:
        """Everybody, in the order of coming."""
        return list(self._in.values())

    def files(self, visitor: Visitor) -> list[Path]:
        """What a visitor may carry away."""
        return sorted(path for path in visitor.folder.iterdir() if path.suffix in TAKEN)

    @property
    def young(self) -> bool:
        """Whether they get nothing that doses what burns, and nothing that kills."""
        return self.audience in YOUNG

    def shows(self, page: str) -> bool:
        """Whether this audience gets a page."""
        return not self.young or page in YOUNG_PAGES

    def pages(self, folder: Path) -> tuple[Page, ...]:
        """The pages of a folder that this audience gets, each with the parts that it gets."""
        found = [page for page in notebooks.pages(folder) if self.shows(page.file)]
        return tuple(
            replace(page, parts=tuple(part for part in page.parts if not (self.young and part.from_16)))
            for page in found
        )


def _without_chemicals(path: Path) -> None:
    """Take bags, bottles and the start-up out of a garden file; one that cannot be read stays as it is."""
    try:
        opened = GardenFile.open(path)
        there = [name for name in CHEMICALS if name in opened.document]
        opened.changed(dict.fromkeys(there)).save()
    except InputError:
        return


def is_full() -> bool:
    """Whether the machine has no memory left for another page."""
    return float(psutil.virtual_memory().available) < ROOM_BYTES


def unlinked(source: str, hidden: Collection[str]) -> str:
    """A text whose links to hidden pages are plain words.

    >>> unlinked("See [the dose](a.ipynb#x) and [b](b.ipynb).", ["a.ipynb"])
    'See the dose and [b](b.ipynb).'
    """
    return _LINK.sub(lambda link: link[1] if link[2] in hidden else link[0], source)
