"""Every unit that a general-purpose unit library knows has its factor; the rest against molar masses."""

import csv
from pathlib import Path

import pint
import pytest

from aquacalc import units

ROWS = list(csv.DictReader(Path(__file__).with_name("units.csv").open(encoding="utf-8", newline="")))
LIBRARY = [row for row in ROWS if row["kind"] == "library"]
FORMULA = [row for row in ROWS if row["kind"] == "second copy"]

registry = pint.UnitRegistry()


def ids(row: dict[str, str]) -> str:
    return row["id"]


def close(row: dict[str, str]) -> object:
    tolerance = float(row["tolerance"])
    expected = float(row["expected"])
    return pytest.approx(
        expected,
        rel=tolerance if row["relative"] == "yes" else 0.0,
        abs=0.0 if row["relative"] == "yes" else tolerance,
    )


def amount(call: str) -> tuple[float, str]:
    number, _, name = call.partition(" ")
    return float(number), name


@pytest.mark.parametrize("row", LIBRARY, ids=ids)
def test_factor_by_library(row: dict[str, str]):
    number, _ = amount(row["call"])
    assert units.unit(row["id"].removeprefix("unit-")).to_base(number) == close(row)


@pytest.mark.parametrize("row", LIBRARY, ids=ids)
def test_the_library_still_says_so(row: dict[str, str]):
    given, _, wanted = row["call"].partition(" -> ")
    number, name = amount(given)
    left, right = registry.parse_expression(name), registry.parse_expression(wanted)
    if isinstance(left, pint.Quantity) and isinstance(right, pint.Quantity):
        value = registry.Quantity(number * left.magnitude, left.units).to(right.units).magnitude
        assert value / right.magnitude == close(row)
    else:
        assert number * float(left) / float(right) == close(row)


@pytest.mark.parametrize("row", FORMULA, ids=ids)
def test_factor_by_molar_masses(row: dict[str, str]):
    given, _, wanted = row["call"].partition(" as " if " as " in row["call"] else " in ")
    number, name = amount(given)
    if name == "N":
        assert units.from_n(number, wanted) == close(row)
    else:
        value = units.unit(name).to_base(number)
        assert (units.to(value, wanted) if wanted else value) == close(row)


def test_only_units_that_the_library_lacks_are_unchecked_by_it():
    checked = {row["id"].removeprefix("unit-") for row in LIBRARY}
    unchecked = {one.key for kind in units.kinds() for one in units.of_kind(kind)} - checked
    assert unchecked == {
        *("metric_cup", "metric_tbsp", "au_tbsp", "metric_tsp"),
        *("ppm", "ppb", "ppt_thousand", "cf", "ppm_500", "ppm_700"),
        *("dkh", "fh", "meq_l", "mg_l_hco3", "mmol_l_alkalinity"),
        *("hardness_dgh", "hardness_fh", "hardness_meq_l", "hardness_mg_l_ca", "hardness_mmol_l"),
        *("deg_n", "deg_s", "heads_wk", "heads_d"),
        *("chloride_mg_l", "chloride_ppm", "chloride_g_l", "chloride_mg_l_nacl", "chloride_g_l_nacl"),
        *("content_g_kg", "content_pct"),
    }
