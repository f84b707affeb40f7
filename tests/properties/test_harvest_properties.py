"""Whatever was picked and taken: frames hold it all, once, in the right batch and month."""

from datetime import date

import numpy as np
import pytest
from hand_made_garden import garden
from hand_made_season import crop_batch, season
from hypothesis import given
from hypothesis import strategies as st

from aquacalc.agenda import beds
from aquacalc.harvest import crops, fish

CROPS = ("basil", "mint", "lettuce_leaf")
days = st.integers(1, 100)
firsts = st.dates(date(2026, 1, 1), date(2028, 12, 31))
seeds = st.integers(0, 2**32 - 1)


def amounts(seed: int, batches: int, days: int, members: int = 1) -> np.ndarray:
    """Random amounts, most of them nothing."""
    drawn = np.random.default_rng(seed)
    return drawn.random((batches, members, days)) * (drawn.random((batches, members, days)) < 0.2)


@given(seed=seeds, days=days, first=firsts, names=st.lists(st.sampled_from(CROPS), max_size=5))
def test_kg_of_crops_in_frames_are_those_of_the_run(seed: int, days: int, first: date, names: list[str]):
    picked = amounts(seed, len(names), days)
    batches = [crop_batch(name, plant=first) for name in names]
    run = season(days, 1, first, batches=batches, crops=[{"picked_kg": one} for one in picked])
    by_batch, by_month = beds.beds(run, garden()), crops.by_month(run)
    kg = [float(one.kg.middle) for one in by_batch]
    assert kg == pytest.approx(picked.sum(axis=(1, 2)), abs=1e-9)
    for name in CROPS:
        whole = sum(one.sum() for one, crop in zip(picked, names, strict=True) if crop == name)
        assert by_month.loc[by_month["crop"] == name, "kg_middle"].sum() == pytest.approx(whole, abs=1e-9)
    nothing = ~(picked > 0.0).any(axis=(1, 2))
    assert [one.short == 1.0 for one in by_batch] == nothing.tolist()
    assert [one.first is None for one in by_batch] == nothing.tolist()


@given(seed=seeds, days=days, first=firsts)
def test_fish_taken_in_frames_are_those_of_the_run(seed: int, days: int, first: date):
    taken, kg = amounts(seed, 1, days), amounts(seed + 1, 1, days)
    run = season(
        days, 1, first, fish=[{"count": 20.0, "weight_g": 90.0, "taken": taken[0], "taken_kg": kg[0]}]
    )
    plan = fish.plan(run, garden())
    assert plan["taken_middle"].sum() == pytest.approx(taken.sum(), abs=1e-9)
    assert plan["kg_middle"].sum() == pytest.approx(kg.sum(), abs=1e-9)


@given(seed=seeds, members=st.integers(1, 9))
def test_bands_of_frames_are_in_order(seed: int, members: int):
    picked = amounts(seed, 1, 40, members)[0]
    run = season(40, members, batches=[crop_batch()], crops=[{"picked_kg": picked}])
    (one,) = beds.beds(run, garden())
    assert one.kg.low <= one.kg.middle <= one.kg.high
    assert (one.first is not None) == (picked.any(axis=1).mean() >= 0.5)
    if one.first is not None and one.last is not None:
        assert one.first.first <= one.first.day <= one.first.last <= one.last.last
        assert one.last.first <= one.last.day <= one.last.last <= one.ends
