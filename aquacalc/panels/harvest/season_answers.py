"""Answers about a season in words: a batch of fish, a crop, what to watch, what to sow."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

import numpy as np

from aquacalc import words
from aquacalc.advice import trail as rests
from aquacalc.advice.finding import Finding
from aquacalc.agenda import stocking
from aquacalc.agenda.beds import Grown
from aquacalc.agenda.jobs import Entry
from aquacalc.agenda.record import Agenda
from aquacalc.charts.strip_fish import first_of_size, fish_days
from aquacalc.garden.model import FishBatch, Garden
from aquacalc.harvest import fish as harvest
from aquacalc.pages import html, trail
from aquacalc.panels.harvest.season_runs import Decided
from aquacalc.schedule import absences
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days
from aquacalc.uncertainty import band

MOST_BATCHES = 3
URGENT = ("emergency", "act today")
WEEK = timedelta(days=7)


def of_fish(season: Decided, place: int) -> str:
    """When a batch of fish is of size, or how heavy it is in the end."""
    run, garden = season.run, season.garden
    batch, reader = garden.fish[place], garden.reader
    there = fish_days(run, place)
    if there is None:
        return words.say("plan-fish-absent", reader, name=batch.name)
    last = there[1] - 1
    weight = band(run.fish["weight_g"][place][:, last], axis=0)
    amounts = {
        "name": batch.name,
        "count": words.number(stocking.last_count(run, garden, place)[1], digits=9),
        "weight": words.span(float(weight.low), float(weight.high), "mass", reader),
        "day": words.date(run.date(last), reader),
        "final": words.quantity(batch.final_weight_g, "mass", reader),
    }
    if not harvest.eaten(batch):
        return words.say("plan-fish-kept", reader, **_without(amounts, "final"))
    first = first_of_size(run, place, batch)
    if first is None:
        return words.say("plan-fish-small", reader, **amounts)
    return words.say("plan-fish-size", reader, size=_between(run, first.low, first.high, garden), **amounts)


def _without(amounts: dict[str, str], name: str) -> dict[str, str]:
    return {key: amount for key, amount in amounts.items() if key != name}


def _between(run: SeasonRun, low: object, high: object, garden: Garden) -> str:
    first, last = (run.date(int(np.floor(float(end)))) for end in (low, high))  # type: ignore[arg-type]
    return words.during(first, last, garden.reader)


def of_crop(season: Decided, plan: int) -> str:
    """When the batches of a plan are sown, planted and picked, and what they bring in the season."""
    run, garden = season.run, season.garden
    crop, reader = garden.crops[plan], garden.reader
    places = [k for k, one in enumerate(run.batches) if one.plan == plan]
    picked = band(run.crops["picked_kg"][places].sum(axis=(0, 2)), axis=0)
    name = words.name("crop", crop.crop)
    batches = [one for one in season.agenda.beds if one.batch.plan == plan and one.batch.in_bed]
    if not batches:
        return words.say("plan-crop-none", reader, name=name, bed=crop.bed)
    told = [_batch(one, garden) for one in batches[:MOST_BATCHES]]
    if len(batches) > MOST_BATCHES:
        told.append(words.say("plan-crop-more", reader, count=str(len(batches) - MOST_BATCHES)))
    return words.say(
        "plan-crop",
        reader,
        name=name,
        bed=crop.bed,
        kg=words.span(float(picked.low), float(picked.high), "biomass", reader),
        batches="; ".join(told),
    )


def _batch(grown: Grown, garden: Garden) -> str:
    reader, one = garden.reader, grown.batch
    parts = []
    if one.sow is not None:
        parts.append(words.say("plan-part-sow", reader, day=words.day(one.sow, reader)))
    key = "plan-part-stands" if one.state == "standing" else "plan-part-plant"
    parts.append(words.say(key, reader, day=words.day(one.plant, reader)))
    if grown.first is not None and grown.last is not None:
        picks = days.span(grown.first.day, grown.last.day, reader)
        parts.append(words.say("plan-part-pick", reader, days=picks))
    return ", ".join(parts)


# --- warnings --------------------------------------------------------------------------------------------


def warnings(season: Decided) -> html.Html:
    """What to act on in this season, most urgent first, and how much there is to watch besides."""
    garden, reader = season.garden, season.garden.reader
    urgent = [one for one in season.findings if one.level in URGENT]
    rest = sum(one.level == "watch" for one in season.findings)
    title = words.say("plan-warnings" if urgent else "plan-warnings-none", reader)
    listed = html.listing(_warning(one, garden) for one in urgent)
    more = words.say("plan-warnings-watch", reader, count=rest) if rest else ""
    return html.element("div", html.paragraph(title), listed, html.paragraph(more), class_="aq-warnings")


def _warning(one: Finding, garden: Garden) -> str:
    said = words.finding(one, garden.reader)
    level = words.level(one.level, garden.reader)
    return words.say("plan-warning", garden.reader, level=level, title=said.title)


def cited(season: Decided) -> html.Html:
    """What the season rests on, folded away."""
    garden = season.garden
    found = (*rests.of_season(garden), *rests.of_fish(garden), *rests.of_crops(garden))
    return trail.fold(rests.merged((*found, *rests.of_findings(season.findings))), garden.reader)


# --- what to sow -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Sowing:
    """One thing to sow or to plant."""

    day: date
    what: str
    count: str
    place: str


def sowings(agenda: Agenda, reader: words.Reader) -> list[Sowing]:
    """Everything that is sown or planted by the plan of record, by day."""

    def told(one: Entry) -> Sowing:
        what = words.say(f"plan-do-{one.key}", reader, name=words.name("crop", one.subject))
        return Sowing(one.day, what, words.quantity(one.count, "number", reader), one.place)

    return [told(one) for one in agenda.entries if one.key in ("sow", "plant")]


def sowing_table(season: Decided) -> html.Html:
    """The sowing list week by week: the garden day of the week, what, how many, where."""
    garden, reader = season.garden, season.garden.reader
    head = [words.say(f"plan-list-{key}", reader) for key in ("week", "what", "count", "where")]
    rows = []
    weekday = absences.garden_day(garden)
    for begin, week in groupby(sowings(season.agenda, reader), key=lambda one: _week(one.day, weekday)):
        for number, one in enumerate(week):
            when = words.date(begin, reader) if number == 0 else ""
            what = words.say("plan-list-item", reader, what=one.what, day=words.day(one.day, reader))
            rows.append((when, what, one.count, one.place))
    if not rows:
        return html.paragraph(words.say("plan-list-none", reader))
    return html.table(head, rows)


def _week(day: date, weekday: int) -> date:
    """First day of the week of a day, where weeks begin on a weekday."""
    return day - timedelta(days=(day.weekday() - weekday) % 7)


def batch_names(garden: Garden) -> Sequence[tuple[str, str]]:
    """What can be chosen: every batch of fish and every plan of a crop, with its place in the file."""
    return list(_names(garden))


def _names(garden: Garden) -> Iterator[tuple[str, str]]:
    def fish_name(batch: FishBatch) -> str:
        return words.say("plan-choose-fish", garden.reader, name=batch.name, tank=batch.tank)

    for k, batch in enumerate(garden.fish):
        yield fish_name(batch), f"fish.{k}"
    for k, crop in enumerate(garden.crops):
        name = words.name("crop", crop.crop)
        yield words.say("plan-choose-crop", garden.reader, name=name, bed=crop.bed), f"crop.{k}"
