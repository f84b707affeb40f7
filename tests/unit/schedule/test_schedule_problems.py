from dataclasses import replace

import pytest
from hand_made_garden import garden

from aquacalc import words
from aquacalc.errors import Problem
from aquacalc.garden.model import Garden, MonthlyClimate
from aquacalc.schedule.problems import problems


def stocked(species: str, mean_c: float, warmest_c: float | None = None) -> Garden:
    """A garden indoors (its water some 3 C below the air) of one species, the air warmest in August."""
    made = garden()
    means = [mean_c] * 12
    if warmest_c is not None:
        means[7] = warmest_c
    climate = MonthlyClimate(tuple(one + 2.0 for one in means), tuple(one - 2.0 for one in means))
    site = replace(made.site, cover="indoors", climate=climate)
    return replace(made, site=site, fish=(replace(made.fish[0], species=species),))


def test_fish_that_live_and_eat_are_no_problem():
    assert problems(stocked("silver_perch", 25.0)) == []
    assert problems(stocked("rainbow_trout", 30.0, warmest_c=20.0)) == []  # August alone will do


def test_a_species_that_lives_in_no_month():
    # Trout die from 25 C; the water is warmer even in August.
    assert problems(stocked("rainbow_trout", 30.0, warmest_c=29.0)) == [
        Problem("problem-species-cannot-live", "fish 1 species", "25.7", ("0", "25", "8"))
    ]


def test_a_species_that_is_never_fed():
    # Tilapia eat above 17 C and live above 12 C.
    assert problems(stocked("nile_tilapia", 17.0, warmest_c=19.0)) == [
        Problem("problem-species-never-fed", "fish 1 species", "16.1", ("17", "35", "8"))
    ]


def test_the_nearest_month_may_lie_on_either_side():
    # Too cold by 7 C and more in eleven months, too warm by 1 C in August.
    (found,) = problems(stocked("nile_tilapia", 7.75, warmest_c=44.75))
    assert (found.found, found.allowed) == ("40.9", ("12", "40", "8"))


@pytest.mark.parametrize(("species", "mean_c"), [("rainbow_trout", 35.0), ("barramundi", 20.0)])
def test_it_is_one_sentence_with_the_nearest_month(species: str, mean_c: float):
    (found,) = problems(stocked(species, mean_c))
    said = words.problem(found, words.Reader())
    assert said.startswith("fish 1 species: this species ")
    assert "month 1" in said


def test_each_batch_is_told_by_its_place():
    made = stocked("nile_tilapia", 17.0)
    two = replace(made, fish=(replace(made.fish[0], species="goldfish"), *made.fish, *made.fish))
    assert [one.where for one in problems(two)] == ["fish 2 species", "fish 3 species"]
