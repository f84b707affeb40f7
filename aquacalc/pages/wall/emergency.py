"""The emergency card: one sheet, folded to two A5 faces. What to do first, and how long there is."""

from collections.abc import Sequence

from aquacalc import words
from aquacalc.advice.finding import changes_of_water
from aquacalc.agenda import doses as shelf
from aquacalc.judge import sizes, temperature
from aquacalc.pages.html import Html, blank, element, join, paragraph
from aquacalc.pages.plan import Plan, stamp
from aquacalc.pages.wall import doses

STEPS = ("first", "hour", "avoid")
"""First five minutes, next hour, what not to do."""
BACKUPS = {"none": "", "battery air": "battery", "generator": "generator", "oxygen": "oxygen"}
"""What a garden has against a power cut, as the first step tells it."""


def card(plan: Plan) -> Html:
    """Both faces side by side on one sheet."""
    faces = element("div", _people_and_air(plan), _water(plan), class_="turned")
    return element("section", faces, class_="sheet card")


def _people_and_air(plan: Plan) -> Html:
    """First face: people, power cut, gasping, leak."""
    return element(
        "div",
        element("h1", plan.say("emergency-title")),
        stamp(plan),
        element("h2", plan.say("emergency-people"), class_="emergency"),
        *(paragraph(plan.say(f"emergency-people-{what}")) for what in ("shock", "child", "splash")),
        *_school(plan),
        _blanks(plan, ("ambulance", "poison")),
        element("div", plan.say("emergency-call-address"), " ", blank("long"), class_="address"),
        _power(plan),
        element("h2", plan.say("emergency-gasping")),
        _steps(plan, "gasping", **_changes(plan)),
        element("h2", plan.say("emergency-leak")),
        _steps(plan, "leak", own="battery" if _battery(plan) else ""),
        class_="face",
    )


def _school(plan: Plan) -> list[Html]:
    """What in a school only adults do."""
    if plan.garden.site.setting != "school":
        return []
    return [element("p", element("b", plan.say("emergency-people-school")))]


def _battery(plan: Plan) -> bool:
    return plan.garden.power.backup == "battery air"


def _power(plan: Plan) -> Html:
    outage, own = plan.balance.outage, BACKUPS[plan.garden.power.backup]
    if outage is None:
        return join(element("h2", plan.say("emergency-power")), _steps(plan, "power", own=own))
    danger = plan.say(
        "emergency-power-danger",
        danger=words.span(float(outage.danger_h.low), float(outage.danger_h.high), "time", plan.reader),
        month=words.month(outage.month, plan.reader),
    )
    figure = element("div", plan.quantity(outage.response_h, "time"), class_="figure")
    return join(
        element("div", element("h2", plan.say("emergency-power-time")), figure, class_="clock"),
        paragraph(danger),
        _steps(plan, "power", own=own),
    )


def _water(plan: Plan) -> Html:
    """Second face: chlorine, ammonia or nitrite, low pH, heat, cold, and whom to call."""
    warm, cold = temperature.stress_c(plan.species), temperature.no_feed_below_c(plan.species)
    stop = temperature.no_feed_from_c(plan.species)
    rate = plan.quantity(sizes.SLOWLY_K_H, "temperature_difference")
    lethal = temperature.lowest_c(plan.species)
    return element(
        "div",
        _trouble(plan, "chlorine", _dechlorinate(plan)),
        element("h2", plan.say("emergency-ammonia")),
        _steps(plan, "ammonia", **_changes(plan)),
        _trouble(plan, "ph"),
        element("h2", plan.say("emergency-heat-from", limit=plan.quantity(warm, "temperature"))),
        _steps(plan, "heat", rate=rate, stop=plan.quantity(stop, "temperature")),
        element(
            "h2",
            plan.say(
                "emergency-cold-from",
                limit=plan.quantity(cold, "temperature"),
                lethal=plan.quantity(lethal, "temperature"),
            ),
        ),
        _steps(plan, "cold", rate=rate),
        element("h2", plan.say("emergency-call")),
        _blanks(
            plan,
            (
                *("keyholder", "vet", "electricity", "water", "switch", "valve", "treated"),
                *(("air",) if _battery(plan) else ()),
            ),
        ),
        class_="face",
    )


def _dechlorinate(plan: Plan) -> str:
    """The grams of the dechlorinator on the shelf; what to do where there is none."""
    on_shelf = shelf.of_kind(plan.garden, "dechlorinator")
    if not on_shelf or plan.garden.top_up.chlorine_max_mg_l <= 0.0:
        return plan.say("emergency-chlorine-none")
    line = shelf.dechlorinator(plan.garden, on_shelf[0])
    return plan.say(
        "emergency-chlorine-dose",
        name=doses.short_name(line.product),
        dose=doses.weighed(plan, line.step_g, line.product),
        volume=plan.quantity(line.water_l, "volume"),
    )


def _changes(plan: Plan) -> dict[str, str]:
    return {one.name: words.amount(one, plan.reader) for one in changes_of_water()}


def _trouble(plan: Plan, what: str, more: str = "") -> Html:
    return join(element("h2", plan.say(f"emergency-{what}")), _steps(plan, what, more))


def _steps(plan: Plan, what: str, more: str = "", own: str = "", **amounts: str) -> Html:
    """The three steps; own: what this garden has for the first of them, where they differ."""
    texts = {step: plan.say(f"emergency-{what}-{step}", **amounts) for step in STEPS[1:]}
    first = f"emergency-{what}-{STEPS[0]}"
    texts[STEPS[0]] = plan.say(f"{first}-{own}" if own else first, **amounts)
    if more:
        texts["first"] = f"{texts['first']} {more}"
    return join(
        *(element("p", element("b", plan.say(f"emergency-step-{step}")), " ", texts[step]) for step in STEPS)
    )


def _blanks(plan: Plan, names: Sequence[str]) -> Html:
    return element(
        "div",
        *(element("div", plan.say(f"emergency-call-{name}"), " ", blank()) for name in names),
        class_="call",
    )
