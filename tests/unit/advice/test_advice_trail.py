"""What answers rest on: each reference once, with how it is known; nothing cited that is not listed."""

import plans
import pytest

from aquacalc import tables
from aquacalc.advice import trail
from aquacalc.advice.reading import given, judge
from aquacalc.tables import Cited

GARDEN = plans.of_yard().garden


@pytest.mark.parametrize(
    "gathered",
    [
        trail.of_balance(GARDEN),
        trail.of_season(GARDEN),
        trail.of_filter(),
        trail.of_fish(GARDEN),
        trail.of_crops(GARDEN),
        trail.of_products(GARDEN),
        trail.of_eating(GARDEN),
        trail.of_lines(("oxygen", "tan"), plans.of_yard().species),
        trail.of_findings(plans.of_yard().findings),
    ],
    ids=["balance", "season", "filter", "fish", "crops", "products", "eating", "lines", "findings"],
)
def test_each_reference_stands_once_with_a_mark_and_is_listed(gathered: tuple[Cited, ...]):
    listed = set(tables.load("sources").keys())
    references = [one.reference for one in gathered]
    assert references
    assert len(references) == len(set(references))
    assert {tables.source_key(one) for one in references} <= listed
    ranks = [tables.MARKS.index(one.mark) for one in gathered]
    assert ranks == sorted(ranks)


def test_common_practice_is_never_better_known_than_that():
    assert trail.merged([Cited("TRADE", "memory")]) == (Cited("TRADE", "practice"),)


def test_a_fish_cites_what_its_row_cites():
    row = tables.load("species").row(GARDEN.fish[0].species)
    columns = [column for column in row.cells if column.endswith("_source")]
    references = {one for column in columns for one in row.listed(column)}
    assert {one.reference for one in trail.of_fish(GARDEN)} == references


def test_lines_are_those_of_the_fish_and_known_as_their_rows_say():
    trout = (tables.load("species").row("rainbow_trout"),)
    found = {one.reference: one.mark for one in trail.of_lines(("nitrite",), trout)}
    row = tables.load("water_limits").row("nitrite_cold")
    assert set(row.listed("source")) <= set(found)
    assert found["KROUPOVA08"] == row.text("mark") == "practice"
    assert "SRAC462" not in found  # warm-water fish alone


@pytest.mark.parametrize(
    ("parameter", "key"),
    [
        ("unionised_ammonia", "EMER75"),
        ("tan", "EPA13"),
        ("oxygen", "BENKRA84"),
        ("carbon_dioxide", "PLUBUS82"),
    ],
)
def test_a_level_cites_the_formula_that_it_was_reckoned_by(parameter: str, key: str):
    told = judge.judge(given.read(["tan=1 N", "ph=7", "temp=20C", "oxygen=6", "kh=3 dKH"], GARDEN))
    assert key in {one.reference for one in trail.of_judged(told, parameter)}
    assert key in {one.reference for one in trail.of_judgement(told)}
