"""After a reading: a portion of base where it may go in, and what else moves pH and carbon dioxide."""

from aquacalc.advice.finding import Amount
from aquacalc.advice.reading import base, poisons
from aquacalc.advice.reading.action import DAY_H, EVENING_H, SOON_H, Action, Goods
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.judge import Judgement
from aquacalc.judge import lines
from aquacalc.water import dosing


def actions_of(
    found: Judgement, portion: base.Base, gently: bool, aired: bool, now: After
) -> tuple[list[Action], After]:
    """What is done about pH, alkalinity and carbon dioxide, and the water after it. gently, aired: of air."""
    given, made = found.given, []
    if portion.state == "portion" and portion.dose is not None:
        # Grams are reckoned for the water as it was read.
        made.append(_portion(portion, portion.dose) if now.changed == 0.0 else Action("base-after-change"))
    elif portion.state == "test ammonia":
        made.append(Action("base-test-ammonia", again_h=SOON_H))
    elif portion.state == "test alkalinity":
        made.append(Action("base-test-alkalinity", again_h=SOON_H))
    elif portion.state == "does not fit":
        made.append(Action("base-does-not-fit", again_h=SOON_H))
    elif portion.state == "refused":
        made.append(Action("base-refused", again_h=DAY_H))
    elif portion.state == "change first":
        if not poisons.urgent(found):
            changes, now = poisons.change_for_ammonia(found, now)
            made += changes
        made.append(
            Action("base-later", (Amount("line", given.act_line_mg_l, "nitrogen"),), again_h=EVENING_H)
        )
    high = lines.begins_at("ph", "watch")
    if given.value("ph") >= high:
        made.append(Action("ph-high" if "tan" in given.measures else "ph-high-test", again_h=DAY_H))
    if found.reached("carbon_dioxide", "watch") and not aired:
        known = "dioxide" if "tan" in given.measures else "dioxide-test"
        made.append(Action("dioxide-later" if gently else known, again_h=EVENING_H))
    return made, now


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
