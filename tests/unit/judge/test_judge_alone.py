"""Nobody but the judge reads the table of lines, so that one water cannot be judged in two ways."""

from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[3] / "aquacalc"

STILL_READ = {
    "advice/log.py",
    "advice/season/base.py",
    "advice/season/beds.py",
    "advice/season/nitrate.py",
    "advice/new_water/hard_water.py",
    "charts/season_limits.py",
    "pages/wall/doses.py",
    "pages/wall/routine.py",
    "panels/log/read_log.py",
    "panels/size/loop_volume.py",
    "panels/startup/new_fish.py",
    "season/fishes.py",
    "sizing/balance.py",
    "startup/methods.py",
    "water/chlorine.py",
}
"""Modules that still look into the table themselves; the list only becomes shorter."""

PRINTS = {"pages/folder/sources.py", "tables.py"}
"""Modules that print the table itself with its sources, or name it as an example."""


def test_only_the_judge_reads_the_table_of_lines():
    readers = {
        str(path.relative_to(PACKAGE))
        for path in PACKAGE.rglob("*.py")
        if 'load("water_limits")' in path.read_text("utf-8")
    }
    assert {one for one in readers if not one.startswith("judge/")} == STILL_READ | PRINTS
    assert {one for one in readers if one.startswith("judge/")} == {"judge/lines.py"}
