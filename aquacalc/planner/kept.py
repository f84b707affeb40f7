"""A proposal that lies beside the garden until the grower decides: written, read back, accepted, undone."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from aquacalc import __version__, disk
from aquacalc.errors import InputError, Problem
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.planner.levers import LeverKey

if TYPE_CHECKING:
    from aquacalc.planner.propose import Proposal

PROPOSAL_FILE = "proposal.json"
BEFORE_FILE = "garden-before-proposal.toml"
"""The garden as it was before the last acceptance, for undoing it."""


@dataclass(frozen=True)
class Change:
    """One change: what is moved, of which batch or bed, and what is typed, by dotted key."""

    lever: LeverKey
    subject: str
    values: Mapping[str, object]


@dataclass(frozen=True)
class Kept:
    """A proposal as it lies on disk. digest: of the garden file that it was made for; holds: whether it may
    be accepted."""

    digest: str
    seed: int
    members: int
    version: str
    holds: bool
    changes: tuple[Change, ...]


def of_proposal(proposal: Proposal) -> Kept:
    """What is kept of a proposal: its changes, not what they bring."""
    return Kept(
        digest=proposal.digest,
        seed=proposal.seed,
        members=proposal.members,
        version=__version__,
        holds=proposal.holds,
        changes=tuple(
            Change(step.lever.key, step.lever.subject, dict(step.becomes.values)) for step in proposal.steps
        ),
    )


def path_of(file: GardenFile) -> Path:
    """Where the proposal of a garden lies: beside its file; of a demo in the current folder."""
    return (Path() if file.read_only else file.path.parent) / PROPOSAL_FILE


def save(kept: Kept, path: Path) -> None:
    """Write it whole or not at all. Raises `InputError` where it cannot be written."""
    text = json.dumps(asdict(kept), indent=1, ensure_ascii=False, default=_plain)
    disk.replace_whole(path, (text + "\n").encode("utf-8"))


def _plain(value: object) -> str:
    assert isinstance(value, date)
    return value.isoformat()


def load(path: Path) -> Kept:
    """Read it back.

    Raises `InputError`: `problem-proposal-none` where there is none; `problem-proposal-unreadable` where it
    was not written by this program.
    """
    try:
        found = json.loads(path.read_text("utf-8"))
        changes = tuple(Change(**one) for one in found.pop("changes"))
        return Kept(**found, changes=changes)
    except FileNotFoundError:
        raise InputError(Problem("problem-proposal-none", "", str(path))) from None
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        raise InputError(Problem("problem-proposal-unreadable", "", str(path))) from None


def accepted(kept: Kept, file: GardenFile, chosen: Iterable[int] | None = None) -> GardenFile:
    """The file with the chosen changes typed in, counted from 1, all where none are named; not written yet.

    Raises `InputError`: `problem-proposal-nearest` for a plan that does not hold; `problem-proposal-step` for
    a number that is none of its changes; `problem-proposal-old` where the file has changed since.
    """
    if not kept.holds:
        raise InputError(Problem("problem-proposal-nearest", "", str(file.path)))
    if kept.digest != (file.digest or ""):
        raise InputError(Problem("problem-proposal-old", "", str(file.path)))
    numbers = range(1, len(kept.changes) + 1)
    wanted = list(numbers) if chosen is None else list(chosen)
    for one in wanted:
        if one not in numbers:
            raise InputError(Problem("problem-proposal-step", "", str(one), (str(len(kept.changes)),)))
    values = {key: value for one in wanted for key, value in kept.changes[one - 1].values.items()}
    return file.changed(values)


def write(before: GardenFile, after: GardenFile) -> GardenFile:
    """Write the accepted file, with the old one kept beside it for undoing. Raises `InputError` as `save`."""
    if not before.read_only:
        disk.replace_whole(before.path.parent / BEFORE_FILE, before.text.encode("utf-8"))
    return after.save()


def undo(file: GardenFile) -> GardenFile:
    """The garden as it was before the last acceptance, written back.

    Raises `InputError`: `problem-proposal-no-undo` where nothing was accepted here.
    """
    path = file.path.parent / BEFORE_FILE
    if file.read_only or not path.is_file():
        raise InputError(Problem("problem-proposal-no-undo", "", str(path)))
    disk.replace_whole(file.path, path.read_bytes())
    path.unlink()
    return GardenFile.open(file.path, file.today)


def written_to(folder: Path, after: GardenFile) -> GardenFile:
    """An accepted plan as a new garden in a folder of the grower's, as for a demo. Raises `InputError` where
    there is a garden already."""
    path = folder.expanduser() / places.GARDEN
    if path.exists():
        raise InputError(Problem("problem-file-exists", "", str(path)))
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise disk.cannot_write(path, error) from error
    disk.replace_whole(path, after.text.encode("utf-8"))
    return GardenFile.open(path, after.today)
