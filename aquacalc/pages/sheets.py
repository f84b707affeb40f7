"""Everything that is printed, by name, in the order of the pages: first the folder, then the wall."""

from collections.abc import Callable
from types import MappingProxyType

from aquacalc.pages import trail
from aquacalc.pages.folder import (
    costs,
    differences_page,
    facts,
    findings_page,
    first_page,
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
from aquacalc.pages.html import ON_SCREEN, Html, anchored, element, join
from aquacalc.pages.plan import Plan
from aquacalc.pages.wall import (
    ammonia_table,
    cards,
    doses,
    emergency,
    records,
    routine,
    startup_sheet,
    supplements,
    this_month,
    top_up,
)

FOLDER: MappingProxyType[str, Callable[[Plan], Html]] = MappingProxyType(
    {
        "answer": first_page.page,
        "glance": glance.page,
        "sowing": sowing.page,
        "differences": differences_page.page,
        "fish": fish_page.page,
        "water": water_page.page,
        "year": year.picture,
        "figures": year.figures,
        "loop": year.loop,
        "facts": facts.facts,
        "costs": costs.page,
        "shopping": shopping.page,
        "findings": findings_page.page,
        "rules": rules.page,
        "cautions": sources.cautions,
        "limits": sources.limits,
        "narrowest": year.narrowest,
        "wishes": wishes_page.page,
        "contents": facts.contents,
        "assumed": facts.assumed,
        "sources": sources.sources,
    }
)
"""Parts of the folder; those after `limits` are for the screen, where there is room for all that stands
behind the pages."""

WALL: MappingProxyType[str, Callable[[Plan], Html]] = MappingProxyType(
    {
        "emergency": emergency.card,
        "holiday": cards.holiday,
        "hygiene": cards.hygiene,
        "ammonia": ammonia_table.page,
        "tests": routine.page,
        "doses": doses.page,
        "supplements": supplements.page,
        "topping_up": top_up.page,
        "start_up": startup_sheet.sheets,
        "tick": records.tick_sheet,
        "weekly": records.weekly_sheet,
        "months": this_month.sheets,
    }
)
"""Sheets for the wall, each on a page of its own, at most ten and those of the months. `months`: none without
a season; `start_up`: two, none for a garden that runs, which has `tick` and `weekly` to write on instead."""


def folder(plan: Plan, *names: str, printed: bool = True) -> Html:
    """Parts of the folder by name, on a page of their own; all parts without a name.

    printed: whether they are printed, or shown on a screen only.
    """
    parts = (
        join(part, trail.of_part(name, plan))
        for name in names or FOLDER
        if (part := anchored(FOLDER[name](plan), f"folder-{name}"))
    )
    return element("section", *parts, class_="folder" if printed else f"folder {ON_SCREEN}")


def wall(plan: Plan, *names: str) -> Html:
    """Sheets for the wall by name; all of them without a name."""
    parts = (
        join(part, trail.of_sheet(name, plan))
        for name in names or WALL
        if (part := anchored(WALL[name](plan), f"wall-{name}"))
    )
    return join(*parts)
