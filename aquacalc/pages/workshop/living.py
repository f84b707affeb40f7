"""The page that answers without a kernel: one file, a few sliders, tables that were worked out before."""

import json
from collections.abc import Mapping, Sequence

from aquacalc import tables
from aquacalc.advice.reading.actions import Answer
from aquacalc.pages import kit as kits_
from aquacalc.pages import style, time_line
from aquacalc.pages.html import Html, element, join, level, listing, paragraph
from aquacalc.pages.plan import Plan, stamp
from aquacalc.pages.wall import ammonia_table, doses
from aquacalc.pages.workshop.kit import Kit
from aquacalc.sentences import balance as told_balance
from aquacalc.sentences import reading as told_reading
from aquacalc.sizing.power_cut import Clock
from aquacalc.sizing.result import Balance
from aquacalc.workshop import living
from aquacalc.workshop.living import Place

SCRIPT, RULES = tables.DATA / "report" / "living.js", tables.DATA / "report" / "living.css"
OLD_DAYS = 90
"""After so many days the page says that it is old before anything else. Common practice, no source."""
MEALS = ("just", "half", "long")
KINDS = {"fish": "number", "air": "air_flow", "flow": "flow", "bed": "area"}


def page(kit: Kit) -> str:
    """The whole file."""
    plan = kit.plan
    questions = [part for part in (_balance(plan), _reading(kit), _clock(plan)) if part is not None]
    data = {
        "made": plan.made.isoformat(),
        "old": OLD_DAYS,
        "questions": {name: q for name, q, _ in questions},
    }
    # A text may hold anything; no tag of it ends the block.
    held = Html(json.dumps(data, ensure_ascii=False).replace("<", "\\u003c"))
    title = plan.say("living-title", garden=plan.name())
    old = element("p", plan.say("living-old", days=str(OLD_DAYS)), class_="old", hidden="")
    head = element(
        "head",
        Html('<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'),
        Html('<link rel="icon" href="data:,">'),
        element("title", title),
        element("style", Html(style.level_rules("body") + RULES.read_text("utf-8"))),
    )
    grown = [] if kit.audience != "adults" else [element("section", doses.page(plan))]
    body = element(
        "body",
        old,
        element("h1", title),
        stamp(plan),
        paragraph(plan.say("living-how")),
        *(section for *_, section in questions),
        *grown,
        paragraph(plan.say("open-caution")),
        Html(f'<script type="application/json" id="data">{held}</script>'),
        Html(f"<script>{SCRIPT.read_text('utf-8')}</script>"),
    )
    return f"<!doctype html>\n{element('html', head, body, lang=plan.reader.language)}\n"


Question = tuple[str, dict[str, object], Html]
"""Name, tables for the script, and the section as it stands at the garden's own values."""


def _question(
    plan: Plan, name: str, axes: Mapping[str, Sequence[str]], own: Place, answers: Mapping[Place, Html]
) -> Question:
    """axes: by name, what each step is called. answers: by the place of the sliders."""
    fields = []
    for place, (axis, steps) in zip(own, axes.items(), strict=True):
        last = str(len(steps) - 1)
        slider = element(
            "input",
            type="range",
            min="0",
            max=last,
            step="1",
            value=str(place),
            id=f"{name}-{axis}",
            **{"data-own": str(place), "aria-valuetext": steps[place]},
        )
        label = element("label", plan.say(f"living-{name}-{axis}"), " ", element("output", steps[place]))
        fields.append(element("div", label, Html(slider.removesuffix("</input>")), class_="field"))
    said = element("div", answers[own], class_="answer", role="status")
    section = element(
        "section", element("h2", plan.say(f"living-{name}")), said, *fields, id=f"question-{name}"
    )
    table = {"-".join(map(str, place)): answer for place, answer in answers.items()}
    return name, {"axes": {axis: list(steps) for axis, steps in axes.items()}, "answers": table}, section


def _balance(plan: Plan) -> Question:
    found = living.balances(plan.garden, plan.balance)
    axes = {name: [plan.quantity(step, KINDS[name]) for step in steps] for name, steps in found.axes.items()}
    answers = {place: balanced(plan, one) for place, one in found.at.items()}
    return _question(plan, "balance", axes, found.own, answers)


def balanced(plan: Plan, of: Balance) -> Html:
    """What a balance says in short."""
    head = element("p", element("b", told_balance.headline(of, plan.reader)))
    return join(head, paragraph(told_balance.binding(of, plan.reader)))


def _reading(kit: Kit) -> Question:
    plan = kit.plan
    tan, ph = (
        ammonia_table.tan_axis(kits_.scale_of(plan.garden, "tan")),
        ammonia_table.ph_axis(kits_.scale_of(plan.garden, "ph")),
    )
    basis = "" if tan.ends else " N"
    warmth = living.temperatures_c(plan.balance)
    found = living.readings(plan.garden, tan.shown, basis, ph.shown, warmth)
    axes = {
        "tan": [plan.quantity(step, "nitrogen") if basis else f"{step:g}" for step in tan.shown],
        "ph": [f"{step:g}" for step in ph.shown],
        "warm": [plan.quantity(one, "temperature") for one in warmth],
    }
    answers = {place: judged(kit, one) for place, one in found.items()}
    return _question(plan, "reading", axes, (0, len(ph.shown) // 2, len(warmth) // 2), answers)


def judged(kit: Kit, of: Answer) -> Html:
    """The level and what to do at once; for the young the word and whom to tell."""
    plan, found = kit.plan, of.judgement.level
    if kit.young:
        told = paragraph(plan.say(f"handout-reading-{found.replace(' ', '-')}"))
        return join(paragraph(level(found, plan.reader)), told)
    doing = told_reading.now(of, plan.reader) or told_reading.later(of, plan.reader)
    return join(
        paragraph(level(found, plan.reader)),
        paragraph(told_reading.status(of, plan.reader)),
        listing(doing),
        paragraph(told_reading.again(of, plan.reader)),
    )


def _clock(plan: Plan) -> Question | None:
    outage = plan.balance.outage
    if outage is None:
        return None
    axes = {
        "oxygen": [plan.quantity(one, "concentration") for one in living.OXYGEN_MG_L],
        "fed": [plan.say(f"living-fed-{one}") for one in MEALS],
    }
    answers = {place: ticking(plan, one) for place, one in living.clocks(outage.reserve).items()}
    return _question(plan, "clock", axes, (len(living.OXYGEN_MG_L) // 2, 0), answers)


def ticking(plan: Plan, of: Clock) -> Html:
    """By when somebody must have acted, and until when the oxygen lasts; the script adds the time of day."""
    at = Html(f'<span class="at" data-hours="{of.act_h:.4f}"></span>')
    acted = element("b", plan.say("living-act", act=time_line.span(of.act_h, plan.reader)))
    low, high = (time_line.span(float(end), plan.reader) for end in (of.critical_h.low, of.critical_h.high))
    lasts = paragraph(plan.say("living-lasts", low=low, high=high))
    return join(element("p", acted, " ", at), lasts, paragraph(plan.say("handout-cut-older-2")))
