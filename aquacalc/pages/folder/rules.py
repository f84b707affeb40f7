"""Local rules: questions for offices, with room for date and answer. The workbook never answers them."""

from collections.abc import Iterator

from aquacalc import words
from aquacalc.pages.html import Html, paragraph, section, shortened, table
from aquacalc.pages.plan import Plan

LETTERS = 140


def page(plan: Plan) -> Html:
    """The garden's own questions first, then those that its description raises."""
    head = [plan.say(f"rules-head-{name}") for name in ("question", "office", "asked", "answer")]
    own = [
        (
            shortened(rule.question, LETTERS),
            shortened(rule.office, LETTERS),
            words.date(rule.asked, plan.reader) if rule.asked else "",
            shortened(rule.answer, LETTERS),
        )
        for rule in plan.garden.rules
    ]
    raised = [
        (plan.say(f"rules-{key}", **names), plan.say(f"rules-{key}-office"), "", "")
        for key, names in _raised(plan)
    ]
    questions = table(head, [*own, *raised], "rules")
    return section(plan.say("rules-title"), paragraph(plan.say("rules-how")), questions)


def _raised(plan: Plan) -> Iterator[tuple[str, dict[str, str]]]:
    garden = plan.garden
    for species in dict.fromkeys(batch.species for batch in garden.fish):
        yield "fish", {"species": words.name("species", species)}
    yield "release", {}
    yield "power", {}
    if garden.top_up.source in ("mains", "mixed"):
        yield "backflow", {}
    if garden.rain.roof_m2 > 0.0 or garden.top_up.source in ("rain", "mixed"):
        yield "rain", {}
    if garden.site.upper_floor or garden.site.cover == "greenhouse":
        yield "structure", {}
    yield "pool", {}
    if garden.site.setting == "school":
        yield "school", {}
    yield "selling", {}
    if any(batch.eaten for batch in garden.fish):
        yield "killing", {}
