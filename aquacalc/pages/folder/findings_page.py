"""The findings, the most urgent first: what is the matter, why, what to do, what not to do."""

from aquacalc import words
from aquacalc.advice.finding import Finding
from aquacalc.advice.trail import of_finding
from aquacalc.pages import trail
from aquacalc.pages.html import Html, element, join, level, listing, paragraph, section
from aquacalc.pages.plan import Plan

QUIET = "fine"
"""A finding of this level is not printed: there is nothing to do."""

MOST_IN_FULL, LEAST_IN_FULL = 14, 8
"""What is urgent is told with why and what to do, up to the first number; of the rest so many that the second
is reached. All others are told by their titles and what to do."""

URGENT = ("emergency", "act today")


def asks(plan: Plan) -> list[Finding]:
    """The findings that ask for something, the most urgent first."""
    return [finding for finding in plan.findings if finding.level != QUIET]


def page(plan: Plan) -> Html:
    """All findings that ask for something."""
    told = asks(plan)
    if not told:
        return section(plan.say("findings-title"), paragraph(plan.say("check-no-findings")))
    count = in_full(told)
    full = [_finding(plan, finding) for finding in told[:count]]
    return section(plan.say("findings-title"), *full, _titles(plan, told[count:]))


def in_full(told: list[Finding]) -> int:
    """How many of the findings, the most urgent first, are told in full."""
    urgent = sum(finding.level in URGENT for finding in told)
    return min(max(urgent, LEAST_IN_FULL), MOST_IN_FULL)


def title(plan: Plan, finding: Finding) -> Html:
    """A finding in one line: its level and its title."""
    return join(level(finding.level, plan.reader), " ", words.finding(finding, plan.reader).title)


def _titles(plan: Plan, rest: list[Finding]) -> Html:
    if not rest:
        return Html("")
    return join(
        element("h3", plan.say("findings-rest")),
        listing((_short(plan, finding) for finding in rest), "plain"),
    )


def _short(plan: Plan, finding: Finding) -> Html:
    """A finding by its title and what to do."""
    action = words.finding(finding, plan.reader).action
    do = join(" ", element("b", plan.say("finding-do")), " ", action) if action else ""
    return join(title(plan, finding), do)


def _finding(plan: Plan, finding: Finding) -> Html:
    spoken = words.finding(finding, plan.reader)
    return element(
        "div",
        element("h3", level(finding.level, plan.reader), " ", spoken.title),
        paragraph(spoken.why),
        _led(plan, "finding-do", spoken.action),
        element("p", spoken.avoid, " ", trail.short(of_finding(finding), plan.reader)),
        class_="keep finding",
    )


def _led(plan: Plan, key: str, text: str) -> Html:
    return element("p", element("b", plan.say(key)), " ", text) if text else join()
