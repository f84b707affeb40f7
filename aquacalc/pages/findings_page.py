"""The findings, the most urgent first: what is the matter, why, what to do, what not to do."""

from aquacalc import words
from aquacalc.advice.finding import Finding
from aquacalc.pages.html import Html, element, join, level, paragraph, section
from aquacalc.pages.plan import Plan

QUIET = "fine"
"""A finding of this level is not printed: there is nothing to do."""


def page(plan: Plan) -> Html:
    """All findings that ask for something."""
    told = [_finding(plan, finding) for finding in plan.findings if finding.level != QUIET]
    if not told:
        return section(plan.say("findings-title"), paragraph(plan.say("check-no-findings")))
    return section(plan.say("findings-title"), told[0], *told[1:])


def _finding(plan: Plan, finding: Finding) -> Html:
    spoken = words.finding(finding, plan.reader)
    return element(
        "div",
        element("h3", level(finding.level, plan.reader), " ", spoken.title),
        paragraph(spoken.why),
        _led(plan, "finding-do", spoken.action),
        paragraph(spoken.avoid) if spoken.avoid else join(),
        class_="keep finding",
    )


def _led(plan: Plan, key: str, text: str) -> Html:
    return element("p", element("b", plan.say(key)), " ", text) if text else join()
