"""The demo gardens are invented, have one limit that is near or passed, and carry the story of their log."""

import csv
from datetime import date

import pytest

from aquacalc import tables
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.sizing.balance import balance

NEAR = 0.8
"""From this share of a limit on it is near."""
GOOD = {"yard"}
BINDS = {"yard": "oxygen", "greenhouse": "nitrification", "classroom": "power_cut", "southern": "density"}


def garden(name: str) -> Garden:
    return GardenFile.open(f"demo:{name}").garden


def log(name: str) -> list[dict[str, str]]:
    with (places.demo(name) / "log.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("name", places.demos())
def test_says_that_it_is_invented_and_when_its_plan_begins(name: str):
    opened = GardenFile.open(f"demo:{name}")
    assert opened.garden.invented
    assert "invented" in opened.text.splitlines()[0]
    assert "season start" not in {one.key for one in opened.garden.assumed}


@pytest.mark.parametrize("name", places.demos())
def test_one_limit_is_near(name: str):
    found = balance(garden(name))
    assert found.binding is not None
    assert found.binding.key == BINDS[name]
    assert found.binding.share > NEAR
    assert (found.binding.share <= 1.0) == (name in GOOD)
    others = [limit for limit in found.limits if limit.must and limit.counts and limit.key != BINDS[name]]
    worst = {
        one.key: (found.demand.feed_g_day.middle / one.feed_g_day.middle)[found.demand.feed_g_day.middle > 0]
        for one in others
    }
    assert all((share <= 1.0).all() for share in worst.values())


@pytest.mark.parametrize("name", places.demos())
def test_the_log_is_well_formed_and_ends_before_the_plan_begins(name: str):
    rows = log(name)
    days = [date.fromisoformat(row["date"]) for row in rows]
    assert days == sorted(set(days))
    assert days[-1] < garden(name).season.start
    assert all(None not in row and None not in row.values() for row in rows)


@pytest.mark.parametrize("name", places.demos())
def test_readings_stand_on_the_steps_of_the_kit(name: str):
    kits = garden(name).kits
    for column in log(name)[0]:
        parameter = {"ammonia": "tan", "pH": "ph"}.get(column.split(" ")[0], column.split(" ")[0])
        steps = [kit.scale(parameter).steps for kit in kits if kit.scale(parameter).steps]
        if steps:
            read = {float(row[column]) for row in log(name) if row[column]}
            assert read <= set(steps[0]), column


def test_southern_is_starting_up_and_its_log_holds_the_first_weeks():
    southern = garden("southern")
    assert southern.start_up.state == "new"
    assert southern.site.latitude_deg < 0
    assert log("southern")[0]["date"] == str(southern.start_up.started)
    assert min(southern.site.climate.air_max_c[5:8]) < min(southern.site.climate.air_max_c[:2])


def test_the_gardens_are_as_different_as_their_descriptions():
    yard, greenhouse, classroom = garden("yard"), garden("greenhouse"), garden("classroom")
    assert yard.reader.units == "us"
    assert yard.site.altitude_m == pytest.approx(1300, abs=50)
    assert yard.top_up.disinfectant == "chloramine"
    assert {bed.kind for bed in yard.beds} == {"media"}
    assert {crop.crop for crop in yard.crops} >= {"okra", "capsicum"}
    assert len(greenhouse.tanks) == 2
    assert greenhouse.biofilter is not None
    assert {bed.kind for bed in greenhouse.beds} == {"raft", "media"}
    stop = tables.load("species").row("rainbow_trout").number("t_stress_high_c")
    assert all(batch.until is not None and batch.until.month <= 5 for batch in greenhouse.fish)
    assert max(greenhouse.site.climate.air_max_c[9:]) < stop
    assert not any(batch.eaten for batch in classroom.fish)
    assert {bed.kind for bed in classroom.beds} == {"media", "channel"}
    assert len(classroom.away) >= 4
