"""A whole proposal: small searches on few weeks. `tests/planner_seeds.py` tries a year with two seeds."""

import numpy as np
import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.outcome.outcome import outcome, wanted
from aquacalc.planner import aim, kept, propose, search, tried
from aquacalc.schedule import crops
from aquacalc.season.together import Candidate, together
from aquacalc.sizing import balance

pytestmark = pytest.mark.slow

WISHES = {
    "wishes.kept_before": True,
    "wishes.to_buy_at_most": 250,
    "wishes.more_a_year": 150,
    "wishes.sold_at": ["1 oz", "2 oz", "5 oz", "7 oz"],
    "offer": [
        {"what": "cover", "price": 40},
        {"what": "bed", "bed": "north bed", "size": "10 sq ft", "price": 80},
        {"what": "biofilter", "medium": "expanded_clay", "size": "60 L", "price": 900},
    ],
}


@pytest.fixture
def small(monkeypatch, tmp_path):
    """A garden of ten weeks, and a search of few plans and tries."""
    sizes = {
        "MIXES": 4,
        "ROUNDS": 1,
        "CROSSINGS": 4,
        "FINALISTS": 3,
        "LATER_ROUNDS": 1,
        "LATER_NEIGHBOURS": 4,
    }
    for name, value in {**sizes, "STRONG_LEVERS": 2, "FIRST_MEMBERS": 4, "LATER_MEMBERS": 6}.items():
        monkeypatch.setattr(search, name, value)
    monkeypatch.setattr("aquacalc.planner.order.LATER_MEMBERS", 6)
    text = GardenFile.open("demo:yard/before").text.replace("end = 2028-02-28", "end = 2027-05-09")
    (tmp_path / "garden.toml").write_text(text)
    return GardenFile.open(tmp_path).changed(WISHES).save()


def test_it_is_the_same_for_the_same_file_and_seed(small):
    one, other = (kept.of_proposal(propose.propose(small, members=10, seed=3)) for _ in range(2))
    assert one == other


def test_its_parts_fit_each_other(small):
    told = []
    found = propose.propose(small, members=10, progress=told.append)
    goal = found.goal
    assert aim.points(found.proposed, goal, len(found.steps)) >= aim.points(found.as_written, goal, 0)
    assert {one.key for one in found.beyond} == {"biofilter"}
    assert told == sorted(told)
    if found.steps:
        assert found.steps[-1].after is found.proposed
        assert found.steps[0].before.fish_of_size.tolist() == found.as_written.fish_of_size.tolist()
        free = [not step.becomes.price for step in found.steps]
        assert free == sorted(free, reverse=True)


def test_the_accepted_file_has_the_year_that_was_shown(small):
    found = propose.propose(small, members=10)
    garden = kept.changed(kept.of_proposal(found), small).garden
    (tries,) = together([Candidate(garden, crops.batches(garden))], 10)
    again = outcome(garden, tries, balance.balance(garden, tried.BALANCE_MEMBERS), wanted(small.garden))
    assert np.array_equal(again.fish_kg, found.proposed.fish_kg)
    assert np.array_equal(again.picked_kg, found.proposed.picked_kg)
