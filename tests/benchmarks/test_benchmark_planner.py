"""Gardens side by side, against a season of 200 tries of the same garden.

Target: a hundred plans of eight tries take three such seasons; twice that is asserted, so that a busy machine
does not fail it. A whole proposal takes minutes: `tests/planner_seeds.py` prints how many seasons.
"""

import time
from dataclasses import replace
from datetime import timedelta

import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.schedule import crops
from aquacalc.season import plan
from aquacalc.season.together import Candidate, together

pytestmark = pytest.mark.benchmark

PLANS, TRIES = 100, 8
SIDE_BY_SIDE_TARGET = 3.0
SLACK = 2.0
OFFERS = [
    {"what": "air", "size": "40 L/min", "price": 60, "power": "30 W"},
    {"what": "cover", "price": 40},
    {"what": "bed", "bed": "north bed", "size": "10 sq ft", "price": 80},
]
WISHES = {
    "wishes.kept_before": True,
    "wishes.to_buy_at_most": 250,
    "wishes.more_a_year": 150,
    "wishes.sold_at": ["1 oz", "2 oz", "5 oz", "7 oz"],
}


@pytest.fixture(scope="module")
def yard() -> GardenFile:
    return GardenFile.open("demo:yard").changed({"offer": OFFERS, **WISHES})


@pytest.fixture(scope="module")
def season_s(yard: GardenFile) -> float:
    begun = time.process_time()
    plan.of_garden(yard.garden, 200)
    return time.process_time() - begun


def varied(yard: GardenFile, number: int):
    (batch,) = yard.garden.fish
    later = batch.stocked + timedelta(weeks=number % 8)
    return replace(yard.garden, fish=(replace(batch, count=5 + number % 40, stocked=later),))


def test_plans_side_by_side(yard: GardenFile, season_s: float, capsys: pytest.CaptureFixture[str]):
    gardens = [varied(yard, number) for number in range(PLANS)]
    begun = time.process_time()
    together([Candidate(one, crops.batches(one)) for one in gardens], TRIES)
    ratio = (time.process_time() - begun) / season_s
    with capsys.disabled():
        print(
            f"\n{PLANS} plans of {TRIES} tries: {ratio:.2f} seasons of 200 (target {SIDE_BY_SIDE_TARGET:g})"
        )
    assert ratio <= SLACK * SIDE_BY_SIDE_TARGET
