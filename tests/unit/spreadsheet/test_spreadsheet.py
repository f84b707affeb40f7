"""Nothing that a grower typed runs when a spreadsheet opens our tables, and nothing of it is lost."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc import spreadsheet

TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\r\0"), max_size=20)


@given(TEXT)
def test_no_cell_begins_like_a_formula_unless_it_is_a_number(cell: str):
    written = spreadsheet.guarded(cell)
    assert spreadsheet.NUMBER.fullmatch(written) or not written.lstrip().startswith(("=", "+", "-", "@"))


@given(TEXT.filter(lambda cell: not spreadsheet.GUARDED.match(cell)))
def test_a_cell_comes_back_as_it_was(cell: str):
    assert spreadsheet.unguarded(spreadsheet.guarded(cell)) == cell


@pytest.mark.parametrize("number", ["-1.5", "+3", "-0,25", "-1e-3", "0", " -7 "])
def test_numbers_stay_numbers(number: str):
    assert spreadsheet.guarded(number) == number


@given(st.lists(st.lists(TEXT, min_size=2, max_size=4), min_size=1, max_size=4))
def test_a_table_is_read_back_cell_by_cell(rows: list[list[str]]):
    read = list(csv.reader(io.StringIO(spreadsheet.text(rows), newline="")))
    assert read == [[spreadsheet.guarded(cell) for cell in row] for row in rows]
