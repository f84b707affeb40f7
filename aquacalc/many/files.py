"""The folder of many plans: one folder a garden, and beside them the summary, never over anything else."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path

from aquacalc import disk
from aquacalc.errors import InputError, Problem

DEFAULT_OUT = "season-plans"
RECORD = "season-plans.json"
TABLE, SHOPPING, PAGE = "summary.csv", "shopping.csv", "summary.html"
OURS = (TABLE, SHOPPING, PAGE)


def target(out: Path | None) -> Path:
    """The folder, made absolute; `InputError` where it is the current or the home folder, no folder, or holds
    a summary that this command did not write or that was changed since."""
    whole = (out or Path(DEFAULT_OUT)).expanduser().resolve()
    for kept in (Path.cwd().resolve(), Path.home().resolve()):
        if kept.is_relative_to(whole):
            raise InputError(Problem("problem-out-kept", found=str(whole)))
    if whole.exists() and not whole.is_dir():
        raise InputError(Problem("problem-not-a-folder", found=str(whole)))
    written = _written(whole)
    for name in OURS:
        path = whole / name
        if path.exists() and (not path.is_file() or written.get(name) != digest(path.read_bytes())):
            raise InputError(Problem("problem-out-strange", found=str(whole), allowed=(name,)))
    return whole


def _written(whole: Path) -> dict[str, str]:
    try:
        files = json.loads((whole / RECORD).read_text("utf-8"))["files"]
        return {str(name): str(one) for name, one in files.items()}
    except (OSError, ValueError, KeyError, AttributeError, TypeError):
        return {}


def digest(raw: bytes) -> str:
    """What tells whether a file is as it was written."""
    return hashlib.sha256(raw).hexdigest()


def write(whole: Path, texts: Mapping[str, str]) -> None:
    """Write the summary, whole or not at all; the record first, so that a stop never leaves a strange file.

    Raises `InputError` where the folder cannot be written.
    """
    raw = {name: text.encode() for name, text in texts.items()}
    record = {"written_by": "aquacalc season", "files": {name: digest(one) for name, one in raw.items()}}
    try:
        whole.mkdir(parents=True, exist_ok=True)
        for name in OURS:
            (whole / name).unlink(missing_ok=True)
    except OSError as fault:
        raise disk.cannot_write(whole, fault) from fault
    disk.replace_whole(whole / RECORD, (json.dumps(record, indent=1) + "\n").encode())
    for name, one in raw.items():
        disk.replace_whole(whole / name, one)
