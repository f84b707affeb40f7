"""Sowing and harvest: every batch, the bed it takes, what stands still, and what will not be ready."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby

from aquacalc import words
from aquacalc.agenda.beds import Grown, Lot
from aquacalc.agenda.record import Agenda
from aquacalc.harvest import crops as harvest
from aquacalc.pages import bands
from aquacalc.pages.html import Html, element, join, listing, paragraph, section, shortened, table
from aquacalc.pages.jobs import in_bed
from aquacalc.pages.plan import Plan
from aquacalc.schedule.kept_out import LEAST_DAYS
from aquacalc.schedule.spells import Spell
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import days, empty_beds

NAME_LETTERS = 24
TOLD_SPELLS = ("slow_cold", "slow_hot", "slow_dark", "no_room", "nobody", "waits", "too_late")
"""States of places that are told; what the climate keeps out is told with what could stand there."""


def page(plan: Plan) -> Html:
    """The batches, their space, and what does not come to anything."""
    run, agenda = plan.season, plan.agenda
    if run is None or agenda is None:
        return Html("")
    if not agenda.beds:
        return section(plan.say("sowing-title-none"), paragraph(plan.say("sowing-none")))
    head = [
        *(plan.say(f"sowing-head-{name}") for name in ("crop", "sow", "plant", "first", "last")),
        bands.headed(plan.say("sowing-head-kg"), "biomass", plan.reader),
    ]
    rows = [_row(plan, run, lot) for lot in agenda.lots]
    return section(
        headline(plan, agenda.beds),
        bands.tries(plan, run),
        table(head, rows, "numbers texts batches"),
        paragraph(plan.say("sowing-key"), "small"),
        _listed(plan, "sowing-empty", _empty(plan, agenda)),
        _listed(plan, "sowing-still", _still(plan, agenda.beds)),
        _listed(plan, "sowing-short", _short(plan, agenda)),
        element("div", element("h3", plan.say("sowing-space")), _space(plan, run), class_="keep"),
    )


def headline(plan: Plan, grown: Sequence[Grown]) -> str:
    """The answer in words: how many batches there are and what is picked first."""
    count = str(sum(one.batch.in_bed for one in grown))
    picked = [(one.first, one) for one in grown if one.first is not None]
    if not picked:
        return plan.say("sowing-title-nothing", count=count)
    first, one = min(picked, key=lambda pair: pair[0].day)
    return plan.say(
        "sowing-title",
        count=count,
        crop=words.name("crop", one.batch.crop),
        when=days.between(first.first, first.last, plan.reader),
    )


def _row(plan: Plan, run: SeasonRun, lot: Lot) -> Sequence[str]:
    one = lot.one.batch
    sown = [batch.batch.sow for batch in lot.batches if batch.batch.sow is not None]
    return (
        words.name("crop", one.crop) + in_bed(one.crop, one.bed, plan.garden),
        _days_and_count(plan, sown, one.seeds),
        plan.say(f"sowing-{one.state}")
        if one.state in ("standing", "closed")
        else _days_and_count(plan, [batch.batch.plant for batch in lot.batches], one.plants),
        _first(plan, run, lot),
        _last(plan, lot),
        bands.bare(lot.kg, "biomass", plan),
    )


def _days_and_count(plan: Plan, known: Sequence[date], count: int) -> str:
    """The days of an entry in the calendar and how many seeds or plants each time."""
    if not known:
        return plan.say("year-no-figure")
    return plan.say(
        "sowing-each" if len(known) > 1 else "sowing-count",
        days=days.listed([(one, one) for one in known], plan.reader),
        count=words.number(count, digits=9),
    )


def _first(plan: Plan, run: SeasonRun, lot: Lot) -> str:
    if lot.first is not None:
        return days.span(*lot.first, plan.reader)
    if lot.one.batch.state != "planned":
        return plan.say("year-no-figure")
    return plan.say("sowing-later" if run.day(lot.batches[-1].ends) >= run.days else "sowing-seldom")


def _last(plan: Plan, lot: Lot) -> str:
    """The span of the last picks, and the day on which the place is cleared where that is another one."""
    cleared = lot.one.cleared
    if lot.last is None:
        return plan.say("year-no-figure")
    told = days.span(*lot.last, plan.reader)
    if cleared is None or cleared == lot.last[1]:
        return told
    return plan.say("sowing-last-cleared", days=told, day=words.day(cleared, plan.reader))


def _listed(plan: Plan, title: str, lines: Iterator[str]) -> Html:
    told = list(dict.fromkeys(lines))
    return join(element("h3", plan.say(title)), listing(told, "lines")) if told else Html("")


def _empty(plan: Plan, agenda: Agenda) -> Iterator[str]:
    """Places that stand empty, or whose crop is slow, for long enough to be told, in order of days."""
    out = [
        (one.plan, one.first, empty_beds.kept_out(one, shortened(one.bed, NAME_LETTERS), plan.reader))
        for one in agenda.kept_out
    ]
    alike: dict[tuple[int, str], list[Spell]] = {}
    for one in agenda.places:
        if one.state in TOLD_SPELLS and one.days >= LEAST_DAYS:
            alike.setdefault((one.plan, one.state), []).append(one)
    for (position, _), some in alike.items():
        bed = shortened(some[0].bed, NAME_LETTERS)
        out.append((position, some[0].first, empty_beds.spells(some, bed, plan.reader)))
    yield from (text for *_, text in sorted(out))


def _still(plan: Plan, grown: Sequence[Grown]) -> Iterator[str]:
    """Batches that do not grow for a while, in words."""
    for one in grown:
        if one.batch.stands_still:
            spells = [days.span(first, last, plan.reader) for first, last in one.batch.stands_still]
            yield plan.say(
                "sowing-still-batch",
                crop=words.name("crop", one.batch.crop),
                bed=shortened(one.batch.bed, NAME_LETTERS),
                days=words.listed(spells, plan.reader),
            )


def _short(plan: Plan, agenda: Agenda) -> Iterator[str]:
    """Batches that will not be ready, cannot stand, or often bring nothing; heads that find no room."""
    alike = groupby(agenda.beds, key=lambda one: (_why_short(one), one.batch.crop, one.batch.bed))
    for (key, crop, bed), group in alike:
        own = list(group)
        if key:
            shares = [one.short for one in own]
            planted = [one.batch.plant for one in own]
            yield plan.say(
                f"sowing-short-{key}",
                crop=words.name("crop", crop),
                bed=shortened(bed, NAME_LETTERS),
                plant=days.listed([(day, day) for day in planted], plan.reader),
                leaves=words.day(own[-1].batch.leaves, plan.reader),
                share=words.span(min(shares), max(shares), "share", plan.reader),
            )
    for crop_plan, weeks in zip(plan.garden.crops, agenda.weeks_without_room, strict=True):
        if weeks:
            yield plan.say(
                "sowing-short-room",
                crop=words.name("crop", crop_plan.crop),
                bed=shortened(crop_plan.bed, NAME_LETTERS),
                heads=plan.quantity(crop_plan.heads_per_week, "heads_per_week"),
                weeks=weeks,
            )


def _why_short(one: Grown) -> str:
    if not one.batch.in_bed:
        return one.batch.state.replace("_", "-")
    return "often" if one.may_fail else ""


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
