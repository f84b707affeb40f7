"""Files that are written whole or not at all, also where the disk is full or the process is killed."""

import errno
import os
import shutil
import tempfile
import time
from contextlib import suppress
from pathlib import Path

from aquacalc.errors import InputError, Problem

LEFT_BEHIND_S = 60.0
"""A temporary file of this age belongs to no save that still runs."""

FULL = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC), errno.EFBIG)


def replace_whole(path: Path, raw: bytes) -> None:
    """Put these bytes in the place of a file in one step; a link stays a link, the rights stay as they are.

    Raises `InputError` (`problem-cannot-write`, `problem-disk-full`); then the old file is as it was and no
    half-made one stays. What killed saves of this file left behind is taken away.
    """
    target = path.resolve()
    temporary: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".tmp", dir=target.parent)
        temporary = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            shutil.copymode(target, temporary)
        else:
            temporary.chmod(0o666 & ~umask())
        os.replace(temporary, target)
    except OSError as fault:
        if temporary is not None:
            temporary.unlink(missing_ok=True)
        raise cannot_write(path, fault) from fault
    _sweep(target)


def cannot_write(path: Path, fault: OSError) -> InputError:
    """What is wrong with a place that could not be written."""
    if fault.errno in FULL:
        return InputError(Problem("problem-disk-full", "", str(path)))
    return InputError(Problem("problem-cannot-write", "", str(path), (reason(fault),)))


def reason(fault: OSError) -> str:
    """Why the machine refused, in its own words."""
    return fault.strerror or str(fault)


def umask() -> int:
    """The rights that new files of this process do not get."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _sweep(target: Path) -> None:
    """Take away what saves of this file left behind when they were killed."""
    for left in target.parent.glob(f".{target.name}.*.tmp"):
        with suppress(OSError):  # another save may be at it
            if time.time() - left.stat().st_mtime > LEFT_BEHIND_S:
                left.unlink()
