"""What the sheets of a workshop are made from, and how they look."""

from collections.abc import Sequence
from dataclasses import dataclass

from aquacalc import tables
from aquacalc.pages import style
from aquacalc.pages.html import Html, element, paragraph
from aquacalc.pages.plan import Plan
from aquacalc.pages.style import Paper
from aquacalc.workshop.audience import YOUNG, Audience
from aquacalc.workshop.exercises import Exercise

RULES = tables.DATA / "report" / "workshop.css"


@dataclass(frozen=True)
class Kit:
    """A garden's plan, whom the workshop is for, how many come, and the exercises that were drawn.

    lacking: sections of the garden file for which an example stands in, `fish` or `bed`.
    """

    plan: Plan
    audience: Audience
    people: int
    seed: int
    exercises: tuple[Exercise, ...]
    lacking: tuple[str, ...] = ()

    @property
    def young(self) -> bool:
        """Whether nothing may dose what burns, or kill."""
        return self.audience in YOUNG


def document(title: str, sheets: Sequence[Html], language: str, paper: Paper, foot: str) -> str:
    """Sheets as one file that needs nothing beside it."""
    rules = (style.style(), style.paper_rules(paper, foot), RULES.read_text("utf-8"))
    head = element(
        "head",
        Html('<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'),
        element("title", title),
        *(element("style", Html(one)) for one in rules),
    )
    body = element("body", element("main", *sheets, class_="workshop"))
    return f"<!doctype html>\n{element('html', head, body, lang=language)}\n"


def written(text: str, lines: int = 1) -> Html:
    """Words with room to write beside them, or lines of their own beneath."""
    rules = (element("div", "", class_="rule") for _ in range(lines))
    return element("div", paragraph(text), *rules, class_="keep")
