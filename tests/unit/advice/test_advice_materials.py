"""What may touch the water: never milder in softer or more acid water, metals by the published line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc import tables
from aquacalc.advice import materials

ORDER = ("yes", "test", "no")
ROWS = tuple(tables.load("materials"))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.key)
def test_soft_and_acid_water_is_never_judged_milder(row):
    hard, soft = materials.verdict(row, 7.5, 200.0), materials.verdict(row, 7.5, 20.0)
    assert ORDER.index(soft) >= ORDER.index(hard)
    assert materials.verdict(row, 5.5, 200.0) == soft


def test_what_gives_off_zinc_or_copper_is_refused_in_any_water():
    metals = [row for row in ROWS if row.text("metal")]
    assert {row.key for row in metals} >= {"galvanised", "brass", "copper_pipe"}
    assert all(materials.verdict(row, 8.0, 400.0) == "no" for row in metals)


def test_grams_in_all_of_the_water_are_those_of_the_published_line():
    # 40 CFR 132 at 100 mg/L: 119.8 ug/L of zinc, 14 ug/L of copper.
    assert materials.most_metal_g("zinc", 100.0, 2000.0) == pytest.approx(0.2396, rel=0.005)
    assert materials.most_metal_g("copper", 100.0, 1000.0) == pytest.approx(0.014, rel=0.005)


@given(st.floats(20.0, 100.0), st.floats(10.0, 60.0))
def test_limestone_gives_more_alkalinity_where_there_is_more_carbon_dioxide(alkalinity, calcium):
    few, many = (
        materials.limestone_alkalinity_mg_l(7.0, alkalinity, calcium, 20.0, one) for one in (2.0, 8.0)
    )
    assert many >= few >= alkalinity * 0.999
