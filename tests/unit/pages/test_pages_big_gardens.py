"""A list grows with the garden: gardens of many batches print, and their pages can be read."""

from dataclasses import replace
from pathlib import Path

import big_gardens
import icalendar
import plans
import pypdfium2
import pytest

from aquacalc.agenda import beds
from aquacalc.charts import season as charts
from aquacalc.charts import season_days, season_strip, strip_rows, strip_series
from aquacalc.charts.strip_rows import Slot
from aquacalc.garden import file
from aquacalc.garden.model import Garden
from aquacalc.pages.plan import Plan
from aquacalc.report import season as report
from aquacalc.season import plan as seasons

FEW = 2


def read(folder: Path, text: str) -> Garden:
    (folder / "garden.toml").write_text(text, "utf-8")
    return file.find(str(folder)).garden


@pytest.fixture(scope="module")
def steady(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    garden = read(tmp_path_factory.mktemp("steady"), big_gardens.steady())
    run = seasons.of_garden(garden, FEW)
    return replace(plans.plan(garden), season=run)


@pytest.mark.slow
def test_a_steady_garden_prints(steady: Plan):
    assert steady.season is not None
    assert len(steady.season.batches) > 100
    folder, wall = plans.printed(steady)
    assert "batches stand in the beds" in folder
    assert wall.count('<section class="sheet') > 20


def test_thin_batches_of_a_plan_are_one_outline_and_others_stay_alone(steady: Plan):
    run = steady.season
    assert run is not None
    (bed,) = steady.garden.beds
    grown = beds.beds(run, steady.garden)
    _, slots = strip_rows.bed_slots(run, bed, grown)
    found = strip_series.thin(grown, slots)
    low = {run.batches[place].plan for place in slots if slots[place].height < strip_series.THINNEST_PX}
    assert {run.batches[places[0]].plan for places in found} == low != set()
    for places, slot in found.items():
        assert {run.batches[place].plan for place in places} == {run.batches[places[0]].plan}
        assert all(slot.top <= slots[place].top for place in places)
        assert all(
            slots[place].top + slots[place].height <= slot.top + slot.height + 1e-9 for place in places
        )


def test_a_series_is_drawn_once_for_each_time_that_it_is_there(steady: Plan):
    run = steady.season
    assert run is not None
    days = season_days.Days.of(run, 0.0, 100.0)
    own = [one for one in beds.beds(run, steady.garden) if one.batch.plan == 0]
    early = [one for one in own if run.day(one.ends) < 90]
    late = [one for one in own if run.day(one.batch.plant) > 200]
    series = strip_series.SeriesOutline(run, [*late, *early], Slot(0.0, 8.0), days, steady.reader)
    (begin, end, first), (begin_again, end_again, second) = series.times()
    assert 0 <= begin < end <= 90 < 200 < begin_again < end_again <= run.days
    assert (first, second) == (early, late)
    assert series.name(len(early)).endswith(f", {len(early)} batches")
    assert "batches" not in series.name(1)


@pytest.mark.slow
def test_a_garden_of_forty_crops_and_four_hundred_sowings_prints(tmp_path: Path):
    garden = read(tmp_path, big_gardens.big())
    assert len(garden.crops) == 40
    run = seasons.of_garden(garden, 1)
    assert sum(one.sow is not None for one in run.batches) > 400
    parts = charts.strips(run, garden, garden.reader)
    assert len(parts) > 1
    rows = season_strip.strip_canvas(run, garden, garden.reader).height
    assert rows > season_strip.PAGE_PX
    for part in parts:
        assert part.to_dict()["height"] <= season_strip.PAGE_PX + 1.0
    out = tmp_path / "plan"
    report.season(str(tmp_path), out, FEW, made="2027-02-20")
    document = pypdfium2.PdfDocument(out / "season-plan.pdf")
    assert len(document) > 40
    document.close()


@pytest.mark.slow
def test_the_command_lets_the_next_plan_follow_the_last(tmp_path: Path):
    out = tmp_path / "plan"
    read(tmp_path, big_gardens.steady())
    report.season(str(tmp_path), out, FEW, made="2027-02-20")
    less = big_gardens.steady().rpartition("[[crop]]")[0]
    read(tmp_path, less)
    report.season(str(tmp_path), out, FEW, made="2027-02-21")
    found = icalendar.Calendar.from_ical((out / "season-tasks.ics").read_bytes()).events
    gone = [event for event in found if event.status == "CANCELLED"]
    assert len(gone) > 100
    assert all("Pak choi" in str(event["summary"]) for event in gone)
    assert any("Lettuce" in str(event["summary"]) for event in found if event.status != "CANCELLED")
