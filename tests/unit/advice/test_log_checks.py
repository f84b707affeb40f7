"""Readings that cannot go together: each check finds its own case and leaves the others alone."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from yard import yard

from aquacalc.advice import log_checks
from aquacalc.garden import litres
from aquacalc.garden.model import Garden
from aquacalc.logbook.messy import mend

GARDEN = yard()
Reader = Callable[..., list[str]]


@pytest.fixture
def found(tmp_path: Path) -> Reader:
    """Keys of what the checks find in a log."""

    def made(head: str, *rows: str, garden: Garden = GARDEN) -> list[str]:
        path = tmp_path / "log.csv"
        path.write_text("\n".join((head, *rows)) + "\n", "utf-8")
        log = mend.read(path, garden).log
        return [one.key for _, one in log_checks.findings(garden, log, log.rows[-1].day)]

    return made


CARBON = "date,water temperature (C),pH,alkalinity (mg/L CaCO3)"


@pytest.mark.parametrize(
    ("row", "strange"),
    [
        ("2027-05-03,24,6.0,180", True),  # some 300 mg/L of carbon dioxide
        ("2027-05-03,24,9.4,40", True),  # far less than air gives
        ("2027-05-03,24,6.8,60", False),
        ("2027-05-03,24,6.2,75", False),  # 90 mg/L by the numbers, less by what a test can tell
        ("2027-05-03,24,7.5,12", True),  # hardly any alkalinity at a pH above 7.3
        ("2027-05-03,24,6.0,0", False),
        ("2027-05-03,24,<6.0,180", False),
    ],
)
def test_ph_and_alkalinity(found: Reader, row: str, strange: bool):
    assert ("finding-readings-log-disagree" in found(CARBON, row)) is strange


def test_the_newest_contradiction_is_told_once(tmp_path: Path):
    path = tmp_path / "log.csv"
    rows = ("2027-05-03,24,6.0,180", "2027-05-10,24,6.0,190", "2027-05-17,24,6.8,60")
    path.write_text("\n".join((CARBON, *rows)) + "\n", "utf-8")
    log = mend.read(path, GARDEN).log
    assert [day for day, _ in log_checks.findings(GARDEN, log, log.rows[-1].day)] == [date(2027, 5, 10)]


FED = "date,ammonia (as N),nitrite (as N),nitrate (as N),feed (g)"
WEEKS = [f"2027-{month:02d}-{day:02d},0,0.05,20,50" for month in (4, 5) for day in (3, 10, 17, 24)]


def test_ammonia_without_nitrite_after_weeks_of_feed(found: Reader):
    key = "finding-readings-log-no-nitrite"
    assert key in found(FED, *WEEKS, "2027-05-31,2,0,20,50")
    assert key not in found(FED, *WEEKS, "2027-05-31,2,0.3,20,50")
    assert key not in found(FED, "2027-05-31,2,0,20,50")


def test_no_nitrate_after_weeks_of_feed(found: Reader):
    key = "finding-readings-log-no-nitrate"
    assert key in found(FED, *WEEKS, "2027-05-31,0,0,0,50")
    assert key not in found(FED, *WEEKS, "2027-05-31,0,0,<1,50")
    assert key not in found(FED, "2027-05-31,0,0,0,50")


def test_more_nitrogen_than_the_feed_brings(found: Reader):
    key = "finding-readings-log-nitrogen"
    # All nitrogen of 70 g of feed with 32 % protein, a sixth of it nitrogen, in this garden's water.
    brought = 70.0 * 0.32 / 6.25 * 1000.0 / litres.litres_of(GARDEN).whole
    assert log_checks.most_nitrogen_mg_l(GARDEN, 70.0) == pytest.approx(brought, rel=0.01)
    assert key in found(FED, "2027-05-03,0,0,10,10", "2027-05-10,0,0,60,10")
    assert key not in found(FED, "2027-05-03,0,0,10,10", "2027-05-10,0,0,13,10")
    assert key not in found(FED, "2027-05-03,0,0,10,", "2027-05-10,0,0,60,")  # nobody noted the feed
    dosed = f"{FED},ammonium chloride (g)"
    assert key not in found(dosed, "2027-05-03,0,0,10,10,", "2027-05-10,0,0,60,10,200")


SALT = "date,conductivity (uS/cm),top-up (L),note"


@pytest.mark.parametrize(
    ("below", "strange"),
    [
        ("2027-05-10,600,,", True),
        ("2027-05-10,690,,", False),  # within the error of a meter
        ("2027-05-10,600,200,", False),
        ("2027-05-10,600,,changed a third", False),
        ("2027-07-10,600,,", False),  # too long ago
    ],
)
def test_conductivity_does_not_fall_by_itself(found: Reader, below: str, strange: bool):
    got = found(SALT, "2027-05-03,700,,", below)
    assert ("finding-conductivity-log-fell" in got) is strange


def test_what_lies_more_than_a_year_back_is_left(found: Reader):
    assert found(CARBON, "2026-01-03,24,6.0,180", "2027-05-03,24,6.8,60") == []


def test_a_garden_without_fish_is_checked_as_well(found: Reader):
    bare = replace(GARDEN, fish=())
    assert "finding-readings-log-disagree" in found(CARBON, "2027-05-03,24,6.0,180", garden=bare)


AIR = "date,water temperature (C),oxygen (mg/L)"


@pytest.mark.parametrize(
    ("row", "key"),
    [
        ("2027-05-03,20,1", "finding-oxygen-log-little"),
        ("2027-05-03,20,12", "finding-oxygen-log-much"),
        ("2027-05-03,20,7.8", ""),
        ("2027-05-03,20,>12", ""),
        ("2027-05-03,,12", ""),
    ],
)
def test_oxygen_against_what_the_water_holds(found: Reader, row: str, key: str):
    assert [one for one in found(AIR, row) if one.startswith("finding-oxygen")] == ([key] if key else [])


def test_less_air_high_up_makes_the_same_oxygen_too_much(found: Reader):
    # 11.2 mg/L at 20 C are 123 % at the sea, where water holds 9.09 mg/L; more at the garden's height.
    at_sea = replace(GARDEN, site=replace(GARDEN.site, altitude_m=0.0))
    key, row = "finding-oxygen-log-much", "2027-05-03,20,11.2"
    assert key in found(AIR, row)
    assert key not in found(AIR, row, garden=at_sea)


@pytest.mark.parametrize(
    ("row", "strange"),
    [
        ("2027-05-03,12,4", True),
        ("2027-05-03,7,4", False),  # three degrees are the most that is usual
        ("2027-05-03,<12,4", False),
        ("2027-05-03,12,>4", False),
        ("2027-05-03,4,12", False),
    ],
)
def test_alkalinity_above_hardness(found: Reader, row: str, strange: bool):
    got = found("date,alkalinity (dKH),hardness (dGH)", row)
    assert ("finding-readings-log-softer" in got) is strange


@pytest.mark.parametrize(
    ("day", "warmth", "strange"),
    [
        ("2027-05-04", 25.5, True),
        ("2027-05-04", 14.5, True),
        ("2027-05-04", 25, False),
        ("2027-05-06", 26, False),
    ],
)
def test_water_that_jumps_within_a_day(found: Reader, day: str, warmth: float, strange: bool):
    got = found("date,water temperature (C)", "2027-05-03,20", f"{day},{warmth}")
    assert ("finding-temperature-log-jump" in got) is strange
