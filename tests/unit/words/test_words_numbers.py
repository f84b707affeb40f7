import math
from datetime import date

import pytest

from aquacalc import tables, words
from aquacalc.words import NO_BREAK_SPACE, Reader

METRIC = Reader()
US = Reader(units="us")


def plain(text: str) -> str:
    return text.replace(NO_BREAK_SPACE, " ")


@pytest.mark.parametrize(
    ("value", "digits", "expected"),
    [
        (0.0, 2, "0"),
        (-0.0, 2, "0"),
        (1.0, 2, "1"),
        (2.34, 2, "2.3"),
        (2.96, 2, "3"),
        (9.96, 2, "10"),
        (0.996, 2, "1"),
        (0.0467, 2, "0.047"),
        (98.7, 2, "99"),
        (99.6, 2, "100"),
        (1234.0, 2, "1200"),
        (1136.0, 4, "1136"),
        (9999.0, 2, "10 000"),
        (1234567.0, 3, "1 230 000"),
        (-3.24, 2, "-3.2"),
        (-0.001, 1, "-0.001"),
    ],
)
def test_a_number_has_no_more_digits_than_asked(value: float, digits: int, expected: str):
    assert plain(words.number(value, digits)) == expected


def test_fixed_decimals_keep_their_zeros_and_lose_the_sign_of_nothing():
    assert words.number(7.0, decimals=1) == "7.0"
    assert words.number(-0.01, decimals=1) == "0.0"


@pytest.mark.parametrize(
    ("value", "kind", "metric", "us"),
    [
        (1135.6, "volume", "1100 L", "300 US gal"),
        (0.25, "volume", "250 mL", "0.26 US qt"),
        (1400.0, "flow", "1400 L/h", "370 US gal/h"),
        (18.0, "air_flow", "18 L/min", "18 L/min"),
        (2.0, "length", "2 m", "6.6 ft"),
        (0.3, "length", "30 cm", "12 in"),
        (2.4, "area", "2.4 m²", "26 sq ft"),
        (450.0, "mass", "450 g", "16 oz"),
        (460.0, "mass", "460 g", "1 lb"),
        (8.2, "biomass", "8.2 kg", "18 lb"),
        (6.4, "dose", "6.4 g", "6.4 g"),
        (26.4, "temperature", "26 °C", "80 °F"),
        (3.0, "temperature_difference", "3 °C", "5.4 °F"),
        (160.0, "energy", "160 Wh", "160 Wh"),
        (1600.0, "energy", "1.6 kWh", "1.6 kWh"),
        (1.34, "time", "1.3 hours", "1.3 hours"),
        (1.0, "time", "1 hour", "1 hour"),
        (0.5, "time", "30 minutes", "30 minutes"),
        (1 / 60, "time", "1 minute", "1 minute"),
        (14.0, "days", "14 days", "14 days"),
        (1.0, "days", "1 day", "1 day"),
        (603.0, "load", "600 kg/m²", "120 lb/sq ft"),
        (45.0, "feed_area", "45 g/m² a day", "4.2 g/sq ft a day"),
        (95.4, "feed", "95 g/day", "95 g/day"),
        (20.0, "density", "20 kg/m³", "0.17 lb/US gal"),
        (0.85, "share", "85 %", "85 %"),
        (32.0, "percent", "32 %", "32 %"),
        (1.0, "nitrogen", "1 mg/L as N", "1 mg/L as N"),
        (7.0, "ph", "7.0", "7.0"),
        (0.73, "turnover", "0.73 times an hour", "0.73 times an hour"),
        (1.0, "turnover", "1 time an hour", "1 time an hour"),
        (31.6, "count", "32", "32"),
        (3.4, "count", "3", "3"),
        (128.0, "count", "130", "130"),
        (128.0, "number", "128", "128"),
        (10.25, "ph", "10.2", "10.2"),
        (10.0, "rain", "10 mm", "0.39 in"),
    ],
)
def test_a_quantity_is_shown_in_the_readers_unit(value: float, kind: str, metric: str, us: str):
    assert plain(words.quantity(value, kind, METRIC)) == metric
    assert plain(words.quantity(value, kind, US)) == us


def test_what_is_not_a_number_is_said_in_words():
    assert words.quantity(math.nan, "feed", METRIC) == "not known"
    assert words.quantity(math.inf, "time", METRIC) == "without end"
    assert words.span(math.nan, 3.0, "feed", METRIC) == "not known"
    assert plain(words.span(3.0, math.inf, "time", METRIC)) == "3 hours or more"


def test_more_digits_where_they_are_known():
    assert plain(words.quantity(1135.6, "volume", METRIC, digits=4)) == "1136 L"


@pytest.mark.parametrize(
    ("low", "high", "kind", "expected"),
    [
        (58.0, 112.0, "feed", "60 to 110 g/day"),
        (58.0, 98.0, "feed", "58 to 98 g/day"),
        (58.0, 99.6, "feed", "60 to 100 g/day"),
        (3.0, 112.0, "feed", "3 to 110 g/day"),
        (0.0, 112.0, "feed", "0 to 110 g/day"),
        (109.0, 112.0, "feed", "110 g/day"),
        (0.58, 1.5, "time", "35 to 90 minutes"),
        (0.58, 3.2, "time", "0.6 to 3.2 hours"),
        (1.2, 1.8, "time", "1.2 to 1.8 hours"),
        (800.0, 1500.0, "mass", "800 to 1500 g"),
        (800.0, 2500.0, "mass", "0.8 to 2.5 kg"),
        (-2.4, 14.2, "temperature", "-2 to 14 °C"),
        (6.41, 7.18, "ph", "6.4 to 7.2"),
        (-3.0, -1.0, "drift", "-3 to -1 mg/L as N a week"),
    ],
)
def test_a_range_is_rounded_at_both_ends_alike(low: float, high: float, kind: str, expected: str):
    assert plain(words.span(low, high, kind, METRIC)) == expected


def test_a_range_in_us_units():
    assert plain(words.span(4.0, 9.0, "biomass", US)) == "9 to 20 lb"


def test_axes_and_table_heads_use_one_unit():
    assert words.unit("biomass", US) == "lb"
    assert words.convert(10.0, "biomass", US) == pytest.approx(22.046, abs=1e-3)
    assert words.unit("temperature", METRIC) == "°C"
    assert words.convert(10.0, "temperature", METRIC) == 10.0
    assert words.unit("ph", METRIC) == ""


def test_dates_and_months():
    day = date(2027, 4, 3)
    assert words.date(day, METRIC) == "3 April 2027"
    assert words.date(day, US) == "April 3, 2027"
    assert words.month(12, METRIC, short=True) == "Dec"


def test_lists():
    assert words.listed((), METRIC) == ""
    assert words.listed(("one",), METRIC) == "one"
    assert words.listed(("one", "two", "three"), METRIC) == "one, two and three"


def test_every_unit_of_every_kind_converts_and_has_a_label():
    for row in tables.load("quantities"):
        for reader in (METRIC, US):
            for value in (0.013, 1.0, 480.0):
                assert words.quantity(value, row.key, reader)
                assert words.span(value, 3.0 * value, row.key, reader)


def test_an_unknown_language_is_answered_in_the_fallback():
    assert words.level("watch", Reader(language="tlh")) == "watch"
