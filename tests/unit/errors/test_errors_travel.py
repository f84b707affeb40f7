"""What is wrong with an input, and rows of tables, come whole from another process."""

import pickle
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest

from aquacalc import crops, fish, tables, units
from aquacalc.errors import InputError, Problem
from aquacalc.tables import Row
from aquacalc.water import dosing, oxygen

PROBLEMS = (
    Problem("problem-range", "tank.1.volume", "-3", ("0", "1000000", "L"), "volume"),
    Problem("problem-missing", "tank.1.name"),
)


def work(key: str) -> Row:
    """What another process does: it finds a row, or refuses."""
    if not key:
        oxygen.saturation_mg_l(17.0, 0.0, 101.325)
    return tables.load("species").row(key)


def test_an_input_error_is_the_same_after_a_journey():
    there = pickle.loads(pickle.dumps(InputError(PROBLEMS)))
    assert there.problems == PROBLEMS
    assert str(there) == str(InputError(PROBLEMS))


@pytest.mark.parametrize(
    "one",
    [
        tables.load("species"),
        tables.load("species").row("common_carp"),
        fish.species("common_carp"),
        crops.crop("okra"),
        dosing.chemical("calcium_hydroxide"),
        units.base("volume"),
    ],
    ids=lambda one: type(one).__name__,
)
def test_rows_and_what_is_made_of_them_are_the_same_after_a_journey(one: object):
    # Blank cells are NaN, which equals nothing, so that the texts are compared.
    assert repr(pickle.loads(pickle.dumps(one))) == repr(one)


def test_both_come_back_from_another_process():
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        there = pool.submit(work, "common_carp").result()
        with pytest.raises(InputError) as caught:
            pool.submit(work, "").result()
    assert repr(there) == repr(tables.load("species").row("common_carp"))
    assert caught.value.problems[0].where == "saturation_mg_l pressure_atm"
