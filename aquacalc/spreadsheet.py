"""Tables as CSV that a spreadsheet shows and never runs: a cell that looks like a formula gets an apostrophe.

Spreadsheets take a cell that begins with = + - or @ for a formula, also where it was meant as a name or a
note. An apostrophe before it makes it text, as when a person types one there. Numbers stay numbers.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence

APOSTROPHE = "'"
FORMULA = re.compile(r"\s*[=+\-@]")
"""How a cell begins that a spreadsheet would run."""
NUMBER = re.compile(r"\s*[+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?\s*")
GUARDED = re.compile(rf"{APOSTROPHE}(?={FORMULA.pattern})")


def guarded(cell: str) -> str:
    """A cell as it may be written.

    >>> [guarded(one) for one in ("=1+1", "-1.5", "-little-", "@home", "bed 2")]
    ["'=1+1", '-1.5', "'-little-", "'@home", 'bed 2']
    """
    return f"{APOSTROPHE}{cell}" if FORMULA.match(cell) and not NUMBER.fullmatch(cell) else cell


def unguarded(cell: str) -> str:
    """A cell as it was meant.

    >>> [unguarded(one) for one in ("'=1+1", "-1.5", "the pump's lid")]
    ['=1+1', '-1.5', "the pump's lid"]
    """
    return cell[1:] if GUARDED.match(cell) else cell


def text(rows: Iterable[Sequence[str]]) -> str:
    """Rows as CSV: commas, lines that end in one sign, every cell guarded."""
    written = io.StringIO(newline="")
    csv.writer(written, lineterminator="\n").writerows([guarded(cell) for cell in row] for row in rows)
    return written.getvalue()
