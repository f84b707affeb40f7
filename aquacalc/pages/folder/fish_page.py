"""The fish plan: each batch with its ranges, its weight month by month, cautions before fish are eaten."""

from collections.abc import Sequence
from datetime import date

import numpy as np
import pandas as pd

from aquacalc import words
from aquacalc.agenda.record import Agenda
from aquacalc.charts import season as charts
from aquacalc.charts.picture import svg
from aquacalc.garden.model import FishBatch
from aquacalc.harvest import fish as harvest
from aquacalc.harvest import spans
from aquacalc.pages import bands
from aquacalc.pages.bands import Row
from aquacalc.pages.html import Html, figure, join, listing, paragraph, section, shortened, table
from aquacalc.pages.plan import Plan
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import counts, days
from aquacalc.uncertainty import Band, Floats, band

NAME_LETTERS = 24
HALF_A_FISH = 0.5
BESIDE = 3
"""Batches whose months stand beside each other in one table."""


def page(plan: Plan) -> Html:
    """The batches, their chart, their months, and cautions."""
    run, agenda = plan.season, plan.agenda
    if run is None or agenda is None or not plan.garden.fish:
        return Html("")
    found = harvest.plan(run, plan.garden)
    chart = Html(svg(charts.fish(run, plan.garden, plan.reader, "")))
    groups = [
        range(first, min(first + BESIDE, len(plan.garden.fish)))
        for first in range(0, len(plan.garden.fish), BESIDE)
    ]
    return section(
        headline(plan, found),
        bands.tries(plan, run),
        listing((_told(plan, agenda, run, row) for row in bands.rows(found)), "lines"),
        figure(chart),
        *(_months(plan, run, group) for group in groups),
        paragraph(plan.say("fish-key"), "small"),
        paragraph(plan.say("fish-care" if _any_eaten(plan) else "fish-care-kept"), "small"),
    )


def _any_eaten(plan: Plan) -> bool:
    return any(harvest.eaten(batch) for batch in plan.garden.fish)


def headline(plan: Plan, found: pd.DataFrame) -> str:
    """The answer in words: when the first fish are of size; or that the fish are kept."""
    if not _any_eaten(plan):
        return plan.say("fish-title-kept")
    kitchen = [one.name for one in plan.garden.fish if harvest.eaten(one)]
    of_size = found[found["batch"].isin(kitchen)].dropna(subset=["first_of_size_middle"])
    of_size = of_size.sort_values("first_of_size_middle", kind="stable")
    if of_size.empty:
        return plan.say("fish-title-not-yet")
    first = bands.rows(of_size)[0]
    return plan.say("fish-title", species=words.name("species", first.species), when=_size_days(plan, first))


def _size_days(plan: Plan, row: Row) -> str:
    ends: list[date] = [row.first_of_size_low.date(), row.first_of_size_high.date()]
    return days.between(ends[0], ends[1], plan.reader)


def _told(plan: Plan, agenda: Agenda, run: SeasonRun, row: Row) -> str:
    """A batch in sentences."""
    batch: FishBatch = plan.garden.fish[row.Index]
    reader = plan.reader
    parts = [
        _come(plan, agenda, batch),
        plan.say("fish-weight", weight=words.span(row.weight_low_g, row.weight_high_g, "mass", reader)),
    ]
    if not harvest.eaten(batch):
        feed = band(run.fish["feed_g"][row.Index].sum(axis=1), axis=0)
        parts.append(plan.say("fish-kept", feed=bands.span(feed, "mass", reader)))
    else:
        final = plan.quantity(batch.final_weight_g, "mass")
        if pd.isna(row.first_of_size_middle):
            parts.append(plan.say("fish-not-of-size", final=final))
        else:
            parts.append(plan.say("fish-of-size", final=final, when=_size_days(plan, row)))
    parts += _left(plan, agenda, batch)
    if harvest.eaten(batch) and row.taken_middle >= 1.0:
        parts.append(
            plan.say(
                "fish-taken",
                count=words.span(row.taken_low, row.taken_high, "count", reader),
                kg=bands.span(Band(row.kg_low, row.kg_middle, row.kg_high), "biomass", reader),
                edible=plan.quantity(row.edible_kg_middle, "biomass"),
            )
        )
    return " ".join(parts)


def _come(plan: Plan, agenda: Agenda, batch: FishBatch) -> str:
    """How many fish of a batch are there, or come, and under which condition."""
    coming = next((one for one in agenda.stockings if one.batch == batch.name), None)
    key = "fish-batch" if coming is None else "fish-batch-waits" if coming.conditional else "fish-batch-comes"
    return plan.say(
        key,
        batch=shortened(batch.name, NAME_LETTERS),
        count=words.number(batch.count, digits=9),
        species=words.name("species", batch.species),
        weight=plan.quantity(batch.weight_g, "mass"),
        tank=shortened(batch.tank, NAME_LETTERS),
        stocked=words.date(batch.stocked if coming is None else coming.day, plan.reader),
    )


def _left(plan: Plan, agenda: Agenda, batch: FishBatch) -> list[str]:
    """When a batch leaves, else how many fish of it are there in the end."""
    for leaving in agenda.leavings:
        if leaving.batch == batch.name:
            key = "fish-until" if leaving.reason == "planned" else f"fish-until-{leaving.reason}"
            number = counts.counted(leaving.count, leaving.low, leaving.high, plan.reader)
            return [plan.say(key, until=words.date(leaving.day, plan.reader), count=number)]
    for one in agenda.staying:
        if one.batch == batch.name:
            number = counts.counted(one.count, one.low, one.high, plan.reader)
            return [plan.say("fish-left", count=number) if one.count else plan.say("fish-none-left")]
    return []


def _months(plan: Plan, run: SeasonRun, places: Sequence[int]) -> Html:
    """Month by month: mean weight on its last day and feed, of batches beside each other."""
    reader = plan.reader
    several = len(plan.garden.fish) > 1
    head: list[str] = [plan.say("year-month")]
    columns: list[list[str]] = []
    for place in places:
        name = shortened(plan.garden.fish[place].name, NAME_LETTERS) if several else ""
        for what, kind in (("weight", "mass"), ("count", "count"), ("feed", "feed")):
            title = plan.say(f"fish-head-{what}")
            unit = "" if what == "weight" else words.unit(kind, reader)
            head.append(join(*(part for part in (f"{name}: " if name else "", title, f" {unit}"))))
        columns += _of_batch(plan, run, place)
    rows = [
        (words.month(first.month, reader, short=True), *figures)
        for (first, _), *figures in zip(days.months(run), *columns, strict=True)
    ]
    return table(head, rows, "numbers")


def _of_batch(plan: Plan, run: SeasonRun, place: int) -> list[list[str]]:
    last_days = [of.stop - 1 for _, of in spans.months(run)]
    weights = [_known(run.fish["weight_g"][place][:, day]) for day in last_days]
    counts = [band(run.fish["count"][place][:, day], axis=0) for day in last_days]
    feed = bands.monthly(run.fish["feed_g"][place], run, "mean")
    none = plan.say("year-no-figure")
    return [
        [none if one is None else bands.span(one, "mass", plan.reader) for one in weights],
        [bands.span(one, "count", plan.reader) if float(one.high) >= HALF_A_FISH else none for one in counts],
        [bands.bare(one, "feed", plan) for one in feed],
    ]


def _known(weight_g: Floats) -> Band | None:
    """The band of weights on a day; None where hardly any try has fish."""
    found = band(np.asarray(weight_g), axis=0)
    return None if np.isnan(float(found.middle)) else found
