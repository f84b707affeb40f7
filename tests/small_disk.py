"""A disk that is soon full: a small one in memory where this account may mount one."""

import os
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def small_disk(kilobytes: int) -> Iterator[Path | None]:
    """A folder on a disk of this size; None where nothing can be mounted."""
    with tempfile.TemporaryDirectory() as name:
        mount = ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", name]
        may = hasattr(os, "geteuid") and os.geteuid() == 0
        if not may or subprocess.run(mount, capture_output=True).returncode != 0:
            yield None
            return
        try:
            yield Path(name)
        finally:
            subprocess.run(["umount", name], check=True)


def little_files(longest: int) -> None:
    """For a new process, where nothing can be mounted: no file may grow beyond this many bytes."""
    import resource

    resource.setrlimit(resource.RLIMIT_FSIZE, (longest, longest))
