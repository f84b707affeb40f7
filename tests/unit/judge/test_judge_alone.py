"""Nobody but the judge reads the table of lines, so that one water cannot be judged in two ways."""

from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[3] / "aquacalc"

PRINTS = {"tables.py"}
"""Modules that name the table as an example."""


def test_only_the_judge_reads_the_table_of_lines():
    readers = {
        str(path.relative_to(PACKAGE))
        for path in PACKAGE.rglob("*.py")
        if 'load("water_limits")' in path.read_text("utf-8")
    }
    assert {one for one in readers if not one.startswith("judge/")} == PRINTS
    assert {one for one in readers if one.startswith("judge/")} == {"judge/lines.py"}
