"""The pages of docs/ that are written from the tables say what the tables hold now."""

import docs_from_tables
import pytest

from aquacalc import tables


@pytest.mark.parametrize("name", sorted(docs_from_tables.PAGES))
def test_page_is_up_to_date(name: str):
    written = (docs_from_tables.DOCS / name).read_text("utf-8")
    assert written == docs_from_tables.PAGES[name](), (
        f"run python tests/docs_from_tables.py: {name} is out of date"
    )


def test_every_mark_is_explained():
    assert tuple(docs_from_tables.MARKS) == tables.MARKS


def test_every_column_stands_on_the_page_of_names():
    page = docs_from_tables.nomenclature_page()
    assert all(f"| `{row.text('column')}` |" in page for row in tables.load("columns"))


def test_a_cell_with_a_bar_does_not_break_the_table():
    assert list(docs_from_tables.table(("a",), [("x|y",)])) == ["| a |", "| --- |", "| x\\|y |"]


def test_checks_cite_only_sources_that_are_listed():
    assert set(docs_from_tables.used_in()) <= set(tables.load("sources").keys())
