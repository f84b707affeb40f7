"""One thing is asked through every door: command, panels, cards, sheets, calendar, tables."""

from pathlib import Path

import doors
import pytest
import seasons

from aquacalc.panels.trouble import away
from aquacalc.sizing import absence


def apart(house: doors.House, waters: int | None = None) -> dict[str, dict[str, str]]:
    found = doors.answers(house, doors.WATERS[:waters])
    assert sum(len(told) > 1 for told in found.values()) > 50
    return doors.differing(found)


def test_a_small_garden_gives_one_answer_at_every_door(tmp_path: Path):
    assert apart(doors.of_demo("classroom", tmp_path), 2) == {}


def test_a_door_that_answers_otherwise_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    house = doors.of_demo("classroom", tmp_path)
    monkeypatch.setattr(away, "_loss_l_day", lambda *_: absence.usual_loss_l_day(500.0))
    told = {door: said for key, door, said in doors._litres(house) if key == "litres of a day away"}
    assert told["panel of 07"] != told["finding"]


@pytest.mark.slow
@pytest.mark.parametrize("name", seasons.DEMOS)
def test_a_demo_garden_gives_one_answer_at_every_door(name: str, tmp_path: Path):
    assert apart(doors.of_demo(name, tmp_path)) == {}


@pytest.mark.slow
def test_a_new_garden_gives_one_answer_at_every_door(tmp_path: Path):
    assert apart(doors.new(tmp_path)) == {}
