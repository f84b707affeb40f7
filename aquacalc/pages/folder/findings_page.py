"""The findings, the most urgent first: what is the matter, why, what to do, what not to do.

On paper a thing is said once and shortly; on a screen each finding has its reasons and its sources.
"""

from collections.abc import Iterable

from aquacalc import words
from aquacalc.advice.finding import Finding
from aquacalc.advice.trail import of_finding
from aquacalc.pages import trail
from aquacalc.pages.html import ON_SCREEN, Html, element, join, level, listing, paragraph, section
from aquacalc.pages.plan import Plan

QUIET = "fine"
"""A finding of this level is not printed: there is nothing to do."""

URGENT = ("emergency", "act today")
MOST_FIRST = 6
"""Findings that have room on the first page."""
OF_SEASON = "season"
"""Part of the key of findings that come from the days of the season, not from the months of the balance."""


def asks(plan: Plan) -> list[Finding]:
    """The findings that ask for something, the most urgent first."""
    return [finding for finding in plan.findings if finding.level != QUIET]


def printed(plan: Plan) -> list[Finding]:
    """Those that stand on paper: each has something to do, and a thing is said once.

    Where the season tells what the months of the balance tell too, and it is not urgent, its days are the
    better news; a thing that comes back later in the year is told by its first time.
    """
    told = [one for one in asks(plan) if words.finding(one, plan.reader).action]
    of_season = {_topic(one) for one in told if OF_SEASON in _parts(one)}
    once: dict[tuple[str, str], Finding] = {}
    for one in told:
        if one.level in URGENT or OF_SEASON in _parts(one) or _topic(one) not in of_season:
            once.setdefault((one.key, one.subject), one)
    return list(once.values())


def first(plan: Plan) -> list[Finding]:
    """The most urgent of what is printed: it stands on the first page, and on no other."""
    return [one for one in printed(plan) if one.level in URGENT][:MOST_FIRST]


def _parts(finding: Finding) -> list[str]:
    return finding.key.split("-")


def _topic(finding: Finding) -> str:
    """What it is about: the first word of its key after the room's own."""
    return _parts(finding)[1]


def page(plan: Plan) -> Html:
    """All findings that ask for something: in short for paper, whole for a screen."""
    told = asks(plan)
    if not told:
        return section(plan.say("findings-title"), paragraph(plan.say("check-no-findings")))
    return section(
        plan.say("findings-title"),
        paragraph(plan.say("findings-more"), "on-paper"),
        listing((short(plan, one) for one in printed(plan)[len(first(plan)) :]), "plain on-paper"),
        element("div", *_whole(plan, told), class_=ON_SCREEN),
    )


def title(plan: Plan, finding: Finding) -> Html:
    """A finding in one line: its level and its title."""
    return join(level(finding.level, plan.reader), " ", words.finding(finding, plan.reader).title)


def short(plan: Plan, finding: Finding) -> Html:
    """A finding by its title and what to do."""
    action = words.finding(finding, plan.reader).action
    do = join(" ", element("b", plan.say("finding-do")), " ", action) if action else ""
    return join(title(plan, finding), do)


def _whole(plan: Plan, told: Iterable[Finding]) -> list[Html]:
    return [_finding(plan, finding) for finding in told]


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
