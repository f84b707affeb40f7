"""A proposal that lies beside the garden until the grower decides: written, read back, accepted, undone."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from aquacalc import __version__, disk
from aquacalc.errors import InputError, Problem
from aquacalc.garden.file import GardenFile
from aquacalc.planner import beds
from aquacalc.planner.levers import Lever, LeverKey, Option, levers_of, planted
from aquacalc.sizing import balance

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden
    from aquacalc.planner.beds import BedPlan
    from aquacalc.planner.propose import Proposal

PROPOSAL_FILE = "proposal.json"
BEFORE_FILE = "garden-before-proposal.toml"
"""The garden as it was before the last acceptance, for undoing it."""
A_DAY = re.compile(r"\d{4}-\d\d-\d\d")


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


def of_beds(file: GardenFile, plan: BedPlan) -> Kept:
    """A plan of the beds alone, as a proposal of one change; no season has judged it yet."""
    change = Change("crops", "", {"crop": beds.entries(file.garden, plan.plantings)})
    return Kept(file.digest or "", seed=0, members=0, version=__version__, holds=True, changes=(change,))


def path_of(file: GardenFile) -> Path:
    """Where the proposal of a garden lies: beside its file; of a demo in the current folder."""
    return (Path() if file.read_only else file.path.parent) / PROPOSAL_FILE


def save(kept: Kept, path: Path) -> None:
    """Write it whole or not at all. Raises `InputError` where it cannot be written."""
    text = json.dumps(asdict(kept), indent=1, ensure_ascii=False, default=_as_kept)
    disk.replace_whole(path, (text + "\n").encode("utf-8"))


def load(path: Path) -> Kept:
    """Read it back.

    Raises `InputError`: `problem-proposal-none` where there is none; `problem-proposal-unreadable` where it
    was not written by this program.
    """
    try:
        found = json.loads(path.read_text("utf-8"))
        changes = tuple(Change(**_as_typed(one)) for one in found.pop("changes"))
        return Kept(**found, changes=changes)
    except FileNotFoundError:
        raise InputError(Problem("problem-proposal-none", "", str(path))) from None
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        raise InputError(Problem("problem-proposal-unreadable", "", str(path))) from None


def moves(kept: Kept, garden: Garden) -> list[tuple[Lever, Option, Option]]:
    """Each change as its lever, where that stands as written, and where it goes.

    Raises `InputError`: `problem-proposal-old` for a change that this garden does not offer any more.
    """
    own = levers_of(garden, balance.balance(garden))
    found: list[tuple[Lever, Option, Option]] = []
    for change in kept.changes:
        if change.lever == "crops":
            lever = planted(change.values)
            found.append((lever, lever.options[0], lever.options[1]))
            continue
        typed = {key: _as_kept(value) for key, value in change.values.items()}
        place = (change.lever, change.subject)
        fitting = [
            (lever, lever.options[0], option)
            for lever in own
            for option in lever.options[1:]
            if (lever.key, lever.subject) == place
            and {key: _as_kept(value) for key, value in option.values.items()} == typed
        ]
        if not fitting:
            raise InputError(Problem("problem-proposal-old", "", garden.name))
        found.append(fitting[0])
    return found


def _as_kept(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value


def _as_typed(value: Any) -> Any:
    """What was kept as text, with its days as days again, so that the file gets them as it writes days."""
    if isinstance(value, dict):
        return {key: _as_typed(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_as_typed(one) for one in value]
    return date.fromisoformat(value) if isinstance(value, str) and A_DAY.fullmatch(value) else value


def changed(kept: Kept, file: GardenFile, chosen: Iterable[int] | None = None) -> GardenFile:
    """The file with the chosen changes typed in, counted from 1, all where none are named; to look at.

    Raises `InputError`: `problem-proposal-step` for a number that is none of its changes.
    """
    numbers = range(1, len(kept.changes) + 1)
    wanted = list(numbers) if chosen is None else list(chosen)
    for one in wanted:
        if one not in numbers:
            raise InputError(Problem("problem-proposal-step", "", str(one), (str(len(kept.changes)),)))
    values = {key: value for one in wanted for key, value in kept.changes[one - 1].values.items()}
    return file.changed(values)


def accepted(kept: Kept, file: GardenFile, chosen: Iterable[int] | None = None) -> GardenFile:
    """The file with the chosen changes typed in, as `changed`; to be written.

    Raises `InputError`: `problem-proposal-nearest` for a plan that does not hold; `problem-proposal-old`
    where the file has changed since; `problem-proposal-step` as there.
    """
    if not kept.holds:
        raise InputError(Problem("problem-proposal-nearest", "", str(file.path)))
    if kept.digest != (file.digest or ""):
        raise InputError(Problem("problem-proposal-old", "", str(file.path)))
    return changed(kept, file, chosen)


def write(before: GardenFile, after: GardenFile) -> GardenFile:
    """Write the accepted file, with the old one kept beside it for undoing. Raises `InputError` as `save`."""
    if not before.read_only:
        disk.replace_whole(before.path.parent / BEFORE_FILE, before.text.encode("utf-8"))
    return after.save()


def can_undo(file: GardenFile) -> bool:
    """Whether a garden was accepted here before, and its old file is still there."""
    return not file.read_only and (file.path.parent / BEFORE_FILE).is_file()


def undo(file: GardenFile) -> GardenFile:
    """The garden as it was before the last acceptance, written back.

    Raises `InputError`: `problem-proposal-no-undo` where nothing was accepted here.
    """
    path = file.path.parent / BEFORE_FILE
    if not can_undo(file):
        raise InputError(Problem("problem-proposal-no-undo", "", str(path)))
    replace(file, text=path.read_bytes().decode("utf-8")).save()
    path.unlink()
    return GardenFile.open(file.path, file.today)


def written_to(folder: Path, after: GardenFile) -> GardenFile:
    """An accepted plan as a new garden in a folder of the grower's, as for a demo. Raises `InputError` where
    there is a garden already."""
    return GardenFile.save_new(folder, after.text, after.today)
