"""What a season cannot be begun with."""

import pytest

from aquacalc import words
from aquacalc.garden.file import GardenFile
from aquacalc.season import problems
from aquacalc.words import Reader


@pytest.fixture(scope="module")
def yard():
    return GardenFile.open("demo:yard").garden


def test_forty_catfish_of_a_pound_eat_hundreds_of_grams_and_not_kilos(yard):
    # Handbooks feed grown catfish 1 to 3 % of their weight a day: 250 to 750 g for 25 kg.
    assert 250.0 < problems.most_feed_g_day(yard) < 1000.0


def test_a_feed_that_no_fish_eat_is_one_sentence_with_what_they_eat(yard):
    assert problems.feed(yard, "measured feed", 300.0) == []
    (found,) = problems.feed(yard, "measured feed", 5000.0)
    said = words.problem(found, Reader())
    assert said.startswith("measured feed: 5000 g of feed a day is more than these fish can eat")
    assert found.allowed[0] in said
