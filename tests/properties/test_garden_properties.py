"""Whatever a garden file holds: a garden or its problems, never a traceback, and nothing lost on disk."""

import tomllib
from datetime import date
from pathlib import Path

import pytest
import random_gardens
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.file import GardenFile

TODAY = date(2027, 3, 5)
READER = words.Reader()

in_a_folder = settings(
    max_examples=50, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)


def outcome(text: str | bytes, folder: Path) -> GardenFile | tuple[Problem, ...]:
    path = folder / "garden.toml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    try:
        return GardenFile.open(path, TODAY)
    except InputError as error:
        return error.problems


@in_a_folder
@given(data=random_gardens.gardens())
def test_a_whole_garden_is_read(data: random_gardens.Data, tmp_path: Path):
    opened = outcome(random_gardens.text_of(data), tmp_path)
    assert isinstance(opened, GardenFile), opened
    garden = opened.garden
    assert len(garden.tanks) == len(data["tank"])
    assert [bed.name for bed in garden.beds] == [bed["name"] for bed in data["bed"]]
    water = litres.litres_of(garden)
    assert 0.0 < water.tanks <= water.whole
    assert all(
        0.0 <= crop.area_m2 <= bed.area_m2 * 1.001
        for crop in garden.crops
        for bed in garden.beds
        if bed.name == crop.bed
    )


@pytest.mark.parametrize("kind", sorted(random_gardens.SLIPS))
def test_each_mistake_is_told(kind: str, tmp_path: Path):
    @settings(max_examples=12, suppress_health_check=[HealthCheck.too_slow])
    @given(random_gardens.mistaken(kind))
    def told(file: random_gardens.File) -> None:
        found = outcome(file.text, tmp_path)
        assert isinstance(found, tuple), kind
        keys = {problem.key for problem in found}
        for slip, expected in file.mistakes:
            assert keys & expected, (slip, keys)
        for problem in found:
            said = words.problem(problem, READER)
            assert "\n" not in said
            assert said.endswith(".")

    told()


@in_a_folder
@given(raw=random_gardens.broken())
def test_a_broken_file_is_one_problem_or_what_is_left_of_it(raw: bytes, tmp_path: Path):
    found = outcome(raw, tmp_path)
    if isinstance(found, tuple):
        assert found
        assert all(words.problem(problem, READER) for problem in found)
    assert (tmp_path / "garden.toml").read_bytes() == raw


@in_a_folder
@given(raw=st.one_of(st.binary(max_size=300), st.text(max_size=300).map(str.encode)))
def test_any_bytes_are_a_problem(raw: bytes, tmp_path: Path):
    assert isinstance(outcome(raw, tmp_path), tuple)


def test_at_least_a_third_of_the_random_files_is_whole(tmp_path: Path):
    whole: list[bool] = []

    @settings(max_examples=120, suppress_health_check=[HealthCheck.too_slow])
    @given(random_gardens.files())
    def read(file: random_gardens.File) -> None:
        found = isinstance(outcome(file.text, tmp_path), GardenFile)
        assert found == (not file.mistakes)
        whole.append(found)

    read()
    assert sum(whole) >= 0.3 * len(whole)


@settings(in_a_folder, max_examples=40)
@given(data=random_gardens.gardens(), litres_l=st.floats(50, 5000), count=st.integers(1, 500))
def test_a_change_does_what_it_says_and_nothing_else(
    data: random_gardens.Data, litres_l: float, count: int, tmp_path: Path
):
    opened = outcome(random_gardens.text_of(data), tmp_path)
    assert isinstance(opened, GardenFile)
    changed = opened.change("tank.0.volume", f"{litres_l:.4f} L").change("fish.0.count", count)
    assert changed.garden.tanks[0].volume_l == pytest.approx(litres_l, abs=1e-4)
    assert changed.garden.fish[0].count == count
    before, after = tomllib.loads(opened.text), tomllib.loads(changed.text)
    for one in (before, after):
        one["tank"][0] = {key: value for key, value in one["tank"][0].items() if not key.startswith("volume")}
        del one["fish"][0]["count"]
    assert before == after
    saved = changed.save()
    assert GardenFile.open(saved.path, TODAY).garden == changed.garden
