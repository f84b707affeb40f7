"""The pages of docs/ that are written from the tables say what the tables hold now."""

import docs_from_tables
import docs_from_values
import pytest

from aquacalc import tables


@pytest.mark.parametrize("name", sorted(docs_from_tables.PAGES))
def test_page_is_up_to_date(name: str):
    written = (docs_from_tables.DOCS / name).read_text("utf-8")
    assert written == docs_from_tables.PAGES[name](), (
        f"run python tests/docs_from_tables.py: {name} is out of date"
    )


def test_the_page_of_values_is_up_to_date():
    written = docs_from_values.PAGE.read_text("utf-8")
    assert written == docs_from_values.page(), (
        "run python tests/docs_from_values.py: values.md is out of date"
    )


@pytest.mark.parametrize("name", docs_from_values.DECIDING)
def test_every_value_of_a_deciding_table_is_printed_with_its_mark_and_source(name: str):
    page = docs_from_values.page().split("\n## ")
    title = docs_from_values.DECIDING[name][0]
    part = next(one for one in page if one.startswith(title))
    for row in tables.load(name):
        lines = "\n".join(line for line in part.splitlines() if line.startswith(f"| `{row.key}` |"))
        cells = {cell.strip() for cell in lines.split("|")}
        numbers = {row.text(column) for column in row.numbers if row.text(column)}
        assert numbers <= cells, row.key
        cited = {one.reference for one in tables.cited(name, row)}
        assert all(reference in lines for reference in cited), row.key


def test_marks_are_counted_as_the_table_holds_them():
    marks = docs_from_values.counts("water_limits")
    assert marks.total() == len(tables.load("water_limits"))
    assert docs_from_values.counts("species")["practice"] > docs_from_values.counts("species")["read"]


def test_every_mark_is_explained():
    assert tuple(docs_from_tables.MARKS) == tables.MARKS


def test_every_column_stands_on_the_page_of_names():
    page = docs_from_tables.nomenclature_page()
    assert all(f"| `{row.text('column')}` |" in page for row in tables.load("columns"))


def test_a_cell_with_a_bar_does_not_break_the_table():
    assert list(docs_from_tables.table(("a",), [("x|y",)])) == ["| a |", "| --- |", "| x\\|y |"]


def test_checks_cite_only_sources_that_are_listed():
    assert set(docs_from_tables.used_in()) <= set(tables.load("sources").keys())
