"""Lines on a terminal, whatever its width and its characters."""

import os
import shutil
import sys
import textwrap
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import TextIO

NO_BREAK_SPACE = "\u00a0"
NARROWEST, WIDEST = 60, 100


def put(text: str = "") -> None:
    """Print one line on standard output. Raises `OSError` where it goes into a file and the disk is full."""
    _write(text, sys.stdout)


def complain(text: str) -> None:
    """Print one line on standard error; where nothing can be written there, nothing more can be told."""
    with suppress(OSError):
        _write(text, sys.stderr)


def finish() -> None:
    """Write what others left on standard output. Raises `OSError` as `put` does."""
    if sys.stdout is not None:
        with _to_nowhere_once_broken(sys.stdout):
            sys.stdout.flush()


def width() -> int:
    """Columns to fill."""
    return max(NARROWEST, min(shutil.get_terminal_size().columns - 1, WIDEST))


def paragraph(text: str, indent: str = "") -> str:
    """A text wrapped to the terminal; a number stays on one line with its unit."""
    return textwrap.fill(
        text, width(), initial_indent=indent, subsequent_indent=" " * len(indent), break_on_hyphens=False
    )


def table(head: Sequence[str], rows: Sequence[Sequence[str]], mark: str = "*") -> list[str]:
    """Rows under a head: the first column to the left, the others to the right.

    A mark stands behind its number, outside the column, so that the digits stay one below the other. A row of
    one cell is a heading.

    >>> table(["", "Jan", "Feb"], [["oxygen", "95*", "120"]])
    ['       Jan  Feb', 'oxygen  95* 120']
    """

    def padded(cell: str) -> str:
        return cell if cell.endswith(mark) else f"{cell} "

    cells = [[row[0], *map(padded, row[1:])] for row in [head, *rows]]
    columns = [max(map(len, column)) for column in zip(*(row for row in cells if len(row) > 1), strict=True)]
    first, *others = columns
    return [
        " ".join(
            [f"{row[0]:<{first}}", *(f"{c:>{w}}" for c, w in zip(row[1:], others, strict=False))]
        ).rstrip()
        for row in cells
    ]


def _write(text: str, stream: TextIO | None) -> None:
    if stream is None:  # closed before the command began
        return
    with _to_nowhere_once_broken(stream):
        stream.write(showable(text, stream.encoding or "utf-8") + "\n")
        stream.flush()


@contextmanager
def _to_nowhere_once_broken(stream: TextIO) -> Iterator[None]:
    """Whoever closed the stream has seen enough: the work goes on, the rest is written to nowhere.

    Where it cannot be written for another reason, this is told by the error, and the rest goes there too, or
    Python would stumble over it again as it ends.
    """
    try:
        yield
    except OSError as fault:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        if not isinstance(fault, BrokenPipeError):
            raise


def showable(text: str, encoding: str) -> str:
    """The text in characters that the terminal has; what it lacks, and control characters, become `?`.

    >>> showable("Tank \\x1b[31m 🐟 25\\u00a0°C", "cp1252")
    'Tank ?[31m ? 25 °C'
    """
    plain = text.replace(NO_BREAK_SPACE, " ")
    visible = "".join(c if c.isprintable() or c == "\n" else "?" for c in plain)
    return visible.encode(encoding, "replace").decode(encoding)
