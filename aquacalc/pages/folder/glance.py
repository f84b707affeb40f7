"""The year at a glance: what it brings, its strip, and month by month what comes, is sown and is picked."""

from collections import Counter
from collections.abc import Iterable
from datetime import date

import pandas as pd

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.charts import season as charts
from aquacalc.charts.picture import svg
from aquacalc.harvest import crops
from aquacalc.pages import bands, jobs
from aquacalc.pages.html import Html, element, figure, paragraph, section, table
from aquacalc.pages.plan import Plan
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days
from aquacalc.uncertainty import Floats, band


def page(plan: Plan) -> Html:
    """What the year brings, at a glance."""
    run = plan.season
    if run is None:
        return Html("")
    waiting = frozenset() if plan.agenda is None else plan.agenda.waiting
    strips = [Html(svg(one)) for one in charts.strips(run, plan.garden, plan.reader, waiting)]
    return section(
        headline(plan, run),
        element("div", *map(figure, strips), class_="strips"),
        _months(plan, run),
        paragraph(plan.say("glance-key", tries=str(run.members)), "small"),
    )


def headline(plan: Plan, run: SeasonRun) -> str:
    """The answer in words: kilograms of fish and of crops that the year brings."""
    picked = band(run.crops["picked_kg"].sum(axis=(0, 2)), axis=0)
    taken = band(eaten(plan, run).sum(axis=1), axis=0)
    crops_kg, fish_kg = (bands.span(one, "biomass", plan.reader) for one in (picked, taken))
    if float(picked.high) > 0.0 and float(taken.high) > 0.0:
        return plan.say("glance-title-both", fish=fish_kg, crops=crops_kg)
    if float(picked.high) > 0.0:
        return plan.say("glance-title-crops", crops=crops_kg)
    if float(taken.high) > 0.0:
        return plan.say("glance-title-fish", fish=fish_kg)
    return plan.say("glance-title-nothing")


def eaten(plan: Plan, run: SeasonRun) -> Floats:
    """Live weight of the fish that are taken for the kitchen, kg, (members, days); kept fish stay out."""
    kitchen = [place for place, batch in enumerate(plan.garden.fish) if batch.eaten]
    weights: Floats = run.fish["taken_kg"][kitchen].sum(axis=0)
    return weights


def _months(plan: Plan, run: SeasonRun) -> Html:
    daily = {"water": ("water_c", "temperature"), "feed": ("feed_g", "feed")}
    head = [
        plan.say("year-month"),
        *(bands.headed(plan.say(f"glance-{name}"), kind, plan.reader) for name, (_, kind) in daily.items()),
        *(plan.say(f"glance-{name}") for name in ("stocked", "sown", "picked")),
    ]
    columns = [
        [bands.bare(one, kind, plan) for one in bands.monthly(run.daily[values], run, "mean")]
        for values, kind in daily.values()
    ]
    picked = crops.by_month(run)
    rows = [
        (
            words.month(month[0].month, plan.reader, short=True),
            *figures,
            _fish(plan, month),
            _sown(plan, month),
            _picked(month, picked),
        )
        for month, *figures in zip(days.months(run), *columns, strict=True)
    ]
    return table(head, rows, "numbers texts glance")


def _entries(plan: Plan, month: tuple[date, date], keys: Iterable[str]) -> list[Entry]:
    return [one for one in jobs.entries(plan) if month[0] <= one.day <= month[1] and one.key in keys]


def _fish(plan: Plan, month: tuple[date, date]) -> str:
    """Fish that come and go, those of one day together."""
    counts: dict[tuple[str, date], float] = {}
    for one in _entries(plan, month, ("stock", "take")):
        key = "wait" if one.waits else one.key
        counts[key, one.day] = counts.get((key, one.day), 0.0) + one.count
    return ", ".join(
        plan.say(f"glance-fish-{key}", count=words.number(count, digits=9), day=words.day(when, plan.reader))
        for (key, when), count in counts.items()
    )


def _sown(plan: Plan, month: tuple[date, date]) -> str:
    """What is sown, and what is planted without having been sown here; how often, where more than once."""
    sown = [(one.subject, False) for one in _entries(plan, month, ("sow",))]
    grown = () if plan.agenda is None else plan.agenda.beds
    bought = [
        (one.batch.crop, True) for one in grown if one.bought and month[0] <= one.batch.plant <= month[1]
    ]
    return ", ".join(
        _named(plan, crop, ready, times) for (crop, ready), times in Counter([*sown, *bought]).items()
    )


def _named(plan: Plan, crop: str, ready: bool, times: int) -> str:
    name = words.name("crop", crop)
    if ready:
        name = plan.say("glance-ready", name=name)
    return name if times == 1 else plan.say("glance-times", name=name, times=str(times))


def _picked(month: tuple[date, date], by_month: pd.DataFrame) -> str:
    """Crops of which half of the tries pick something in the month."""
    own = by_month[
        (by_month["month"] == pd.Timestamp(month[0].replace(day=1))) & (by_month["kg_middle"] > 0.0)
    ]
    return ", ".join(words.name("crop", str(crop)) for crop in own["crop"])
