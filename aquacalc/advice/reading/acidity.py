"""After a reading: a portion of base where it may go in, and what else moves pH and carbon dioxide."""

from aquacalc.advice.finding import Amount
from aquacalc.advice.reading import after, base, poisons
from aquacalc.advice.reading.action import DAY_H, EVENING_H, HOUR_H, SOON_H, Action, Goods
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.bounds import Bounds
from aquacalc.advice.reading.judge import Judgement
from aquacalc.judge import lines
from aquacalc.water import dosing


def actions_of(
    found: Judgement, portion: base.Base, bounds: Bounds, aired: bool, now: After
) -> tuple[list[Action], After]:
    """What is done about pH, alkalinity and carbon dioxide, and the water after it. aired: all air is on."""
    given, made = found.given, []
    if portion.state == "portion" and portion.dose is not None:
        action, now = _portion_or_not(portion, portion.dose, bounds, aired, now)
        made.append(action)
    elif portion.state == "change first":
        if now.changed == 0.0:
            changes, now = poisons.change_for_ammonia(found, bounds, now)
            made += changes
        made.append(_later(found))
    elif portion.state in NO_PORTION:
        made.append(Action(f"base-{NO_PORTION[portion.state]}", again_h=SOON_H))
    elif portion.state == "refused":
        made.append(Action("base-refused", again_h=DAY_H))
    if given.value("ph") >= lines.begins_at("ph", "watch", aim=given.aim):
        made.append(Action("ph-high" if "tan" in given.measures else "ph-high-test", again_h=DAY_H))
    if found.reached("carbon_dioxide", "watch") and not aired:
        against, now = _dioxide(found, bounds, now)
        made += against
    return made, now


NO_PORTION = {
    "test ammonia": "test-ammonia",
    "test alkalinity": "test-alkalinity",
    "does not fit": "does-not-fit",
}
"""States of a base that ask for a test first."""


def _later(found: Judgement) -> Action:
    return Action("base-later", (Amount("line", found.given.act_line_mg_l, "nitrogen"),), again_h=EVENING_H)


def _portion_or_not(
    portion: base.Base, dose: dosing.Dose, bounds: Bounds, aired: bool, now: After
) -> tuple[Action, After]:
    """The portion, where nothing that was advised before it has moved pH, and all air may stay on with it."""
    if now.carbonates is not bounds.start.carbonates or now.changed > 0.0:
        # Grams are reckoned for the water as it was read.
        return Action("base-after-change"), now
    then = after.based(now, dosing.chemical(portion.chemical), dose.rise_mg_l)
    if not bounds.hold(then) or (aired and not bounds.hold_aired(then)):
        return _later(bounds.found), now
    return _portion(portion, dose), then


def _dioxide(found: Judgement, bounds: Bounds, now: After) -> tuple[list[Action], After]:
    """Against carbon dioxide: all air; in small steps where pH would rise too far; else later."""
    if "tan" not in found.given.measures:
        return [Action("dioxide-test", again_h=EVENING_H)], now
    if bounds.hold_aired(now):
        return [Action("dioxide", again_h=EVENING_H)], now
    if bounds.hold_aired_but_for_ph(now):
        return [Action("dioxide-steps", (Amount("ph", bounds.most_ph, "ph"),), again_h=HOUR_H)], now
    made: list[Action] = []
    if found.reached("carbon_dioxide", "act today") and now.changed == 0.0:
        made, now = poisons.change_for_ammonia(found, bounds, now)
    return [*made, Action("dioxide-later", again_h=EVENING_H)], now


def _portion(portion: base.Base, dose: dosing.Dose) -> Action:
    expected = (Amount("ph", dose.ph_at_once, "ph"), Amount("alkalinity", dose.alkalinity_mg_l, "alkalinity"))
    amounts = (
        Amount("rise", dose.rise_mg_l, "alkalinity"),
        Amount("portions", portion.portions, "number"),
        Amount("settled", dose.ph_settled, "ph"),
    )
    return Action(
        "base", amounts, Goods(portion.chemical, portion.grams, portion.product), expected, EVENING_H
    )
