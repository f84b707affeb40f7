"""One water, asked in three ways: as a reading that is typed, as a log of one row, as a sign of trouble.

Random waters of a seed; each way gets the same facts: no fish in distress, a row of the day, the same garden.
"""

import random
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import plans
import pytest

from aquacalc import words
from aquacalc.advice import log as log_advice
from aquacalc.advice import triage
from aquacalc.advice.finding import changes_of_water
from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.actions import Answer
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.judge import sizes
from aquacalc.logbook import read
from aquacalc.pages.wall import ammonia_table, emergency
from aquacalc.sentences import reading as sentences
from aquacalc.words import Reader

SEED, QUICK, ALL = 11, 300, 2000
FEW_DRAWS = 60
READER = Reader()
DAYS = {
    "yard": date(2027, 6, 14),
    "greenhouse": date(2027, 11, 15),
    "classroom": date(2027, 3, 15),
    "southern": date(2027, 12, 1),
}
"""A day on which each demo has its fish in the water."""


@dataclass(frozen=True)
class Column:
    """How a value is typed at a reading and headed in a log, and between which values it is drawn."""

    name: str
    head: str
    unit: str
    low: float
    high: float


COLUMNS = (
    Column("tan", "ammonia (mg/L as N)", " N", 0.0, 12.0),
    Column("nitrite", "nitrite (mg/L as NO2)", " NO2", 0.0, 12.0),
    Column("nitrate", "nitrate (mg/L as NO3)", " NO3", 0.0, 900.0),
    Column("ph", "pH", "", 5.0, 9.4),
    Column("temp", "water temperature (C)", " C", 2.0, 34.0),
    Column("oxygen", "oxygen (mg/L)", " mg/L", 1.0, 11.0),
    Column("kh", "alkalinity (mg/L CaCO3)", " mg/L CaCO3", 0.0, 220.0),
    Column("chlorine", "chlorine (mg/L)", " mg/L", 0.0, 2.0),
    Column("chloride", "chloride (mg/L)", " mg/L", 0.0, 120.0),
    Column("salt", "added salt (g/L)", " g/L", 0.0, 2.0),
)
SIGNS = {
    "tan": "ammonia_high",
    "nitrite": "nitrite_high",
    "ph": "ph_floor",
    "temp": "heat",
    "chlorine": "chlorine_in",
}
"""Signs that are such a reading."""


@dataclass(frozen=True)
class Water:
    """A garden, and what was read of its water: texts by name."""

    garden: str
    texts: dict[str, str]

    @property
    def typed(self) -> list[str]:
        """As it is typed at a reading."""
        return [f"{one.name}={self.texts[one.name]}{one.unit}" for one in self.columns]

    @property
    def columns(self) -> list[Column]:
        """The columns that were read."""
        return [one for one in COLUMNS if one.name in self.texts]

    def log(self) -> str:
        """As a log of one row."""
        head = ",".join(["date", *(one.head for one in self.columns)])
        row = ",".join([DAYS[self.garden].isoformat(), *(self.texts[one.name] for one in self.columns)])
        return f"{head}\n{row}\n"


def waters(count: int) -> list[Water]:
    """Random waters: most well in most things, some values at bounds, some not read."""
    draw = random.Random(SEED)
    found = []
    for _ in range(count):
        chosen = draw.sample(COLUMNS, draw.randint(1, len(COLUMNS)))
        texts = {}
        for one in chosen:
            # Small values are the usual ones.
            share = draw.random() ** 2 if one.low == 0.0 else draw.random()
            sign = draw.choice(("", "", "", "", "", "<", ">"))
            texts[one.name] = f"{sign}{one.low + share * (one.high - one.low):.2f}"
        found.append(Water(draw.choice(tuple(DAYS)), texts))
    return found


def change(answer: Answer) -> float:
    """Share of the water that is changed first; zero where none is."""
    shares = (one.number for action in answer.actions for one in action.amounts if one.name == "share")
    return next(shares, 0.0)


def check(water: Water, garden: Garden, path: Path) -> None:
    reading = actions.answer(given.read(water.typed, garden))
    path.write_text(water.log(), "utf-8")
    told = log_advice.told_by(garden, read.read(path, garden))
    assert told is not None
    by_log = told.answer
    assert by_log is not None
    levels = [(one.parameter, one.level) for one in reading.judgement.judged]
    assert levels == [(one.parameter, one.level) for one in by_log.judgement.judged]
    assert by_log.judgement.level == reading.judgement.level
    assert [one.key for one in by_log.actions] == [one.key for one in reading.actions]
    assert change(by_log) == pytest.approx(change(reading))
    assert by_log.feed == reading.feed
    # And in the same words, with the same amounts.
    assert sentences.actions(by_log, READER) == sentences.actions(reading, READER)
    assert told.calm is False or (not reading.actions and reading.judgement.level == "fine")
    # What a sign asks for is worked out with fewer draws, which move no level.
    quick = actions.answer(given.read(water.typed, garden), FEW_DRAWS)
    assert [(one.parameter, one.level) for one in quick.judgement.judged] == levels
    assert quick.feed == reading.feed
    for name in SIGNS.keys() & water.texts.keys():
        found = triage.triage_of(SIGNS[name], triage.known(garden, None), reading)
        done = [one for one in found.steps if one.kind == "do" and one.action is not None]
        assert found.answer is not None
        assert found.answer.judgement.level == reading.judgement.level
        assert found.answer.feed == reading.feed
        assert [one.action for one in done] == list(reading.actions)
    for sign in ("listless", "flashing"):
        steps = triage.triage_of(sign, triage.known(garden, None), reading).steps
        other = [one for one in reading.actions if one.key in triage.OTHER_WATER]
        if other:
            # The water at hand would harm: the sign asks for the water that the reading asks for.
            assert other[0] in [step.action for step in steps]
            continue
        share = next(one.number for step in steps for one in step.amounts if one.name == "share")
        asked = [one for one in reading.actions if one.key in triage.CHANGES]
        assert share == (asked[0].amounts[0].number if asked else 0.25)


@pytest.fixture(scope="module")
def gardens() -> dict[str, Garden]:
    return {name: GardenFile.open(f"demo:{name}").garden for name in DAYS}


def test_a_reading_a_log_and_a_sign_answer_alike(gardens: dict[str, Garden], tmp_path: Path):
    for water in waters(QUICK):
        check(water, gardens[water.garden], tmp_path / "log.csv")


@pytest.mark.slow
def test_many_readings_logs_and_signs_answer_alike(gardens: dict[str, Garden], tmp_path: Path):
    for water in waters(ALL):
        check(water, gardens[water.garden], tmp_path / "log.csv")


def test_old_sour_water_is_changed_by_a_quarter_wherever_it_is_said(
    gardens: dict[str, Garden], tmp_path: Path
):
    water = Water("yard", {"ph": "5.8", "tan": "9", "temp": "26"})
    check(water, gardens["yard"], tmp_path / "log.csv")
    answer = actions.answer(given.read(water.typed, gardens["yard"]))
    assert change(answer) in (0.0, sizes.OLD_WATER_SHARE)
    told = {one.name: one.number for one in changes_of_water()}
    assert (told["old"], told["sour"]) == (sizes.OLD_WATER_SHARE, sizes.OLD_WATER_PH)
    plan = plans.of_demo("yard")
    shown = words.quantity(sizes.OLD_WATER_SHARE, "share", plan.reader)
    for sheet in (ammonia_table.page(plan), emergency.card(plan)):
        assert f"{shown} below pH 6" in sheet


@pytest.mark.parametrize("name", DAYS)
def test_the_ammonia_table_feeds_as_a_reading_of_the_same_does(gardens: dict[str, Garden], name: str):
    """Each first step of a column with less feed, and with none, is that of a reading with that step."""
    plan, garden = plans.of_demo(name), gardens[name]
    tan = ammonia_table.tan_axis(given.complete({}, garden).scales["tan"])
    ph = ammonia_table.ph_axis(given.complete({}, garden).scales["ph"])
    fed = ammonia_table.feeds(plan, tan, ph, 18.0)
    for place, shown in enumerate(tan.shown):
        for column, acid in enumerate(ph.shown):
            typed = [f"tan={shown:g}", f"ph={acid:g}", "temp=18 C"]
            assert actions.answer(given.read(typed, garden)).feed == fed[place][column]
