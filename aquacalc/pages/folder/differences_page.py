"""What was done otherwise than planned, as the log tells it."""

from datetime import date

from aquacalc import words
from aquacalc.logbook.today import Difference
from aquacalc.pages.html import Html, join, listing, paragraph, section, shortened
from aquacalc.pages.plan import Plan

NAME_LETTERS = 40


def page(plan: Plan) -> Html:
    """The differences, the oldest first; nothing where there are none."""
    if not plan.differences:
        return Html("")
    lines = listing(sentence(plan, one) for one in plan.differences)
    return section(plan.say("differences-title"), join(paragraph(plan.say("differences-how")), lines))


def sentence(plan: Plan, one: Difference) -> str:
    """One difference: what was planned, what was done."""
    return plan.say(
        f"difference-{one.key.replace('_', '-')}",
        subject=shortened(one.subject, NAME_LETTERS),
        day=words.date(one.day, plan.reader),
        planned=_said(plan, one.planned),
        done=_said(plan, one.done),
    )


def _said(plan: Plan, value: date | int) -> str:
    return words.date(value, plan.reader) if isinstance(value, date) else words.number(value, digits=9)
