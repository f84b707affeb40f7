"""Crops to beds and weeks in the notebook: one bed without a garden, all beds of one, written when asked."""

import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.harvest import bed_weeks
from aquacalc.planner import kept


@pytest.fixture
def own(tmp_path):
    text = GardenFile.open("demo:yard").text.replace("end = 2028-02-28", "end = 2027-08-01")
    (tmp_path / "garden.toml").write_text(text)
    return tmp_path


def test_one_bed_is_planned_without_a_garden():
    panel = bed_weeks.panel()
    assert "plantings" in panel.result.value
    assert "Lettuce, loose-leaf" in panel.result.value
    assert [value for _, value in panel.fields["which"].list.options] == ["one"]


def test_a_larger_bed_gives_more_heads():
    panel = bed_weeks.panel()
    before = panel.shown.plan.steady["lettuce_leaf"]
    panel.fill({"area": 4.0})
    assert panel.shown.plan.steady["lettuce_leaf"] == pytest.approx(2.0 * before, rel=1e-6)


def test_a_crop_that_does_not_suit_the_bed_is_told():
    panel = bed_weeks.panel()
    panel.fill({"kind": "raft", "crop": "beetroot"})
    assert "none of the crops" in " ".join(panel.refused)


def test_nothing_is_written_before_it_is_asked(own):
    text = (own / "garden.toml").read_text()
    panel = bed_weeks.panel(Desk(GardenFile.open(own)))
    assert panel.write.disabled
    panel.fill({"which": "garden"})
    assert not panel.write.disabled
    assert (own / "garden.toml").read_text() == text
    panel.save()
    written = GardenFile.open(own)
    assert len(written.garden.crops) > 5
    assert kept.undo(written).text == text


def test_a_demo_is_never_written():
    panel = bed_weeks.panel(Desk(GardenFile.open("demo:yard")))
    panel.shown = bed_weeks.Shown(panel.shown.plan, ({"crop": "okra", "bed": "north bed"},))
    panel.save()
    assert "demo" in panel.problems.value
