"""The floors of DEVELOPERS.md hold, outside libraries stay in their rooms, and starting up stays light."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "aquacalc"
MODULES = [path for path in sorted(PACKAGE.rglob("*.py")) if path.name != "__init__.py"]

ONLY_IN = {
    "altair": {"charts"},
    "vl_convert": {"charts"},
    "ipywidgets": {"panels"},
    "IPython": {"panels"},
    "papermill": {"report"},
    "nbconvert": {"report"},
    "nbformat": {"report"},
    "plutoprint": {"report"},
    "pypdf": {"report"},
    "icalendar": {"report"},
    "fluent": {"words"},
    "pydantic": {"garden"},
    "pydantic_core": {"garden"},
    "tomlkit": {"garden"},
    "jupyterlab": {"serve"},
    "jupyter_server": {"serve"},
    "voila": {"serve"},
    "segno": {"serve"},
    "psutil": {"serve"},
    "jupyter_core": {"serve"},
    "tornado": {"serve"},
    "traitlets": {"serve"},
    "tomllib": {"garden"},
    "pandas": {"logbook", "harvest", "charts", "pages", "report", "many"},
}


HEAVY = ["altair", "IPython", "papermill", "pandas", "fluent", "scipy"]


def floors() -> dict[str, int]:
    """Floor of each room, as the table of DEVELOPERS.md has it."""
    rows = re.findall(r"^\| (\d+) \| ([^|]+) \|", (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.MULTILINE)
    return {room: int(floor) for floor, rooms in rows for room in re.findall(r"`(\w+)`", rooms)}


FLOOR = floors()


def room_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(path: Path) -> Iterator[str]:
    # The syntax tree also shows imports that stand inside functions.
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write the import in full"
            assert all(alias.name != "*" for alias in node.names), f"{path}: name what you import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def test_the_table_has_sixteen_floors_and_names_no_room_twice():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    cells = re.findall(r"^\| \d+ \| ([^|]+) \|", text, re.MULTILINE)
    rooms = [room for cell in cells for room in cell.split(", ")]
    assert sorted(set(FLOOR.values())) == list(range(16))
    assert len(rooms) == len(set(rooms)) == len(FLOOR)


def misplaced(path: Path) -> Iterator[str]:
    """What is wrong with the imports of a module, in words."""
    here = room_of(path)
    if here not in FLOOR:
        yield f"{path}: {here} stands in no row of DEVELOPERS.md"
        return
    for name in imported(path):
        top, *rest = name.split(".")
        room = rest[0] if top == "aquacalc" and rest else here
        if room in FLOOR and room != here != "__main__" and FLOOR[room] >= FLOOR[here]:
            yield f"{path}: {here} must not import {room}"
        if here not in ONLY_IN.get(top, {here}):
            yield f"{path}: {top} belongs in {sorted(ONLY_IN[top])}, not in {here}"


def test_imports_point_to_lower_floors():
    assert [problem for path in MODULES for problem in misplaced(path)] == []


def loads_scipy(path: Path) -> bool:
    """Whether scipy is imported as soon as the module is."""
    for node in ast.parse(path.read_text("utf-8")).body:
        if isinstance(node, ast.Import | ast.ImportFrom):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else [a.name for a in node.names]
            if any(name.split(".")[0] == "scipy" for name in names):
                return True
    return False


def test_scipy_is_imported_only_inside_functions():
    assert [path for path in MODULES if loads_scipy(path)] == []


def test_the_calendar_is_counted_in_one_place():
    """How many days, weeks and months there are is told by `constants` alone."""
    named = re.compile(
        r"^_?(?:MONTHS\w*|DAYS(?:_\w*(?:YEAR|WEEK|PLAN))?|WEEK_D\w*|YEAR_D\w*|HOURS_\w*DAY) = "
        r"(?:12|7|365|24)\b"
    )
    tellers = {
        str(path.relative_to(PACKAGE))
        for path in MODULES
        if any(named.match(line) for line in path.read_text("utf-8").splitlines())
    }
    assert tellers == {"constants.py"}


def test_the_shortcut_past_the_grammar_stands_only_where_it_is_explained():
    holders = {room_of(path) for path in MODULES if "rfc3987_syntax" in path.read_text("utf-8")}
    assert holders <= {"charts", "report"}


def holds_code(path: Path) -> bool:
    """Whether a package's own file does more than tell its version."""
    body = [node for node in ast.parse(path.read_text("utf-8")).body if not isinstance(node, ast.Expr)]
    return [ast.unparse(node).split(" = ")[0] for node in body] not in ([], ["__version__"])


def test_package_files_hold_no_code():
    assert [path for path in sorted(PACKAGE.rglob("__init__.py")) if holds_code(path)] == []


@pytest.mark.parametrize(
    ("module", "unloaded"),
    [
        ("aquacalc.sizing.balance", [*HEAVY, "pydantic"]),
        ("aquacalc.garden.file", HEAVY),
        ("aquacalc.cli.command", [*HEAVY, "pydantic", "numpy"]),
    ],
)
def test_importing_stays_light(module: str, unloaded: list[str]):
    code = f"import sys, {module}; print(*(name for name in {unloaded} if name in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=True)
    assert done.stdout.split() == []
