"""Places of beds that stand empty, or whose crop is slow: when, why, and what could stand there instead."""

from collections.abc import Sequence

from aquacalc import words
from aquacalc.schedule.kept_out import KeptOut
from aquacalc.schedule.spells import Spell
from aquacalc.sentences import days
from aquacalc.words import Reader

WITH_WARMTH = ("too_hot", "too_cold")
"""Reasons that are told with the air and the water of a usual year."""


def kept_out(one: KeptOut, bed: str, reader: Reader) -> str:
    """What keeps a crop out of its place, and what to sow there instead; bed: its name as it is printed."""
    because = one.because.replace("_", "-")
    told = words.say(
        f"bed-empty-{because}",
        reader,
        crop=words.name("crop", one.crop),
        bed=bed,
        days=days.span(one.first, one.last, reader),
        **{
            name: words.quantity(celsius, "temperature", reader)
            for name, celsius in (("air", one.air_c), ("water", one.water_c))
            if one.because in WITH_WARMTH
        },
    )
    if not one.instead:
        return words.say("bed-empty-nothing", reader, told=told)
    # Names hold commas of their own.
    instead = "; ".join(words.name("crop", key) for key in one.instead)
    key = "bed-empty-cultivar" if one.tolerant else "bed-empty-instead"
    return words.say(key, reader, told=told, instead=instead)


def spells(alike: Sequence[Spell], bed: str, reader: Reader) -> str:
    """Why a place has no crop, or a slow one, where it is not the climate that keeps it out.

    alike: times of one plan in one state.
    """
    return words.say(
        f"bed-spell-{alike[0].state.replace('_', '-')}",
        reader,
        crop=words.name("crop", alike[0].crop),
        bed=bed,
        days=words.listed([days.span(one.first, one.last, reader) for one in alike], reader),
    )
