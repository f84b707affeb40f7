"""The index of the formulas, docs/formulas.md: `python tests/docs_from_formulas.py` writes it anew.

A test compares the page with the code, so that neither can change alone.
"""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from aquacalc.possible import RANGES  # noqa: E402  (the script may run without an installed package)

PACKAGE = ROOT / "aquacalc"
PAGE = ROOT / "docs" / "formulas.md"
ROOMS = (
    *("water", "hydraulics", "climate", "uncertainty"),
    *("nitrogen", "fish", "crops", "solids", "aeration", "power", "kits"),
    *("film", "judge"),
)
"""Rooms of calculation that know no garden, by the floors."""


def modules() -> Iterator[tuple[str, ast.Module]]:
    """Every module of these rooms by its dotted name, as a syntax tree."""
    for room in ROOMS:
        single = PACKAGE / f"{room}.py"
        for path in [single] if single.is_file() else sorted((PACKAGE / room).glob("[!_]*.py")):
            name = ".".join(path.relative_to(PACKAGE).with_suffix("").parts)
            yield name, ast.parse(path.read_text("utf-8"))


def public(tree: ast.Module) -> Iterator[ast.FunctionDef]:
    """The functions of a module that others may call."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node


def arguments(function: ast.FunctionDef) -> list[str]:
    """Names of a function's arguments in their order."""
    own = function.args
    return [one.arg for one in (*own.posonlyargs, *own.args, *own.kwonlyargs)]


def page() -> str:
    """The whole page."""
    lines = [
        "# Formulas",
        "",
        "This page is written from the code by `python tests/docs_from_formulas.py`. Units stand in the",
        "names of the arguments; nitrogen counts as N. Sources and the span for which a formula was made",
        "stand in its own text: `help(aquacalc.water.oxygen.saturation_mg_l)`. An argument outside of what",
        "can be raises `aquacalc.errors.InputError`, a `ValueError`; NaN is `not known` and gives NaN.",
    ]
    for name, tree in modules():
        head = _first_sentence(ast.get_docstring(tree) or "")
        rows = [(_call(one), _first_sentence(ast.get_docstring(one) or "")) for one in public(tree)]
        if rows:
            lines += ["", f"## aquacalc.{name}", "", head, "", "| formula | what it gives |", "| --- | --- |"]
            lines += [f"| `{call}` | {what} |" for call, what in rows]
    lines += ["", "## What can be", "", "| argument | lowest | highest | unit |", "| --- | --- | --- | --- |"]
    lines += [f"| `{name}` | {low:g} | {high:g} | {unit} |" for name, (low, high, unit) in RANGES.items()]
    return "\n".join([*lines, ""])


def _call(function: ast.FunctionDef) -> str:
    return f"{function.name}({', '.join(arguments(function))})"


def _first_sentence(text: str) -> str:
    paragraph = " ".join(text.split("\n\n")[0].split())
    end = paragraph.find(". ")
    return (paragraph if end < 0 else paragraph[: end + 1]).replace("|", "\\|")


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8", newline="\n")
