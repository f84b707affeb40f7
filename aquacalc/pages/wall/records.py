"""Sheets to write on: 28 days to tick, and a quarter of weekly tests in the units of this garden's kit.

A garden that is new writes on its start-up sheets first; the plan made after that has these.
"""

from aquacalc import words
from aquacalc.pages import kit
from aquacalc.pages.html import LINE_BREAK, Html, element, join, paragraph, table
from aquacalc.pages.plan import Plan, sheet

DAYS = 28
WEEKS = 13
DAILY = ("pump", "level", "fish", "temperature", "feed", "dead", "note")
WEEKLY = ("ph", "tan", "nitrite", "nitrate", "alkalinity", "oxygen")


def tick_sheet(plan: Plan) -> Html:
    """Four weeks, one line a day; nothing while a filter is started up."""
    if plan.garden.start_up.state == "new":
        return Html("")
    units = {
        "temperature": words.unit("temperature", plan.reader),
        "feed": words.unit("dose", plan.reader),
    }
    head = [
        plan.say("tick-day"),
        *(_headed(plan.say(f"tick-{name}"), units.get(name, "")) for name in DAILY),
    ]
    rows = [(str(day), *("" for _ in DAILY)) for day in range(1, DAYS + 1)]
    return sheet(
        plan, plan.say("tick-title"), paragraph(plan.say("tick-how")), table(head, rows, "write tick")
    )


def weekly_sheet(plan: Plan) -> Html:
    """A quarter of weekly tests, and room for what was weighed, picked, and why; nothing while a filter is
    started up."""
    if plan.garden.start_up.state == "new":
        return Html("")
    columns = [_headed(words.say(f"record-{name}", plan.reader), _unit(plan, name)) for name in WEEKLY]
    temperature = words.unit("temperature", plan.reader)
    head = [plan.say("record-date"), temperature, *columns, plan.say("record-did")]
    rows = [("", *("" for _ in head[1:])) for _ in range(WEEKS)]
    return sheet(
        plan,
        plan.say("record-title"),
        paragraph(plan.say("record-how")),
        table(head, rows, "write weekly"),
        element("h2", plan.say("record-fish")),
        _lines(plan, ("record-date", "record-count", "record-weight", "record-dead"), 3),
        element("h2", plan.say("record-harvest")),
        _lines(plan, ("record-date", "record-what", "record-kg", "record-money"), 4),
    )


def _headed(name: str, unit: str) -> Html:
    return join(name, LINE_BREAK, unit) if unit else join(name)


def _unit(plan: Plan, name: str) -> str:
    scale = kit.scale_of(plan.garden, name)
    label = kit.label(scale)
    if name in ("tan", "nitrite", "nitrate"):
        return plan.say("record-as", basis=label) if label else plan.say("record-as-blank")
    if name == "oxygen":
        return words.unit("concentration", plan.reader)
    return label


def _lines(plan: Plan, heads: tuple[str, ...], count: int) -> Html:
    rows = [("", *("" for _ in heads[1:])) for _ in range(count)]
    return table([words.say(key, plan.reader) for key in heads], rows, "write")
