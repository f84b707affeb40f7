"""Rations and bags in words: grams of a day, and spoons where a spoon measures them."""

from itertools import groupby

from aquacalc import words
from aquacalc.agenda.ration import Ration
from aquacalc.agenda.visits import Visit
from aquacalc.sentences import days, spoons
from aquacalc.words import Reader


def amount(one: Ration, reader: Reader) -> str:
    """A day's amount: grams with spoons behind, grams alone where it is weighed, or that there is no feed."""
    if one.start_up:
        return words.say("ration-start-up", reader)
    if not one.grams > 0.0:
        return words.say("ration-none", reader)
    grams = words.quantity(one.grams, "dose", reader)
    if not one.spoons > 0.0:
        return grams
    return words.say("ration-spoons", reader, grams=grams, spoons=spoons.fed(one.spoons, reader))


def bags(visit: Visit, several: bool, reader: Reader) -> list[str]:
    """The bags of an absence, a line for each tank and span of days.

    several: whether the garden has several batches, so that each line says whose it is.
    """
    told = []
    for (batch, tank, text), alike in groupby(
        visit.bags, key=lambda one: (one.batch, one.tank, amount(one, reader))
    ):
        spans = list(alike)
        first, last = max(spans[0].first, visit.start), min(spans[-1].last, visit.end)
        key = "bag-line-of" if several else "bag-line"
        when = days.span(first, last, reader)
        told.append(words.say(key, reader, batch=batch, tank=tank, days=when, amount=text))
    return told
