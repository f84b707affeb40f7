"""Results come whole from another process: nothing in them keeps them at home."""

import ast
import importlib
import pickle
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import MISSING, fields, is_dataclass
from typing import Any

import plans
import pytest
from test_layers import PACKAGE

import aquacalc
from aquacalc.advice import log, triage
from aquacalc.advice.doses import planning
from aquacalc.advice.doses.request import Request
from aquacalc.advice.new_water import water_use
from aquacalc.advice.reading import actions, given
from aquacalc.garden.file import GardenFile
from aquacalc.logbook.messy import mend
from aquacalc.sizing import power_cut

READ = ("tan=3 N", "ph=8.1", "nitrite=2 N", "kh=40 mg/L CaCO3", "temp=25 C", "fish=warm", "litres=900")


def of_log() -> log.Told | None:
    yard = GardenFile.open("demo:yard")
    beside = mend.beside(yard.path, yard.garden)
    assert beside is not None
    return log.told_by(yard.garden, beside.log)


RESULTS: dict[str, Callable[[], Any]] = {
    "garden": lambda: GardenFile.open("demo:greenhouse").garden,
    "dose": lambda: planning.plan(
        Request("potassium_bicarbonate", "alkalinity", 90.0, 900.0, 6.8, 40.0, 22.0, 0.99)
    ),
    "reading": lambda: actions.answer(given.read(READ, GardenFile.open("demo:yard").garden)),
    "sign": lambda: triage.triage_of("gasping", answer=actions.answer(given.read(READ, None))),
    "log": of_log,
    "power cut": lambda: power_cut.alone(
        power_cut.Question("nile_tilapia", 10.0, 250.0, 1000.0, 26.0, 0.0, 8.0)
    ),
    "water use": lambda: water_use.of_garden(GardenFile.open("demo:yard").garden, members=4),
    "printed plan": lambda: plans.of_season("classroom"),
}


@pytest.mark.parametrize("name", RESULTS)
def test_a_result_is_the_same_after_a_journey(name: str):
    made = RESULTS[name]()
    assert is_dataclass(made)
    # What is not known is NaN, which equals nothing, so that the texts are compared.
    assert repr(pickle.loads(pickle.dumps(made))) == repr(made)


def modules() -> Iterator[str]:
    for one in pkgutil.walk_packages(aquacalc.__path__, "aquacalc."):
        if not one.name.endswith("__main__"):
            yield one.name


def test_whatever_a_record_holds_by_itself_can_travel():
    stay = []
    for name in modules():
        for of in vars(importlib.import_module(name)).values():
            if isinstance(of, type) and is_dataclass(of) and of.__module__ == name:
                for field in fields(of):
                    made = field.default if field.default_factory is MISSING else field.default_factory()
                    try:
                        pickle.dumps(None if made is MISSING else made)
                    except (TypeError, AttributeError, pickle.PicklingError):
                        stay.append(f"{name}.{of.__name__}.{field.name}")
    assert stay == []


def inside_functions(tree: ast.Module) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            yield from (one for one in ast.walk(node) if isinstance(one, ast.Call))


def test_no_function_hands_out_a_view_that_cannot_travel():
    found = [
        path.name
        for path in PACKAGE.rglob("*.py")
        for one in inside_functions(ast.parse(path.read_text("utf-8")))
        if isinstance(one.func, ast.Name) and one.func.id == "MappingProxyType"
    ]
    assert found == []
