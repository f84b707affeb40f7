"""The band of a season: what it holds, what narrows it; the same again, from a file, in chunks."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import seasons

from aquacalc.garden.model import Garden
from aquacalc.season import plan, result, run
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Floats, Triangle, band

NAMES = ("feed_g", "fish_kg", "nitrate_mg_l", "alkalinity_mg_l", "oxygen_min_mg_l", "ph")
MANY = 1000
FEW_FISH = 12
AT_A_LINE = 0.02
"""Days are left out on which more members than this share one extreme value: all still at the start, or fish
without feed. There the band ends on that value, and holds all who share it."""


def weeks(name: str, start: date, days: int) -> Garden:
    """A demo garden for some weeks."""
    garden = seasons.garden(name)
    season = replace(garden.season, start=start, end=start + timedelta(days=days - 1))
    return replace(garden, season=season)


@cache
def summer(seed: int, members: int = MANY) -> SeasonRun:
    """The yard before its plan in its warm half, with so few fish that no line holds their feed."""
    garden = weeks("yard/before", date(2027, 5, 1), 120)
    few = tuple(replace(one, count=FEW_FISH) for one in garden.fish)
    return plan.of_garden(replace(garden, fish=few), members, seed)


def held(own: Floats, other: Floats) -> Floats:
    """Share of the other members that the own ones' band holds, by day; NaN where it ends on a line."""
    found = band(own, axis=0)
    share = ((other >= found.low) & (other <= found.high)).mean(axis=0)
    lowest, highest = ((own == own_end).mean(axis=0) for own_end in (own.min(axis=0), own.max(axis=0)))
    at_a_line = np.maximum(lowest, highest) > AT_A_LINE
    return np.where(at_a_line, np.nan, share)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_the_band_of_one_seed_holds_four_fifths_of_another(name: str):
    share = held(summer(1).daily[name], summer(2).daily[name])
    assert np.count_nonzero(~np.isnan(share)) >= 60
    assert 0.75 <= np.nanmean(share) <= 0.85
    # A single day may lie off by the chance of a thousand members.
    assert np.nanmin(share) > 0.72
    assert np.nanmax(share) < 0.88


@pytest.mark.slow
def test_half_the_doubt_gives_a_narrower_band(monkeypatch: pytest.MonkeyPatch):
    triangles, usual = run.triangles, summer(1)

    def halved(garden: Garden) -> dict[str, Triangle]:
        return {
            name: Triangle((one.low + one.typical) / 2, one.typical, (one.high + one.typical) / 2)
            for name, one in triangles(garden).items()
        }

    monkeypatch.setattr(run, "triangles", halved)
    narrow = summer.__wrapped__(1)
    for name in NAMES:
        before, now = usual.band(name), narrow.band(name)
        width, less = (one.high - one.low for one in (before, now))
        assert less[1:].sum() < 0.8 * width[1:].sum(), name
        # Hardly a day is the other way: where the band ends on a line, chance is left.
        assert (less[1:] < width[1:]).mean() > 0.95, name


@pytest.mark.slow
@pytest.mark.parametrize("name", [*NAMES, "water_c"])
def test_a_second_chunk_is_like_the_first(name: str):
    both = summer(1, MANY + MANY // 2).daily[name]
    assert both.shape == (MANY + MANY // 2, 120)
    share = held(both[:MANY], both[MANY:])
    assert 0.75 <= np.nanmean(share) <= 0.85


@pytest.mark.slow
def test_no_chunk_lives_through_the_weather_of_another():
    air = summer(1, MANY + MANY // 2).daily["air_c"]
    assert len(np.unique(air, axis=0)) == MANY + MANY // 2
    usual = air.mean(axis=0)
    alike = [np.corrcoef(air[n] - usual, air[MANY + n] - usual)[0, 1] for n in range(MANY // 2)]
    # A hundred and twenty days that remember each other are some twenty free ones.
    assert abs(np.mean(alike)) < 0.05
    assert np.max(np.abs(alike)) < 0.9


def test_members_in_chunks_are_the_members_of_one_chunk(monkeypatch: pytest.MonkeyPatch):
    garden = weeks("classroom", date(2027, 9, 1), 30)
    whole = plan.of_garden(garden, 10)
    monkeypatch.setattr(run, "CHUNK", 4)
    parts = plan.of_garden(garden, 10)
    # Indoors there is no weather that each chunk would draw for itself.
    assert_equal(whole, parts)


def test_a_season_comes_back_from_its_file(tmp_path: Path):
    # With fish, a start-up, events and bands, and weights that are not numbers before the fish come.
    made = plan.of_garden(weeks("southern", date(2027, 10, 10), 30), 6, digest="abc")
    made.save(tmp_path / "season.npz")
    again = result.load(tmp_path / "season.npz")
    assert_equal(made, again)
    assert (again.garden, again.digest, again.seed, again.members) == (made.garden, "abc", 1, 6)
    assert (again.first, again.fish_names, again.batches) == (made.first, made.fish_names, made.batches)
    assert again.events
    for one, other in zip(made.events, again.events, strict=True):
        assert vars(one) == vars(other)


def test_the_same_seed_gives_the_same_bytes_and_another_one_others(tmp_path: Path):
    written = []
    for name, seed in (("one", 7), ("two", 7), ("three", 8)):
        plan.of_garden(weeks("yard", date(2027, 4, 1), 20), 6, seed).save(tmp_path / name)
        written.append((tmp_path / name).read_bytes())
    assert written[0] == written[1]
    assert written[0] != written[2]


def assert_equal(one: SeasonRun, other: SeasonRun) -> None:
    """Every array alike to the last bit."""
    for group in ("daily", "fish", "crops", "typical", "hourly"):
        own, others = getattr(one, group), getattr(other, group)
        assert own.keys() == others.keys()
        for name, values in own.items():
            assert values.dtype == others[name].dtype
            np.testing.assert_array_equal(values, others[name], err_msg=f"{group} {name}")
