"""Sowing and harvest: every batch, the bed it takes, what stands still, and what will not be ready."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any

import pandas as pd

from aquacalc import words
from aquacalc.agenda.jobs import SURE_DAYS
from aquacalc.harvest import crops as harvest
from aquacalc.pages import bands
from aquacalc.pages.bands import Row
from aquacalc.pages.html import Html, element, join, listing, paragraph, section, shortened, table
from aquacalc.pages.jobs import in_bed
from aquacalc.pages.plan import Plan
from aquacalc.schedule import crops as schedule
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days
from aquacalc.uncertainty import Band, band

NAME_LETTERS = 24
OFTEN_SHORT = 0.25
"""A batch that picks nothing in so many of the tries is named."""


def page(plan: Plan) -> Html:
    """The batches, their space, and what does not come to anything."""
    run = plan.season
    if run is None:
        return Html("")
    found = harvest.batches(run, plan.garden)
    if found.empty:
        return section(plan.say("sowing-title-none"), paragraph(plan.say("sowing-none")))
    head = [
        *(plan.say(f"sowing-head-{name}") for name in ("crop", "sow", "plant", "first", "last")),
        bands.headed(plan.say("sowing-head-kg"), "biomass", plan.reader),
    ]
    rows = [_row(plan, lot) for lot in lots(plan, run, found)]
    return section(
        headline(plan, found),
        bands.tries(plan, run),
        table(head, rows, "numbers texts batches"),
        paragraph(plan.say("sowing-key"), "small"),
        _listed(plan, "sowing-still", _still(plan, found)),
        _listed(plan, "sowing-short", _short(plan, run, found)),
        element("div", element("h3", plan.say("sowing-space")), _space(plan, run), class_="keep"),
    )


def headline(plan: Plan, found: pd.DataFrame) -> str:
    """The answer in words: how many batches there are and what is picked first."""
    picked = found.dropna(subset=["first_pick_middle"]).sort_values("first_pick_middle", kind="stable")
    count = str(int(found["state"].isin(("planned", "standing")).sum()))
    if picked.empty:
        return plan.say("sowing-title-nothing", count=count)
    first = bands.rows(picked)[0]
    return plan.say(
        "sowing-title",
        count=count,
        crop=words.name("crop", str(first.crop)),
        when=days.between(_date(first.first_pick_low), _date(first.first_pick_high), plan.reader),
    )


def _date(stamp: Any) -> date:
    found: date = stamp.date()
    return found


@dataclass(frozen=True)
class Lot:
    """A batch, or the weekly batches of one plan that are planted in one month: a row of the table."""

    rows: tuple[Row, ...]
    picked_kg: Band

    @property
    def one(self) -> Row:
        """The first of its batches."""
        return self.rows[0]

    def spread(self, name: str) -> tuple[date, date] | None:
        """Earliest low and latest high of a day; None where no batch reaches it."""
        lows = [_date(low) for row in self.rows if not pd.isna(low := getattr(row, f"{name}_low"))]
        highs = [_date(high) for row in self.rows if not pd.isna(high := getattr(row, f"{name}_high"))]
        return (min(lows), max(highs)) if lows and highs else None


def lots(plan: Plan, run: SeasonRun, found: pd.DataFrame) -> Iterator[Lot]:
    """The rows of the table, in the order of the batches."""

    def key(row: Row) -> tuple[object, ...]:
        weekly = plan.garden.crops[row.plan].heads_per_week > 0.0
        return (row.plan, row.state, row.plant.to_period("M")) if weekly else (row.Index,)

    for _, group in groupby(bands.rows(found), key=key):
        rows = tuple(group)
        places = [row.Index for row in rows]
        yield Lot(rows, band(run.crops["picked_kg"][places].sum(axis=(0, 2)), axis=0))


def _row(plan: Plan, lot: Lot) -> Sequence[str]:
    return (
        words.name("crop", lot.one.crop) + in_bed(lot.one.crop, lot.one.bed, plan.garden),
        _days_and_count(plan, lot, "sow", "seeds"),
        plan.say(f"sowing-{lot.one.state}")
        if lot.one.state in ("standing", "closed")
        else _days_and_count(plan, lot, "plant", "plants"),
        _between(plan, lot, "first_pick"),
        _between(plan, lot, "last_pick"),
        bands.bare(lot.picked_kg, "biomass", plan),
    )


def _days_and_count(plan: Plan, lot: Lot, day: str, count: str) -> str:
    """The days of an entry in the calendar and how many seeds or plants each time."""
    known = [_date(stamp) for row in lot.rows if not pd.isna(stamp := getattr(row, day))]
    if not known:
        return plan.say("year-no-figure")
    return plan.say(
        "sowing-each" if len(known) > 1 else "sowing-count",
        days=days.listed([(one, one) for one in known], plan.reader),
        count=words.number(getattr(lot.one, count), digits=9),
    )


def _between(plan: Plan, lot: Lot, what: str) -> str:
    spread = lot.spread(what)
    if spread is not None:
        return days.span(*spread, plan.reader)
    later = lot.one.state == "planned" and what == "first_pick"
    return plan.say("sowing-later" if later else "year-no-figure")


def _listed(plan: Plan, title: str, lines: Iterator[str]) -> Html:
    told = list(dict.fromkeys(lines))
    return join(element("h3", plan.say(title)), listing(told, "lines")) if told else Html("")


def _still(plan: Plan, found: pd.DataFrame) -> Iterator[str]:
    """Batches that do not grow for a while, in words."""
    for row in bands.rows(found):
        if row.stands_still:
            spells = [days.span(first, last, plan.reader) for first, last in row.stands_still]
            yield plan.say(
                "sowing-still-batch",
                crop=words.name("crop", row.crop),
                bed=shortened(row.bed, NAME_LETTERS),
                days=words.listed(spells, plan.reader),
            )


def _short(plan: Plan, run: SeasonRun, found: pd.DataFrame) -> Iterator[str]:
    """Batches that will not be ready, cannot stand, or often bring nothing; heads that find no room."""
    reasons = [(_why_short(run, row), row) for row in bands.rows(found)]
    alike = groupby(reasons, key=lambda pair: (pair[0], pair[1].crop, pair[1].bed))
    for (key, crop, bed), pairs in alike:
        rows = [row for _, row in pairs]
        if key:
            shares = [row.short for row in rows]
            yield plan.say(
                f"sowing-short-{key}",
                crop=words.name("crop", crop),
                bed=shortened(bed, NAME_LETTERS),
                plant=days.listed([(_date(row.plant), _date(row.plant)) for row in rows], plan.reader),
                leaves=words.day(_date(rows[-1].leaves), plan.reader),
                share=words.span(min(shares), max(shares), "share", plan.reader),
            )
    without_room = schedule.cropping(plan.garden).weeks_without_room
    for crop, weeks in zip(plan.garden.crops, without_room, strict=True):
        if weeks:
            yield plan.say(
                "sowing-short-room",
                crop=words.name("crop", crop.crop),
                bed=shortened(crop.bed, NAME_LETTERS),
                heads=plan.quantity(crop.heads_per_week, "heads_per_week"),
                weeks=weeks,
            )


def _why_short(run: SeasonRun, row: Row) -> str:
    if row.state in ("too_late", "closed"):
        return str(row.state).replace("_", "-")
    usual = run.batches[row.Index].first_pick
    # Near the end of the plan nothing picked only means that the plan ends.
    in_time = usual is not None and run.day(usual) < run.days - SURE_DAYS
    return "often" if in_time and row.short >= OFTEN_SHORT else ""


def _space(plan: Plan, run: SeasonRun) -> Html:
    """Bed area that is planted, of the area had, month by month."""
    found = harvest.space(run, plan.garden)
    head = [
        bands.headed(plan.say("sowing-space-bed"), "area", plan.reader),
        plan.say("sowing-space-had"),
        *(words.month(first.month, plan.reader, short=True) for first, _ in days.months(run)),
    ]
    rows = [
        (
            shortened(str(bed), NAME_LETTERS),
            _area(plan, of["had_m2"].iloc[0]),
            *(_area(plan, one) for one in of["used_m2"]),
        )
        for bed, of in found.groupby("bed", sort=False)
    ]
    return table(head, rows, "numbers")


def _area(plan: Plan, area_m2: float) -> str:
    return words.number(words.convert(float(area_m2), "area", plan.reader))
