"""The nine actions that make bad water worse: which of them a reading blocks or warns of, and the safer way.

Each is a finding: its texts say what not to do, why, what to do instead, and what else to leave alone.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.reading import base, derived
from aquacalc.advice.reading.judge import Judgement
from aquacalc.judge import sizes
from aquacalc.judge.levels import Level
from aquacalc.water import ammonia, carbonate, dosing

Danger = Literal[
    "base", "strong_air", "hydroxide", "untreated", "acid", "salt", "filter", "one_reading", "large_change"
]


LEAST_RISE = 0.1
"""A rise of pH that is worth a warning: half the error of a drop kit. Our own choice."""


@dataclass(frozen=True)
class Warned:
    """A dangerous action. blocked: nothing of it may be done after this reading; else it is warned of.

    pertinent: whether this very reading tempts to it; else it holds for every bad day and is said in a word.
    """

    danger: Danger
    blocked: bool
    finding: Finding
    pertinent: bool = True


def warned_of(found: Judgement, portion: base.Base) -> tuple[Warned, ...]:
    """The dangers that this reading brings near: pertinent ones first, then blocked ones, in their order."""
    return tuple(sorted(_all(found, portion), key=lambda one: (not one.pertinent, not one.blocked)))


def _all(found: Judgement, portion: base.Base) -> Iterator[Warned]:
    value, school = found.given.value, found.given.setting == "school"
    trouble = found.reached("unionised_ammonia", "watch") or found.reached("tan", "watch")
    nitrite = found.reached("nitrite", "watch")
    yield from _base(found, portion)
    yield from _strong_air(found)
    yield from _hydroxide(found, portion)
    chlorine = found.reached("chlorine", "emergency")
    if (trouble or nitrite or chlorine or found.given.signs) and not _is_untreated(found):
        untreated = _warned("untreated", "finding-chlorine-reading-untreated", True)
        yield replace(untreated, pertinent=chlorine)
    if found.reached("ph", "watch") or found.reached("alkalinity", "watch"):
        acid = "finding-ph-reading-acid-school" if school else "finding-ph-reading-acid"
        yield replace(_warned("acid", acid, True), pertinent=value("ph") >= dosing.HIGHEST_PH)
    if nitrite or trouble or portion.state != "not wanted" or found.reached("added_salt", "watch"):
        tempting = found.reached("nitrite", "act today") or found.reached("added_salt", "watch")
        yield replace(_warned("salt", "finding-nitrite-reading-salt", False), pertinent=tempting)
    if trouble or nitrite or found.given.signs:
        yield replace(_warned("filter", "finding-ammonia-reading-filter", True), pertinent=False)
    if found.level in ("emergency", "act today", "watch") or found.asked:
        step = Amount("change", dosing.PH_STEP_PER_DAY, "ph")
        one = _warned("one_reading", "finding-kit-reading-one", False, step)
        yield replace(one, pertinent=portion.state == "portion")
    if sizes.is_old(value("ph")) and found.reached("tan", "act today"):
        share = Amount("share", sizes.OLD_WATER_SHARE, "share")
        yield _warned(
            "large_change", "finding-ammonia-reading-large-change", True, share, _amount("ph", value("ph"))
        )


def _is_untreated(found: Judgement) -> bool:
    """Whether new water is known to carry nothing that has to be taken out."""
    new = found.given.new_water
    return new.told and new.disinfectant == "none"


def _base(found: Judgement, portion: base.Base) -> Iterator[Warned]:
    """Base, shell, hard tap water: blocked where the ammonia of the final pH is too much, or not known."""
    if portion.state == "test ammonia":
        yield _warned("base", "finding-ammonia-reading-not-known", True)
        return
    tan = _most_tan(found)
    if not tan > 0.0:
        return
    reckoned = portion.state in ("change first", "portion") and portion.dose is not None
    final = max(dosing.HIGHEST_PH, found.ph)
    if reckoned and portion.dose is not None and portion.state == "change first":
        final = portion.judged_ph
    there = tan * float(ammonia.unionised_fraction(final, found.temperature_c))
    if there <= found.given.act_line_mg_l and not found.reached("unionised_ammonia", "act today"):
        return
    yield _warned(
        "base",
        "finding-ammonia-reading-base",
        portion.state != "portion",
        _amount("ph", final),
        Amount("unionised", there, "nitrogen"),
        Amount("line", found.given.act_line_mg_l, "nitrogen"),
    )


def _strong_air(found: Judgement) -> Iterator[Warned]:
    """Hard bubbling drives carbon dioxide out and pH up; where oxygen is short it is done all the same."""
    tan, water = _most_tan(found), derived.water(found.given, found.temperature_c)
    if not tan > 0.0:
        return
    final = dosing.HIGHEST_PH
    if water is not None:
        final = float(
            carbonate.ph_at_carbon_dioxide(
                water.alkalinity_mg_l,
                min(dosing.STRIPPED_CARBON_DIOXIDE_MG_L, float(water.carbon_dioxide_mg_l)),
                water.temperature_c,
                water.ionic_strength,
            )
        )
    if final < found.ph + LEAST_RISE:
        return
    there = tan * float(ammonia.unionised_fraction(final, found.temperature_c))
    if there <= found.given.act_line_mg_l:
        return
    blocked = not found.wants_air
    amounts = (_amount("ph", final), Amount("unionised", there, "nitrogen"))
    yield _warned("strong_air", "finding-ammonia-reading-air", blocked, *amounts)


def _hydroxide(found: Judgement, portion: base.Base) -> Iterator[Warned]:
    """More hydroxide than free carbon dioxide can take; dry lye or lime."""
    school = found.given.setting == "school"
    if portion.state == "not wanted" or not (base.hydroxides(found) or school):
        return
    if school:
        yield replace(_warned("hydroxide", "finding-ph-reading-hydroxide-school", True), pertinent=False)
        return
    water = derived.water(found.given, found.temperature_c)
    if water is None:
        both = {"ph", "alkalinity"} <= set(found.given.measures)
        known = both and found.given.measures["alkalinity"].told
        why = "finding-ph-reading-hydroxide-does-not-fit"
        yield _warned("hydroxide", why if known else "finding-ph-reading-hydroxide-not-known", True)
        return
    dioxide = float(water.carbon_dioxide_mg_l)
    most = float(dosing.rise_by_hydroxide_mg_l(dioxide, dosing.HYDROXIDE_SHARE_REFUSED))
    blocked = portion.state != "portion"
    amounts = (Amount("dioxide", dioxide, "concentration"), Amount("most", most, "alkalinity"))
    yield _warned("hydroxide", "finding-ph-reading-hydroxide", blocked, *amounts)


def _most_tan(found: Judgement) -> float:
    """The reading, or the upper end of what its kit leaves open."""
    tan = found.given.measures.get("tan")
    return math.nan if tan is None else tan.highest


def _amount(name: str, ph: float) -> Amount:
    return Amount(name, ph, "ph")


def _warned(danger: Danger, key: str, blocked: bool, *amounts: Amount) -> Warned:
    level: Level = "act today" if blocked else "watch"
    return Warned(danger, blocked, Finding(key, "", level, amounts, (), ("OWN", "TRADE")))
