"""For whoever leads: the minutes, what to bring, the room and its risks, what people always ask."""

from collections.abc import Iterator

from aquacalc.pages.html import TICK_BOX, Html, blank, element, join, listing, paragraph, table
from aquacalc.pages.plan import sheet
from aquacalc.pages.workshop.kit import Kit
from aquacalc.workshop import hours
from aquacalc.workshop.audience import CLASSES, each_station, groups
from aquacalc.workshop.hours import Meeting

BY_AGE = ("litres-measure", "nitrogen-test", "feeding-weigh", "energy-count", "choice-weigh")
"""Steps in which classes of different ages do different things."""
EACH, GROUP, STATION, ONE = "each", "group", "station", "one"
MATERIALS = {
    "tape": GROUP,
    "bucket": STATION,
    "watch": GROUP,
    "kit": STATION,
    "scale": STATION,
    "spoon": GROUP,
    "seeds": STATION,
    "vinegar": STATION,
    "string": ONE,
    "gloves": ONE,
    "cloth": ONE,
    "pens": EACH,
    "handouts": EACH,
    "exercises": GROUP,
    "answers": ONE,
}
"""What is brought, and how many."""
RISKS = ("water", "power", "floor", "load", "drops", "germs", "allergy", "fish", "crowd", "help")
ASKED = ("fish", "cost", "start")
SIGNED = ("room", "exit", "first-aid", "name", "date", "hand")


def sheets(kit: Kit) -> list[Html]:
    """All sheets of whoever leads."""
    return [*(_hours(kit, one) for one in hours.meetings(kit.audience)), _materials(kit), _risks(kit)]


def _hours(kit: Kit, meeting: Meeting) -> Html:
    plan = kit.plan
    rows = [
        (
            plan.say("workshop-clock", begin=str(begin), end=str(end)),
            plan.say(f"meeting-{step.key}"),
            plan.say(_do(kit, step.key)),
        )
        for begin, end, step in meeting.clock()
    ]
    head = [plan.say(f"workshop-head-{one}") for one in ("clock", "lead", "do")]
    last = [end for _, end, _ in meeting.clock()][-1]
    return sheet(
        plan,
        plan.say("workshop-run-title", garden=plan.name(), meeting=plan.say(f"meeting-{meeting.key}")),
        paragraph(
            plan.say(
                "workshop-run-for",
                audience=plan.say(f"workshop-audience-{kit.audience}"),
                people=str(kit.people),
                groups=str(groups(kit.people)),
                minutes=str(last),
            )
        ),
        table(head, rows, "hours"),
        paragraph(plan.say("workshop-run-read")),
        class_="close",
    )


def _do(kit: Kit, step: str) -> str:
    own = kit.audience in CLASSES and step in BY_AGE
    return f"meeting-{step}-{kit.audience}" if own else f"meeting-{step}-do"


def _materials(kit: Kit) -> Html:
    plan, people = kit.plan, kit.people
    times = each_station(people)
    counts = {EACH: people, GROUP: groups(people), STATION: times, ONE: 1}
    rows = [(plan.say(f"material-{what}"), str(counts[each]), TICK_BOX) for what, each in MATERIALS.items()]
    head = [plan.say(f"workshop-head-{one}") for one in ("what", "count", "done")]
    asked = (
        join(element("b", plan.say(f"workshop-asked-{one}")), " ", plan.say(f"workshop-asked-{one}-answer"))
        for one in ASKED
    )
    missing = list(_missing(kit))
    return sheet(
        plan,
        plan.say("workshop-materials-title"),
        paragraph(plan.say("workshop-materials-each", groups=str(groups(people)), times=times)),
        table(head, rows),
        paragraph(plan.say("workshop-materials-print")),
        paragraph(plan.say("workshop-materials-screen")),
        *((element("h2", plan.say("workshop-missing-title")), listing(missing)) if missing else ()),
        element("h2", plan.say("workshop-asked-title")),
        listing(asked),
        class_="close",
    )


def _missing(kit: Kit) -> Iterator[str]:
    """What this garden lacks, and what becomes of the workshop then."""
    plan = kit.plan
    if "fish" in kit.lacking:
        fish = plan.garden.fish[0]
        weight = plan.quantity(fish.weight_g, "fish_weight")
        yield plan.say("workshop-missing-fish", count=str(fish.count), weight=weight)
    if "bed" in kit.lacking:
        yield plan.say("workshop-missing-bed", area=plan.quantity(plan.garden.beds[0].area_m2, "area"))
    if plan.garden.start_up.state == "new":
        yield plan.say("workshop-missing-start")


def _risks(kit: Kit) -> Html:
    plan = kit.plan
    amounts = {"people": str(kit.people), "tables": str(groups(kit.people))}
    rows = [(plan.say(f"risk-{one}"), _care(kit, one, amounts), TICK_BOX) for one in RISKS]
    head = [plan.say(f"workshop-head-{one}") for one in ("risk", "care", "done")]
    signed = (element("div", plan.say(f"workshop-sign-{one}"), " ", blank()) for one in SIGNED)
    return sheet(
        plan,
        plan.say("workshop-risk-title"),
        paragraph(plan.say("workshop-risk-how")),
        table(head, rows, "risks"),
        element("div", *signed, class_="blanks"),
        class_="close",
    )


def _care(kit: Kit, risk: str, amounts: dict[str, str]) -> str:
    if risk == "crowd":
        return kit.plan.say("risk-crowd-care", **amounts)
    return kit.plan.say(f"risk-{risk}-care")
