"""Litres by tape, by levels and by salt; the converter."""

import re
from pathlib import Path

import pytest

from aquacalc import units, words
from aquacalc.advice import triage as advice
from aquacalc.advice.reading import given
from aquacalc.errors import InputError
from aquacalc.garden import litres
from aquacalc.garden.file import GardenFile
from aquacalc.panels.frame import desk
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.panel import Panel
from aquacalc.panels.size import garden_form, loop_volume, water_volume
from aquacalc.panels.start import convert
from aquacalc.panels.trouble import away, power_cut
from aquacalc.panels.water import dose


@pytest.fixture
def mine() -> Desk:
    return desk.open_desk("demo:yard")


def plain(panel: Panel) -> str:
    text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", panel.result.value))
    return text.replace(words.NO_BREAK_SPACE, " ")


def shown(panel: Panel) -> set[str]:
    return {name for name, field in panel.fields.items() if field.widget.layout.display != "none"}


# --- one vessel --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("shape", list(water_volume.ASKED))
def test_each_shape_asks_its_own_measures_and_answers(shape: str):
    made = water_volume.panel()
    made.fields["shape"].list.value = shape
    assert shown(made) == {"shape", *water_volume.ASKED[shape]}
    assert made.problems.value == ""
    assert "of water" in plain(made)


def test_the_oval_tub():
    made = water_volume.panel()
    made.fields["shape"].list.value = "oval"
    for name, text in (("length", "1.80 m"), ("width", "90 cm"), ("depth", "55 cm")):
        made.fields[name].box.value = text
    assert "That is 700 L of water" in plain(made)
    assert "US gal 185" in plain(made)


def test_a_trough_takes_the_longer_measure_as_its_length():
    made = water_volume.panel()
    made.fields["shape"].list.value = "trough"
    one = made.compute(made.values | {"length": 0.9, "width": 1.8})
    assert one == made.compute(made.values | {"length": 1.8, "width": 0.9})


def test_water_above_the_vessel_is_refused():
    made = water_volume.panel()
    made.fields["shape"].list.value = "lying"
    made.fields["depth"].box.value = "1.5 m"
    assert "stands above the height" in made.problems.value


# --- the loop ----------------------------------------------------------------------------------------------


def test_running_and_stopped_levels_of_one_loop_make_the_same_whole():
    made = loop_volume.panel()
    running = made.values | {"beds": "part", "bed_share": 0.5}
    whole = made.compute(running).middle
    pipes = made.compute(running).parts.pipes
    stopped = running | {"state": "stopped", "beds": "drained", "sump": running["sump"] + 126.0 + pipes}
    assert made.compute(stopped).middle == pytest.approx(whole)


def test_beds_count_by_their_void_and_by_how_full_they_are():
    made = loop_volume.panel()
    values = made.values | {"bed_area": 2.0, "bed_flood": 0.3, "void": 0.4, "bed_share": 0.25}
    beds = {one: made.compute(values | {"beds": one}).parts.beds for one in ("full", "part", "drained")}
    assert beds == {"full": pytest.approx(240.0), "part": pytest.approx(60.0), "drained": 0.0}


def test_only_what_the_state_needs_is_asked():
    made = loop_volume.panel()
    assert {"pipe", "bore", "bed_share"} <= shown(made)
    made.fields["state"].list.value = "stopped"
    made.fields["beds"].list.value = "drained"
    assert not {"pipe", "bore", "bed_share", "salt"} & shown(made)
    made.fields["way"].list.value = "chloride"
    assert shown(made) == {"way", *loop_volume.ASKED["chloride"]}


def test_the_loop_of_a_garden_is_the_garden_files_own(mine: Desk):
    made = loop_volume.panel(mine)
    assert made.compute(made.values).middle == pytest.approx(litres.litres_of(mine.garden).whole)
    assert "The garden file makes" in plain(made)


def test_salt_and_chloride():
    made = loop_volume.panel()
    made.fields["way"].list.value = "chloride"
    # 100 g of chloride stand in 164.85 g of salt; 50 mg/L more of it make 2000 L.
    for name, text in (("salt", "164.85 g"), ("chloride_before", "20"), ("chloride_after", "70")):
        made.fields[name].box.value = text
    found = made.compute(made.values)
    assert found.middle == pytest.approx(2000.0, rel=1e-3)
    assert found.low < found.middle < found.high
    assert "2000 L of water circulates" in plain(made)
    assert made.write.disabled
    made.fields["salt"].box.value = "329.7 g"
    assert made.compute(made.values).middle == pytest.approx(4000.0, rel=1e-3)


def test_salt_and_a_meter_at_a_tenth_of_a_gram_in_a_litre():
    made = loop_volume.panel()
    values = made.values | {"way": "conductivity", "salt": 150.0, "before": 0.0, "after": 209.0}
    assert made.compute(values).middle == pytest.approx(1500.0, rel=0.002)


def test_impure_salt_counts_by_its_share():
    made = loop_volume.panel()
    values = made.values | {"way": "conductivity"}
    assert made.compute(values | {"purity": 0.5}).middle == pytest.approx(made.compute(values).middle / 2.0)


@pytest.mark.parametrize(("way", "before", "after"), [("conductivity", "before", "after")])
def test_a_reading_that_does_not_rise_is_told(way: str, before: str, after: str):
    made = loop_volume.panel()
    made.fields["way"].list.value = way
    made.fields[after].box.value = "400"
    assert "is not above the one before it" in made.problems.value
    with pytest.raises(InputError):
        made.compute(made.values | {after: made.values[before]})


@pytest.fixture
def own(tmp_path: Path) -> Desk:
    garden_form.panel(desk.open_desk("demo:yard"), str(tmp_path)).save()
    return desk.open_desk(str(tmp_path))


def by_meter(own: Desk) -> loop_volume.LoopVolume:
    made = loop_volume.panel(own)
    made.fields["way"].list.value = "conductivity"
    for name, text in {"salt": "150 g", "before": "500", "after": "700", "flow": "1000 L/h"}.items():
        made.fields[name].box.value = text
    return made


def test_litres_by_salt_are_written_and_everything_counts_with_them(own: Desk):
    made = by_meter(own)
    made.save()
    again = GardenFile.open(own.file.path).garden
    measured = again.last_measured("loop_volume")
    assert measured is not None
    assert (measured.value, measured.day) == (pytest.approx(1500.0, rel=0.01), own.file.today)
    assert litres.litres_of(again).whole == pytest.approx(measured.value)
    assert "Written into garden.toml" in made.said.value
    # What counts litres counts these: triage, reading, dose, absence.
    assert advice.known(again, None).water_l == pytest.approx(measured.value)
    assert given.read(["tan=1"], again).litres == pytest.approx(measured.value)
    # Fields show no more digits than are known.
    assert dose.panel(own).values["volume"] == pytest.approx(measured.value, rel=0.005)
    assert away.panel(own).values["water"] == pytest.approx(measured.value)
    assert power_cut.panel(own).values["tank"] == pytest.approx(litres.litres_of(again).tanks)


def test_a_second_test_on_one_day_takes_the_place_of_the_first(own: Desk):
    made = by_meter(own)
    made.save()
    made.fields["salt"].box.value = "170 g"
    made.save()
    (measured,) = [one for one in own.garden.measured if one.what == "loop_volume"]
    assert measured.value == pytest.approx(1710.0, rel=0.01)


def test_salt_that_had_no_time_to_mix_is_not_written(own: Desk):
    made = by_meter(own)
    # A litre an hour in 1000 L: three turns of 1505 L take 4.5 hours.
    made.fields["stirred"].box.value = "4 h"
    assert "Not mixed yet" in plain(made)
    assert "Wait 4.5 hours in all" in plain(made)
    before = own.file.text
    made.save()
    assert (made.write.disabled, own.file.text) == (True, before)
    made.fields["stirred"].box.value = "5 h"
    assert not made.write.disabled


def test_the_crop_that_bears_least_caps_the_salt(own: Desk, mine: Desk):
    lettuce = own.file.change("crop", [{"crop": "lettuce_butterhead"}]).garden
    berry = own.file.change("crop", [{"crop": "lettuce_butterhead"}, {"crop": "strawberry"}]).garden
    assert loop_volume.salt_cap_g_l(None) == (0.3, "")
    assert loop_volume.salt_cap_g_l(lettuce)[0] == 0.3
    assert loop_volume.salt_cap_g_l(berry) == (0.1, "strawberry")
    made = loop_volume.panel()
    made.fields["way"].list.value = "conductivity"
    assert "The cap of added salt for usual crops is 0.3 g/L, 450 g in all" in plain(made)
    made.fields["after"].box.value = "1200"
    assert "over the cap for usual crops" in plain(made)


def test_a_rise_within_the_error_of_the_meter_has_no_upper_end():
    made = loop_volume.panel()
    found = made.compute(made.values | {"way": "conductivity", "before": 500.0, "after": 505.0})
    assert found.high == float("inf")


# --- units -------------------------------------------------------------------------------------------------


def converted(text: str) -> Panel:
    made = convert.panel()
    made.fields["text"].box.value = text
    return made


def test_a_gallon_is_shown_as_both():
    text = plain(converted("300 gal"))
    assert "300 US gal and 300 imp gal" in text
    assert "L 1135.6" in text
    assert "L 1363.8" in text


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("3,5 dKH", "mg/L CaCO3 62.468"),
        ("74 F", "C 23.333"),
        ("40 mg/L NO3", "mg/L N 9.036"),
        ("40 ppm as NO3-N", "mg/L NO3 177.0"),
        ("1 mg/L NH3", "mg/L N 0.82"),
        ("1 meq/L", "dKH 2.80"),
        ("12 L/min", "L/h 720"),
        ("5 ft 3 in", "m 1.6002"),
        ("2 oz/day", "g/day 56.699"),
        ("100 sq ft", "m2 9.2903"),
        ("100 Ah", "mAh 100"),
        ("0.5 lb/US gal", "kg/m3 59.9"),
        ("5 MJ/m2/day", "kWh/m2/day 1.388"),
        ("10 mph", "km/h 16.09"),
        ("1 lb/sq ft", "kg/m2 4.882"),
        ("74 F", "1 C warmer is 1.8 F warmer"),
    ],
)
def test_known_conversions(typed: str, expected: str):
    made = converted(typed)
    assert made.problems.value == ""
    assert expected in plain(made)


def test_every_kind_that_the_workbook_counts_is_converted_or_told_why_not():
    told = {*convert.KINDS, *convert.AS_ANOTHER, *convert.ONE_UNIT, *convert.ON_A_LABEL}
    assert told == set(units.kinds())
    for kind, other in convert.AS_ANOTHER.items():
        assert {one.label for one in units.of_kind(kind)} <= {one.label for one in units.of_kind(other)}


@pytest.mark.parametrize("kind", convert.KINDS)
def test_every_unit_of_a_kind_is_shown_and_can_be_typed_again(kind: str):
    base = units.base(kind)
    (meaning,) = [one for one in units.meanings(base.written("7"), convert.KINDS) if one.kind == kind]
    rows = convert.rows(meaning)
    assert len(rows) == len(units.of_kind(kind))
    for unit in units.of_kind(kind):
        again = units.read(unit.written(f"{unit.from_base(7.0)!r}"), kind)
        assert again == pytest.approx(7.0)


@pytest.mark.parametrize(
    ("typed", "said"),
    [("five", "cannot be read"), ("300", "has no unit"), ("5 xx", "is not known"), ("1,200 L", "two ways")],
)
def test_what_means_nothing_is_told_and_the_last_answer_stays(typed: str, said: str):
    made = convert.panel()
    before = made.result.value
    made.fields["text"].box.value = typed
    assert said in made.problems.value
    assert made.result.value == before


def test_nitrogen_is_the_same_in_every_basis():
    (found,) = units.meanings("11.3 mg/L N", convert.KINDS)
    for basis in found.bases:
        shown_as = units.from_n(found.value, basis)
        (again,) = units.meanings(f"{shown_as!r} mg/L {basis}", convert.KINDS)
        assert again.value == pytest.approx(found.value)
