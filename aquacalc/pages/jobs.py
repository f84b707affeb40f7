"""The jobs of the season in words."""

import math

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Garden
from aquacalc.pages.html import shortened
from aquacalc.pages.plan import Plan
from aquacalc.sentences import counts, days
from aquacalc.sentences.tasks import kind

NAME_LETTERS = 24


def entries(plan: Plan) -> tuple[Entry, ...]:
    """What is to be done and to be expected in the season; nothing without one."""
    return () if plan.agenda is None else plan.agenda.entries


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
