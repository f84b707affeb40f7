"""Last pages of the folder: what the numbers rest on, what they do not know, and where others decide."""

from collections import Counter

from aquacalc import tables, words
from aquacalc.pages import trail
from aquacalc.pages.html import Html, element, join, paragraph, section, twofold
from aquacalc.pages.plan import Plan
from aquacalc.sentences.trail import keys, text
from aquacalc.sizing.balance import triangles
from aquacalc.tables import Row

TITLE_LETTERS = 44
"""Letters of a title in the plan; whole titles stand in the list of the documents."""

CAUTIONS = ("power", "water", "load", "chemicals", "tap", "food", "ill", "medicine", "fish", "law", "fire")
LIMITS = ("band", "oxygen", "year", "growth", "plants", "kit", "season")


def cautions(plan: Plan) -> Html:
    """Where somebody can be hurt, and who decides there."""
    lines = twofold(
        [
            join(element("b", plan.say(f"care-{what}")), " ", plan.say(f"care-{what}-what"))
            for what in CAUTIONS
        ]
    )
    return section(plan.say("care-title"), paragraph(plan.say("care-first")), lines)


def limits(plan: Plan) -> Html:
    """What the plan does not know."""
    lines = [plan.say(f"limits-{what}") for what in LIMITS]
    # The heading stays with the first row; a page may end after it.
    return section(plan.say("limits-title"), twofold(lines[:2]), twofold(lines[2:]))


def sources(plan: Plan) -> Html:
    """How well the uncertain values are known, and the texts behind the whole plan."""
    counted = Counter(row.text("mark") for row in coefficients(plan))
    known = words.listed(
        [plan.say(f"mark-{mark}", count=str(counted[mark])) for mark in tables.MARKS if counted[mark]],
        plan.reader,
    )
    rows = [tables.load("sources").row(key) for key in keys(trail.cited(plan))]
    texts = [element("span", text(row, plan.reader, TITLE_LETTERS), id=trail.anchor(row.key)) for row in rows]
    return section(
        plan.say("sources-title"),
        paragraph(plan.say("sources-known", total=str(counted.total()), known=known)),
        paragraph(plan.say("sources-texts")),
        element("p", *(join(one, " ") for one in texts), class_="texts"),
    )


def coefficients(plan: Plan) -> list[Row]:
    """Rows of the uncertain values that this garden's balance was drawn from."""
    table = tables.load("coefficients")
    drawn = triangles(plan.garden)
    return [row for row in table if row.key in drawn]
