"""The start-up sheet: dates to expect, what a reading calls for, boxes for tests, the challenge, stop signs.

Two sheets for the wall. No date on them orders a dose.
"""

from __future__ import annotations

import base64
from datetime import date
from functools import lru_cache

from aquacalc import __version__, words
from aquacalc.garden.model import Garden
from aquacalc.judge import sizes
from aquacalc.logbook.log import Log
from aquacalc.pages import kit as kit_page
from aquacalc.pages import startup, startup_doses, style
from aquacalc.pages.html import (
    STAMP_LETTERS,
    Html,
    element,
    join,
    listing,
    paragraph,
    shortened,
    table,
)
from aquacalc.pages.plan import Plan
from aquacalc.pages.startup import Made
from aquacalc.startup import doses, first_feed, new_fish, plan
from aquacalc.startup.plan import StartUp

LOOKS = 14
"""Days to look for which the sheet has boxes: four weeks."""
TESTS = ("temperature", "ph", "tan", "nitrite", "alkalinity")
NOT_ASKED = "/"
NAME_LETTERS = 24


def sheets(of: Plan) -> Html:
    """The sheets of a garden that is new; nothing for one that runs."""
    made = made_of(of)
    if made is None:
        return Html("")
    return both(made, of.made)


def made_of(of: Plan) -> Made | None:
    """The start-up of a plan's garden with its first fish; None for a garden that runs."""
    if of.garden.start_up.state != "new":
        return None
    start = worked_out(of.garden, of.log)
    first = plan.first_of(start, of.garden, plan.carried_kg(of.balance))
    return Made(of.garden, start, of.reader, first)


@lru_cache(maxsize=4)
def worked_out(garden: Garden, log: Log | None = None) -> StartUp:
    """The start-up of a garden with its log; kept, because folder and wall ask for it alike."""
    return plan.of_garden(garden, log)


def both(made: Made, day: date) -> Html:
    """Both sheets."""
    return join(_first(made, day), _second(made, day))


def document(made: Made, day: date) -> str:
    """The sheets as a page of its own, which needs nothing beside it."""
    title = made.say("startup-sheet-title")
    rules = style.STYLE.read_text("utf-8") + style.paper_rules(style.paper_of(made.reader), title)
    head = element(
        "head", Html('<meta charset="utf-8">'), element("title", title), element("style", Html(rules))
    )
    body = element("body", both(made, day))
    return f"<!doctype html>\n{element('html', head, body, lang=made.reader.language)}\n"


def link(made: Made, day: date) -> Html:
    """A link that saves the sheets from a notebook; they travel inside the link."""
    coded = base64.b64encode(document(made, day).encode("utf-8")).decode("ascii")
    return element(
        "a",
        made.say("startup-sheet-save"),
        href=f"data:text/html;charset=utf-8;base64,{coded}",
        download="start-up-sheet.html",
        style="text-decoration:underline;line-height:44px",
    )


# --- first sheet: what to expect, what a reading calls for -------------------------------------------------


def _first(made: Made, day: date) -> Html:
    return element(
        "section",
        element("h1", made.say("startup-sheet-title")),
        _stamp(made, day),
        paragraph(made.say("startup-sheet-called")),
        element("h2", made.say("startup-sheet-dates")),
        startup.dates(made, ours=True),
        element("h2", made.say("startup-doses-title")),
        paragraph(startup_doses.doses_how(made)),
        *startup_doses.dose_tables(made),
        listing(startup_doses.dose_notes(made)),
        *_not_today(made),
        element("h2", made.say("startup-sheet-stop")),
        listing(stop_signs(made)),
        class_="sheet startup",
    )


def _not_today(made: Made) -> list[Html]:
    found = startup_doses.not_today(made)
    return [element("h2", made.say("startup-doses-none-title")), listing(found)] if found else []


def stop_signs(made: Made) -> list[str]:
    """When to do nothing further but this."""
    most = words.number(doses.MOST_TAN_MG_L)
    return [
        made.say("startup-sheet-stop-1", most=most, share=made.quantity(sizes.MOST_SHARE, "share")),
        made.say("startup-sheet-stop-2"),
        made.say("startup-sheet-stop-3"),
        made.say("startup-sheet-stop-4"),
    ]


def _stamp(made: Made, day: date) -> Html:
    name = shortened(made.garden.name, STAMP_LETTERS)
    written = words.date(day, made.reader)
    return paragraph(made.say("page-stamp", garden=name, made=written, version=__version__), "stamp")


# --- second sheet: boxes, the challenge, the fish ----------------------------------------------------------


def _second(made: Made, day: date) -> Html:
    return element(
        "section",
        element("h1", made.say("startup-sheet-tests")),
        _stamp(made, day),
        paragraph(made.say("startup-sheet-tests-how")),
        boxes(made),
        element("h2", made.say("startup-sheet-challenge")),
        listing(challenge(made)),
        element("h2", made.say("startup-sheet-fish")),
        listing(fish(made)),
        class_="sheet startup",
    )


def boxes(made: Made) -> Html:
    """A row for each day to look, with boxes for what is tested on it."""
    head = [made.say("startup-sheet-day"), *(_headed(made, one) for one in TESTS)]
    rows = [
        (
            words.day(look.day, made.reader),
            *("" if one in look.tests else NOT_ASKED for one in TESTS),
            "",
        )
        for look in plan.looks(made.start, LOOKS)
    ]
    return table([*head, made.say("startup-sheet-given")], rows, "write tests boxes")


def _headed(made: Made, parameter: str) -> str:
    name = made.say(f"record-{parameter}") if parameter != "temperature" else ""
    unit = (
        words.unit("temperature", made.reader)
        if parameter == "temperature"
        else kit_page.label(made.scale(parameter))
    )
    return f"{name} {unit}".strip()


def challenge(made: Made) -> list[str]:
    """How a filter proves what it carries."""
    return [
        made.say("startup-sheet-challenge-1", tan=words.number(first_feed.CHALLENGE_TAN_MG_L)),
        made.say("startup-sheet-challenge-2", clear=words.number(first_feed.PASSED_MG_L)),
        made.say("startup-sheet-challenge-3"),
        made.say("startup-sheet-challenge-4"),
    ]


def fish(made: Made) -> list[str]:
    """How many fish first, what they get, how they come in."""
    reader = made.reader

    def warmer(value: float) -> str:
        return made.quantity(value, "temperature_difference")

    rest = [
        made.say(
            "startup-sheet-fish-in",
            near=warmer(new_fish.MATCHED_K),
            step=warmer(new_fish.BAG_K_PER_10_MIN),
            day=warmer(new_fish.FIRST_DAY_K),
        ),
        made.say("startup-sheet-fish-apart"),
        made.say("startup-sheet-fish-rules"),
    ]
    first = made.first
    if first is None or first.batch is None or first.fish is None:
        return rest
    texts = [
        made.say(
            "startup-sheet-fish-count",
            count=str(first.fish.count),
            weight=made.quantity(first.batch.weight_g, "fish_weight"),
            kg=made.quantity(first.fish.kg, "biomass"),
            planned=str(first.batch.count),
        )
        + " "
        + made.say(f"startup-sheet-fish-bound-{first.fish.bound_by.replace(' ', '-')}"),
    ]
    given = [one for one in first.feed_g_day if one > 0.0]
    if given:
        amounts = words.listed([made.quantity(one, "dose") for one in given], reader)
        at_first = made.quantity(first.first_g_day, "dose")
        texts.append(made.say("startup-sheet-fish-feed", feed=amounts, first=at_first))
    if first.fish.companions > 1:
        texts.append(made.say("startup-sheet-fish-companions", count=str(first.fish.companions)))
    return [*texts, *rest]
