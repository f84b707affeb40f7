"""What people type becomes one number or one problem."""

import csv
import math

import pytest

from aquacalc import constants, tables, units
from aquacalc.errors import InputError, Problem


def problem(text: object, kind: str, unit: str | None = None) -> Problem:
    with pytest.raises(InputError) as caught:
        units.read(text, kind, "here", unit)  # type: ignore[arg-type]
    (only,) = caught.value.problems
    assert only.where == "here"
    return only


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("6.8", 6.8),
        ("6,8", 6.8),
        (" 12 ", 12.0),
        ("-5", -5.0),
        ("\u22125", -5.0),
        ("+5", 5.0),
        ("3/4", 0.75),
        ("1 1/2", 1.5),
        ("1-1/2", 1.5),
        ("1½", 1.5),
        ("½", 0.5),
        ("-1 1/2", -1.5),
        ("12 000", 12000.0),
        ("12\u202f000", 12000.0),
        ("12\u00a0000,5", 12000.5),
        ("1,200.5", 1200.5),
        ("1.200,5", 1200.5),
        ("1,200,000", 1200000.0),
        ("1.200.000", 1200000.0),
        ("0,125", 0.125),
        ("1200,125", 1200.125),
        ("1.200", 1.2),
        ("1.5e3", 1500.0),
        (".5", 0.5),
        (",5", 0.5),
        ("5.", 5.0),
    ],
)
def test_numbers_in_many_hands(text: str, expected: float):
    assert units.read_number(text) == expected


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("", "problem-empty"),
        ("   ", "problem-empty"),
        ("nan", "problem-not-finite"),
        ("-inf", "problem-not-finite"),
        ("Infinity", "problem-not-finite"),
        ("1e300", "problem-too-large"),
        ("9e999", "problem-too-large"),
        ("1/0", "problem-not-a-number"),
        ("six", "problem-not-a-number"),
        ("1..2", "problem-not-a-number"),
        ("1,20,000", "problem-not-a-number"),
        ("1.200,5,5", "problem-not-a-number"),
        ("٣", "problem-not-a-number"),
        ("1 2", "problem-not-a-number"),
        ("--5", "problem-not-a-number"),
    ],
)
def test_numbers_that_are_none(text: str, key: str):
    with pytest.raises(InputError) as caught:
        units.read_number(text, "here")
    assert caught.value.problems == (Problem(key, "here", text.strip()),)


@pytest.mark.parametrize(("text", "choices"), [("1,200", ("1.200", "1200")), ("12,345", ("12.345", "12345"))])
def test_a_comma_before_three_digits_is_asked_back(text: str, choices: tuple[str, str]):
    with pytest.raises(InputError) as caught:
        units.read_number(text)
    assert caught.value.problems[0].key == "problem-ambiguous-number"
    assert caught.value.problems[0].allowed == choices


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("300 US gal", "volume", 1135.6235352),
        ("300 us gallons", "volume", 1135.6235352),
        ("300 imp gal", "volume", 1363.827),
        ("250L", "volume", 250.0),
        ("1.2 m³", "volume", 1200.0),
        ("5 ft 3 in", "length", 1.6002),
        ("5'3\"", "length", 1.6002),
        ("5 ft 3 1/2 in", "length", 1.6129),
        ("-5 ft 3 in", "length", -1.6002),
        ("2 lb 4 oz", "mass", 1020.5828325),
        ("1-1/2 in", "bore", 38.1),
        ("2 h 30 min", "time", 2.5),
        ("16 sq. ft.", "area", 1.486448640),
        ("400 L per hour", "flow", 400.0),
        ("2 m3 / h", "flow", 2000.0),
        ("77 F", "temperature", 25.0),
        ("77 °F", "temperature", 25.0),
        ("25 ºC", "temperature", 25.0),
        ("298,15 K", "temperature", 25.0),
        ("9 F", "temperature_difference", 5.0),
        ("5 dKH", "alkalinity", 5 * constants.MG_L_CACO3_PER_GERMAN_DEGREE),
        ("2 meq/L", "alkalinity", 2 * constants.MG_CACO3_PER_MEQ),
        ("40 mg/L Ca", "hardness", 40 * constants.MOLAR_MASS_CACO3_G_MOL / constants.ATOMIC_MASS_CA_G_MOL),
        ("33.9 S", "angle", -33.9),
        ("33,9° S", "angle", -33.9),
        ("45 %", "share", 0.45),
        ("800 µS/cm", "conductivity", 800.0),
        ("700 ppm (700 scale)", "conductivity", 1000.0),
        ("0.5 lb/US gal", "density", 59.9132),
    ],
)
def test_quantities_with_their_unit(text: str, kind: str, expected: float):
    assert units.read(text, kind) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "kind", "choices"),
    [
        ("300 gal", "volume", ("300 US gal", "300 imp gal")),
        ("1 1/2 gallons", "volume", ("1 1/2 US gal", "1 1/2 imp gal")),
        ("400 gph", "flow", ("400 US gal/h", "400 imp gal/h")),
        ("3 oz", "volume", ("3 US fl oz", "3 imp fl oz")),
        ("2 tsp", "volume", ("2 US tsp", "2 metric tsp")),
        ("20 degrees", "temperature", ("20 C", "20 F")),
        ("20°", "temperature", ("20 C", "20 F")),
        ("120 ppm", "alkalinity", ("120 mg/L CaCO3", "120 mg/L HCO3")),
        ("120 mg/L", "hardness", ("120 mg/L CaCO3", "120 mg/L Ca")),
        ("5 degrees", "hardness", ("5 dGH", "5 fH", "5 Clark")),
        ("7 gpg", "hardness", ("7 Clark", "7 grains/US gal")),
        ("500 ppm", "conductivity", ("500 ppm (500 scale)", "500 ppm (700 scale)")),
        ("35 ppt", "concentration", ("35 g/L", "35 parts per thousand")),
        ("1/2 hp", "power", ("1/2 mechanical hp", "1/2 metric hp")),
        ("2 tons", "mass", ("2 t", "2 US ton", "2 imp ton")),
        ("2 lb/gal", "density", ("2 lb/US gal", "2 lb/imp gal")),
    ],
)
def test_units_with_two_meanings_are_asked_back(text: str, kind: str, choices: tuple[str, ...]):
    found = problem(text, kind)
    assert found == Problem("problem-ambiguous-unit", "here", text, choices)
    assert all(math.isfinite(units.read(choice, kind)) for choice in choices)


def test_a_bare_number_is_refused_with_choices_unless_a_unit_is_given():
    assert problem("12", "volume") == Problem(
        "problem-unit-missing", "here", "12", ("12 L", "12 m3", "12 US gal", "12 imp gal")
    )
    assert problem(12, "volume").allowed == problem("12", "volume").allowed
    assert units.read("12", "volume", unit="us_gal") == units.read(12, "volume", unit="us_gal")
    assert units.read("12 V", "voltage") == units.read("12", "voltage") == 12.0


@pytest.mark.parametrize(
    ("text", "kind", "key", "nearest"),
    [
        ("5 ft", "volume", "problem-unit-kind", ""),
        ("5 litrs", "volume", "problem-unknown-unit", "L"),
        ("5 DHK", "alkalinity", "problem-unknown-unit", "dKH"),
        ("5 in 3 ft", "length", "problem-unit-parts", ""),
        ("5 ft 3", "length", "problem-unknown-unit", ""),
        ("5 ft -3 in", "length", "problem-unknown-unit", ""),
        ("25 C 3 C", "temperature", "problem-unit-parts", ""),
        ("L", "volume", "problem-not-a-number", ""),
        ("1e300 L", "volume", "problem-too-large", ""),
        ("1,200 L", "volume", "problem-ambiguous-number", ""),
    ],
)
def test_quantities_that_cannot_be_read(text: str, kind: str, key: str, nearest: str):
    found = problem(text, kind)
    assert (found.key, found.nearest) == (key, nearest)


@pytest.mark.parametrize(
    ("value", "key"),
    [
        (math.nan, "problem-not-finite"),
        (math.inf, "problem-too-large"),
        (1e300, "problem-too-large"),
        (10**400, "problem-too-large"),
        (True, "problem-not-a-number"),
        (None, "problem-not-a-number"),
    ],
)
def test_values_that_are_no_numbers(value: object, key: str):
    assert problem(value, "volume", "l").key == key


def test_every_name_leads_to_its_unit_and_no_other():
    for kind in units.kinds():
        owner: dict[str, str] = {}
        for one in units.of_kind(kind):
            for name in one.names:
                assert owner.setdefault(name, one.key) == one.key, (kind, name)
                assert units.read(f"3 {name}", kind) == pytest.approx(one.to_base(3.0)), (kind, name)
        shared = {name for one in units.of_kind(kind) for name in one.ambiguous}
        assert shared.isdisjoint(owner)
        for name in shared:
            assert len(problem(f"3 {name}", kind).allowed) > 1, (kind, name)


def test_the_label_of_a_unit_can_be_typed():
    for kind in units.kinds():
        for one in units.of_kind(kind):
            if one.label:
                assert units.read(one.written("3"), kind) == one.to_base(3.0)


def test_the_first_unit_of_a_kind_is_its_base():
    for kind in units.kinds():
        assert (units.base(kind).factor, units.base(kind).zero) == (1.0, 0.0)
        assert units.common(kind)
        suffixes = [one.suffix for one in units.of_kind(kind)]
        assert len(suffixes) == len(set(suffixes))


def test_the_list_is_a_checked_table():
    with units.LIST.open(encoding="utf-8", newline="") as file:
        assert [row["key"] for row in csv.DictReader(file)] == list(tables.load("units").keys())


def test_unknown_unit_key_and_basis_name_the_nearest():
    with pytest.raises(InputError) as caught:
        units.to(1.0, "us_gall")
    assert caught.value.problems[0].nearest == "us_gal"
    with pytest.raises(InputError) as caught:
        units.as_n(1.0, "no3")
    assert caught.value.problems[0].nearest == "NO3"
