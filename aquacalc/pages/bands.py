"""Frames and bands of the season as they are printed: row by row, low to high, by month."""

from typing import Any, Literal

import pandas as pd

from aquacalc import words
from aquacalc.harvest import spans
from aquacalc.pages.html import LINE_BREAK, Html, join, paragraph
from aquacalc.pages.plan import Plan
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats
from aquacalc.words import Reader

Row = Any
"""A row of a frame; its fields are the columns, `Index` its place."""


def rows(frame: pd.DataFrame) -> list[Row]:
    """The rows of a frame."""
    return list(frame.itertuples())


def monthly(values: Floats, run: SeasonRun, how: Literal["mean", "sum"]) -> list[Band]:
    """Something daily, (members, days), as a band of its mean or sum in each month of the season."""
    found = spans.by_span(values, spans.months(run), how)
    return [Band(*ends) for ends in zip(found.low, found.middle, found.high, strict=True)]


NEXT_TO_NOTHING = 0.02
"""A low end below this share of the high end is told as nothing."""


def span(found: Band, kind: str, reader: Reader) -> str:
    """Low to high with the unit; "up to" the high end where the low one is next to nothing."""
    low, high = float(found.low), float(found.high)
    if 0.0 <= low < NEXT_TO_NOTHING * high:
        return words.say("up-to", reader, amount=words.quantity(high, kind, reader))
    return words.span(low, high, kind, reader)


def bare(found: Band, kind: str, plan: Plan, digits: int | None = None) -> str:
    """Low to high without the unit, which stands in the head of the column; a dash where there is nothing."""
    low, high = float(found.low), float(found.high)
    if kind != "temperature":
        if not high > 0.0:
            return plan.say("year-no-figure")
        low = 0.0 if low < NEXT_TO_NOTHING * high else low
    low, high = (words.convert(end, kind, plan.reader) for end in (low, high))
    return words.span(low, high, "ratio", plan.reader, digits)


def headed(text: str, kind: str, reader: Reader) -> Html:
    """The head of a column with the unit of what stands below."""
    return join(text, LINE_BREAK, words.unit(kind, reader))


def tries(plan: Plan, run: SeasonRun) -> Html:
    """How many tries the ranges of a page rest on."""
    return paragraph(plan.say("season-tries", tries=str(run.members)), "small")
