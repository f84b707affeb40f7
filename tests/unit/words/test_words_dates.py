"""Spans of days as part of a sentence, and findings that speak of them."""

from datetime import date

import pytest

from aquacalc import words
from aquacalc.advice.finding import Amount, Finding
from aquacalc.words import Reader

METRIC = Reader()
US = Reader(units="us")
JUNE, JULY, MAY = date(2027, 6, 3), date(2027, 7, 18), date(2028, 5, 1)


@pytest.mark.parametrize(
    ("first", "last", "metric", "us"),
    [
        (JUNE, JULY, "from 3 June to 18 July 2027", "from June 3 to July 18, 2027"),
        (JUNE, MAY, "from 3 June 2027 to 1 May 2028", "from June 3, 2027 to May 1, 2028"),
        (JUNE, JUNE, "on 3 June 2027", "on June 3, 2027"),
        (JUNE, date(2027, 6, 30), "from 3 June to 30 June 2027", "from June 3 to June 30, 2027"),
    ],
)
def test_a_span_of_days(first: date, last: date, metric: str, us: str):
    assert words.during(first, last, METRIC) == metric
    assert words.during(first, last, US) == us


def test_a_finding_with_days_says_when_by_dates_and_one_with_months_by_months():
    key = "finding-bed-season-empty"
    amounts = (Amount("days", 46, "days"), Amount("area", 2.0, "area"), Amount("crop", "basil", "crop"))
    told = words.finding(Finding(key, "Bed", "watch", amounts, first=JUNE, last=JULY), METRIC)
    assert "from 3 June to 18 July 2027" in told.title
    told = words.finding(Finding(key, "Bed", "watch", amounts, first=JUNE), US)
    assert "on June 3, 2027" in told.title
    told = words.finding(Finding(key, "Bed", "watch", amounts, months=(6, 7)), METRIC)
    assert "from June to July" in told.title


def test_dates_spans_of_days_and_chemicals_are_amounts():
    assert words.amount(Amount("worst", "2027-06-03", "date"), METRIC) == "3 June 2027"
    assert (
        words.amount(Amount("around", "2027-06-03 2027-07-18", "dates"), US) == "from June 3 to July 18, 2027"
    )
    assert (
        words.amount(Amount("base", "potassium_bicarbonate", "chemical"), METRIC) == "Potassium bicarbonate"
    )


def test_a_list_may_be_as_long_as_the_garden():
    names = [f"bed {number} {{ $last }}" for number in range(2000)]
    assert words.listed(names, Reader()) == f"{', '.join(names[:-1])} and {names[-1]}"
