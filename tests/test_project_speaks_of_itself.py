"""The project's files speak of the garden and of the project only: no machine's paths, no workplace."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
BINARY = {".ttf", ".woff2", ".png", ".jpg", ".pdf", ".npz", ".gz"}

# Each is written in two halves, so that this file does not hold what it forbids.
FORBIDDEN = [
    r"(?<![\w.>/])/(wo" r"rk|ro" r"ot|fa" r"rm|tm" r"p|ho" r"me/\w+)/",
    r"\.\./sha" r"red\b",
    r"\b(py" r"pi\.org|files\.pyth" r"onhosted|registry\.np" r"mjs|deb\.deb" r"ian\.org)",
    r"\bissue\s*#?\d",
    r"\b(hel" r"pers?|bri" r"ef\.md|des" r"ign\.md)\b",
    r"\b(Clau" r"de|Anthro" r"pic|Chat" r"GPT|language mo" r"del)\b",
]


def project_files() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"], cwd=ROOT, capture_output=True
    )
    if listed.returncode == 0:
        found = [ROOT / name for name in listed.stdout.decode().split("\0") if name]
    else:
        kept = ("aquacalc", "demo", "docs", "tests", "workbook")
        found = [path for top in kept for path in (ROOT / top).rglob("*") if "__pycache__" not in path.parts]
    return [path for path in found if path.is_file() and path.suffix not in BINARY]


# The steps of ammonia cards that are sold: a quarter, doubled again and again.
DOUBLED = [2.0**power for power in range(-2, 4)]
NUMBERS_IN_A_ROW = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:[\s,;|/\"']+\d+(?:\.\d+)?(?![\w.]*\w))+")


def holds_doubled(numbers: list[float]) -> bool:
    """Whether three from a quarter on, or four from anywhere, stand one behind the other."""
    wanted = [DOUBLED[:3], *(DOUBLED[first : first + 4] for first in range(len(DOUBLED) - 3))]
    return any(
        numbers[place : place + len(row)] == row
        for row in wanted
        for place in range(len(numbers) - len(row) + 1)
    )


def test_no_file_holds_the_steps_of_a_kit_that_is_sold():
    hits = []
    for path in project_files():
        for row in NUMBERS_IN_A_ROW.finditer(path.read_text("utf-8")):
            if holds_doubled([float(one) for one in re.findall(r"\d+(?:\.\d+)?", row[0])]):
                hits.append(f"{path.relative_to(ROOT)}: {row[0][:80]}")
    assert hits == []


@pytest.mark.parametrize(("first", "apart"), [(-2, ", "), (-1, " | "), (0, "\n    ")])
def test_the_steps_are_found_where_they_stand(first: int, apart: str):
    text = apart.join(f"{2.0**power:g}" for power in range(first, first + 4))
    found = NUMBERS_IN_A_ROW.search(f"steps = ({text})")
    assert found is not None
    assert holds_doubled([float(one) for one in re.findall(r"\d+(?:\.\d+)?", found[0])])


@pytest.mark.parametrize("pattern", FORBIDDEN)
def test_no_file_holds(pattern: str):
    seek = re.compile(pattern, re.IGNORECASE)
    hits = []
    for path in project_files():
        place = str(path.relative_to(ROOT))
        lines = [place, *path.read_text("utf-8").splitlines()]
        found = [(number, line.strip()) for number, line in enumerate(lines) if seek.search(line)]
        hits += [f"{place}:{number}: {line[:120]}" for number, line in found]
    assert hits == []


def test_every_file_is_text_in_utf8_with_unix_lines():
    assert [str(path.relative_to(ROOT)) for path in project_files() if b"\r" in path.read_bytes()] == []


def test_the_top_level_holds_nothing_new():
    tops = {path.relative_to(ROOT).parts[0] for path in project_files()}
    known = {"README.md", "DEVELOPERS.md", "pyproject.toml", "workbook", "aquacalc", "tests", "demo", "docs"}
    assert {top for top in tops if not top.startswith(".")} <= known
