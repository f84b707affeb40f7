"""Fields read what people type, keep what they had when a text is refused, and never round the value."""

import pytest

from aquacalc.panels.frame.fields import ChoiceField, NumberField, TextField
from aquacalc.panels.frame.months import MonthsField
from aquacalc.panels.frame.oxygen import OxygenField
from aquacalc.panels.frame.salt import SaltField
from aquacalc.words import Reader

READER = Reader()


def tank(**given: object) -> NumberField:
    return NumberField("Water in the tank", "volume", 600.0, READER, 20.0, 200_000.0, **given)  # type: ignore[arg-type]


def test_a_number_is_read_in_the_chosen_unit_and_a_decimal_comma_is_one():
    field = NumberField("pH", "", 7.0, READER, 3.0, 11.0)
    field.box.value = "6,8"
    assert field.value == 6.8


def test_a_number_with_its_own_unit_is_read_and_shown_in_the_chosen_one():
    field = tank()
    field.box.value = "300 US gal"
    assert field.value == pytest.approx(1135.6235352)
    assert field.box.value == "1140"


def test_another_unit_shows_the_same_value_and_does_not_round_it():
    field = tank()
    field.unit.value = "us_gal"
    assert field.box.value == "160"  # 158.5
    assert field.value == 600.0
    field.unit.value = "l"
    assert (field.box.value, field.value) == ("600", 600.0)


@pytest.mark.parametrize("text", ["abc", "", "1e300", "nan", "5 kg", "1,200", "3 gal", "-5", "10"])
def test_a_refused_text_leaves_the_value_and_says_why_beside_the_field(text: str):
    field = tank()
    told: list[float | None] = []
    field.on_change(lambda: told.append(field.value))
    field.box.value = "700"
    field.box.value = text
    assert field.value == 700.0
    assert field.problem is not None
    assert 'role="alert"' in field.sentence.value
    assert "Water in the tank" in field.sentence.value
    assert told == [700.0, 700.0]


def test_the_range_is_said_in_the_chosen_unit():
    field = NumberField("Temperature", "temperature", 20.0, Reader(units="us"), 0.0, 40.0)
    field.box.value = "140"
    assert "32 to 104 F" in field.sentence.value


def test_a_corrected_text_clears_the_sentence():
    field = tank()
    field.box.value = "abc"
    field.box.value = "800"
    assert (field.value, field.problem, field.sentence.value) == (800.0, None, "")


def test_typed_markup_is_escaped():
    field = tank()
    field.box.value = "<script>alert(1)</script>"
    assert "<script" not in field.sentence.value


def test_slider_and_box_follow_each_other():
    field = tank(slide=(0.0, 2000.0, 10.0))
    assert field.slider is not None
    field.slider.value = 1230.0
    assert (field.value, field.box.value) == (1230.0, "1230")
    field.box.value = "250"
    assert field.slider.value == 250.0


def test_a_value_beyond_the_slider_is_kept_and_the_slider_stands_at_its_end():
    field = tank(slide=(0.0, 2000.0, 10.0))
    assert field.slider is not None
    field.box.value = "9000"
    assert field.value == 9000.0
    assert field.slider.value == 2000.0


def test_an_empty_box_is_none_where_that_may_be():
    field = NumberField("Reading", "concentration", 5.0, READER, 0.0, 25.0, optional=True)
    field.box.value = ""
    assert field.value is None
    assert field.problem is None


def test_what_is_written_is_what_was_typed_with_its_unit():
    field = tank()
    field.box.value = "650,5"
    assert field.written == "650,5 L"
    field.box.value = "5 m3"
    assert field.written == "5 m3"
    count = NumberField("Fish", "", 12.0, READER, 1.0, 100.0)
    assert count.written == 12


def test_filling_tells_nobody():
    field = tank()
    told: list[int] = []
    field.on_change(lambda: told.append(1))
    field.set(900.0)
    assert (field.value, field.box.value, told) == (900.0, "900", [])


def test_us_readers_begin_with_their_units():
    reader = Reader(units="us")
    kinds = ("volume", "temperature", "area", "flow")
    units = [NumberField("x", kind, 1.0, reader, 0.0, 9.0).unit.value for kind in kinds]
    assert units == ["us_gal", "f", "ft2", "us_gph"]


@pytest.mark.parametrize(
    ("kind", "value", "system", "shown", "unit"),
    [
        ("mass", 368.9, "metric", "370", "g"),
        ("mass", 6962.6, "us", "15", "lb"),
        ("temperature", 20.88, "metric", "20.9", "c"),
        ("temperature", 24.2265, "us", "75.6", "f"),
        ("flow", 606.4, "metric", "610", "l_h"),
        ("volume", 1135.6235352, "us", "300", "us_gal"),
        ("volume", 900.0, "us", "240", "us_gal"),
        ("length", 0.03, "us", "1.2", "in"),
        ("length", 1295.4, "us", "4250", "ft"),
        ("time", 0.25, "metric", "15", "min"),
        ("time", 0.0, "metric", "0", "h"),
    ],
)
def test_a_number_stands_in_a_box_as_a_person_writes_it(
    kind: str, value: float, system: str, shown: str, unit: str
):
    field = NumberField("x", kind, value, Reader(units=system), 0.0, 1e6)  # type: ignore[arg-type]
    assert (field.box.value, field.unit.value, field.value) == (shown, unit, value)


def test_a_chosen_unit_stays_whatever_comes():
    field = NumberField("Depth", "length", 0.6, READER, 0.0, 5.0, slide=(0.0, 2.0, 0.1))
    assert field.unit.value == "cm"
    field.unit.value = "m"
    field.set(0.2)
    assert (field.unit.value, field.box.value) == ("m", "0.2")


def test_each_number_that_counts_something_has_its_unit_beside_it():
    one = NumberField("Battery", "voltage", 12.0, READER, 0.0, 100.0)
    assert ">V<" in shown_beside(one)
    spoken = NumberField("Days away", "", 10.0, READER, 1.0, 100.0, beside="days")
    assert ">days<" in shown_beside(spoken)


def shown_beside(field: NumberField) -> str:
    return str(field.widget.children[0].children[1].value)


def test_a_slider_offers_no_place_that_the_field_refuses():
    field = tank(slide=(0.0, 5000.0, 10.0))
    assert field.slider is not None
    assert (field.slider.min, field.slider.max) == (20.0, 5000.0)
    for place in (field.slider.min, field.slider.max):
        assert field.takes(place)


def test_every_control_has_a_name_that_can_be_read_out():
    field = tank(slide=(0.0, 2000.0, 10.0))
    assert field.slider is not None
    assert field.box.description == "Water in the tank"
    assert field.slider.tooltip == "Water in the tank"
    assert field.unit.description != ""
    assert ChoiceField("Fish", [("Carp", "carp")], "carp", READER).list.description == "Fish"


def test_an_empty_name_is_refused():
    field = TextField("Name", "Yard", READER)
    field.box.value = "  "
    assert field.problem is not None
    field.box.value = " Backyard "
    assert (field.value, field.problem) == ("Backyard", None)


def highs() -> MonthsField:
    return MonthsField("Daily highs", "temperature", [10.0] * 12, READER)


def test_each_month_has_a_box_with_its_name():
    field = highs()
    assert [box.description for box in field.boxes[:2]] == ["Jan", "Feb"]
    field.boxes[11].value = "12,5"
    assert field.value == (10.0,) * 11 + (12.5,)
    field.boxes[0].value = "50 F"
    assert field.value[0] == pytest.approx(10.0)


def test_twelve_months_in_one_box_fill_all_in_either_way_of_parting_them():
    field = highs()
    field.boxes[0].value = "1 2 3 4 5 6 7 8 9 10 11 12,5"
    assert field.value == (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12.5)
    assert [box.value for box in field.boxes[:2]] == ["1", "2"]
    field.boxes[3].value = "50 F; 1; 2; 3; 4; 5; 6; 7; 8; 9; 10; 11"
    assert field.value[0] == pytest.approx(10.0)


@pytest.mark.parametrize("text", ["1 2 3", "", "x", "1 2 3 4 5 6 7 8 9 10 11 x"])
def test_a_month_that_cannot_be_read_leaves_the_old_ones_until_it_is_mended(text: str):
    field = highs()
    field.boxes[2].value = text
    assert field.value == (10.0,) * 12
    assert field.problem is not None
    field.boxes[3].value = "11"
    assert field.problem is not None
    field.boxes[2].value = "9"
    assert field.problem is None
    assert field.value[2:4] == (9.0, 11.0)


def test_months_are_written_in_the_chosen_unit():
    field = highs()
    field.unit.value = "f"
    assert field.written == [50.0] * 12
    assert field.value == (10.0,) * 12


def test_oxygen_in_percent_stays_the_same_share_when_the_water_holds_less():
    holds = [10.0]
    field = OxygenField("Oxygen", READER, 25.0, lambda: holds[0])
    field.box.value = "80 %"
    assert field.value == pytest.approx(8.0)
    holds[0] = 5.0
    assert field.value == pytest.approx(4.0)
    field.unit.value = "pct"
    assert field.box.value == "80"
    field.box.value = "40"
    assert field.value == pytest.approx(2.0)
    field.box.value = "3 mg/L"
    assert field.value == 3.0
    assert field.box.value == "60"
    field.box.value = "600"
    assert field.problem is not None
    assert "0 to 500 %" in field.sentence.value
    field.box.value = ""
    assert field.value is None


def test_salt_is_weighed_or_counted_in_level_teaspoons():
    field = SaltField("Salt", 150.0, READER, 0.1, 1e6)
    field.box.value = "12 tsp"
    assert field.value == 72.0
    field.unit.value = "teaspoons"
    assert field.box.value == "12"
    field.box.value = "1/2"
    assert field.value == 3.0
    field.box.value = "60 g"
    assert field.box.value == "10"
    field.box.value = "some"
    assert field.problem is not None
