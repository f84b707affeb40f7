"""Masses and factors of the chemicals table against a general-purpose library and against printed factors."""

import csv
from collections.abc import Callable
from pathlib import Path

import periodictable
import pytest

from aquacalc import tables
from aquacalc.tables import Row

ROWS = list(csv.DictReader(Path(__file__).with_name("tables.csv").open(encoding="utf-8", newline="")))

DERIVED: dict[str, Callable[[Row], float]] = {
    "g_per_eq": lambda row: row.number("molar_mass_g_mol") / row.number("alkalinity_eq_mol"),
    "g_per_g_cl": lambda row: 1.0 / row.number("cl_g_g"),
    "g_per_g_k": lambda row: 1.0 / row.number("k_g_g"),
    "g_per_g_ca": lambda row: 1.0 / row.number("ca_g_g"),
    "g_per_g_mg": lambda row: 1.0 / row.number("mg_g_g"),
}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["id"])
def test_published(row: dict[str, str]):
    key, _, what = row["call"].partition(": ")
    chemical = tables.load("chemicals").row(key)
    value = DERIVED[what](chemical) if what in DERIVED else chemical.number(what)
    tolerance, relative = float(row["tolerance"]), row["relative"] == "yes"
    expected = float(row["expected"])
    assert abs(value - expected) <= tolerance * (abs(expected) if relative else 1.0)


@pytest.mark.parametrize("row", [row for row in ROWS if row["kind"] == "library"], ids=lambda row: row["id"])
def test_the_library_still_says_so(row: dict[str, str]):
    assert periodictable.formula(row["note"]).mass == pytest.approx(float(row["expected"]), abs=0.0001)


def test_every_formula_is_checked_by_the_library():
    checked = {row["call"].partition(":")[0] for row in ROWS if row["kind"] == "library"}
    assert checked == {row.key for row in tables.load("chemicals") if row.text("formula")}
