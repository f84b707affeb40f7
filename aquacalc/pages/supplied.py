"""What the season gives the water, as every sheet prints it: by the season, and by an average week."""

from aquacalc.agenda.supplies import Supply, weekly, whole
from aquacalc.pages import bands
from aquacalc.pages.html import shortened
from aquacalc.pages.plan import Plan

NAME_LETTERS = 40


def name(one: Supply) -> str:
    """The product, short enough for a table."""
    return shortened(one.product.name, NAME_LETTERS)


def in_week(plan: Plan, one: Supply) -> str:
    """Name and grams of an average week."""
    amount = bands.span(weekly(one), "dose", plan.reader)
    return plan.say("water-base-product", name=name(one), amount=amount)


def grams(plan: Plan, one: Supply) -> str:
    """Grams of the whole season."""
    return bands.span(whole(one), "mass", plan.reader)
