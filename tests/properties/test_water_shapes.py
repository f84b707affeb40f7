"""Public functions of `water` take floats and arrays alike: a float gives a float, an array an array."""

import dataclasses
import importlib
import inspect
import typing
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from aquacalc.constants import Numbers
from aquacalc.water import carbonate, dosing, top_up

ROOMS = ("ammonia", "carbonate", "chlorine", "dosing", "oxygen", "salts", "supplements", "top_up")

SAMPLES = {
    "ph": (6.2, 7.0, 8.1),
    "temperature_c": (6.0, 18.0, 31.0),
    "ionic_strength": (0.001, 0.005, 0.02),
    "alkalinity_mg_l": (12.0, 60.0, 180.0),
    "alkalinity_eq_l": (2e-4, 1e-3, 4e-3),
    "inorganic_carbon_mmol_l": (0.4, 1.5, 5.0),
    "carbon_mol_l": (4e-4, 1.5e-3, 5e-3),
    "carbon_dioxide_mg_l": (2.0, 8.0, 20.0),
    "carbon_dioxide_mol_l": (5e-5, 2e-4, 5e-4),
    "hydrogen": (1e-6, 1e-7, 1e-8),
    "ka": (2e-10, 4e-10, 8e-10),
    "altitude_m": (0.0, 500.0, 1500.0),
    "pressure_atm": (1.0, 0.95, 0.85),
    "most_mg_l": (90.0, 100.0, 120.0),
    "now_mg_l": (100.0, 120.0, 150.0),
    "target_mg_l": (60.0, 70.0, 80.0),
    "new_mg_l": (5.0, 10.0, 20.0),
    "top_up_mg_l": (20.0, 30.0, 40.0),
    "start_mg_l": (2.0, 3.0, 4.0),
    "end_mg_l": (0.01, 0.02, 0.03),
    "days": (1.0, 7.0, 30.0),
    "times": (1.0, 2.0, 3.0),
    "share": (0.1, 0.25, 0.5),
    "replaced_share": (0.1, 0.25, 0.5),
    "runoff_share": (0.1, 0.25, 0.5),
    "air_co2_atm": (4e-4, 6e-4, 9e-4),
    "purity": (1.0, 0.9, 0.5),
    "before_us_cm": (400.0, 500.0, 600.0),
    "after_us_cm": (900.0, 1200.0, 1500.0),
    "per_chloramine": (0.2, 0.22, 0.25),
}
USUAL = (20.0, 30.0, 40.0)
PLACES = {
    "at": carbonate.constants_at(20.0, 0.005),
    "of": dosing.chemical("potassium_bicarbonate"),
    "water": carbonate.water(6.6, 40.0, 22.0, 0.008),
    "first": carbonate.water(6.6, 40.0, 22.0, 0.008),
    "second": carbonate.water(7.8, 150.0, 12.0, 0.004),
    "loop": top_up.Loop(1500.0, 20.0, 10.0),
    "element": "K",
    "salmonids": True,
    "charge": 1,
}
"""What is no number of its own."""


def functions() -> list[tuple[str, Callable[..., Any], list[str]]]:
    """Name, function, and those of its parameters that may be arrays, where there are some."""
    found = []
    for room in ROOMS:
        module = importlib.import_module(f"aquacalc.water.{room}")
        for name, function in vars(module).items():
            if (
                name.startswith("_")
                or not inspect.isfunction(function)
                or function.__module__ != module.__name__
            ):
                continue
            hints = typing.get_type_hints(function)
            arrays = [one for one in inspect.signature(function).parameters if hints[one] is Numbers]
            if arrays and set(inspect.signature(function).parameters) <= {*arrays, *PLACES}:
                found.append((f"{room}.{name}", function, arrays))
    return found


FUNCTIONS = functions()


def numbers(result: Any) -> list[Any]:
    """Every number in a result, whatever it is packed in."""
    if dataclasses.is_dataclass(result):
        return [one for field in dataclasses.fields(result) for one in numbers(getattr(result, field.name))]
    if isinstance(result, dict):
        return [one for value in result.values() for one in numbers(value)]
    if isinstance(result, tuple):
        return [one for value in result for one in numbers(value)]
    return [result]


def call(function: Callable[..., Any], arrays: list[str], given: dict[str, Any]) -> list[Any]:
    fixed = {one: PLACES[one] for one in inspect.signature(function).parameters if one not in arrays}
    return numbers(function(**{one: given[one] for one in arrays}, **fixed))


@pytest.mark.parametrize(("name", "function", "arrays"), FUNCTIONS, ids=[one[0] for one in FUNCTIONS])
def test_floats_give_floats_and_arrays_give_the_same_numbers(
    name: str, function: Callable[..., Any], arrays: list[str]
):
    alone = [
        call(function, arrays, {one: SAMPLES.get(one, USUAL)[place] for one in arrays}) for place in range(3)
    ]
    for one in alone:
        assert all(isinstance(number, float | int) for number in one), [type(number) for number in one]
    together = call(function, arrays, {one: np.array(SAMPLES.get(one, USUAL)) for one in arrays})
    for place, found in enumerate(together):
        expected = [one[place] for one in alone]
        assert np.shape(found) in ((3,), ())
        assert np.broadcast_to(found, 3) == pytest.approx(expected, rel=1e-9, abs=1e-12)
    grid = call(function, arrays, {one: np.tile(SAMPLES.get(one, USUAL), (2, 1)) for one in arrays})
    assert {np.shape(found) for found in grid} <= {(2, 3), ()}


def test_the_list_is_not_empty_and_holds_what_a_grower_hangs_on():
    names = {name for name, _, _ in FUNCTIONS}
    assert len(names) > 55
    assert {
        "carbonate.ph_closed",
        "carbonate.ph_at_carbon_dioxide",
        "carbonate.ph_open",
        "ammonia.unionised_fraction",
        "dosing.rise_for_ph_mg_l",
        "dosing.grams_for_alkalinity",
    } <= names
