"""Last pages of the folder: what the numbers rest on, what they do not know, and where others decide."""

from collections import Counter
from collections.abc import Iterator

from aquacalc import tables, words
from aquacalc.pages.html import Html, element, join, paragraph, section, twofold
from aquacalc.pages.plan import Plan
from aquacalc.sizing.balance import triangles
from aquacalc.tables import Row

WITHOUT_TEXT = {"OWN", "TRADE"}
"""Keys that name no text: own reckoning and common practice."""

PRINTED = ("authors", "year", "title")
"""What is printed of a text; its publisher stands in the list of the documents."""
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
    lines = twofold([plan.say(f"limits-{what}") for what in LIMITS])
    return section(plan.say("limits-title"), lines)


def sources(plan: Plan) -> Html:
    """How well the uncertain values are known, and the texts behind them."""
    counted = Counter(row.text("mark") for row in coefficients(plan))
    known = words.listed(
        [plan.say(f"mark-{mark}", count=str(counted[mark])) for mark in tables.MARKS if counted[mark]],
        plan.reader,
    )
    rows = [tables.load("sources").row(key) for key in cited(plan)]
    return section(
        plan.say("sources-title"),
        paragraph(plan.say("sources-known", total=str(counted.total()), known=known)),
        twofold([_printed(row) for row in rows], "sources"),
    )


def coefficients(plan: Plan) -> list[Row]:
    """Rows of the uncertain values that this garden's balance was drawn from."""
    table = tables.load("coefficients")
    drawn = triangles(plan.garden)
    return [row for row in table if row.key in drawn]


def cited(plan: Plan) -> list[str]:
    """Keys of the texts behind the balance, its fish and crops, and its findings, each once, in order."""
    references = [*_references(plan), *(source for found in plan.findings for source in found.sources)]
    keys = {tables.source_key(reference) for reference in references}
    return sorted(keys - WITHOUT_TEXT)


def _references(plan: Plan) -> Iterator[str]:
    garden = plan.garden
    rows = [
        *coefficients(plan),
        *(tables.load("species").row(batch.species) for batch in garden.fish),
        *(tables.load("crops").row(crop.crop) for crop in garden.crops),
        *(tables.load("media").row(bed.medium) for bed in garden.beds if bed.medium),
        *(tables.load("chemicals").row(product.chemical) for product in garden.products),
        *tables.load("water_limits").rows,
    ]
    for row in rows:
        for column, cell in row.cells.items():
            if column.endswith("source"):
                yield from tables.parts(cell)


def _printed(row: Row) -> str:
    parts = [row.text(column).rstrip(".") for column in PRINTED]
    return f"{row.key}: {'. '.join(part for part in parts if part)}"
