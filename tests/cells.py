"""Run the cells of a notebook as plain Python, without a kernel: all that a cell calls runs."""

import contextlib
import io
import json
from pathlib import Path

WORKBOOK = Path(__file__).resolve().parents[1] / "workbook"
PANELS = tuple(sorted(path.stem for path in WORKBOOK.glob("0*.ipynb")))
PLAN = "season_plan"


def run(notebook: str, **parameters: object) -> str:
    """What a notebook of the workbook prints; its first cell, the parameters, is replaced."""
    cells = json.loads((WORKBOOK / f"{notebook}.ipynb").read_text("utf-8"))["cells"]
    first, *codes = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    space: dict[str, object] = {}
    exec(first, space)
    assert set(parameters) <= set(space)
    space.update(parameters)
    printed = io.StringIO()
    for number, code in enumerate(codes, start=1):
        with contextlib.redirect_stdout(printed), contextlib.redirect_stderr(io.StringIO()):
            exec(compile(code, f"{notebook}, cell {number}", "exec"), space)
    return printed.getvalue()
