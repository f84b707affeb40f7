"""Notebooks are thin: text, a few calls, one checked number; what computes lives in the package."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import clean_notebooks
import nbformat
import pytest

NOTEBOOKS = clean_notebooks.notebooks()
MOST_LINES = 12
NOT_IN_A_CELL = (
    ast.FunctionDef,
    ast.AsyncFunctionDef,
    ast.Lambda,
    ast.ClassDef,
    ast.For,
    ast.While,
    ast.comprehension,
    ast.Try,
    ast.BinOp,
    ast.AugAssign,
)

FETCHES = re.compile(r"^\s*[!%]|\bpip\b|https?://|urllib|requests|subprocess|os\.system", re.MULTILINE)

each_notebook = pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)


def read(path: Path) -> nbformat.NotebookNode:
    return nbformat.read(path, as_version=4)


def code_cells(path: Path) -> Iterator[nbformat.NotebookNode]:
    return (cell for cell in read(path).cells if cell.cell_type == "code")


def tags(cell: nbformat.NotebookNode) -> set[str]:
    return set(cell.metadata.get("tags", []))


def test_the_workbook_opens_with_these_notebooks():
    assert {"00_start_here", "01_size_the_garden", "season_plan"} <= {path.stem for path in NOTEBOOKS}


@each_notebook
def test_a_notebook_opens_with_its_question_in_words(path: Path):
    first = read(path).cells[0]
    assert first.cell_type == "markdown"
    assert first.source.startswith("# ")


@each_notebook
def test_cells_are_short_and_only_call(path: Path):
    for cell in code_cells(path):
        assert len(cell.source.splitlines()) <= MOST_LINES, cell.source
        nodes = list(ast.walk(ast.parse(cell.source)))
        assert not [ast.unparse(node) for node in nodes if isinstance(node, NOT_IN_A_CELL)]
        assert not [node for node in nodes if isinstance(node, ast.alias) and node.name == "*"]


@each_notebook
def test_cells_install_and_download_nothing(path: Path):
    for cell in code_cells(path):
        assert not FETCHES.search(cell.source), cell.source


@each_notebook
def test_a_name_is_set_in_one_cell_only(path: Path):
    setters: dict[str, int] = {}
    for number, cell in enumerate(code_cells(path)):
        for node in ast.walk(ast.parse(cell.source)):
            names = [node.id] if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store) else []
            if isinstance(node, ast.Import | ast.ImportFrom):
                names = [alias.asname or alias.name.split(".")[0] for alias in node.names]
            for name in names:
                assert setters.setdefault(name, number) == number, f"{name} is set in two cells"


@each_notebook
def test_outputs_are_kept_only_where_they_are_compared(path: Path):
    compared = [cell for cell in code_cells(path) if "nbval-check-output" in tags(cell)]
    assert compared, "no cell of this notebook is compared"
    for cell in code_cells(path):
        assert cell.execution_count == (1 if cell.outputs else None)
        assert ("nbval-check-output" in tags(cell)) == ("keep_output" in tags(cell)) == bool(cell.outputs)
        for output in cell.outputs:
            # Pictures and widgets are never compared, so a compared cell prints.
            assert output.output_type in ("stream", "execute_result", "display_data")
            data = output.get("data", {})
            assert output.get("text") or "text/plain" in data
            assert not any(kind.startswith(("image/", "application/vnd.jupyter")) for kind in data)


def test_the_notebooks_are_as_the_cleaning_command_leaves_them():
    names = [str(path) for path in NOTEBOOKS]
    assert {read(path).metadata.kernelspec.name for path in NOTEBOOKS} == {"python3"}
    assert clean_notebooks.main(["--check", *names]) == 0
    extra = ["--extra-keys", " ".join(clean_notebooks.EXTRA_KEYS)]
    command = [sys.executable, "-m", "nbstripout", "--verify", "--keep-count", *extra, *names]
    assert subprocess.run(command).returncode == 0


def test_cleaning_keeps_tagged_outputs_and_strips_the_rest():
    tagged = nbformat.v4.new_code_cell("print(1)", execution_count=3)
    tagged.metadata["tags"] = ["keep_output"]
    plain = nbformat.v4.new_code_cell("print(2)", execution_count=4)
    for cell in (tagged, plain):
        cell.outputs = [nbformat.v4.new_output("stream", text="seen")]
        cell.metadata["execution"] = {"iopub.execute_input": "now"}
    notebook = nbformat.v4.new_notebook(cells=[tagged, plain], metadata={"widgets": {"state": {}}})
    clean = nbformat.reads(clean_notebooks.stripped(nbformat.writes(notebook)), as_version=4)
    assert [len(cell.outputs) for cell in clean.cells] == [1, 0]
    assert [cell.execution_count for cell in clean.cells] == [1, None]
    assert [cell.id for cell in clean.cells] == ["0", "1"]
    assert "execution" not in clean.cells[0].metadata
    assert "widgets" not in clean.metadata
