"""What of the package a reader can reach: from the command and the notebooks, by names and imports alone.

A definition is reached where a reached one names it. Importing a module runs what stands outside its
definitions, so that this counts as reached with the first definition of its module. Methods go with their
class.
"""

import ast
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "aquacalc"
Name = tuple[str, str]
"""Module and definition; an empty definition stands for what runs at import."""

START = (
    ("aquacalc.cli.command", "run"),
    # Called by the notebooks' server, by its name.
    ("aquacalc.serve.lab", "_load_jupyter_server_extension"),
)


@cache
def trees() -> dict[str, ast.Module]:
    """Every module as a syntax tree."""
    return {
        ".".join(("aquacalc", *path.relative_to(PACKAGE).with_suffix("").parts)): ast.parse(
            path.read_text("utf-8")
        )
        for path in sorted(PACKAGE.rglob("*.py"))
        if path.name != "__init__.py"
    }


def is_definition(node: ast.AST) -> bool:
    return isinstance(node, ast.FunctionDef | ast.ClassDef)


@cache
def defined() -> dict[str, dict[str, ast.AST]]:
    """The definitions of each module by name."""
    return {
        name: {one.name: one for one in tree.body if is_definition(one)} for name, tree in trees().items()
    }


def imported(tree: ast.AST) -> dict[str, Name]:
    """What a name in a module stands for: a module (no definition) or something in one."""
    found: dict[str, Name] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("aquacalc"):
            for one in node.names:
                whole = f"{node.module}.{one.name}"
                found[one.asname or one.name] = (
                    (whole, "") if whole in trees() else (node.module or "", one.name)
                )
        elif isinstance(node, ast.Import):
            found |= {one.asname: (one.name, "") for one in node.names if one.asname and one.name in trees()}
    return found


@cache
def imports() -> dict[str, dict[str, Name]]:
    """What the names of each module stand for."""
    return {name: imported(tree) for name, tree in trees().items()}


def named_in(node: ast.AST, module: str, names: dict[str, Name]) -> Iterator[Name]:
    """What a piece of code names, of its own module and of others.

    A module that stands as a value, as in a loop over modules, is asked for each attribute that stands there.
    """
    bases = {id(one.value) for one in ast.walk(node) if isinstance(one, ast.Attribute)}
    attributes = {one.attr for one in ast.walk(node) if isinstance(one, ast.Attribute)}
    for one in ast.walk(node):
        if isinstance(one, ast.Name):
            if one.id in defined().get(module, {}):
                yield module, one.id
            elif one.id in names:
                home, inside = names[one.id]
                yield home, inside
                if not inside and id(one) not in bases:
                    yield from ((home, each) for each in attributes if each in defined()[home])
        elif isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name) and one.value.id in names:
            home, inside = names[one.value.id]
            if not inside:
                yield home, one.attr


def notebooks() -> Iterator[Name]:
    """What the cells of the notebooks name."""
    for path in sorted((ROOT / "workbook").glob("*.ipynb")):
        cells = json.loads(path.read_text("utf-8"))["cells"]
        code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
        tree = ast.parse(code)
        yield from named_in(tree, "", imported(tree))


def reached() -> set[Name]:
    """Every definition that a reader can reach."""
    found: set[Name] = set()
    open_: list[Name] = [*START, *notebooks()]
    while open_:
        here = open_.pop()
        module, name = here
        if here in found or module not in trees():
            continue
        found.add(here)
        if name:
            open_.append((module, ""))
        if name and name not in defined()[module] and name in imports()[module]:
            open_.append(imports()[module][name])  # handed on by this module
        code = [defined()[module][name]] if name in defined()[module] else []
        if not name:
            code = [one for one in trees()[module].body if not is_definition(one)]
        for node in code:
            open_ += named_in(node, module, imports()[module])
    return found


def unreached() -> set[str]:
    """Functions and classes that nobody reaches, by module and name; private ones go with their users."""
    there = reached()
    return {
        f"{module.removeprefix('aquacalc.')}.{name}"
        for module, own in defined().items()
        for name in own
        if (module, name) not in there and not name.startswith("_")
    }
