"""Exercises: drawn by a seed from a garden's own numbers, answered from the numbers as they are printed."""

import math
import random

import pytest
import small_garden

from aquacalc.advice.finding import Amount
from aquacalc.garden.file import GardenFile
from aquacalc.pages.workshop import exercise_sheets
from aquacalc.sizing.balance import balance
from aquacalc.sizing.result import Balance
from aquacalc.words import Reader
from aquacalc.workshop import exercises
from aquacalc.workshop.audience import AUDIENCES, Audience
from aquacalc.workshop.exercises import Exercise

MEMBERS = 20


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory):
    path = tmp_path_factory.mktemp("small") / "garden.toml"
    path.write_text(small_garden.TEXT, "utf-8")
    return GardenFile.open(path).garden


@pytest.fixture(scope="module")
def sized(garden) -> Balance:
    return balance(garden, MEMBERS)


def told(of: Exercise) -> dict[str, float]:
    return {one.name: one.number for one in of.amounts if one.kind not in ("text", "limit", "month")}


HAND = {
    "cans": lambda n: math.ceil(n["tank"] / n["can"] - 1e-9),
    "loop": lambda n: n["tanks"] + n["beds"] + n["rest"],
    "box": lambda n: 1000 * n["length"] * n["width"] * n["depth"],
    "bucket": lambda n: 3600 * n["bucket"] / n["seconds"],
    "turnover": lambda n: n["tank"] / n["flow"],
    "change": lambda n: n["reading"] * (1 - n["share"]),
    "share": lambda n: n["tan"] * n["part"],
    "two-ph": lambda n: _share(n["high"], n["warm"]) / _share(n["low"], n["warm"]),
    "basis": lambda n: n["reading"] * 14.007 / 62.004,
    "chlorine": lambda n: n["strength"] * n["water"] / 1000 * n["grams"],
    "pinch": lambda n: n["count"] * n["each"],
    "feed": lambda n: n["count"] * n["weight"] * n["percent"] / 100,
    "waste": lambda n: n["feed"] * n["protein"] / 100 * n["part"],
    "left": lambda n: n["line"] - n["gone"],
    "energy": lambda n: n["power"] * n["days"] * 24,
    "fall": lambda n: (n["start"] - n["stop"]) / n["fall"],
    "outage": lambda n: (n["start"] - n["stop"]) / (n["use"] * n["kilograms"] / n["tank"]),
    "seeds": lambda n: math.ceil(n["plants"] * 10 / n["good"] - 1e-9),
    "places": lambda n: math.ceil(n["heads"] / 0.9 - 1e-9) * n["weeks"],
    "flood": lambda n: 1000 * n["area"] * n["flood"] * n["void"],
    "fits": lambda n: math.floor(min(n["carried"] / n["wanted"], 1) * n["count"] + 1e-9),
}
"""The same by hand, as the sheet of answers works it."""


def _share(ph: float, warm_c: float) -> float:
    return 1 / (1 + 10 ** (0.09018 + 2729.92 / (warm_c + 273.15) - ph))


@pytest.mark.parametrize("audience", AUDIENCES)
@pytest.mark.parametrize("units", ["metric", "us"])
def test_by_hand_comes_what_stands_on_the_sheet_of_answers(
    garden, sized: Balance, audience: Audience, units: str
):
    for seed in range(1, 6):
        drawn = exercises.draw(garden, sized, audience, Reader(units=units), seed)
        for one in drawn:
            if one.key in HAND:
                assert one.answer.number == pytest.approx(HAND[one.key](told(one)), rel=2e-3), one.key
        assert {one.key for one in drawn} <= {*HAND, "weighed"}


def test_every_lesson_asks_something_and_no_exercise_stands_twice(garden, sized: Balance):
    for audience in AUDIENCES:
        drawn = exercises.draw(garden, sized, audience, garden.reader)
        assert list(dict.fromkeys(one.lesson for one in drawn)) == [
            *("litres", "nitrogen", "feeding", "energy", "choice")
        ]
        keys = [one.key for one in drawn]
        assert len(keys) == len(set(keys)) >= 7


def test_the_seed_decides(garden, sized: Balance):
    one, again, other = (exercises.draw(garden, sized, "adults", garden.reader, seed) for seed in (4, 4, 5))
    assert one == again
    assert one != other


def test_numbers_are_rounded_as_they_are_printed(garden, sized: Balance):
    of = exercises.Given(garden, sized, "16", Reader(units="us"), random.Random(1))
    assert of.told(1135.6, "volume") / 3.785411784 == pytest.approx(300.0)
    assert of.told(22.0, "temperature") == pytest.approx((72.0 - 32.0) / 1.8)


def test_everything_that_is_asked_and_worked_can_be_said(garden, sized: Balance):
    for audience in AUDIENCES:
        for units in ("metric", "us"):
            reader = Reader(units=units)
            for one in exercises.draw(garden, sized, audience, reader):
                assert exercise_sheets.asked(one, reader).endswith("?")
                assert exercise_sheets.amount(one.answer, reader) in exercise_sheets.working(one, reader)


@pytest.mark.parametrize(
    ("typed", "worth"),
    [
        (700, "right"),
        (690, "right"),
        (800, "near"),
        (7.0, "tenfold"),
        (70.0, "tenfold"),
        (0.7, "tenfold"),
        (0, "other"),
    ],
)
def test_an_answer_is_marked(typed: float, worth: str):
    one = Exercise("box", "litres", (), Amount("answer", 700.0, "volume"))
    assert exercises.mark(one, typed) == worth
