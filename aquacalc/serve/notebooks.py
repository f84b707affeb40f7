"""The notebooks as pages: what each one asks and answers, and whether a notebook is the workbook's own."""

import ast
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from aquacalc.garden import places

FIRST = "07_when_it_goes_wrong.ipynb"
"""What nobody should have to look for stands first."""
PLAN = "season_plan.ipynb"
"""Run by the command, not opened as a page."""
PARAMETERS = "parameters"
FROM_16 = "from-16"
"""Tag of cells that weigh out what the young do not get into their hands."""

_BOLD = re.compile(r"\*\*(.+?)\*\*")
_LINK = re.compile(r"\[([^]]+)\]\([^)]*\)")


@dataclass(frozen=True)
class Part:
    """A heading of a notebook and the name under which its page can be entered there.

    from_16: not for the young.
    """

    title: str
    anchor: str
    from_16: bool = False


@dataclass(frozen=True)
class Page:
    """A notebook as its reader chooses it. question: in the words of its first cell."""

    file: str
    title: str
    question: str
    parts: tuple[Part, ...]


def folder_of(folder: Path) -> Path:
    """Where the pages of a folder lie: in it, where it holds notebooks of ours, else in the workbook."""
    names = {path.name for path in places.workbook().glob("*.ipynb")} - {PLAN}
    return folder if any((folder / name).is_file() for name in names) else places.workbook()


def pages(folder: Path) -> tuple[Page, ...]:
    """All notebooks of a folder but the printed plan, that for bad mornings first; no broken ones."""
    found = [_page(path) for path in sorted(folder.glob("*.ipynb")) if path.name != PLAN]
    return tuple(sorted((one for one in found if one is not None), key=lambda one: one.file != FIRST))


def _page(path: Path) -> Page | None:
    cells = [cell for cell in _cells(path) if cell.get("cell_type") == "markdown"]
    texts = [_source(cell) for cell in cells]
    heads = [
        (line, from_16(cell))
        for cell, text in zip(cells, texts, strict=True)
        for line in text.splitlines()
        if line.startswith("#")
    ]
    title = next((line[2:].strip() for line, _ in heads if line.startswith("# ")), "")
    if not title:
        return None
    question = _BOLD.search(texts[0])
    parts = tuple(
        Part(plain, plain.replace(" ", "-"), older)
        for plain, older in ((_plain(line[3:].strip()), older) for line, older in heads if line[:3] == "## ")
    )
    return Page(path.name, _plain(title), _plain(question[1]) if question else "", parts)


def from_16(cell: Mapping[str, Any]) -> bool:
    """Whether a cell is not for the young."""
    return FROM_16 in (cell.get("metadata") or {}).get("tags", ())


def _plain(text: str) -> str:
    return _LINK.sub(r"\1", text).replace("*", "").replace("`", "")


def ours(path: Path) -> bool:
    """Whether a notebook holds exactly the code of one of the workbook's notebooks.

    Such a notebook may be started without being asked: whatever its name or its metadata say, it runs nothing
    that did not come with the package. Only the text of its garden may differ.
    """
    return _code(path) in _known()


@cache
def _known() -> frozenset[tuple[str, ...]]:
    return frozenset(_code(path) for path in places.workbook().glob("*.ipynb") if path.name != PLAN)


def _code(path: Path) -> tuple[str, ...]:
    return tuple(
        PARAMETERS if _names_a_garden(_source(cell)) else _source(cell)
        for cell in _cells(path)
        if cell.get("cell_type") == "code"
    )


def _names_a_garden(source: str) -> bool:
    """Whether a cell does nothing but give a garden's name.

    >>> _names_a_garden('garden = "demo:yard"'), _names_a_garden('garden = open("x")')
    (True, False)
    """
    try:
        body = ast.parse(source).body
    except (SyntaxError, ValueError):
        return False
    return (
        len(body) == 1
        and isinstance(body[0], ast.Assign)
        and [ast.unparse(target) for target in body[0].targets] == ["garden"]
        and isinstance(body[0].value, ast.Constant)
    )


def _cells(path: Path) -> Sequence[dict[str, Any]]:
    """The cells of a notebook file; none where it is no such file."""
    try:
        read = json.loads(path.read_text("utf-8"))
        return [cell for cell in read["cells"] if isinstance(cell, dict)]
    except (OSError, ValueError, KeyError, TypeError):
        return ()


def _source(cell: dict[str, Any]) -> str:
    source = cell.get("source", "")
    return source if isinstance(source, str) else "".join(map(str, source))
