"""docs/questions.csv says where each question of growers is answered: this writes the lists made from it.

`python tests/docs_from_questions.py` writes docs/questions.md and the list in the start notebook anew; tests
compare them, open every link and run every example.
"""

import csv
import json
import shlex
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TABLE, PAGE = ROOT / "docs" / "questions.csv", ROOT / "docs" / "questions.md"
WORKBOOK = ROOT / "workbook"
START = WORKBOOK / "00_start_here.ipynb"
HEADING = "## Sixty questions of growers"
"""The first line of the notebook's cell that holds the list."""
SAID = "Each one leads to the place that answers it with your own numbers."


@dataclass(frozen=True)
class Question:
    """A question in a grower's words, the notebook and its part that answer it, an example of the command."""

    question: str
    notebook: str
    part: str
    command: str

    @property
    def anchor(self) -> str:
        """The part as links name it."""
        return self.part.replace(" ", "-").replace("(", "%28").replace(")", "%29")

    @property
    def arguments(self) -> list[str]:
        """What stands behind `aquacalc` in the example; none without one."""
        return shlex.split(self.command)[1:]


def questions() -> list[Question]:
    """All questions in the order of the table."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        return [Question(**row) for row in csv.DictReader(file)]


def titles() -> dict[str, str]:
    """The title of each notebook."""
    return {path.stem: _title(path) for path in sorted(WORKBOOK.glob("*.ipynb"))}


def _title(path: Path) -> str:
    return parts(path, "# ")[0]


def parts(path: Path, mark: str = "## ") -> list[str]:
    """The headings of a notebook."""
    cells = json.loads(path.read_text("utf-8"))["cells"]
    lines = [line for cell in cells if cell["cell_type"] == "markdown" for line in cell["source"]]
    return [line.removeprefix(mark).strip() for line in lines if line.startswith(mark)]


def listed(folder: str) -> Iterator[str]:
    """The list, a paragraph a notebook. folder: of the notebooks, as links from the page name it."""
    named = titles()
    by_notebook = sorted(questions(), key=lambda one: list(named).index(one.notebook))
    for notebook, found in groupby(by_notebook, key=lambda one: one.notebook):
        yield f"**[{named[notebook]}]({folder}{notebook}.ipynb)**\n"
        for one in found:
            example = f" (`{one.command}`)" if one.command else ""
            yield f"- [{one.question}]({folder}{notebook}.ipynb#{one.anchor}){example}"
        yield ""


def page() -> str:
    """The page of the docs."""
    head = f"# {HEADING.removeprefix('## ')}\n\n{SAID} Written by `tests/docs_from_questions.py`.\n"
    return "\n".join([head, *listed("../workbook/")]).rstrip() + "\n"


def cell() -> str:
    """The cell of the start notebook."""
    return "\n".join([f"{HEADING}\n\n{SAID}\n", *listed("")]).rstrip()


def started(text: str) -> str:
    """The start notebook with its list written anew."""
    notebook = json.loads(text)
    for one in notebook["cells"]:
        if "".join(one["source"]).startswith(HEADING):
            one["source"] = cell().splitlines(keepends=True)
    return json.dumps(notebook, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8", newline="\n")
    START.write_text(started(START.read_text("utf-8")), "utf-8", newline="\n")
    sys.exit(0)
