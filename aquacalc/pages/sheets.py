"""Everything that is printed, by name, in the order of the pages: first the folder, then the wall."""

from collections.abc import Callable
from types import MappingProxyType

from aquacalc.pages import trail
from aquacalc.pages.folder import (
    costs,
    differences_page,
    facts,
    findings_page,
    fish_page,
    glance,
    rules,
    shopping,
    sources,
    sowing,
    water_page,
    wishes_page,
    year,
)
from aquacalc.pages.html import Html, anchored, element, join
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import (
    ammonia_table,
    cards,
    doses,
    emergency,
    records,
    routine,
    sowing_strip,
    startup_sheet,
    this_month,
    top_up,
)

FOLDER: MappingProxyType[str, Callable[[Plan], Html]] = MappingProxyType(
    {
        "answer": facts.answer,
        "year": year.picture,
        "glance": glance.page,
        "sowing": sowing.page,
        "fish": fish_page.page,
        "water": water_page.page,
        "costs": costs.page,
        "differences": differences_page.page,
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
        "topping_up": top_up.page,
        "start_up": startup_sheet.sheets,
        "tick": records.tick_sheet,
        "weekly": records.weekly_sheet,
        "sowing": sowing_strip.sheets,
        "months": this_month.sheets,
    }
)
"""Sheets for the wall, each on a page of its own. `sowing`, `months`: several, none without a season;
`start_up`: two, none for a garden that runs."""


def folder(plan: Plan, *names: str, follows: bool = False) -> Html:
    """Parts of the folder by name; all parts without a name.

    On pages of their own; with `follows` they go on where the parts before them end.
    """
    parts = (
        join(part, trail.of_part(name, plan))
        for name in names or FOLDER
        if (part := anchored(FOLDER[name](plan), f"folder-{name}"))
    )
    return element("section", *parts, class_="folder follows" if follows else "folder")


def wall(plan: Plan, *names: str) -> Html:
    """Sheets for the wall by name; all of them without a name."""
    parts = (
        join(part, trail.of_sheet(name, plan))
        for name in names or WALL
        if (part := anchored(WALL[name](plan), f"wall-{name}"))
    )
    return join(*parts)
