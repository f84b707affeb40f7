"""The folder of a season plan: never anything lost that the command did not write, never a half-made page."""

import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from aquacalc.errors import InputError, Problem
from aquacalc.report.given import RUN_FILE

OLD, FAILED = ".old", ".failed"


def target(out: Path) -> Path:
    """The folder to write, made absolute; `InputError` where it must not be replaced.

    Refused are the current and the home folder and those around them, files, and folders that hold anything
    that this command did not write, also as the `.old` or `.failed` that a run replaces.
    """
    whole = out.expanduser().resolve()
    for kept in (Path.cwd().resolve(), Path.home().resolve()):
        if kept.is_relative_to(whole):
            raise InputError(Problem("problem-out-kept", found=str(whole)))
    for folder in (whole, _beside(whole, OLD), _beside(whole, FAILED)):
        _check(folder)
    return whole


def _beside(folder: Path, ending: str) -> Path:
    return folder.with_name(folder.name + ending)


def _check(folder: Path) -> None:
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise InputError(Problem("problem-not-a-folder", found=str(folder)))
    if not folder.is_dir():
        return
    written = _written(folder)
    for path in sorted(folder.iterdir()):
        if path.name == RUN_FILE and written:
            continue
        if not path.is_file() or written.get(path.name) != _digest(path):
            raise InputError(Problem("problem-out-strange", found=str(folder), allowed=(path.name,)))


def _written(folder: Path) -> dict[str, str]:
    """Names and digests of the files that a run wrote; empty where there is no run file that can be read."""
    try:
        files = json.loads((folder / RUN_FILE).read_text("utf-8"))["files"]
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
        work = Path(tempfile.mkdtemp(prefix=f".{whole.name}-", dir=whole.parent))
    except OSError as fault:
        reason = (fault.strerror or str(fault),)
        raise InputError(Problem("problem-cannot-write", found=str(whole), allowed=reason)) from fault
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)


def finish(work: Path, whole: Path) -> None:
    """Put a finished workplace in the target's place; what stood there is kept as `.old`, the newest only."""
    _seal(work)
    if whole.exists():
        _replace(whole, _beside(whole, OLD))
    os.replace(work, whole)
    failed = _beside(whole, FAILED)
    if failed.exists():
        shutil.rmtree(failed)


def keep_failed(work: Path, whole: Path) -> Path:
    """Keep the workplace of a run that failed, beside the target; the target stays as it is."""
    _seal(work)
    _replace(work, _beside(whole, FAILED))
    return _beside(whole, FAILED)


def _replace(folder: Path, place: Path) -> None:
    # A rename cannot replace a folder that holds something.
    if place.exists():
        shutil.rmtree(place)
    os.replace(folder, place)


def _seal(work: Path) -> None:
    """Write names and digests of all files into the run file, and give the folder ordinary rights."""
    path = work / RUN_FILE
    record = json.loads(path.read_text("utf-8")) if path.exists() else {"written_by": "aquacalc season"}
    others = sorted(one for one in work.iterdir() if one.name != RUN_FILE)
    record["files"] = {one.name: _digest(one) for one in others}
    path.write_text(json.dumps(record, indent=1, ensure_ascii=False) + "\n", "utf-8", newline="\n")
    # Temporary folders are made for their owner alone.
    mask = os.umask(0)
    os.umask(mask)
    work.chmod(0o777 & ~mask)
