"""Everything that is printed, by name, in the order of the pages: first the folder, then the wall."""

from collections.abc import Callable
from types import MappingProxyType

from aquacalc.pages import (
    ammonia_table,
    cards,
    doses,
    emergency,
    facts,
    findings_page,
    records,
    routine,
    rules,
    shopping,
    sources,
    wishes_page,
    year,
)
from aquacalc.pages.html import Html, element, join
from aquacalc.pages.plan import Plan

FOLDER: MappingProxyType[str, Callable[[Plan], Html]] = MappingProxyType(
    {
        "answer": facts.answer,
        "year": year.picture,
        "figures": year.figures,
        "narrowest": year.narrowest,
        "loop": year.loop,
        "contents": facts.contents,
        "facts": facts.facts,
        "assumed": facts.assumed,
        "findings": findings_page.page,
        "wishes": wishes_page.page,
        "shopping": shopping.page,
        "rules": rules.page,
        "cautions": sources.cautions,
        "limits": sources.limits,
        "sources": sources.sources,
    }
)
"""Parts of the folder, which follow one another."""

WALL: MappingProxyType[str, Callable[[Plan], Html]] = MappingProxyType(
    {
        "emergency": emergency.card,
        "holiday": cards.holiday,
        "hygiene": cards.hygiene,
        "ammonia": ammonia_table.page,
        "tests": routine.page,
        "doses": doses.page,
        "tick": records.tick_sheet,
        "weekly": records.weekly_sheet,
    }
)
"""Sheets for the wall; each stands alone on a page."""


def folder(plan: Plan, *names: str) -> Html:
    """Parts of the folder by name, on pages of their own; all parts without a name."""
    return element("section", *(FOLDER[name](plan) for name in names or FOLDER), class_="folder")


def wall(plan: Plan, *names: str) -> Html:
    """Sheets for the wall by name; all of them without a name."""
    return join(*(WALL[name](plan) for name in names or WALL))
