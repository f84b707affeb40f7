"""Closed sets name all their places: who adds a limit, a bed kind, a level or a drain finds them here."""

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any, get_args

import pytest

from aquacalc import words
from aquacalc.advice import balance as advice
from aquacalc.advice.finding import Level
from aquacalc.charts import year
from aquacalc.garden import model, resolve
from aquacalc.sizing import changes
from aquacalc.sizing.result import LimitKey
from aquacalc.startup import case
from aquacalc.words import Reader

PACKAGE = Path(__file__).resolve().parents[1] / "aquacalc"
LIMITS = set(get_args(LimitKey))
MUST = {"oxygen", "nitrification", "density", "power_cut"}
BETTER = {"solids", "plants", "turnover"}
BEDS = set(get_args(model.BedKind))

SETS: dict[str, tuple[Iterable[Any], set[Any]]] = {
    "what lifts a limit": (changes.STEPS, LIMITS),
    "colours of limits": (year.COLOUR, LIMITS),
    "marks of limits": (year.SHAPE, LIMITS),
    "dashes of limits": (year.DASH, BETTER),
    "findings of limits": (advice.OVER_AND_NEAR, MUST),
    "sources of limits": (advice.LIMIT_SOURCES, MUST),
    "depths of beds": (resolve.BED_DEPTH_M, BEDS),
    "depths of water": (
        resolve.WATER_DEPTH_M,
        {kind for kind in get_args(model.BedKind) if not model.holds_medium(kind)},
    ),
    "seeds of a start-up": (case.SEEDS, set(get_args(case.SeedKey))),
}


@pytest.mark.parametrize("name", SETS)
def test_a_table_by_a_closed_set_holds_all_of_it_and_nothing_else(name: str):
    table, whole = SETS[name]
    assert set(table) == whole


def test_every_limit_is_one_that_must_or_one_that_had_better_hold():
    assert MUST | BETTER == LIMITS
    assert not MUST & BETTER


@pytest.mark.parametrize(
    ("pattern", "members"),
    [
        ("limit-{}", LIMITS),
        ("panel-bed-{}", BEDS),
        ("level-{}", set(get_args(Level))),
    ],
)
def test_every_member_has_a_name_in_the_catalogue(pattern: str, members: set[str]):
    for one in members:
        key = pattern.format(one.replace("_", "-").replace(" ", "-"))
        assert words.say(key, Reader()).strip()


def test_nobody_asks_for_a_kind_of_bed_but_the_model_and_the_file():
    seek = re.compile(r"\b(?:b|bed|one)\.kind (?:==|!=|in) [(\[{]?\"(?:media|raft|channel)\"")
    found = {
        str(path.relative_to(PACKAGE))
        for path in PACKAGE.rglob("*.py")
        if seek.search(path.read_text("utf-8"))
    }
    assert found <= {"garden/resolve.py", "garden/checks.py"}
