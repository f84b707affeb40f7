"""Exercises to hand out, the answers apart from them, and one question a screen."""

from collections.abc import Iterator

from aquacalc import words
from aquacalc.advice.finding import Amount
from aquacalc.pages.html import Html, element, paragraph
from aquacalc.pages.plan import sheet
from aquacalc.pages.workshop.kit import Kit
from aquacalc.words import Reader
from aquacalc.workshop.exercises import Exercise

DIGITS = 3
"""What people work out by hand is compared with the sheet: one digit more than is known of a garden."""
AS_IT_IS = ("number", "text", "limit", "month")


def amount(of: Amount, reader: Reader) -> str:
    """An amount of an exercise as text."""
    if of.kind in AS_IT_IS:
        return words.amount(of, reader)
    return words.quantity(of.number, of.kind, reader, DIGITS)


def asked(of: Exercise, reader: Reader) -> str:
    """What is asked."""
    amounts = {one.name: amount(one, reader) for one in of.amounts if one.name != "units"}
    return words.say(f"exercise-{of.key}-ask", reader, **amounts)


def working(of: Exercise, reader: Reader) -> str:
    """How it is worked."""
    amounts = {one.name: amount(one, reader) for one in (*of.amounts, *of.steps, of.answer)}
    return words.say(f"exercise-{of.key}-working", reader, **amounts)


def _lessons(kit: Kit) -> Iterator[tuple[str, list[tuple[int, Exercise]]]]:
    """Exercises by lesson, numbered through."""
    counted = list(enumerate(kit.exercises, 1))
    for lesson in dict.fromkeys(one.lesson for one in kit.exercises):
        yield lesson, [(number, one) for number, one in counted if one.lesson == lesson]


def questions(kit: Kit) -> list[Html]:
    """A sheet for each lesson."""
    plan, reader = kit.plan, kit.plan.reader
    how = plan.say("exercise-how", garden=plan.name(), seed=str(kit.seed))
    sheets = []
    for lesson, found in _lessons(kit):
        blocks = (
            element(
                "div",
                paragraph(f"{plan.say('exercise-number', number=str(number))} {asked(one, reader)}"),
                element("div", "", class_="rule"),
                element("div", plan.say("exercise-answer-line"), class_="rule"),
                class_="exercise",
            )
            for number, one in found
        )
        title = plan.say("exercise-title", meeting=plan.say(f"lesson-{lesson}"))
        sheets.append(sheet(plan, title, paragraph(how), *blocks))
    return sheets


def answers(kit: Kit) -> list[Html]:
    """All answers with their working."""
    plan, reader = kit.plan, kit.plan.reader
    parts = [paragraph(plan.say("exercise-how-answers"))]
    for lesson, found in _lessons(kit):
        parts.append(element("h2", plan.say(f"lesson-{lesson}")))
        for number, one in found:
            head = element(
                "b", plan.say("exercise-number", number=str(number)), " ", amount(one.answer, reader)
            )
            parts.append(element("div", paragraph(head), paragraph(working(one, reader)), class_="answer"))
    return [sheet(plan, plan.say("exercise-title-answers"), *parts, class_="close")]


def screens(kit: Kit) -> list[Html]:
    """One question a screen, its answer behind a word that is tapped."""
    plan, reader = kit.plan, kit.plan.reader
    return [
        element(
            "section",
            element(
                "h2", plan.say("exercise-number", number=str(number)), " ", plan.say(f"lesson-{one.lesson}")
            ),
            paragraph(asked(one, reader)),
            element(
                "details",
                element("summary", plan.say("exercise-screen-more")),
                paragraph(amount(one.answer, reader)),
            ),
            class_="screen",
        )
        for number, one in enumerate(kit.exercises, 1)
    ]
