"""The entries of a season in sentences: what to do, how, and what an absence has to do with it.

No entry orders a chemical: where one may be wanted, it is a test first, and what the test says.
"""

import math

from aquacalc import fish, words
from aquacalc.agenda.jobs import Entry
from aquacalc.garden.model import Garden
from aquacalc.season.rules import FOOD_TO_NITRITE_MG_L
from aquacalc.sentences import counts, days, spoons
from aquacalc.words import Reader

WITH_HOW = (
    "stock",
    "take",
    "filter_food",
    "test",
    "feed",
    "bag",
    "of_size",
    "supplement",
    "change",
    "other_water",
    "visit",
)
"""Keys of entries that say more than one sentence."""


LINES = {"base": "ph", "filter_food": "nitrogen"}
"""Kinds of reading by which something is given, where it is not the element itself."""


def what(entry: Entry, garden: Garden, reader: Reader) -> str:
    """What an entry asks for, in one sentence."""
    return words.say(f"task-{kind(entry)}", reader, **_amounts(entry, garden, reader))


def more(entry: Entry, garden: Garden, reader: Reader) -> list[str]:
    """What else there is to say: how it is done, from when it was moved, who is there."""
    said = []
    if entry.key in WITH_HOW:
        said.append(words.say(f"task-how-{kind(entry)}", reader, **_amounts(entry, garden, reader)))
    if entry.span is not None and entry.span.spread and entry.day == entry.last:
        span = days.span(entry.span.first, entry.span.last, reader)
        said.append(words.say("task-span", reader, days=span))
    if entry.moved_from is not None:
        said.append(words.say("task-moved", reader, day=words.date(entry.moved_from, reader)))
    if entry.away:
        said.append(words.say("task-away", reader, who=entry.away))
    elif entry.away is not None:
        said.append(words.say("task-nobody", reader))
    return said


def kind(entry: Entry) -> str:
    """By what an entry's texts are called: fish that wait for tests, or leave for their lives, have their
    own."""
    if entry.waits:
        return f"{entry.key}-wait"
    if entry.key == "supplement":
        return f"{entry.key}-{entry.subject}"
    if entry.why:
        return f"{entry.key}-{entry.why}"
    if entry.key == "visit" and not entry.subject:
        return "visit-nobody"
    return entry.key.replace("_", "-")


def _amounts(entry: Entry, garden: Garden, reader: Reader) -> dict[str, str]:
    """Every amount that a sentence may ask for."""
    amounts = {
        "subject": words.name("crop", entry.subject) if entry.of_crop else entry.subject,
        "place": entry.place,
        "count": ""
        if math.isnan(entry.count)
        else counts.counted(entry.count, entry.count_low, entry.count_high, reader),
        "day": words.date(entry.day, reader),
        "until": words.date(entry.last, reader),
        "when": _when(entry, reader),
        "sheet": words.say("dose-title", reader),
    }
    if entry.key in ("feed", "bag"):
        amounts |= _feed(entry, reader)
    elif entry.key in ("filter_food", "supplement"):
        amounts |= _given(entry, reader)
    elif entry.key == "change":
        amounts |= _changed(entry, reader)
    elif entry.key == "other_water":
        amounts |= _other_water(entry, reader)
    elif entry.key in ("feed_stop", "feed_again"):
        amounts["range"] = _fed_between(entry, garden, reader)
    elif not math.isnan(entry.low_g):
        amounts["weight"] = words.span(entry.low_g, entry.high_g, "mass", reader)
    elif not math.isnan(entry.grams):
        amounts["weight"] = words.quantity(entry.grams, "mass", reader)
    return amounts


def _when(entry: Entry, reader: Reader) -> str:
    start, end = words.date(entry.day, reader), words.date(entry.last, reader)
    if start == end:
        return words.say("task-on", reader, day=start)
    return words.say("task-between", reader, start=start, end=end)


def _feed(entry: Entry, reader: Reader) -> dict[str, str]:
    return {
        "grams": words.quantity(entry.grams, "feed", reader),
        "measure": spoons.fed(entry.spoons, reader),
        "spoon": words.quantity(entry.spoon_g, "dose", reader),
    }


def _given(entry: Entry, reader: Reader) -> dict[str, str]:
    """From which reading on something is given, and up to which."""
    kind = LINES.get(entry.subject or entry.key, "concentration")
    return {
        "under": words.quantity(entry.under, kind, reader),
        "to": words.quantity(entry.to, kind, reader),
        "nitrite": words.quantity(FOOD_TO_NITRITE_MG_L, "nitrogen", reader),
    }


def _changed(entry: Entry, reader: Reader) -> dict[str, str]:
    """Above how much nitrate how much water is changed, and what is done with the new one first."""
    return {
        "above": words.quantity(entry.under, "nitrogen", reader),
        "litres": words.quantity(entry.high_l, "volume", reader),
        "treated": words.say(f"task-change-{entry.subject.replace(' ', '-')}", reader),
    }


def _other_water(entry: Entry, reader: Reader) -> dict[str, str]:
    assert entry.during is not None
    return {
        "days": days.span(*entry.during, reader),
        "missing": words.span(entry.low_l, entry.high_l, "volume", reader),
    }


def _fed_between(entry: Entry, garden: Garden, reader: Reader) -> str:
    batch = next(one for one in garden.fish if one.name == entry.subject)
    species = fish.species(batch.species)
    low, high = species.corners.feed_stop_low_c, species.no_feed_from_c
    return words.span(low, high, "temperature", reader, digits=3)
