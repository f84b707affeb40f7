"""The folder that a command writes: never anything lost that it did not write, never a half-made page."""

import hashlib
import json
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from glob import escape
from pathlib import Path

from aquacalc import disk
from aquacalc.errors import InputError, Problem
from aquacalc.report.given import RUN_FILE

OLD, FAILED = ".old", ".failed"
UNFINISHED = "-unfinished-"
LEFT_BEHIND_S = 86_400.0
"""A hidden folder in which nothing changed for a day belongs to no run that still goes on."""


def target(out: Path, run_file: str = RUN_FILE) -> Path:
    """The folder to write, made absolute; `InputError` where it must not be replaced.

    run_file: by which the command knows what it wrote.
    Refused are the current and the home folder and those around them, files, and folders that hold anything
    that this command did not write, also as the `.old` or `.failed` that a run replaces.
    """
    whole = out.expanduser().resolve()
    for kept in (Path.cwd().resolve(), Path.home().resolve()):
        if kept.is_relative_to(whole):
            raise InputError(Problem("problem-out-kept", found=str(whole)))
    for folder in (whole, _beside(whole, OLD), _beside(whole, FAILED)):
        _check(folder, run_file)
    return whole


def _beside(folder: Path, ending: str) -> Path:
    return folder.with_name(folder.name + ending)


def _check(folder: Path, run_file: str) -> None:
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise InputError(Problem("problem-not-a-folder", found=str(folder)))
    if not folder.is_dir():
        return
    written = _written(folder, run_file)
    for path in sorted(folder.iterdir()):
        if path.name == run_file and written:
            continue
        if not path.is_file() or written.get(path.name) != _digest(path):
            raise InputError(Problem("problem-out-strange", found=str(folder), allowed=(path.name,)))


def _written(folder: Path, run_file: str) -> dict[str, str]:
    """Names and digests of the files that a run wrote; empty where there is no run file that can be read."""
    try:
        files = json.loads((folder / run_file).read_text("utf-8"))["files"]
        return {str(name): str(digest) for name, digest in files.items()}
    except (OSError, ValueError, LookupError, TypeError, AttributeError):
        return {}


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


@contextmanager
def workplace(whole: Path) -> Iterator[Path]:
    """A folder beside the target to write in; gone afterwards, unless it was moved.

    Raises `InputError` where nothing can be written there.
    """
    try:
        whole.parent.mkdir(parents=True, exist_ok=True)
        _sweep(whole)
        work = _hidden(whole)
    except OSError as fault:
        raise disk.cannot_write(whole, fault) from fault
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)


def _hidden(whole: Path) -> Path:
    """A new folder beside the target that listings do not show."""
    return Path(tempfile.mkdtemp(prefix=f".{whole.name}{UNFINISHED}", dir=whole.parent))


def _sweep(whole: Path) -> None:
    """Take away what runs that were killed left behind beside this target."""
    for left in whole.parent.glob(f".{escape(whole.name)}{UNFINISHED}*"):
        with suppress(OSError):  # another run may be at it
            newest = max(one.stat().st_mtime for one in (left, *left.iterdir()))
            if time.time() - newest > LEFT_BEHIND_S:
                shutil.rmtree(left)


def finish(work: Path, whole: Path, run_file: str = RUN_FILE) -> None:
    """Put a finished workplace in the target's place; what stood there is kept as `.old`, the newest only."""
    _seal(work, run_file)
    if whole.exists():
        _replace(whole, _beside(whole, OLD))
    os.replace(work, whole)
    _discard(_beside(whole, FAILED))


def keep_failed(work: Path, whole: Path) -> Path:
    """Keep the workplace of a run that failed, beside the target; the target stays as it is."""
    _seal(work, RUN_FILE)
    _replace(work, _beside(whole, FAILED))
    return _beside(whole, FAILED)


def _replace(folder: Path, place: Path) -> None:
    # A rename cannot replace a folder that holds something.
    _discard(place)
    os.replace(folder, place)


def _discard(folder: Path) -> None:
    """Take a folder away. It loses its name first, so that a kill never leaves half of it under that name."""
    if folder.exists():
        aside = _hidden(folder)
        os.replace(folder, aside / folder.name)
        shutil.rmtree(aside)


def _seal(work: Path, run_file: str) -> None:
    """Write names and digests of all files into the run file, and give the folder ordinary rights."""
    path = work / run_file
    record = json.loads(path.read_text("utf-8")) if path.exists() else {"written_by": "aquacalc season"}
    others = sorted(one for one in work.iterdir() if one.name != run_file)
    record["files"] = {one.name: _digest(one) for one in others}
    path.write_text(json.dumps(record, indent=1, ensure_ascii=False) + "\n", "utf-8", newline="\n")
    # Temporary folders are made for their owner alone.
    work.chmod(0o777 & ~disk.umask())
