"""Charts of the seasons of random gardens: every one can be drawn, and no text stands on another."""

import itertools
from dataclasses import replace
from pathlib import Path

import pytest
import random_gardens
from hypothesis import HealthCheck, given, settings

from aquacalc.charts import season, season_strip
from aquacalc.garden.file import GardenFile
from aquacalc.season import plan


@pytest.mark.slow
def test_every_season_can_be_drawn_without_texts_over_each_other(tmp_path: Path):
    path = tmp_path / "garden.toml"

    @settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
    @given(random_gardens.gardens())
    def check(data: random_gardens.Data) -> None:
        path.write_text(random_gardens.text_of(data), "utf-8")
        garden = GardenFile.open(path).garden
        run = plan.of_garden(garden, 1)
        picture = season_strip.strip_canvas(run, garden, garden.reader)
        written = [one for one in picture.written if one.text]
        for one, other in itertools.combinations(written, 2):
            assert not replace(one, y=one.y + 1.0, y2=one.y2 - 1.0).touches(other), (one, other)
        for one in written:
            assert one.x >= 0.0
            assert one.x2 <= picture.width
        for draw in (season.strip, season.fish, season.water):
            spec = draw(run, garden, garden.reader, "t").to_dict(validate=False)
            assert "nan" not in spec["description"].lower().split()

    check()
