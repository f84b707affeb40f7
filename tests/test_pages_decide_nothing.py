"""Pages, sentences and the report print what was decided: they call no formula to get an amount.

What they take from the rooms that compute (floors 2 to 6 of DEVELOPERS.md) are types and constants, written
with a capital. A function or a module of functions stands here with its reason, and nothing here is stale.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from test_layers import FLOOR, PACKAGE

PRINTING = ("pages", "sentences", "report")
COMPUTING = range(2, 7)

PERCENTILES = "the spread of the tries over a month or a batch, no new amount"
NAMES = "names, temperatures and other columns of a species as its table has them"
AS_READ = "an amount that was decided, as the garden's own kit shows it"
ABSENCE = "who is there on a day, as the garden file has it"
LINES = "lines, levels and sizes of actions are the judge's, who is asked"
OPENS = "opens the garden and its log, works out the plan once for all pages"

EXCEPTIONS: dict[str, dict[str, str]] = {
    "pages/folder/costs.py": {"uncertainty.band": PERCENTILES},
    "pages/folder/facts.py": {"season.from_log": OPENS},
    "pages/folder/fish_page.py": {"uncertainty.band": PERCENTILES},
    "pages/folder/glance.py": {"uncertainty.band": PERCENTILES},
    "pages/folder/sources.py": {
        "sizing.balance.triangles": "names of the coefficients that count, no amount"
    },
    "pages/folder/water_page.py": {"uncertainty.band": PERCENTILES},
    "pages/jobs.py": {"schedule.absences": ABSENCE},
    "pages/kit.py": {"kits": AS_READ},
    "pages/plan.py": {
        "garden.litres": OPENS,
        "sizing.changes.balance_with_changes": OPENS,
        "sizing.wishes.wished": OPENS,
    },
    "pages/startup.py": {"judge.sizes": LINES},
    "pages/startup_doses.py": {
        "kits": AS_READ,
        "water.dosing": "the record of a chemical, handed to the start-up's own doses",
    },
    "pages/wall/ammonia_table.py": {
        "judge.ammonia": LINES,
        "judge.levels.reaches": LINES,
        "kits": AS_READ,
        "water.ammonia": "the sheet is a table of this formula",
    },
    "pages/wall/doses.py": {"kits": AS_READ},
    "pages/wall/emergency.py": {"judge.sizes": LINES, "judge.temperature": LINES},
    "pages/wall/routine.py": {
        "judge.lines": LINES,
        "judge.nitrite": LINES,
        "judge.oxygen": LINES,
        "judge.temperature": LINES,
    },
    "pages/wall/sowing_strip.py": {"schedule.absences": ABSENCE},
    "pages/wall/startup_sheet.py": {"judge.sizes": LINES},
    "pages/wall/this_month.py": {"fish": NAMES},
    "pages/wall/top_up.py": {"water.chlorine": "the name of the usual reagent"},
    "report/given.py": {
        "garden.file": OPENS,
        "logbook.messy.mend": OPENS,
        "logbook.today": OPENS,
        "schedule.problems": OPENS,
        "season.from_log": OPENS,
        "season.problems": OPENS,
    },
    "report/season.py": {"garden.places": OPENS},
    "sentences/first_day.py": {"season.start": "what was assumed of the first day"},
    "sentences/log.py": {
        "kits": AS_READ,
        "logbook.clock": "a time of day as it is written",
        "logbook.own": "what the grower called things",
        "logbook.trend": "what was found about a trend",
    },
    "sentences/reading.py": {"judge.lines": LINES, "kits": AS_READ},
    "sentences/tasks.py": {"fish": NAMES},
}


def computed_with(path: Path) -> Iterator[str]:
    """What a module takes from the rooms that compute, without types and constants."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "aquacalc":
            for alias in node.names:
                name = f"{node.module}.{alias.name}".removeprefix("aquacalc.")
                if FLOOR.get(name.split(".")[0]) in COMPUTING and alias.name[0].islower():
                    yield name


MODULES = [path for room in PRINTING for path in sorted((PACKAGE / room).rglob("*.py"))]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_what_prints_calls_no_formula(path: Path):
    place = path.relative_to(PACKAGE).as_posix()
    assert set(computed_with(path)) == set(EXCEPTIONS.get(place, {}))


def test_every_exception_has_a_module_and_a_reason():
    assert set(EXCEPTIONS) <= {path.relative_to(PACKAGE).as_posix() for path in MODULES}
    assert all(reason for of_module in EXCEPTIONS.values() for reason in of_module.values())
