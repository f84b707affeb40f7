"""Run the notebooks, keep the outputs of tagged cells, strip everything else.

    python tests/clean_notebooks.py                 all notebooks of workbook/
    python tests/clean_notebooks.py NOTEBOOK ...    these
    python tests/clean_notebooks.py --check ...     change nothing, exit status 1 where something would change

A cell whose saved output the tests compare carries both tags, `nbval-check-output` and `keep_output`. Cell
ids become the cell's number, the kernel becomes `python3`; counts, widget state and the interpreter's version
go. Only a cell with a kept output has a count, always 1: nbval refuses an output of a cell that never ran.
"""

import argparse
import sys
from pathlib import Path

import nbclient
import nbformat
from nbstripout import strip_output

WORKBOOK = Path(__file__).resolve().parents[1] / "workbook"
KERNELSPEC = {"display_name": "Python 3", "language": "python", "name": "python3"}
EXTRA_KEYS = [
    "metadata.widgets",
    "metadata.papermill",
    "metadata.language_info.version",
    "cell.metadata.execution",
    "cell.metadata.papermill",
]


def notebooks() -> list[Path]:
    """The notebooks of the workbook, in reading order."""
    return sorted(WORKBOOK.glob("*.ipynb"))


def stripped(text: str) -> str:
    """The notebook as it stands in git."""
    notebook = strip_output(nbformat.reads(text, as_version=4), False, False, False, EXTRA_KEYS)
    notebook.metadata["kernelspec"] = dict(KERNELSPEC)
    for cell in notebook.cells:
        if cell.get("outputs"):
            cell["execution_count"] = 1
    return nbformat.writes(notebook) + "\n"


def run(path: Path) -> str:
    """The notebook with fresh outputs, run in its own folder."""
    notebook = nbformat.read(path, as_version=4)
    nbclient.NotebookClient(
        notebook,
        timeout=600,
        kernel_name="python3",
        resources={"metadata": {"path": str(path.parent)}},
        extra_arguments=["--IPKernelApp.log_level=50"],
    ).execute()
    return nbformat.writes(notebook)


def main(argv: list[str]) -> int:
    parser = argparse.ArgumentParser(description="Run notebooks, keep tagged outputs, strip the rest.")
    parser.add_argument("notebooks", nargs="*", type=Path)
    parser.add_argument("--check", action="store_true", help="change nothing; exit status 1 if unclean")
    chosen = parser.parse_args(argv)
    changed = 0
    for path in chosen.notebooks or notebooks():
        before = path.read_text("utf-8")
        after = stripped(before if chosen.check else run(path))
        if after != before:
            changed += 1
            print(f"{path.name}: {'not clean' if chosen.check else 'written'}")
            if not chosen.check:
                path.write_text(after, "utf-8", newline="\n")
    return 1 if chosen.check and changed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
