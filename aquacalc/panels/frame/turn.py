"""One long reckoning at a time for all pages of a server: a lock on a file, let go when its process ends.

The server names the file; without one nobody waits.
"""

import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

PLACE = "AQUACALC_TURN"
"""The name in the environment under which the file stands."""
LOOK_S = 0.5


class Turn:
    """A place in the queue; who asks first after the last one has ended is next."""

    def __init__(self) -> None:
        named = os.environ.get(PLACE, "")
        self._file = open(named, "ab") if named else None  # noqa: SIM115  (it is held until the turn ends)

    def taken(self) -> bool:
        """Whether it is this one's turn now."""
        if self._file is None:
            return True
        try:
            if sys.platform == "win32":
                msvcrt.locking(self._file.fileno(), msvcrt.LK_NBLCK, 1)
            else:
                fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True

    def end(self) -> None:
        """Let the next one begin."""
        if self._file is not None:
            self._file.close()


@contextmanager
def turn(waits: Callable[[], None]) -> Iterator[None]:
    """Wait for one's turn and keep it; waits: called once where there is somebody before."""
    mine = Turn()
    try:
        if not mine.taken():
            waits()
            while not mine.taken():
                time.sleep(LOOK_S)
        yield
    finally:
        mine.end()
