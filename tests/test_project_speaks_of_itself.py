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
