"""The parts list: what the garden file says is there, rounded up to packs, and summed."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.garden.file import GardenFile
from aquacalc.sizing import parts
from aquacalc.sizing.parts import Part

YARD = GardenFile.open("demo:yard").garden


def of_key(found, key):
    return [one for one in found if one.key == key]


def test_the_yard_s_list_counts_what_is_in_its_file():
    found = parts.parts_of(YARD)
    assert len(of_key(found, "tank")) == 1
    assert {one.medium for one in of_key(found, "medium")} == {"expanded_clay", "gravel"}
    clay = of_key(found, "medium")[0]
    bed = YARD.beds[0]
    assert clay.need == pytest.approx(1100.0 * bed.area_m2 * bed.depth_m)
    assert clay.packs == math.ceil(clay.need / 50.0)
    assert len(of_key(found, "bell")) == 2
    assert [one.spare for one in of_key(found, "pump")] == [False, True]
    pipe = of_key(found, "pipe")[0]
    assert pipe.need == pytest.approx(1.1 * YARD.pipes[0].length_m)


def test_prices_count_for_every_line_of_their_kind_and_the_rest_is_told():
    found = parts.parts_of(YARD, {"medium": 25.0}, {"medium": 20.0, "pump": 90.0})
    cost, without = parts.total(found)
    bags = sum(one.packs for one in of_key(found, "medium"))
    assert cost == pytest.approx(20.0 * bags + 90.0 * 2)
    assert without == len(found) - 4


@given(st.floats(0.1, 1e4), st.floats(0.1, 1e3))
def test_packs_hold_the_need_and_no_pack_is_idle(need, pack):
    one = Part("medium", "", need, "volume", pack=pack)
    assert one.packs * pack >= need * (1.0 - 1e-6)
    assert (one.packs - 1) * pack < need
