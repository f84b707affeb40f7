"""A plan of the beds in words: what is planted where and when, and why a wish is not met."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from aquacalc import words
from aquacalc.words import Reader

if TYPE_CHECKING:
    from aquacalc.planner.beds import BedPlan, Planting, Unmet


def title(plan: BedPlan, reader: Reader) -> str:
    """The answer in one sentence."""
    return words.say(
        "beds-title",
        reader,
        plantings=len(plan.plantings),
        picked=words.quantity(plan.kg, "biomass", reader),
        used=words.quantity(plan.used, "share", reader),
    )


def wishes(plan: BedPlan, reader: Reader) -> Iterator[str]:
    """What of each wish is met, and how many heads the beds would give at most."""
    for crop, heads in plan.wished.items():
        missing = sum(one.heads for one in plan.unmet if one.crop == crop)
        yield words.say(
            "beds-wish",
            reader,
            crop=words.name("crop", crop),
            wished=words.quantity(heads, "heads_per_week", reader),
            picked=words.number(plan.heads[crop], 2),
            missing=words.number(missing, 2),
        )
        yield words.say(
            "beds-steady",
            reader,
            crop=words.name("crop", crop),
            heads=words.quantity(plan.steady[crop], "heads_per_week", reader),
        )


def unmet(one: Unmet, reader: Reader) -> str:
    """Heads that are missing, when and why, and what of the list is ready then."""
    told = words.say(
        f"beds-unmet-{one.why}",
        reader,
        days=words.during(one.first, one.last, reader),
        heads=words.number(one.heads, 2),
        crop=words.name("crop", one.crop),
    )
    if one.why in ("begins", "room"):
        return told
    if not one.instead:
        return f"{told} {words.say('beds-instead-none', reader)}"
    others = words.listed([words.name("crop", crop) for crop in one.instead], reader)
    return f"{told} {words.say('beds-instead', reader, crops=others)}"


def summary_head(reader: Reader) -> list[str]:
    """Titles of the columns of `summary`."""
    keys = ("crop", "bed", "plantings", "days", "area", "picked")
    return [words.say(f"beds-head-{key}", reader) for key in keys]


def summary(plan: BedPlan, reader: Reader) -> list[list[str]]:
    """A line for each crop in each bed: how many plantings, from when to when, how large, what is picked."""

    def place(one: Planting) -> tuple[str, str]:
        return one.bed, one.crop

    rows = []
    for (bed, crop), group in groupby(sorted(plan.plantings, key=place), key=place):
        own = sorted(group, key=lambda one: one.plant)
        sizes = [one.area_m2 for one in own]
        rows.append(
            [
                words.name("crop", crop),
                bed,
                str(len(own)),
                _days(own[0], own[-1], reader),
                words.span(min(sizes), max(sizes), "area", reader),
                words.quantity(sum(one.kg for one in own), "biomass", reader),
            ]
        )
    return rows


def _days(first: Planting, last: Planting, reader: Reader) -> str:
    if first.plant == last.plant:
        return words.date(first.plant, reader)
    return words.say(
        "beds-from-to", reader, first=words.date(first.plant, reader), last=words.date(last.plant, reader)
    )


def list_head(reader: Reader) -> list[str]:
    """Titles of the columns of `by_week`."""
    keys = ("plant", "crop", "bed", "area", "plants", "pick", "last")
    return [words.say(f"beds-head-{key}", reader) for key in keys]


def by_week(plan: BedPlan, reader: Reader) -> list[list[str]]:
    """A line for each planting, in the order of the weeks."""
    return [
        [
            words.date(one.plant, reader),
            words.name("crop", one.crop),
            one.bed,
            words.quantity(one.area_m2, "area", reader),
            str(one.plants),
            words.date(one.first_pick, reader),
            words.date(one.last_pick, reader),
        ]
        for one in plan.plantings
    ]
