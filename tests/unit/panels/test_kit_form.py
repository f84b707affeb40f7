"""The form writes what a leaflet says, leaves open what it does not say, and never touches a demo garden."""

import re
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.advice.reading import given
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.pages import kit
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.size import garden_form, kit_form
from aquacalc.panels.size.kit_form import KitForm
from aquacalc.panels.water import kit_check


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
    assert 'role="alert"' in form.conflict.said.value


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


# --- what the check leaves with the kit --------------------------------------------------------------------


def checked(form: KitForm, mine: Desk, first: str, second: str) -> kit_check.KitCheck:
    card(form, "tan", "N", "0 0.3 0.6 1.2 2.5 6")
    form.save()
    made = kit_check.panel(mine)
    made.fields["parameter"].list.value = "tan"
    for name, text in {"content": "1", "first": first, "second": second}.items():
        made.fields[name].box.value = text
    return made


def test_the_found_offset_stays_with_the_kit_and_is_told(form: KitForm, mine: Desk, tmp_path: Path):
    # 1.4 is read between 1.2 and 2.5, where 1.0 cannot be.
    made = checked(form, mine, "1.4", "1.4")
    assert "Both readings stand 0.4 N too high" in plain(made.result.value)
    made.save()
    scale = GardenFile.open(tmp_path).garden.kits[0].scale("tan")
    assert (scale.offset, scale.standard, scale.checked) == (pytest.approx(0.4), 1.0, mine.file.today)
    assert "corrected by -0.4 N since the check of" in plain(made.said.value)
    assert "corrected by -0.4 N since the check of" in plain(form.known.value)
    judged = given.read(["tan=1.2"], mine.garden)
    assert judged.measures["tan"].value == pytest.approx(0.8)
    assert judged.measures["tan"].high == pytest.approx(1.85 - 0.4)
    assert judged.measures["tan"].notes[0].key == "reading-note-corrected"


def test_a_kit_far_off_is_not_to_be_used(form: KitForm, mine: Desk):
    made = checked(form, mine, "2.5", "2.5")
    assert "Do not use this kit" in plain(made.result.value)
    made.save()
    assert "do not use: out of its error" in plain(form.known.value)
    judged = given.read(["tan=0"], mine.garden)
    assert not judged.measures["tan"].told
    assert judged.measures["tan"].notes[0].key == "reading-note-kit-out"


def test_a_kit_that_fits_is_noted_as_such(form: KitForm, mine: Desk, tmp_path: Path):
    made = checked(form, mine, "1.2", "1.2")
    made.save()
    scale = GardenFile.open(tmp_path).garden.kits[0].scale("tan")
    assert (scale.offset, scale.checked) == (0.0, mine.file.today)
    assert "fits a standard" in plain(form.known.value)


@pytest.mark.parametrize(("first", "second"), [("1.4", ""), ("1.2", "6"), ("", "")])
def test_only_two_readings_that_agree_are_kept(form: KitForm, mine: Desk, first: str, second: str):
    made = checked(form, mine, first, second)
    assert made.keep.disabled
    before = mine.file.text
    made.save()
    assert mine.file.text == before


def test_another_basis_takes_the_old_check_out(form: KitForm, mine: Desk, tmp_path: Path):
    checked(form, mine, "1.4", "1.4").save()
    form.fields["basis"].list.value = "NH4"
    form.save()
    scale = GardenFile.open(tmp_path).garden.kits[0].scale("tan")
    assert (scale.basis, scale.offset, scale.standard, scale.checked) == ("NH4", 0.0, None, None)


def test_ph_is_checked_with_a_bought_buffer(form: KitForm, mine: Desk):
    card(form, "ph", "not known", "6 6.4 6.8 7.2 7.6")
    form.save()
    made = kit_check.panel(mine)
    made.fields["parameter"].list.value = "ph"
    assert made.fields["content"].widget.layout.display == "none"
    assert made.fields["water"].widget.layout.display == "none"
    for name, text in {"buffer": "7", "first": "6.8", "second": "6.8"}.items():
        made.fields[name].box.value = text
    assert "it must read pH 7" in plain(made.result.value)
    assert "right as near as it can be" in plain(made.result.value)
    made.fields["first"].box.value = made.fields["second"].box.value = "7.6"
    assert "Do not use this kit: both readings stand 0.6 too high" in plain(made.result.value)


def test_a_meter_is_checked_by_its_usual_error(form: KitForm, mine: Desk):
    made = kit_check.panel(mine)
    made.fields["parameter"].list.value = "ph"
    for name, text in {"buffer": "7", "first": "7.2", "second": "7.2"}.items():
        made.fields[name].box.value = text
    assert made.keep.disabled, "no kit in the file has it"
    form.fields["parameter"].list.value = "ph"
    form.save()
    assert not made.keep.disabled
    assert "Both readings stand 0.2 too high" in plain(made.result.value)
    made.fields["second"].box.value = "7.6"
    assert "test a third time" in plain(made.result.value)
    assert made.keep.disabled


def test_no_kit_is_not_known_everywhere(mine: Desk):
    text = plain(kit.table(mine.garden, words.Reader()))
    for name in ("ammonia (TAN)", "nitrite", "nitrate", "alkalinity (KH)"):
        assert f"no kit told {name} not known not known not known" in text
    assert re.search(r"no kit told pH one way only not known not known 0.2, as usual tests", text)
    assert given.read(["nitrite=1"], mine.garden).measures["nitrite"].told is False


def test_each_test_is_told_in_its_period(form: KitForm, mine: Desk):
    form.fields["start"].box.value = "2027-01-05"
    card(form, "nitrate", "NO3", "0 10 25 50 100")
    form.save()
    form.fields["kit"].list.value = kit_form.NEW
    form.fields["name"].box.value = "second"
    form.fields["start"].box.value = "2027-03-01"
    card(form, "nitrate", "N", "0 5 10")
    form.save()
    text = plain(form.known.value)
    assert (
        "my kit, from January 5, 2027, until February 28, 2027 nitrate NO3 0 to 100; thinned, one part in 5"
        in text
    )
    assert "second, from March 1, 2027 nitrate N 0 to 10" in text
    assert "to 500 0; 10; 25; 50; 100 half-way to the next step not checked yet" in text


def test_an_offset_without_its_standard_or_day_is_told(mine: Desk, form: KitForm):
    card(form, "tan", "N", "0 1")
    form.save()
    with pytest.raises(InputError) as caught:
        mine.file.change("kit.0.scale.0.offset", 0.2)
    assert [one.where for one in caught.value.problems] == ["kit 1 scale 1 standard", "kit 1 scale 1 checked"]
