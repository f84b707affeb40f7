"""Pages, sentences and the report print what was decided: they call no formula to get an amount.

What they take from the rooms that compute (floors 2 to 6 of DEVELOPERS.md) are types and constants, written
with a capital. A function or a module of functions stands here with its reason, and nothing here is stale.
Nor do they reckon with amounts themselves: arithmetic on a name that carries a unit stands here as well.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

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
    "pages/wall/startup_sheet.py": {"judge.sizes": LINES},
    "pages/wall/this_month.py": {"fish": NAMES},
    "pages/wall/top_up.py": {"water.chlorine": "the name of the usual reagent"},
    "pages/wall/weeks.py": {"schedule.absences": ABSENCE},
    "report/given.py": {
        "garden.file": OPENS,
        "logbook.messy.mend": OPENS,
        "logbook.read": OPENS,
        "logbook.today": OPENS,
        "schedule.problems": OPENS,
        "season.from_log": OPENS,
        "season.problems": OPENS,
    },
    "report/gist.py": {"uncertainty.band": PERCENTILES},
    "report/season.py": {"garden.places": OPENS},
    "report/workshop.py": {"garden.places": OPENS},
    "sentences/first_day.py": {
        "season.start": "what was assumed of the first day",
        "uncertainty.quantile": PERCENTILES,
    },
    "sentences/log.py": {
        "kits": AS_READ,
        "logbook.clock": "a time of day as it is written",
        "logbook.own": "what the grower called things",
        "logbook.trend": "what was found about a trend",
    },
    "sentences/proposal.py": {"uncertainty.band": PERCENTILES},
    "sentences/reading.py": {"judge.lines": LINES, "kits": AS_READ},
    "sentences/tasks.py": {"fish": NAMES},
}


UNIT = re.compile(
    r"_(m?g|kg|m?l|l_h|g_d|g_day|l_day|mg_l|g_l|m2|c|w|kwh|pct|share)$|^(grams|litres|count|share)$"
)
"""How a name ends that carries a unit, or what it is called."""

PURITY = "parts of a hundred as parts of one, for the plan of doses"
ADDED_UP = "amounts that were decided, added up"
IN_PARTS = "the litres of the loop, as their own room has them, added up or without their scale"

RECKONED: dict[str, dict[str, str]] = {
    "pages/folder/facts.py": {"litres.pipes + litres.filter": IN_PARTS, "litres.whole / scale": IN_PARTS},
    "pages/folder/glance.py": {"counts.get((key, one.day), 0.0) + one.count": ADDED_UP},
    "pages/folder/shopping.py": {
        "line.step_g * plan.litres.whole / line.water_l": "a decided dose, for the whole loop"
    },
    "pages/folder/water_page.py": {"depth * rain.roof_m2": "millimetres on square metres are litres"},
    "pages/startup_doses.py": {
        "(product.spoon_g or 0.0) * 1.125": "up to where it is said as one spoon",
        "base.strength_pct / 100.0": PURITY,
        "start.choice.next_tan_mg_l - tan.value": "what a reading lacks to the decided level",
    },
    "pages/wall/ammonia_table.py": {
        "plan.season.band('water_c').middle - temperature_c": "the days nearest to a temperature"
    },
    "pages/wall/cards.py": {"count + 1": "numbers of texts"},
    "pages/wall/doses.py": {"told.strength_pct / 100.0": PURITY},
    "sentences/spoons.py": {
        "grams / spoon_g": "grams as the grower's spoons",
        "4.0 * grams / spoon_g": "grams as quarters of the grower's spoon",
        "spoon_g * ONE_SPOON": "grams as the grower's spoons",
        "1000.0 * grams": "grams as milligrams",
    },
}
"""Arithmetic on amounts, and why it decides nothing."""


def computed_with(path: Path) -> Iterator[str]:
    """What a module takes from the rooms that compute, without types and constants."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "aquacalc":
            for alias in node.names:
                name = f"{node.module}.{alias.name}".removeprefix("aquacalc.")
                if FLOOR.get(name.split(".")[0]) in COMPUTING and alias.name[0].islower():
                    yield name


MODULES = [path for room in PRINTING for path in sorted((PACKAGE / room).rglob("*.py"))]


def test_what_prints_calls_no_formula():
    called = {path.relative_to(PACKAGE).as_posix(): set(computed_with(path)) for path in MODULES}
    assert {place: names for place, names in called.items() if names} == {
        place: set(reasons) for place, reasons in EXCEPTIONS.items()
    }


def test_every_exception_has_a_module_and_a_reason():
    assert set(EXCEPTIONS) <= {path.relative_to(PACKAGE).as_posix() for path in MODULES}
    assert all(reason for of_module in EXCEPTIONS.values() for reason in of_module.values())


def reckoned(path: Path) -> Iterator[str]:
    """Arithmetic on names that carry a unit, each whole."""
    inside: set[ast.AST] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.BinOp) and node not in inside:
            inside |= {part for part in ast.walk(node) if isinstance(part, ast.BinOp)}
            if any(UNIT.search(name) for name in _names(node)):
                yield ast.unparse(node)


def _names(node: ast.BinOp) -> Iterator[str]:
    """What an operation reckons with; not what it calls, nor what a call is given."""
    for side in (node.left, node.right):
        if isinstance(side, ast.BinOp):
            yield from _names(side)
        elif isinstance(side, ast.BoolOp):
            yield from (one.attr for one in side.values if isinstance(one, ast.Attribute))
        elif isinstance(side, ast.Attribute):
            yield side.attr
            yield from (side.value.id for _ in [0] if isinstance(side.value, ast.Name))
        elif isinstance(side, ast.Name):
            yield side.id


def test_what_prints_reckons_no_amount():
    found = {path.relative_to(PACKAGE).as_posix(): set(reckoned(path)) for path in MODULES}
    assert {place: amounts for place, amounts in found.items() if amounts} == {
        place: set(reasons) for place, reasons in RECKONED.items()
    }


def test_arithmetic_on_an_amount_is_found(tmp_path: Path):
    module = tmp_path / "page.py"
    module.write_text("bag = 2.0 * one.feed_g_day + 1\nwide = LEFT + 2 * place\n", "utf-8")
    assert list(reckoned(module)) == ["2.0 * one.feed_g_day + 1"]
