"""Opening, changing, saving: comments stay, old files stay, nothing is half written."""

import os
import stat
import tomllib
from datetime import date
from pathlib import Path

import pytest
from small_garden import TEXT

from aquacalc.errors import InputError
from aquacalc.garden import file, places, weather
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Season

TODAY = date(2027, 3, 5)


@pytest.fixture
def opened(tmp_path: Path) -> GardenFile:
    (tmp_path / "garden.toml").write_text(TEXT, "utf-8")
    return GardenFile.open(tmp_path, TODAY)


def key_of(caught: pytest.ExceptionInfo[InputError]) -> str:
    (only,) = caught.value.problems
    return only.key


def changed_lines(before: str, after: str) -> list[str]:
    old = before.splitlines()
    return [line for line in after.splitlines() if line not in old]


# --- opening -----------------------------------------------------------------------------------------------


def test_a_folder_a_file_and_a_demo_are_named_the_same_way(opened: GardenFile, tmp_path: Path):
    assert GardenFile.open(tmp_path / "garden.toml", TODAY).garden == opened.garden
    assert GardenFile.open(str(tmp_path), TODAY).garden == opened.garden
    assert {GardenFile.open(f"demo:{name}").garden.invented for name in places.demos()} == {True}
    assert places.demos() == ("classroom", "greenhouse", "southern", "yard")


@pytest.mark.parametrize("raw", [b"\xef\xbb\xbf" + TEXT.encode(), TEXT.replace("\n", "\r\n").encode()])
def test_marks_and_line_ends_of_windows_editors_are_taken(raw: bytes, tmp_path: Path, opened: GardenFile):
    (tmp_path / "garden.toml").write_bytes(raw)
    again = GardenFile.open(tmp_path, TODAY)
    assert (again.text, again.garden) == (TEXT, opened.garden)
    assert again.change("name", "Other").save().digest == file._digest(
        (tmp_path / "garden.toml").read_bytes()
    )
    assert b"\r" not in (tmp_path / "garden.toml").read_bytes()


def test_a_missing_season_begins_with_the_first_of_the_month(opened: GardenFile):
    assert opened.garden.season == Season(date(2027, 3, 1), date(2028, 2, 28))
    assert {one.key for one in opened.garden.assumed} >= {"season start", "season end"}


def test_a_garden_without_a_name_is_called_as_its_folder(tmp_path: Path):
    folder = tmp_path / "Back yard"
    folder.mkdir()
    (folder / "garden.toml").write_text(TEXT.replace('name = "Small garden"\n', ""), "utf-8")
    assert GardenFile.open(folder).garden.name == "Back yard"


def test_the_document_keeps_comments_and_cannot_change_the_file(opened: GardenFile):
    opened.document["name"] = "Other"
    assert opened.document["name"] == "Small garden"
    assert opened.document.as_string() == TEXT


# --- changing ----------------------------------------------------------------------------------------------


def test_a_change_keeps_comments_order_and_the_old_file(opened: GardenFile):
    changed = opened.change("tank.0.volume", "300 US gal")
    assert changed_lines(opened.text, changed.text) == ['volume = "300 US gal"     # to the overflow']
    assert changed.garden.tanks[0].volume_l == pytest.approx(1135.6235352)
    assert opened.garden.tanks[0].volume_l == 1000.0
    assert opened.text == TEXT


@pytest.mark.parametrize(
    ("dotted", "value", "line"),
    [
        ("site.altitude", "300 ft", 'altitude = "300 ft"      # above the sea'),
        ("site.altitude_ft", 300, "altitude_ft = 300      # above the sea"),
        ("site.altitude_m", 250, "altitude_m = 250      # above the sea"),
        ("fish.0.count", 30, "count = 30"),
        ("fish.0.stocked", date(2027, 4, 1), "stocked = 2027-04-01"),
        ("site.children", False, "children = false"),
        ("crop.0.months", [4, 5], "months = [4, 5]"),
        ("name", 'A "new" <name> 🐟', 'name = "A \\"new\\" <name> 🐟"'),
    ],
)
def test_a_change_touches_one_line(dotted: str, value: object, line: str, opened: GardenFile):
    changed = opened.change(dotted, value)
    assert changed_lines(opened.text, changed.text) == [line]
    assert len(changed.text.splitlines()) - len(opened.text.splitlines()) in (0, 1)


def test_sections_and_entries_are_added_and_taken_out(opened: GardenFile):
    with_air = opened.change("air.flow", "40 L/min")
    assert with_air.garden.air is not None
    assert with_air.garden.air.flow_l_min == 40.0
    assert with_air.change("air", None).garden == opened.garden
    two = opened.changed({"tank.1": {"name": "second", "volume_l": 500}, "fish.0.tank": "second"})
    assert [one.name for one in two.garden.tanks] == ["tank", "second"]
    assert two.change("tank.0", None).garden.tanks[0].name == "second"
    assert opened.change("pump.0.flow", "3000 L/h").garden.pumps[0].box_flow_l_h == 3000.0
    assert opened.change("crop", [{"crop": "kale"}, {"crop": "okra"}]).garden.crops[1].crop == "okra"
    assert opened.change("heat.insulation_mm", 30).garden.heat.insulation_mm == pytest.approx(30.0)
    assert opened.change("crop.0.yield_kg_m2", 3).garden.crops[0].yield_kg_m2 == 3.0
    twice = opened.change("crop.0.yield_kg_m2", 3).change("crop.0.yield", "1 lb/sq ft")
    assert twice.garden.crops[0].yield_kg_m2 == pytest.approx(4.882, rel=1e-3)


def test_a_value_taken_out_is_assumed_again(opened: GardenFile):
    changed = opened.change("bed.0.depth", None).change("bed.0.flood", None)
    assert "depth_m = 0.3" not in changed.text
    assert "bed 1 depth" in {one.key for one in changed.garden.assumed}


def test_several_changes_are_checked_together(opened: GardenFile):
    renamed = opened.changed({"tank.0.name": "pond", "fish.0.tank": "pond"})
    assert renamed.garden.fish[0].tank == "pond"
    with pytest.raises(InputError):
        opened.changed({"fish.0.tank": "pond"})


@pytest.mark.parametrize(
    ("dotted", "value", "key"),
    [
        ("tank.0.volume", "300 gal", "problem-ambiguous-unit"),
        ("tank.0.volume", -5, "problem-unit-missing"),
        ("tank.0.lenght", "5 m", "problem-unknown-key"),
        ("tank.5.volume", "5 m3", "problem-no-such-place"),
        ("tank.5", None, "problem-no-such-place"),
        ("pond.0.volume", "5 m3", "problem-no-such-place"),
        ("name.first", "x", "problem-no-such-place"),
        ("tank", None, "problem-no-tank"),
    ],
)
def test_a_change_that_makes_no_garden_is_refused(dotted: str, value: object, key: str, opened: GardenFile):
    with pytest.raises(InputError) as caught:
        opened.change(dotted, value)
    assert key_of(caught) == key


def test_sections_that_stand_apart_can_be_changed(tmp_path: Path):
    climate = TEXT[TEXT.index("[site.climate]") : TEXT.index("[[tank]]")]
    (tmp_path / "garden.toml").write_text(TEXT.replace(climate, "") + "\n" + climate, "utf-8")
    opened = GardenFile.open(tmp_path, TODAY)
    changed = opened.change("site.altitude", "900 ft").change("site.climate.wind_m_s", [2] * 12)
    assert changed.garden.site.altitude_m == pytest.approx(274.32)
    assert changed.garden.site.climate.wind_m_s == (2.0,) * 12
    assert "altitude_m" not in changed.text


# --- saving ------------------------------------------------------------------------------------------------


def test_save_writes_the_text_and_keeps_the_mode(opened: GardenFile):
    os.chmod(opened.path, 0o640)
    saved = opened.change("fish.0.count", 30).save()
    assert opened.path.read_text("utf-8") == saved.text
    assert stat.S_IMODE(opened.path.stat().st_mode) == 0o640
    assert [path.name for path in opened.path.parent.iterdir()] == ["garden.toml"]
    assert saved.change("fish.0.count", 31).save().garden.fish[0].count == 31


def test_save_refuses_a_file_that_changed_meanwhile(opened: GardenFile):
    opened.path.write_text(TEXT + "# by someone else\n", "utf-8")
    with pytest.raises(InputError) as caught:
        opened.change("fish.0.count", 30).save()
    assert key_of(caught) == "problem-file-changed"
    assert opened.path.read_text("utf-8").endswith("# by someone else\n")


def test_save_refuses_a_file_that_is_gone(opened: GardenFile):
    opened.path.unlink()
    with pytest.raises(InputError) as caught:
        opened.save()
    assert key_of(caught) == "problem-file-changed"
    assert not opened.path.exists()


def test_demo_gardens_are_never_written():
    opened = GardenFile.open("demo:yard")
    before = opened.path.read_bytes()
    assert opened.read_only
    with pytest.raises(InputError) as caught:
        opened.change("fish.0.count", 3).save()
    assert key_of(caught) == "problem-demo-read-only"
    assert opened.path.read_bytes() == before
    assert GardenFile.open(opened.path).read_only


@pytest.mark.parametrize("step", ["fsync", "replace", "fdopen"])
def test_a_save_that_fails_leaves_the_old_file_and_no_other(
    step: str, opened: GardenFile, monkeypatch: pytest.MonkeyPatch
):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    changed = opened.change("fish.0.count", 30)
    monkeypatch.setattr(os, step, full)
    with pytest.raises(InputError) as caught:
        changed.save()
    monkeypatch.undo()
    assert key_of(caught) == "problem-disk-full"
    assert opened.path.read_text("utf-8") == TEXT
    assert [path.name for path in opened.path.parent.iterdir()] == ["garden.toml"]


def test_a_text_that_is_no_toml_never_reaches_the_disk(opened: GardenFile):
    with pytest.raises(tomllib.TOMLDecodeError):
        file._write(opened.path, "name = ")
    assert opened.path.read_text("utf-8") == TEXT


def test_what_a_killed_save_left_behind_goes_with_the_next_one(opened: GardenFile):
    left, at_work = (opened.path.with_name(f".garden.toml.{name}.tmp") for name in ("left", "at_work"))
    for path in (left, at_work):
        path.write_text("half", "utf-8")
    os.utime(left, (0, 0))
    opened.change("fish.0.count", 30).save()
    assert (left.exists(), at_work.exists()) == (False, True)


def test_a_link_stays_a_link(opened: GardenFile, tmp_path: Path):
    link = tmp_path / "linked.toml"
    link.symlink_to(opened.path)
    GardenFile.open(link, TODAY).change("fish.0.count", 30).save()
    assert link.is_symlink()
    assert "count = 30" in opened.path.read_text("utf-8")


# --- a new garden ------------------------------------------------------------------------------------------

FIELDS: dict[str, object] = {
    "name": "My first",
    "site.latitude": "33,9 S",
    "site.climate.air_max_c": list(weather.from_extremes(28, 16, 16, 7, southern=True)[0]),
    "site.climate.air_min_c": list(weather.from_extremes(28, 16, 16, 7, southern=True)[1]),
    "tank.0.volume": "300 US gal",
    "bed.0.kind": "raft",
    "bed.0.area": "16 sq ft",
    "fish.0.species": "common_carp",
    "fish.0.count": "12",
    "crop.0.crop": "basil",
}


def test_a_new_garden_holds_what_was_given_with_comments_and_nothing_else(tmp_path: Path):
    made = GardenFile.write_new(tmp_path / "new" / "garden", FIELDS, TODAY)
    assert made.path.read_text("utf-8") == made.text
    assert GardenFile.open(made.path, TODAY).garden == made.garden
    assert not made.garden.invented
    assert "# water in it at its running level" in made.text
    starter = tomllib.loads(places.starter().read_text("utf-8"))
    assert starter["top_up"]["alkalinity"] not in made.text
    assert made.garden.top_up.alkalinity_mg_l is None
    assert set(tomllib.loads(made.text)) == {"format", "name", "site", "tank", "bed", "fish", "crop"}


def test_a_new_garden_writes_over_nothing(tmp_path: Path, opened: GardenFile):
    with pytest.raises(InputError) as caught:
        GardenFile.write_new(tmp_path, FIELDS)
    assert key_of(caught) == "problem-file-exists"
    assert opened.path.read_text("utf-8") == TEXT


def test_a_new_garden_with_problems_is_not_written(tmp_path: Path):
    wrong = {**FIELDS, "tank.0.volume": "300 gal", "fish.0.count": "-2"}
    with pytest.raises(InputError) as caught:
        GardenFile.write_new(tmp_path / "new", wrong)
    assert {one.where for one in caught.value.problems} == {"tank 1 volume", "fish 1 count"}
    assert not (tmp_path / "new").exists()


def test_the_starter_is_a_garden(tmp_path: Path):
    (tmp_path / "garden.toml").write_bytes(places.starter().read_bytes())
    garden = GardenFile.open(tmp_path).garden
    assert garden.invented
    assert garden.name == "My garden"


# --- the garden of a notebook ------------------------------------------------------------------------------


def test_a_notebook_finds_its_parameter_the_file_beside_it_above_it_or_the_demo(tmp_path: Path):
    beside = tmp_path / "garden" / "notebooks"
    beside.mkdir(parents=True)
    assert file.find("", beside).path == places.garden_path(file.DEFAULT)
    (tmp_path / "garden" / "garden.toml").write_text(TEXT.replace("Small", "Upper"), "utf-8")
    assert file.find("", beside).garden.name == "Upper garden"
    (beside / "garden.toml").write_text(TEXT, "utf-8")
    assert file.find("", beside).garden.name == "Small garden"
    assert file.find("demo:southern", beside).garden.site.latitude_deg < 0
