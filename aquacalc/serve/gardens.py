"""The gardens that can be chosen: those of the opened folder, then the invented ones."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from aquacalc.errors import InputError
from aquacalc.garden import file, places
from aquacalc.garden.file import GardenFile


@dataclass(frozen=True)
class Choice:
    """A garden. key: as the notebooks take it. own: the reader's, which can be written to."""

    key: str
    name: str
    own: bool


def choices(folder: Path) -> tuple[Choice, ...]:
    """The garden of a folder, those of its folders, and the demo gardens; the first is the one to begin with.

    Without an own garden the first has no key: each notebook then takes the demo that suits its question.
    """
    files = [folder / places.GARDEN, *sorted(folder.glob(f"*/{places.GARDEN}"))]
    own = [Choice(str(path.resolve()), _own_name(path), own=True) for path in files if path.is_file()]
    keys = sorted((places.DEMO + name for name in places.demos()), key=lambda key: key != file.DEFAULT)
    begin = own or [Choice("", "", own=False)]
    return (*begin, *(Choice(key, _demo_name(key), own=False) for key in keys))


def _own_name(path: Path) -> str:
    # Read each time: its owner may be changing it. One that cannot be read goes by its folder.
    try:
        return GardenFile.open(path).garden.name
    except InputError:
        return path.resolve().parent.name


@cache
def _demo_name(key: str) -> str:
    return GardenFile.open(key).garden.name
