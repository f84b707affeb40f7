"""The entries of a season in sentences: what to do, how, and what an absence has to do with it.

No entry orders a chemical: where one may be wanted, it is a test first, and what the test says.
"""

import math

from aquacalc import fish, words
from aquacalc.garden.model import Garden
from aquacalc.harvest.tasks import Entry
from aquacalc.schedule import feed
from aquacalc.season import rules
from aquacalc.sentences import spoons
from aquacalc.words import Reader

WITH_HOW = ("stock", "take", "filter_food", "test", "feed", "feed_range", "of_size")
"""Keys of entries that say more than one sentence."""

MOST_SPOONS = 6.0
"""More than these are weighed, as in the dose table."""


def what(entry: Entry, garden: Garden, reader: Reader) -> str:
    """What an entry asks for, in one sentence."""
    return words.say(f"task-{entry.key.replace('_', '-')}", reader, **_amounts(entry, garden, reader))


def more(entry: Entry, garden: Garden, reader: Reader) -> list[str]:
    """What else there is to say: how it is done, from when it was moved, who is there."""
    said = []
    if entry.key in WITH_HOW:
        key = f"task-how-{entry.key.replace('_', '-')}"
        said.append(words.say(key, reader, **_amounts(entry, garden, reader)))
    if entry.moved_from is not None:
        said.append(words.say("task-moved", reader, day=words.date(entry.moved_from, reader)))
    if entry.away:
        said.append(words.say("task-away", reader, who=entry.away))
    elif entry.away is not None:
        said.append(words.say("task-nobody", reader))
    return said


def _amounts(entry: Entry, garden: Garden, reader: Reader) -> dict[str, str]:
    """Every amount that a sentence may ask for."""
    amounts = {
        "subject": words.name("crop", entry.subject) if entry.of_crop else entry.subject,
        "place": entry.place,
        "count": "" if math.isnan(entry.count) else words.quantity(entry.count, "count", reader),
        "when": _when(entry, reader),
        "sheet": words.say("dose-title", reader),
    }
    if entry.key in ("feed", "feed_range"):
        amounts |= _feed(entry, reader)
    elif entry.key == "filter_food":
        amounts |= _filter_food(garden, reader)
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
    if entry.key == "feed":
        grams = words.quantity(entry.grams, "feed", reader)
        measure = _measure(entry.grams, entry.grams, entry.spoon_g, reader)
    else:
        grams = words.span(entry.low_g, entry.high_g, "feed", reader)
        measure = _measure(entry.low_g, entry.high_g, entry.spoon_g, reader)
    spoon = words.quantity(entry.spoon_g, "dose", reader)
    return {"grams": grams, "measure": measure, "spoon": spoon}


def _measure(low_g: float, high_g: float, spoon_g: float, reader: Reader) -> str:
    """Feed in level spoons; the scales where it is too much to be counted, or too little."""
    low, high = (feed.in_spoons(grams, spoon_g) for grams in (low_g, high_g))
    if not 0.0 < high <= MOST_SPOONS:
        return words.say("task-scales", reader)
    ends = [spoons.counted(low), spoons.counted(high)]
    told = ends[1] if low == high else words.say("range", reader, low=ends[0], high=ends[1])
    return words.say("task-spoons", reader, spoons=told, n=1 if high <= 1.0 else 2)


def _filter_food(garden: Garden, reader: Reader) -> dict[str, str]:
    to = rules.FOOD_TAN_MG_L if garden.start_up.state == "new" else rules.WAKE_TAN_MG_L
    return {
        "tan": words.quantity(rules.FOOD_FROM_TAN_MG_L, "nitrogen", reader),
        "nitrite": words.quantity(rules.FOOD_TO_NITRITE_MG_L, "nitrogen", reader),
        "to": words.quantity(to, "nitrogen", reader),
    }


def _fed_between(entry: Entry, garden: Garden, reader: Reader) -> str:
    batch = next(one for one in garden.fish if one.name == entry.subject)
    species = fish.species(batch.species)
    low, high = species.corners.feed_stop_low_c, species.no_feed_from_c
    return words.span(low, high, "temperature", reader, digits=3)
