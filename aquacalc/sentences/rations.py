"""Rations and bags in words: grams of a day, and spoons where a spoon measures them."""

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
    for one in visit.lines:
        given = one.start_up or one.grams > 0.0
        key = ("bag-line" if given else "bag-line-none") + ("-of" if several else "")
        when = days.span(one.first, one.last, reader)
        told.append(
            words.say(key, reader, batch=one.batch, tank=one.tank, days=when, amount=amount(one, reader))
        )
    return told
