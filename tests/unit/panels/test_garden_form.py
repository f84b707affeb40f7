"""The form writes a garden file from a walk with a tape, says what does not fit, and takes a change back."""

import re
from pathlib import Path

import pytest

from aquacalc.garden.file import GardenFile
from aquacalc.panels.frame import desk, kept
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.size import garden_form
from aquacalc.panels.size.garden_form import GardenForm


@pytest.fixture
def new(tmp_path: Path) -> GardenForm:
    return garden_form.panel(desk.open_desk("demo:yard"), str(tmp_path))


@pytest.fixture
def own(new: GardenForm, tmp_path: Path) -> GardenForm:
    new.save()
    return garden_form.panel(desk.open_desk(str(tmp_path)), str(tmp_path))


def field(form: GardenForm, key: str) -> Field:
    return next(one.field for one in form.asked if one.key == key)


def written(folder: Path) -> str:
    return (folder / "garden.toml").read_text("utf-8")


def test_nothing_is_written_before_the_button(new: GardenForm, tmp_path: Path):
    field(new, "fish.0.count").box.value = "30"
    assert list(tmp_path.iterdir()) == []
    assert "Nothing is written yet" in new.preview.value


def test_a_new_garden_holds_what_was_typed_and_nothing_of_the_demo(new: GardenForm, tmp_path: Path):
    field(new, "name").box.value = "Tom's <b> & 🐟"
    field(new, "tank.0.volume").box.value = "250 imp gal"
    field(new, "tank.0.volume").unit.value = "imp_gal"
    field(new, "site.latitude").box.value = "34 S"
    field(new, "fish.0.species").list.value = "common_carp"
    new.save()
    made = GardenFile.open(tmp_path)
    assert made.garden.name == "Tom's <b> & 🐟"
    assert made.garden.tanks[0].volume_l == pytest.approx(1136.52, abs=0.01)
    assert made.garden.site.latitude_deg == -34.0
    assert made.garden.fish[0].species == "common_carp"
    assert not made.garden.invented
    assert made.garden.kits == ()
    highs = made.garden.site.climate.air_max_c
    assert highs.index(max(highs)) == 0, "south of the equator January is warm"


def test_the_notebook_goes_on_with_the_new_garden(new: GardenForm, tmp_path: Path):
    seen: list[str] = []
    new.desk.follow(lambda: seen.append(new.desk.garden.name))
    field(new, "name").box.value = "Ours"
    new.save()
    assert seen == ["Ours"]
    assert not new.desk.file.read_only
    assert "Written into garden.toml" in new.preview.value


def test_a_garden_file_that_is_there_is_not_written_over(new: GardenForm, tmp_path: Path):
    (tmp_path / "garden.toml").write_text("# mine\n")
    new.save()
    assert written(tmp_path) == "# mine\n"
    assert "exists already" in new.conflict.said.value


def test_a_refused_entry_stops_the_writing(new: GardenForm, tmp_path: Path):
    field(new, "bed.0.area").box.value = "big"
    new.save()
    assert list(tmp_path.iterdir()) == []
    assert "Nothing is written" in new.preview.value


def test_what_does_not_fit_together_is_said_beside_its_field(own: GardenForm, tmp_path: Path):
    before = written(tmp_path)
    lows = field(own, "site.climate.air_min")
    lows.boxes[0].value = "60 60 60 60 60 60 60 60 60 60 60 60"
    own.save()
    assert written(tmp_path) == before
    assert "air_min" in lows.sentence.value + own.conflict.said.value


def test_only_what_was_changed_is_written_and_remarks_stay(own: GardenForm, tmp_path: Path):
    before = written(tmp_path)
    field(own, "fish.0.count").box.value = "33"
    own.save()
    changed = [
        (old, new)
        for old, new in zip(before.splitlines(), written(tmp_path).splitlines(), strict=True)
        if old != new
    ]
    assert [re.sub(r"\s*#.*", "", new) for _, new in changed] == ["count = 33"]


def test_the_last_change_is_taken_back_step_by_step(own: GardenForm, tmp_path: Path):
    first = written(tmp_path)
    field(own, "fish.0.count").box.value = "33"
    own.save()
    field(own, "tank.0.volume").box.value = "999"
    own.save()
    own.take_back()
    assert own.desk.garden.fish[0].count == 33
    own.take_back()
    assert written(tmp_path) == first
    assert field(own, "fish.0.count").value == 12.0
    assert own.undo.disabled
    own.take_back()
    assert written(tmp_path) == first


def test_a_file_that_someone_else_changed_is_left_alone(own: GardenForm, tmp_path: Path):
    (tmp_path / "garden.toml").write_text(written(tmp_path) + "\n# note\n")
    field(own, "fish.0.count").box.value = "33"
    own.save()
    assert "count = 12" in written(tmp_path)
    assert "changed by something else" in own.conflict.said.value
    assert own.conflict.button.description in own.conflict.said.value


def test_a_conflict_is_resolved_by_its_button_and_nothing_of_either_side_is_lost(
    own: GardenForm, tmp_path: Path
):
    assert own.conflict.button.layout.display == "none"
    field(own, "fish.0.count").box.value = "33"
    theirs = written(tmp_path).replace("My garden", "Their name") + "\n# note\n"
    (tmp_path / "garden.toml").write_text(theirs)
    own.save()
    assert own.conflict.button.layout.display is None
    own.conflict.button.click()
    assert field(own, "name").value == "Their name"
    assert field(own, "fish.0.count").value == 33.0
    assert written(tmp_path) == theirs
    assert own.undo.disabled
    own.save()
    assert "count = 33" in written(tmp_path)
    assert "Their name" in written(tmp_path)
    assert "# note" in written(tmp_path)
    assert own.conflict.said.value == ""


def test_a_file_that_was_broken_meanwhile_keeps_what_was_typed(own: GardenForm, tmp_path: Path):
    field(own, "fish.0.count").box.value = "33"
    (tmp_path / "garden.toml").write_text("nonsense")
    own.save()
    own.conflict.button.click()
    assert "nonsense" in own.conflict.said.value
    assert own.conflict.button.layout.display is None
    assert field(own, "fish.0.count").value == 33.0
    assert written(tmp_path) == "nonsense"


def test_what_was_typed_into_the_form_comes_back_until_it_is_written(
    own: GardenForm, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv(kept.PLACE, str(tmp_path / "fields.json"))
    field(own, "fish.0.count").box.value = "33"

    def again() -> GardenForm:
        made = garden_form.panel(desk.open_desk(str(tmp_path)), str(tmp_path))
        made._repr_mimebundle_()
        return made

    back = again()
    assert field(back, "fish.0.count").value == 33.0
    assert "has come back" in back.said.value
    assert back.values() == {"fish.0.count": 33}
    back.save()
    assert "has come back" not in again().said.value


def test_before_and_after_stand_under_the_form(own: GardenForm):
    field(own, "tank.0.volume").box.value = "99"
    assert "Before:" in own.preview.value


def test_every_part_of_a_larger_garden_has_its_fields(tmp_path: Path):
    (tmp_path / "garden.toml").write_bytes(GardenFile.open("demo:yard").path.read_bytes())
    form = garden_form.panel(desk.open_desk(str(tmp_path)), str(tmp_path))
    keys = [one.key for one in form.asked]
    assert {"tank.0.volume", "bed.0.area", "bed.1.area", "pump.0.flow", "fish.0.final_weight"} <= set(keys)
    assert len(keys) == len(set(keys))


def test_a_garden_without_sump_and_air_is_not_asked_for_them(own: GardenForm, tmp_path: Path):
    made = own.desk.file.changed({"sump": None, "air": None})
    own.desk.put(made)
    assert not {"sump.volume", "air.flow"} & {one.key for one in own.asked}


def test_problems_of_the_readers_own_file_stand_on_the_form(tmp_path: Path):
    (tmp_path / "garden.toml").write_text("format = 1\n[site]\nlatitude = 'north'\n")
    form = garden_form.panel(desk.open_desk(str(tmp_path)), str(tmp_path))
    assert "latitude" in form.said.value
