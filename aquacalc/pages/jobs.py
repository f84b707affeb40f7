"""The jobs of the season in words: one line for each kind of job, with all its days."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Garden
from aquacalc.pages.html import shortened
from aquacalc.pages.plan import Plan
from aquacalc.schedule import absences
from aquacalc.sentences import counts, days
from aquacalc.sentences.tasks import kind

NAME_LETTERS = 24
ELSEWHERE = ("feed", "bag", "visit")
"""Keys of entries that stand in the table of the feed, and beside it."""

Days = tuple[date, date]
"""First and last day of an entry."""


@dataclass(frozen=True)
class Job:
    """What is to be done, on which days, and which of them an absence moved (to, from)."""

    text: str
    when: tuple[Days, ...]
    moved: tuple[Days, ...] = ()


def entries(plan: Plan) -> tuple[Entry, ...]:
    """What is to be done and to be expected in the season; nothing without one."""
    return () if plan.agenda is None else plan.agenda.entries


def within(found: Iterable[Entry], first: date, last: date) -> list[Entry]:
    """The entries that fall on one of the days."""
    return [one for one in found if one.day <= last and one.last >= first]


def jobs_of(found: Iterable[Entry], plan: Plan) -> list[Job]:
    """The jobs of some entries, in the order of their first days; feed stays out."""
    by_text: dict[str, list[Entry]] = {}
    given = list(found)
    for one in given:
        if one.key not in ELSEWHERE:
            by_text.setdefault(_told(one, given, plan), []).append(one)
    return [
        Job(
            text,
            days.joined((one.day, one.last) for one in group),
            tuple((one.day, one.moved_from) for one in group if one.moved_from is not None),
        )
        for text, group in by_text.items()
    ]


def _told(one: Entry, given: Iterable[Entry], plan: Plan) -> str:
    """What an entry asks for; tests of one day for what the water may want are one job."""
    if one.key != "supplement":
        return sentence(one, plan)
    kinds = dict.fromkeys(other.subject for other in given if (other.key, other.day) == (one.key, one.day))
    names = words.listed([plan.say(f"supply-{kind}") for kind in kinds], plan.reader)
    return plan.say("job-supplement", names=names)


def line(job: Job, plan: Plan) -> str:
    """A job with its days, and what an absence moved."""
    text = plan.say("job-on", days=days.listed(job.when, plan.reader), job=job.text)
    return " ".join([text, *(_moved(to, planned, plan) for to, planned in job.moved)])


def _moved(to: date, planned: date, plan: Plan) -> str:
    away = absences.away(planned, plan.garden)
    named = {"day": words.day(to, plan.reader), "planned": words.day(planned, plan.reader)}
    if away is None:
        return plan.say("job-moved", **named)
    return plan.say("job-moved-away", away=days.span(away.start, away.end, plan.reader), **named)


def sentence(one: Entry, plan: Plan) -> str:
    """What an entry asks for, without its day."""
    count = (
        "" if math.isnan(one.count) else counts.counted(one.count, one.count_low, one.count_high, plan.reader)
    )
    key = f"job-{kind(one)}"
    if one.of_crop:
        crop = words.name("crop", one.subject)
        return plan.say(key, crop=crop, bed=in_bed(one.subject, one.place, plan.garden), count=count)
    return plan.say(
        key,
        subject=shortened(one.subject, NAME_LETTERS),
        place=shortened(one.place, NAME_LETTERS),
        weight=plan.quantity(one.grams, "mass"),
        count=count,
        days="" if one.during is None else days.span(*one.during, plan.reader),
        above=plan.quantity(one.under, "nitrogen"),
        litres=plan.quantity(one.high_l, "volume"),
    )


def in_bed(crop: str, bed: str, garden: Garden) -> str:
    """A bed's name in brackets, where the crop grows in several; else the name of the crop will do."""
    beds = {one.bed for one in garden.crops if one.crop == crop}
    return f" ({shortened(bed, NAME_LETTERS)})" if len(beds) > 1 else ""
