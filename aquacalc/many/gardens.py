"""Which gardens a command line means: files, folders, and folders of gardens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from aquacalc.errors import InputError, Problem
from aquacalc.garden import places


@dataclass(frozen=True)
class Named:
    """A garden of many. name: by which its folder and its row in the summary are known; garden: what
    `GardenFile.open` takes."""

    name: str
    garden: str


def are_many(names: Sequence[str]) -> bool:
    """Whether these names mean more than the one garden of an ordinary plan: several, or a folder of them."""
    one = names[0]
    return len(names) > 1 or not (not one or one.startswith(places.DEMO) or _is_garden(Path(one)))


def _is_garden(path: Path) -> bool:
    """A file, a folder that holds a garden, or nothing at all, which is told as of one garden."""
    return not path.expanduser().is_dir() or (path.expanduser() / places.GARDEN).is_file()


def found(names: Sequence[str]) -> tuple[Named, ...]:
    """All gardens that are meant, by name.

    A folder without a garden of its own means those in the folders and files in it. Raises `InputError`
    where a folder holds no garden (`problem-no-gardens`) and where two gardens would share a name
    (`problem-gardens-alike`), with all of them at once.
    """
    gardens: list[Named] = []
    problems: list[Problem] = []
    for name in names:
        inside = _inside(name)
        if not inside:
            problems.append(Problem("problem-no-gardens", found=name, allowed=(places.GARDEN,)))
        gardens += inside
    seen: dict[str, str] = {}
    for one in gardens:
        other = seen.setdefault(one.name.casefold(), one.garden)
        if other != one.garden:
            problems.append(Problem("problem-gardens-alike", one.name, one.garden, (other,)))
    if problems:
        raise InputError(problems)
    return tuple(sorted(dict.fromkeys(gardens), key=lambda one: one.name))


def _inside(name: str) -> list[Named]:
    if name.startswith(places.DEMO):
        return [Named(name.removeprefix(places.DEMO), name)]
    path = Path(name).expanduser().resolve()
    if not path.is_dir():
        return [_file(path)]
    if (path / places.GARDEN).is_file():
        return [Named(path.name, str(path))]
    folders = [Named(one.parent.name, str(one.parent)) for one in sorted(path.glob(f"*/{places.GARDEN}"))]
    return folders + [_file(one) for one in sorted(path.glob("*.toml"))]


def _file(path: Path) -> Named:
    return Named(path.parent.name if path.name == places.GARDEN else path.stem, str(path))
