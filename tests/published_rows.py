"""Rows of `tests/published/*.csv`: one call each, and what it must give."""

import csv
from collections.abc import Mapping
from pathlib import Path

import pytest

FOLDER = Path(__file__).with_name("published")


def rows(*tables: str) -> list[tuple[str, dict[str, str]]]:
    """The rows of some tables, each with the table's name."""
    found = []
    for name in tables:
        with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            found += [(name, row) for row in csv.DictReader(file)]
    return found


def ids(found: list[tuple[str, dict[str, str]]]) -> list[str]:
    """A name for each row."""
    return [f"{name}-{row['id']}" for name, row in found]


def hold(row: dict[str, str], names: Mapping[str, object]) -> None:
    """The row's call, with these names at hand, gives the expected value within the tolerance."""
    found = float(eval(row["call"], dict(names)))
    expected, tolerance = float(row["expected"]), float(row["tolerance"])
    if row["relative"] == "yes":
        assert found == pytest.approx(expected, rel=tolerance, abs=0.0)
    else:
        assert found == pytest.approx(expected, rel=0.0, abs=tolerance)
