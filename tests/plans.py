"""Plans for tests of pages: worked out once for each garden and reader, with few tries."""

import ast
from dataclasses import replace
from datetime import date
from functools import cache

import hand_made_garden
import nbformat
import seasons
import yard
from shared import shared

from aquacalc.agenda.living import Lived
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden, Kit, KitScale, Product
from aquacalc.pages import sheets
from aquacalc.pages.html import Html
from aquacalc.pages.plan import Plan, make, through
from aquacalc.words import Reader

MADE = date(2027, 2, 20)
TRIES = 30

KIT = Kit(
    "Drops",
    None,
    (
        KitScale("ph", "not known", (5.8, 6.2, 6.6, 7.0, 7.4, 7.8)),
        KitScale("tan", "NH4", (0.0, 0.3, 0.6, 1.2, 2.5, 6.0)),
        KitScale("nitrite", "NO2", (0.0, 0.15, 0.4, 1.0, 3.0)),
        KitScale("nitrate", "NO3", (0.0, 8.0, 25.0, 60.0, 120.0)),
        KitScale("alkalinity", "dkh", (), 1.0),
    ),
)
SHELF = (
    Product("Crystals", "thiosulfate_pentahydrate", 100.0, 5.0),
    Product("Bicarbonate", "potassium_bicarbonate", 100.0, 4.0),
    Product("Lime", "calcium_hydroxide", 100.0, 2.5),
    Product("Salt", "sodium_chloride", 100.0, 6.0),
    Product("Iron", "fe_dtpa", 11.0, None),
    Product("Muriatic", "hydrochloric_acid", 31.0, None),
)


def plan(garden: Garden, units: str = "metric") -> Plan:
    return make(garden, Reader(units=units), MADE, TRIES, 1)  # type: ignore[arg-type]


@cache
def of_demo(name: str) -> Plan:
    garden = GardenFile.open(f"demo:{name}").garden
    return make(garden, garden.reader, MADE, TRIES, 1)


@shared
def of_season(name: str) -> Plan:
    """A demo with its season and the findings of both."""
    base = of_demo(name)
    return through(base, Lived(seasons.season(name), base.garden))


def printed(plan: Plan) -> tuple[Html, Html]:
    """Folder and wall of a plan, with the page breaks of the season notebook."""
    parts: dict[str, list[Html]] = {"folder": [], "wall": []}
    notebook = nbformat.read(places.workbook() / "season_plan.ipynb", as_version=4)
    for cell in notebook.cells:
        for kind in parts:
            if cell.cell_type == "code" and cell.source.startswith(f"notebook.{kind}("):
                call = ast.parse(cell.source).body[0].value  # type: ignore[attr-defined]
                names = [ast.literal_eval(argument) for argument in call.args[1:]]
                options = {one.arg: ast.literal_eval(one.value) for one in call.keywords}
                parts[kind].append(getattr(sheets, kind)(plan, *names, **options))
    return Html("".join(parts["folder"])), Html("".join(parts["wall"]))


@cache
def of_yard(units: str = "metric") -> Plan:
    """The yard with a kit and a shelf."""
    return plan(replace(yard.yard(), kits=(KIT,), products=SHELF), units)


@cache
def of_calm() -> Plan:
    """The garden with nothing to act on and no kit steps."""
    return plan(hand_made_garden.garden())


def changed(base: Plan, **fields: object) -> Plan:
    """A plan whose garden has other fields; the balance stays, where they do not touch it."""
    return replace(base, garden=replace(base.garden, **fields))  # type: ignore[arg-type]
