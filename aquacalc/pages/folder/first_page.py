"""The first page: what is wished, whether it balances, five dates, what must not be forgotten."""

from datetime import date

from aquacalc import words
from aquacalc.agenda.jobs import Entry
from aquacalc.pages import jobs
from aquacalc.pages.folder import findings_page, glance
from aquacalc.pages.html import Html, element, join, listing, paragraph, section, table
from aquacalc.pages.plan import Plan, stamp
from aquacalc.sentences import balance as sentences
from aquacalc.sentences import days

DATES = 5
DATED = ("stock", "take", "of_size", "other_water", "plant", "pick", "pick_once", "sow", "feed_stop")
"""Kinds of jobs, the most telling first: the first of each kind is a date of the page."""
PICKS = ("pick", "pick_once")
TITLE_LETTERS = 60


def page(plan: Plan) -> Html:
    """All of it, on one page."""
    reader, balance = plan.reader, plan.balance
    whole = plan.say(
        "plan-year",
        start=words.date(plan.garden.season.start, reader),
        end=words.date(plan.garden.season.end, reader),
    )
    invented = plan.say("plan-invented") if plan.garden.invented else ""
    told = (
        sentences.binding(balance, reader),
        sentences.better(balance, reader),
        sentences.outage(balance.outage, reader),
        sentences.first_year(balance, reader),
    )
    changes = sentences.changes(balance, reader)
    return join(
        element("h1", plan.say("plan-title", garden=plan.name(TITLE_LETTERS))),
        stamp(plan),
        paragraph(f"{whole} {invented}".strip()),
        section(plan.say("plan-goal"), paragraph(goal(plan)), _verdict(plan)),
        _dates(plan),
        _not_forgotten(plan),
        section(plan.say("plan-balances"), *map(paragraph, told)),
        section(plan.say("plan-change-first"), listing(changes)) if changes else "",
    )


def goal(plan: Plan) -> str:
    """What the garden file wishes, in one sentence."""
    wished = plan.wished
    parts = []
    if wished.crop is not None:
        heads = plan.quantity(wished.crop.heads_per_week, "heads_per_week")
        parts.append(plan.say("plan-goal-crop", heads=heads, crop=words.name("crop", wished.crop.crop)))
    if wished.fish is not None:
        count = words.number(wished.fish.fish_per_year, digits=9)
        parts.append(
            plan.say("plan-goal-fish", count=count, species=words.name("species", wished.fish.species))
        )
    if not parts:
        return plan.say("plan-goal-none")
    return plan.say("plan-goal-wished", wishes=words.listed(parts, plan.reader))


def _verdict(plan: Plan) -> Html:
    """What the year brings as the garden file has it."""
    if plan.season is None:
        return Html("")
    return paragraph(element("b", plan.say("plan-verdict", brings=glance.headline(plan, plan.season))))


def dates(plan: Plan) -> list[Entry]:
    """Five entries of the season that come first of their kind, in the order of their days."""
    found = jobs.entries(plan)
    firsts = [
        next((one for one in found if one.key == key and one.day >= _first(plan)), None) for key in DATED
    ]
    return sorted([one for one in firsts if one is not None][:DATES], key=lambda one: one.day)


def _first(plan: Plan) -> date:
    return plan.garden.season.start


def _dates(plan: Plan) -> Html:
    rows = [(element("b", days.span(one.day, one.last, plan.reader)), _job(plan, one)) for one in dates(plan)]
    return section(plan.say("plan-dates"), table(("", ""), rows, "dates-of-year")) if rows else Html("")


def _job(plan: Plan, one: Entry) -> str:
    told = jobs.sentence(one, plan)
    return plan.say("plan-date-pick", crop=told) if one.key in PICKS else told


def _not_forgotten(plan: Plan) -> Html:
    """What is urgent, with what to do; all else that was found stands on its own page."""
    lines = [findings_page.short(plan, one) for one in findings_page.first(plan)]
    if not lines:
        return section(plan.say("plan-not-forgotten"), paragraph(plan.say("plan-not-forgotten-none")))
    return section(plan.say("plan-not-forgotten"), listing(lines, "plain"))
