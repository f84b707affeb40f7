"""A process that is killed while it saves leaves the old file or the new one, whole."""

import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from small_garden import TEXT

from aquacalc.garden.file import GardenFile

KILLS = 50

SAVES_FOREVER = """
import sys
from dataclasses import replace
from aquacalc.garden.file import GardenFile

opened = GardenFile.open(sys.argv[1])
count = opened.garden.fish[0].count
there = opened.change("fish.0.count", 50 - count)
back = there.change("fish.0.count", count)
print("ready", flush=True)
while True:  # nothing but saves, so that most kills fall into one
    there = replace(there, digest=opened.digest).save()
    opened = replace(back, digest=there.digest).save()
"""


@pytest.mark.slow
def test_a_killed_save_leaves_a_whole_file(tmp_path: Path):
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, "utf-8")
    whole = {TEXT, TEXT.replace("count = 20", "count = 30")}
    chance = random.Random(1)
    for _ in range(KILLS):
        with subprocess.Popen(
            [sys.executable, "-c", SAVES_FOREVER, str(path)], stdout=subprocess.PIPE, text=True
        ) as saving:
            assert saving.stdout is not None
            assert saving.stdout.readline() == "ready\n"
            time.sleep(chance.uniform(0.0, 0.1))
            assert saving.poll() is None
            saving.kill()
        assert path.read_text("utf-8") in whole
        assert GardenFile.open(path).garden.fish[0].count in (20, 30)
