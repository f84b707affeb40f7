"""Gardens side by side in one array: each must come out exactly as by itself."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from aquacalc.garden.model import Air, Garden
from aquacalc.schedule import crops
from aquacalc.season import run
from aquacalc.season.together import CROPS, Candidate, together
from tests.seasons import DEMOS, garden

DAYS = 12
MEMBERS = 4


def changed(of: Garden, number: float, shift: int, size: float, crop_share: float, second: bool) -> Garden:
    """A garden with other numbers in each place that a plan may move."""
    batches = tuple(
        replace(
            one,
            count=max(1, round(one.count * number)),
            weight_g=one.weight_g * size,
            stocked=one.stocked + timedelta(days=shift),
        )
        for one in of.fish
    )
    if second and batches:
        batches += (replace(batches[0], name="second", stocked=of.season.start + timedelta(days=5)),)
    return replace(
        of,
        fish=batches,
        crops=tuple(replace(one, area_m2=one.area_m2 * crop_share) for one in of.crops[: 1 + second]),
        beds=tuple(replace(one, area_m2=one.area_m2 * (1.0 + number / 4.0)) for one in of.beds),
        air=of.air and replace(of.air, flow_l_min=of.air.flow_l_min * size),
        heat=replace(of.heat, cover=second),
        top_up=replace(of.top_up, alkalinity_mg_l=80.0 * size),
        targets=replace(of.targets, base_to_ph=6.5 + 0.5 * crop_share),
        care=replace(
            of.care,
            most_feed_g_day=40.0 * number,
            potassium_mg_l=20.0 * crop_share,
            change_share=0.1 * second,
            change_above_mg_l=10.0 * size,
        ),
    )


plans = st.builds(
    lambda *values: values,
    st.floats(0.3, 3.0),
    st.integers(-20, 20),
    st.floats(0.5, 2.0),
    st.floats(0.3, 1.0),
    st.booleans(),
)


def alone(one: Candidate, members: int, seed: int, days: int):
    """The same tries of a garden by itself, by the season's own path."""
    uncertain = run.triangles(one.garden)
    sampled = {
        **run.draw(uncertain, members, seed, run.balance.correlations(one.garden)),
        **run.beds.luck(len(one.batches), members, seed),
    }
    return run.simulate(one.garden, one.batches, sampled, seed, run.Start(), single=False, days=days).written


@pytest.mark.slow
@pytest.mark.parametrize("name", DEMOS)
@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(chosen=st.lists(plans, min_size=2, max_size=3), seed=st.integers(1, 5))
def test_each_garden_is_exactly_as_by_itself(name: str, chosen, seed: int) -> None:
    candidates = [
        Candidate(one, crops.batches(one))
        for one in [garden(name), *(changed(garden(name), *plan) for plan in chosen)]
    ]
    found = together(candidates, MEMBERS, seed, days=DAYS)
    backwards = together(candidates[::-1], MEMBERS, seed, days=DAYS)[::-1]
    for one, tries, again in zip(candidates, found, backwards, strict=True):
        own = alone(one, MEMBERS, seed, DAYS)
        for key, values in own.daily.items():
            expected = values.T.astype(np.float32)
            assert np.array_equal(expected, tries.daily[key], equal_nan=True), key
            assert np.array_equal(expected, again.daily[key], equal_nan=True), key
        for key, values in own.fish.items():
            expected = np.moveaxis(values, -1, 1).astype(np.float32)
            assert np.array_equal(expected, tries.fish[key], equal_nan=True), key
        for key in CROPS:
            expected = np.moveaxis(own.crops[key], -1, 1).astype(np.float32)
            assert np.array_equal(expected, tries.crops[key], equal_nan=True), key


def test_many_gardens_are_run_in_several_arrays(monkeypatch: pytest.MonkeyPatch) -> None:
    candidates = [
        Candidate(one, crops.batches(one))
        for one in (changed(garden("yard"), 1.0, day, 1.0, 1.0, False) for day in range(3))
    ]
    once = together(candidates, MEMBERS, days=DAYS)
    monkeypatch.setattr(run, "CHUNK", 2 * MEMBERS)
    for one, other in zip(once, together(candidates, MEMBERS, days=DAYS), strict=True):
        assert all(np.array_equal(one.daily[name], other.daily[name], equal_nan=True) for name in one.daily)


def test_another_air_pump_and_none_stand_side_by_side() -> None:
    still = replace(garden("yard"), air=None)
    blown = replace(garden("yard"), air=Air(40.0, 0.6, "fine", 30.0))
    candidates = [Candidate(one, crops.batches(one)) for one in (still, blown)]
    quiet, aired = together(candidates, MEMBERS, days=DAYS)
    assert np.all(quiet.daily["oxygen_min_mg_l"][:, -1] < aired.daily["oxygen_min_mg_l"][:, -1])
