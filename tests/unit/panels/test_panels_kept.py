"""What was typed comes back: only what a reader changed, not for long, never a value that no longer fits."""

from datetime import date
from pathlib import Path

import pytest

from aquacalc.panels.frame import kept
from aquacalc.panels.frame.desk import Desk, open_desk
from aquacalc.panels.size import size
from aquacalc.panels.water import reading


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(kept.PLACE, str(tmp_path / "fields.json"))
    return tmp_path / "fields.json"


@pytest.fixture(scope="module")
def desk() -> Desk:
    return open_desk("demo:yard")


def test_a_panel_that_is_made_again_shows_what_was_typed(place: Path, desk: Desk):
    first = size.panel(desk)
    first._repr_mimebundle_()
    first.fields["fish_count"].box.value = "17"
    first.fields["backup"].list.value = "yes"
    again = size.panel(desk)
    assert again.fields["fish_count"].value != 17.0
    again._repr_mimebundle_()
    assert again.fields["fish_count"].value == 17.0
    assert again.fields["backup"].value == "yes"
    assert again.fields["bed_m2"].value == first.fields["bed_m2"].value
    assert again.result.value == first.result.value
    assert "has come back" in again.left.children[0].value


def test_going_back_to_the_garden_forgets(place: Path, desk: Desk):
    made = size.panel(desk)
    made.fields["fish_count"].box.value = "17"
    made.back.click()
    assert kept.load(place, "size")[1] == {}


def test_texts_of_readings_come_back_and_refused_ones_do_not(place: Path, desk: Desk):
    made = reading.ReadingPanel(desk)
    made.fields["ph"].box.value = "6.4"
    again = reading.ReadingPanel(desk)
    again._repr_mimebundle_()
    assert again.fields["ph"].value == "6.4"


def test_after_some_hours_nothing_comes_back(place: Path):
    kept.keep(place, "size", {"fish_count": 17.0}, now=1e9)
    assert kept.load(place, "size", now=1e9 + 3600.0)[1] == {"fish_count": 17.0}
    assert kept.load(place, "size", now=1e9 + 3600.0 * kept.HOURS)[1] == {}


def test_days_and_months_keep_their_kind(place: Path):
    values = {"day": date(2027, 3, 1), "highs": (1.0, 2.0), "none": None}
    kept.keep(place, "sow", values)
    assert kept.load(place, "sow")[1] == values


@pytest.mark.parametrize("text", ["", "{", "[]", '{"size": 3}', '{"size": [1, {"fish_count": "x"}]}'])
def test_a_file_that_somebody_else_wrote_hurts_nobody(text: str, place: Path, desk: Desk):
    place.write_text(text, "utf-8")
    made = size.panel(desk)
    made._repr_mimebundle_()
    assert made.fields["fish_count"].value == size.panel(desk).fields["fish_count"].value


def test_a_value_that_no_longer_fits_is_left_out(place: Path, desk: Desk):
    kept.keep(place, "size", {"fish_count": -3.0, "backup": "perhaps", "gone": 1.0})
    made = size.panel(desk)
    made._repr_mimebundle_()
    assert made.fields["fish_count"].value > 0.0
    assert made.fields["backup"].value in ("yes", "no")


def test_where_no_place_is_named_or_it_takes_nothing_all_goes_on(desk: Desk, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv(kept.PLACE, raising=False)
    made = size.panel(desk)
    made.fields["fish_count"].box.value = "17"
    monkeypatch.setenv(kept.PLACE, "/nowhere/at/all/fields.json")
    made.fields["fish_count"].box.value = "18"
    assert made.fields["fish_count"].value == 18.0
