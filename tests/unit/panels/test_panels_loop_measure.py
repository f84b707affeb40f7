"""What was measured goes into the garden file, from the notebook that builds the loop."""

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.garden import places
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.loop import measure


@pytest.fixture
def mine(tmp_path: Path) -> Desk:
    """A garden that may be written: the class-room without its log."""
    shutil.copy(places.demo("classroom") / "garden.toml", tmp_path / "garden.toml")
    return desk.open_desk(str(tmp_path))


def plain(panel: Panel) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", panel.result.value)).replace(words.NO_BREAK_SPACE, " ")


def test_without_numbers_it_is_a_sheet_with_blanks():
    made = measure.panel()
    assert "Take this sheet along" in plain(made)
    assert made.result.value.count("<td></td>") == 2 * len(measure.TESTS)


def test_a_bucket_is_a_flow_that_counts_and_can_be_taken_back(mine: Desk):
    made = measure.panel(mine)
    before = float(mine.balance.flow_l_h.middle)
    made.fields["bucket"].box.value = "10 L"
    made.fields["seconds"].box.value = "40"
    assert "The pump brings 900 L/h" in plain(made)
    made.save()
    assert float(mine.balance.flow_l_h.middle) == pytest.approx(900.0, rel=0.01)
    assert "Flow round the loop: 900 L/h" in plain(made)
    made.take_back()
    assert float(mine.balance.flow_l_h.middle) == before


def test_what_sank_in_a_day_is_water_use(mine: Desk):
    made = measure.panel(mine)
    made.fields["drop"].box.value = "8 mm"
    made.fields["surface"].box.value = "0.5 m2"
    assert "The loop loses 4 L a day" in plain(made)
    made.save()
    newest = mine.garden.last_measured("water_use")
    assert newest is not None
    assert newest.value * 24 == pytest.approx(4.0)


def test_ten_days_of_the_thermometer_are_ten_rows(mine: Desk):
    made = measure.panel(mine)
    made.fields["days"].box.value = "\n".join(
        f"2027-03-{day:02d}; {18 + day / 10:.1f}" for day in range(1, 11)
    )
    kept = len(mine.garden.measured)
    made.save()
    rows = [one for one in mine.garden.measured if one.what == "water_temperature"]
    assert len(mine.garden.measured) >= kept + 9
    assert {date(2027, 3, day) for day in range(1, 11)} <= {one.day for one in rows}


def test_a_day_that_is_none_is_one_sentence():
    made = measure.panel()
    made.fields["days"].box.value = "yesterday; 20"
    assert "is not a date" in made.problems.value


def test_two_that_contradict_each_other_stand_together_and_the_newer_counts(mine: Desk):
    at = f"measured.{len(mine.garden.measured)}"
    old = date(2020, 1, 1)
    mine.write({f"{at}.what": "flow", f"{at}.value": "400 L/h", f"{at}.day": old})
    made = measure.panel(mine)
    made.fields["bucket"].box.value = "10 L"
    made.fields["seconds"].box.value = "40"
    made.save()
    assert float(mine.balance.flow_l_h.middle) == pytest.approx(900.0, rel=0.01)
    assert "so this no longer counts: Flow round the loop: 400 L/h" in plain(made)


def test_watts_at_the_plug_are_those_of_the_pump(mine: Desk):
    made = measure.panel(mine)
    made.fields["plug"].box.value = "17 W"
    made.save()
    assert [pump.power_w for pump in mine.garden.pumps] == [17.0]
