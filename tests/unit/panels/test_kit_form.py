"""The form writes what a leaflet says, leaves open what it does not say, and never touches a demo garden."""

import re
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.garden.file import GardenFile
from aquacalc.panels import desk, garden_form, kit_check, kit_form
from aquacalc.panels.desk import Desk
from aquacalc.panels.kit_form import KitForm


@pytest.fixture
def mine(tmp_path: Path) -> Desk:
    garden_form.panel(desk.open_desk("demo:yard"), str(tmp_path)).save()
    return desk.open_desk(str(tmp_path))


@pytest.fixture
def form(mine: Desk) -> KitForm:
    return kit_form.panel(mine)


def card(form: KitForm, parameter: str, basis: str, steps: str) -> None:
    form.fields["parameter"].list.value = parameter
    form.fields["by"].list.value = "steps"
    form.fields["basis"].list.value = basis
    form.fields["steps"].box.value = steps


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)).replace(words.NO_BREAK_SPACE, " ")


def test_a_card_is_written_as_the_leaflet_has_it(form: KitForm, tmp_path: Path):
    form.fields["name"].box.value = "blue box"
    form.fields["expires"].box.value = "2028-01-05"
    card(form, "nitrite", "NO2", "0; 0,15; 0.4; 1; 3")
    form.save()
    (kit,) = GardenFile.open(tmp_path).garden.kits
    assert (kit.name, str(kit.expires), kit.start) == ("blue box", "2028-01-05", None)
    assert kit.scale("nitrite").steps == (0.0, 0.15, 0.4, 1.0, 3.0)
    assert kit.scale("nitrite").basis == "NO2"


def test_a_second_test_joins_the_same_kit_and_the_first_stays(form: KitForm, tmp_path: Path):
    card(form, "tan", "NH4", "0 0.3 0.6")
    form.save()
    form.fields["parameter"].list.value = "alkalinity"
    form.fields["by"].list.value = "drop"
    form.fields["basis"].list.value = "dkh"
    form.save()
    (kit,) = GardenFile.open(tmp_path).garden.kits
    assert kit.scale("tan").steps == (0.0, 0.3, 0.6)
    assert (kit.scale("alkalinity").basis, kit.scale("alkalinity").drop) == ("dkh", 1.0)


def test_a_test_that_is_told_again_takes_the_place_of_the_old_one(form: KitForm, tmp_path: Path):
    card(form, "tan", "NH4", "0 0.3 0.6")
    form.save()
    form.fields["by"].list.value = "drop"
    form.save()
    (kit,) = GardenFile.open(tmp_path).garden.kits
    assert (kit.scale("tan").steps, kit.scale("tan").drop, len(kit.scales)) == ((), 1.0, 1)


def test_another_kit_stands_beside_the_first(form: KitForm, tmp_path: Path):
    card(form, "tan", "N", "0 1")
    form.save()
    form.fields["kit"].list.value = kit_form.NEW
    form.fields["name"].box.value = "second"
    card(form, "ph", "not known", "6 7 8")
    form.save()
    assert [kit.name for kit in GardenFile.open(tmp_path).garden.kits] == ["my kit", "second"]


def test_what_is_left_open_stays_not_known(form: KitForm, tmp_path: Path):
    assert "stays not known" in plain(form.preview.value)
    form.save()
    scale = GardenFile.open(tmp_path).garden.kits[0].scale("tan")
    assert (scale.basis, scale.steps, scale.drop) == ("not known", (), None)


def test_nothing_is_offered_beforehand(form: KitForm):
    for parameter in ("ph", "tan", "nitrite", "alkalinity"):
        form.fields["parameter"].list.value = parameter
        assert form.fields["basis"].value == "not known"
        assert form.fields["by"].value == "open"
        assert form.fields["steps"].value == ()


@pytest.mark.parametrize("steps", ["5", "1 1", "3 2 1", "a b", "0 1e9", "-1 2"])
def test_steps_that_are_no_scale_are_refused_and_nothing_is_written(
    form: KitForm, tmp_path: Path, steps: str
):
    before = (tmp_path / "garden.toml").read_text("utf-8")
    card(form, "tan", "N", steps)
    form.save()
    assert 'role="alert"' in form.preview.value
    assert (tmp_path / "garden.toml").read_text("utf-8") == before


def test_steps_have_to_be_told_where_a_card_is_read(form: KitForm):
    form.fields["by"].list.value = "steps"
    assert "nothing is written here" in form.preview.value


def test_a_refused_box_that_is_hidden_does_not_block(form: KitForm, tmp_path: Path):
    card(form, "tan", "N", "a b")
    form.fields["by"].list.value = "drop"
    form.save()
    assert GardenFile.open(tmp_path).garden.kits[0].scale("tan").drop == 1.0


def test_ph_asks_for_no_basis(form: KitForm):
    form.fields["parameter"].list.value = "ph"
    assert form.fields["basis"].widget.layout.display == "none"
    form.fields["parameter"].list.value = "nitrate"
    assert form.fields["basis"].widget.layout.display is None


def test_a_demo_garden_is_not_written():
    form = kit_form.panel(desk.open_desk("demo:yard"))
    assert form.write.disabled
    assert "stays as it is" in form.said.value
    form.save()
    assert 'role="alert"' in form.preview.value


# --- the check of a kit ------------------------------------------------------------------------------------


def test_a_standard_is_weighed_and_every_basis_is_shown():
    text = plain(kit_check.panel().result.value)
    assert "7.218 g of potassium nitrate (KNO3)" in text
    assert "10 mL of the stock" in text
    assert "mg/L NO3 44.3" in text
    assert "cannot be told" in text


def test_the_poison_is_told():
    made = kit_check.panel()
    made.fields["parameter"].list.value = "nitrite"
    assert "is a poison" in plain(made.result.value)


def test_readings_are_judged_on_the_own_scale(form: KitForm, mine: Desk):
    card(form, "nitrate", "NO3", "0 10 25 50 100")
    form.fields["expires"].box.value = "2020-01-01"
    form.save()
    made = kit_check.panel(mine)
    made.fields["first"].box.value = "50"
    made.fields["second"].box.value = "100"
    text = plain(made.result.value)
    assert "fits the standard" in text
    assert "Both readings can be of one water" in text
    assert "past the day on its bottles" in text
    made.fields["first"].box.value = "10"
    text = plain(made.result.value)
    assert "does not fit the standard" in text
    assert "test a third time" in text


def test_a_diluted_standard_counts_by_its_factor(form: KitForm, mine: Desk):
    card(form, "nitrate", "NO3", "0 10 25 50 100")
    form.save()
    made = kit_check.panel(mine)
    made.fields["first"].box.value = "10"
    made.fields["water"].box.value = "20"
    text = plain(made.result.value)
    assert "count 5 times" in text
    assert "The reading fits the standard" in text


def test_the_check_follows_what_the_form_writes(form: KitForm, mine: Desk):
    made = kit_check.panel(mine)
    made.fields["first"].box.value = "50"
    assert "cannot be told" in plain(made.result.value)
    card(form, "nitrate", "NO3", "0 10 25 50 100")
    form.save()
    assert "The reading fits the standard" in plain(made.result.value)
