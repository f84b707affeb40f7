"""Tanks and sumps told by their shape, and the circulating water as it was measured."""

import math
import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from small_garden import TEXT, replaced

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden

TODAY = date(2027, 3, 5)
VOLUME = 'volume = "1000 L"     # to the overflow\ndepth = "0.8 m"'


def opened(text: str, folder: Path) -> Garden:
    (folder / "garden.toml").write_text(text, "utf-8")
    return GardenFile.open(folder, TODAY).garden


def problems(text: str, folder: Path) -> list[Problem]:
    with pytest.raises(InputError) as caught:
        opened(text, folder)
    return list(caught.value.problems)


def shaped(*lines: str) -> str:
    return replaced(VOLUME, "\n".join(lines))


@pytest.mark.parametrize(
    ("lines", "volume_l", "surface_m2"),
    [
        (('shape = "round"', "diameter_m = 1.22", "depth_m = 0.6"), 701.4, 1.169),
        (('shape = "round"', 'diameter = "4 ft"', 'depth = "24 in"'), 711.6, 1.1675),
        (('shape = "oval"', "length_m = 1.8", "width_m = 0.9", "depth_m = 0.55"), 699.8, 1.2723),
        (('shape = "rectangular"', "length_m = 1.2", "width_cm = 100", "depth_m = 0.7"), 840.0, 1.2),
        (
            (
                'shape = "tapered"',
                "length_m = 1.0",
                "width_m = 0.8",
                "top_length_m = 1.1",
                "top_width_m = 0.9",
                "depth_m = 0.5",
            ),
            446.7,
            0.99,
        ),
        (('shape = "trough"', "length_m = 0.9", "width_m = 1.8", "depth_m = 0.55"), 795.4, 1.4462),
        (('shape = "lying"', "diameter_m = 0.58", "length_m = 0.88", "depth_m = 0.29"), 116.25, 0.5104),
        (('shape = "cone"', "diameter_m = 1.0", "cone_m = 0.3", "depth_m = 0.8"), 471.24, 0.7854),
    ],
)
def test_shape_and_depth_give_volume_and_surface(
    lines: tuple[str, ...], volume_l: float, surface_m2: float, tmp_path: Path
):
    (tank,) = opened(shaped(*lines), tmp_path).tanks
    assert tank.volume_l == pytest.approx(volume_l, rel=2e-4)
    assert tank.surface_m2 == pytest.approx(surface_m2, rel=2e-4)


def test_a_tote_measured_at_its_rim_counts_to_the_water_line(tmp_path: Path):
    lines = ['shape = "tapered"', "length_m = 1.0", "width_m = 0.8", "depth_m = 0.5"]
    line = opened(shaped(*lines, "top_length_m = 1.1", "top_width_m = 0.9"), tmp_path)
    rim = opened(shaped(*lines, "top_length_m = 1.2", "top_width_m = 1.0", "height_m = 1.0"), tmp_path)
    assert rim.tanks[0].volume_l == pytest.approx(line.tanks[0].volume_l)
    assert rim.tanks[0].surface_m2 == pytest.approx(line.tanks[0].surface_m2)


def test_what_the_shape_made_is_told_as_reckoned(tmp_path: Path):
    found = opened(shaped('shape = "round"', "diameter_m = 1.22", "depth_m = 0.6"), tmp_path)
    told = {one.key: (one.value, one.reason) for one in found.assumed}
    assert told["tank 1 volume"] == ("701", "assumed-reckoned")


ROUND = ('shape = "round"', "diameter_m = 1.22", "depth_m = 0.6")


def test_a_given_volume_wins_and_may_differ_by_a_tenth(tmp_path: Path):
    found = opened(shaped('volume = "650 L"', *ROUND), tmp_path)
    assert found.tanks[0].volume_l == 650.0
    assert found.tanks[0].surface_m2 == pytest.approx(math.pi / 4 * 1.22**2)


def test_a_volume_that_is_far_from_its_shape_is_told_once_with_what_would_work(tmp_path: Path):
    (found,) = problems(shaped('volume = "1000 L"', *ROUND), tmp_path)
    assert found == Problem("problem-volume-of-shape", "tank 1 volume", "1000 L", ("701.4 L",))
    said = words.problem(found, words.Reader())
    assert "701.4 L" in said
    assert said.count(".") == 2, "one sentence, and the point of the number"


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        (('shape = "round"', "depth_m = 0.6"), ("problem-missing", "tank 1 diameter")),
        (('shape = "round"', "diameter_m = 1.2"), ("problem-missing", "tank 1 depth")),
        (('shape = "oval"', "length_m = 1.2", "depth_m = 0.6"), ("problem-missing", "tank 1 width")),
        ((*ROUND, "width_m = 1"), ("problem-not-of-shape", "tank 1 width")),
        (("diameter_m = 1.22", "depth_m = 0.6"), ("problem-missing", "tank 1 shape")),
        (("depth_m = 0.6",), ("problem-missing", "tank 1 volume")),
        (('shape = "ruond"', *ROUND[1:]), ("problem-choice", "tank 1 shape")),
        (
            ('shape = "round"', 'diameter = "big"', "depth_m = 0.6"),
            ("problem-not-a-number", "tank 1 diameter"),
        ),
        (
            (
                'shape = "tapered"',
                "length_m = 1",
                "width_m = 1",
                "top_length_m = 1.2",
                "top_width_m = 1.2",
                "height_m = 0.5",
                "depth_m = 0.6",
            ),
            ("problem-depth-above-rim", "tank 1 depth"),
        ),
        (
            ('shape = "lying"', "diameter_m = 0.58", "length_m = 0.88", "depth_m = 0.58"),
            ("problem-depth-above-rim", "tank 1 depth"),
        ),
        (('shape = "cone"', "diameter_m = 1", "depth_m = 0.8"), ("problem-missing", "tank 1 cone")),
        ((*ROUND, "cone_m = 0.3"), ("problem-not-of-shape", "tank 1 cone")),
    ],
)
def test_a_shape_that_is_told_badly_is_one_problem(
    lines: tuple[str, ...], found: tuple[str, str], tmp_path: Path
):
    assert [(one.key, one.where) for one in problems(shaped(*lines), tmp_path)] == [found]


def test_a_sump_by_its_shape(tmp_path: Path):
    text = TEXT + '\n[sump]\nshape = "rectangular"\nlength_m = 1\nwidth_m = 0.6\ndepth_m = 0.4\n'
    sump = opened(text, tmp_path).sump
    assert sump is not None
    assert sump.volume_l == pytest.approx(240.0)
    assert problems(text + 'rim = "200 L"\n', tmp_path)[0].key == "problem-sump-above-rim"
    assert problems(TEXT + "\n[sump]\ndepth_m = 0.4\n", tmp_path)[0].where == "sump volume"


MEASURED = '\n[[measured]]\nwhat = "loop_volume"\nvalue = "{litres} L"\n'


def test_a_measured_loop_takes_the_place_of_the_reckoned_one_in_proportion(tmp_path: Path):
    before = litres.litres_of(opened(TEXT, tmp_path))
    garden = opened(TEXT + MEASURED.format(litres=900), tmp_path)
    after = litres.litres_of(garden)
    assert after.whole == pytest.approx(900.0)
    for part in ("tanks", "beds", "beds_full", "sump", "pipes", "filter"):
        assert getattr(after, part) * before.whole == pytest.approx(getattr(before, part) * 900.0)


def test_a_larger_tank_counts_although_the_loop_was_measured(tmp_path: Path):
    garden = opened(TEXT + MEASURED.format(litres=900), tmp_path)
    larger = replace(garden, tanks=(replace(garden.tanks[0], volume_l=2000.0),))
    assert litres.litres_of(larger).whole > 1.5 * litres.litres_of(garden).whole


def test_a_volume_in_the_wrong_unit_is_told(tmp_path: Path):
    text = TEXT + '\n[[measured]]\nwhat = "loop_volume"\nvalue = "5 ft"\n'
    assert [one.where for one in problems(text, tmp_path)] == ["measured 1 value"]


def test_a_shape_can_be_put_in_the_place_of_a_volume(tmp_path: Path):
    (tmp_path / "garden.toml").write_text(TEXT, "utf-8")
    values = {
        "tank.0.volume": None,
        "tank.0.shape": "round",
        "tank.0.diameter": "4 ft",
        "tank.0.depth": "2 ft",
    }
    made = GardenFile.open(tmp_path, TODAY).changed(values)
    assert made.garden.tanks[0].volume_l == pytest.approx(711.6, abs=0.1)


BY_THE_TAPE = {
    "advice/build.py": "the sump against its own rim",
    "charts/season_strip.py": "a name",
    "sizing/changes.py": "a tank made larger",
    "sizing/parts.py": "a tank to buy",
    "panels/size/garden_form.py": "what the file says",
    "panels/loop/flood.py": "the water over the pump of the sump as the tape has it",
    "panels/loop/sump.py": "the sump against its own rim",
    "panels/loop/weight.py": "what a full vessel weighs",
    "panels/size/loop_volume.py": "what the tape makes, against what was measured",
}
"""Where a vessel's own volume is meant, and not its share of the water that was measured."""


def test_whatever_counts_water_counts_what_was_measured():
    package = Path(litres.__file__).parents[1]
    found = set()
    for path in package.rglob("*.py"):
        for line in path.read_text("utf-8").splitlines():
            if re.search(r"\b(tank|sump|largest)\.volume_l\b", line) and "water_scale" not in line:
                found.add(path.relative_to(package).as_posix())
    assert {one for one in found if not one.startswith("garden/")} == set(BY_THE_TAPE)
