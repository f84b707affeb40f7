"""Formulas refuse what cannot be, in each room the same way; what is not known passes."""

import ast
import importlib
import inspect
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from aquacalc import aeration, nitrogen
from aquacalc.climate import evaporation, sun
from aquacalc.errors import InputError
from aquacalc.hydraulics import beds, pipes
from aquacalc.possible import RANGES, possible
from aquacalc.water import ammonia, dosing, oxygen

PACKAGE = Path(__file__).resolve().parents[3] / "aquacalc"
ROOMS = (
    "water",
    "hydraulics",
    "climate",
    "nitrogen",
    "minerals",
    "fish",
    "crops",
    "solids",
    "aeration",
    "power",
)

CANNOT_BE: dict[str, Callable[[], Any]] = {
    "pressure_atm": lambda: oxygen.saturation_mg_l(17.0, 0.0, 101.325),
    "ph": lambda: ammonia.unionised_fraction(25.0, 8.0),
    "flow_l_h": lambda: pipes.velocity_m_s(-600.0, 25.0),
    "head_m": lambda: pipes.standpipe_l_h(50.0, -0.01),
    "protein_fraction": lambda: nitrogen.tan_production_g_day(100.0, 32.0),
    "day_of_year": lambda: sun.day_length_h(40.0, 365),
    "latitude_deg": lambda: sun.day_length_h(140.0, 10),
    "humidity_pct": lambda: evaporation.surface_evaporation_l_d(1.0, 20.0, 20.0, 101.0, 1.0, 0.5),
    "void_fraction": lambda: beds.bed_water_l(2.0, 0.25, 40.0),
    "purity": lambda: dosing.grams_for_alkalinity(dosing.chemical("potassium_carbonate"), 10.0, 1000.0, 95.0),
    "temperature_c": lambda: oxygen.saturation_mg_l(298.0, 0.0),
    "oxygen_mg_l": lambda: aeration.field_rate_g_h(10.0, 20.0, -1.0, 9.0, 0.6, 0.98),
}


@pytest.mark.parametrize("name", CANNOT_BE)
def test_what_cannot_be_is_refused_with_place_value_and_range(name: str):
    with pytest.raises(InputError) as caught:
        CANNOT_BE[name]()
    (problem,) = caught.value.problems
    low, high, unit = RANGES[name]
    assert problem.key == "problem-range"
    assert problem.where.split()[-1] == name
    assert not low <= float(problem.found) <= high
    assert problem.allowed == (f"{low:g}", f"{high:g}", unit)


@possible
def echo(ph: Any, other: float = 0.0) -> Any:
    return ph


@pytest.mark.parametrize("value", [0.0, 7, 14.0, np.float64(7.0), np.array([6.0, 8.0]), [6.0, 8.0], None])
def test_what_can_be_passes_as_it_is(value: Any):
    assert echo(value) is value
    assert echo(ph=value) is value


@pytest.mark.parametrize("value", [math.nan, np.array([7.0, np.nan])])
def test_what_is_not_known_stays_not_known(value: Any):
    assert echo(value) is value
    assert np.isnan(oxygen.saturation_mg_l(value * np.nan)).all()


@pytest.mark.parametrize(
    "value", [-0.1, 14.1, 25, math.inf, np.array(15.0), np.array([7.0, -1.0]), [7.0, 15.0]]
)
def test_one_value_of_many_that_cannot_be_is_enough(value: Any):
    for call in (lambda: echo(value), lambda: echo(ph=value)):
        with pytest.raises(InputError):
            call()


def test_what_a_library_user_reads_names_the_range():
    with pytest.raises(ValueError, match=r"echo ph: problem-range '25' \(0, 14, pH\)"):
        echo(25.0)


def test_ranges_are_ranges():
    assert all(low < high for low, high, _ in RANGES.values())


# --- every formula -----------------------------------------------------------------------------------------


def formulas() -> list[tuple[str, Callable[..., Any]]]:
    """Every public function of the rooms of calculation, by module and name."""
    found = []
    for room in ROOMS:
        single = PACKAGE / f"{room}.py"
        files = [single] if single.is_file() else sorted((PACKAGE / room).glob("[!_]*.py"))
        for file in files:
            name = ".".join(file.relative_to(PACKAGE.parent).with_suffix("").parts)
            module = importlib.import_module(name)
            found += [
                (f"{name}.{key}", one)
                for key, one in vars(module).items()
                if inspect.isfunction(one) and one.__module__ == name and not key.startswith("_")
            ]
    return found


def called_by_the_hour() -> set[str]:
    """Names of what the season's hour takes from other rooms."""
    tree = ast.parse((PACKAGE / "season" / "hour.py").read_text("utf-8"))
    return {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}


def test_every_formula_asks_whether_its_arguments_can_be_and_none_of_the_hour_does():
    hour = called_by_the_hour()
    asked = {name for name, one in formulas() if hasattr(one, "__wrapped__")}
    owed = {
        name
        for name, one in formulas()
        if set(inspect.signature(one).parameters) & set(RANGES) and name.rsplit(".", 1)[1] not in hour
    }
    assert asked == owed
    assert len(asked) > 100
    used = {one for _, each in formulas() for one in inspect.signature(each).parameters}
    assert set(RANGES) <= used
