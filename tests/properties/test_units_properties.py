"""Units keep what was typed: there and back, and the same through any unit of a kind."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc import units
from aquacalc.errors import InputError

numbers = st.floats(-1e9, 1e9, allow_nan=False)


def finite_or_problem(text: str, kind: str) -> bool:
    try:
        return math.isfinite(units.read(text, kind))
    except InputError as error:
        return len(error.problems) == 1 and error.problems[0].key.startswith("problem-")


any_unit = st.sampled_from([one for kind in units.kinds() for one in units.of_kind(kind)])


@given(numbers, any_unit)
def test_there_and_back(value: float, unit: units.Unit):
    there = units.to(value, unit.key)
    assert unit.to_base(there) == pytest.approx(value, rel=1e-9, abs=1e-9 * max(1.0, abs(unit.zero)))


@given(st.floats(0.001, 1e6), any_unit)
def test_what_is_written_is_read(value: float, unit: units.Unit):
    text = unit.written(f"{value:.6f}")
    assert units.read(text, unit.kind, unit=unit.key) == pytest.approx(
        unit.to_base(round(value, 6)), rel=1e-12
    )


@given(st.floats(-1e6, 1e6), st.sampled_from([",", "."]))
def test_comma_and_point_read_the_same(value: float, mark: str):
    text = f"{value:.2f}"
    assert units.read_number(text.replace(".", mark)) == float(text)


@given(st.text(max_size=30), st.sampled_from(units.kinds()))
def test_any_text_gives_a_finite_number_or_a_problem(text: str, kind: str):
    assert finite_or_problem(text, kind)


@given(st.from_regex(r"[-+0-9.,/ eE½°'\"]{0,12} ?(L|gal|ft|in|C|mg/L)?", fullmatch=True))
def test_near_numbers_give_a_finite_number_or_a_problem(text: str):
    assert all(finite_or_problem(text, kind) for kind in ("volume", "length", "temperature"))


@given(st.floats(0.0, 1e4), st.sampled_from(tuple(units.N_BASES)))
def test_bases_go_there_and_back(value: float, basis: str):
    assert units.as_n(units.from_n(value, basis), basis) == pytest.approx(value, rel=1e-12)
    assert units.from_n(value, basis) >= value
