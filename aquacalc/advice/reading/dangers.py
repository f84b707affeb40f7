"""The nine actions that make bad water worse: which of them a reading blocks or warns of, and the safer way.

Each is a finding: its texts say what not to do, why, what to do instead, and what else to leave alone.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from aquacalc.advice.finding import Amount, Finding, Level
from aquacalc.advice.reading import base, judge
from aquacalc.advice.reading.judge import Judgement
from aquacalc.constants import MG_CACO3_PER_MEQ, MOLAR_MASS_CO2_G_MOL
from aquacalc.water import ammonia, carbonate, dosing

STRIPPED_CARBON_DIOXIDE_MG_L = 3.0
"""What strong aeration leaves. Common practice, no source."""

PORTION_PH = 0.3
LARGEST_CHANGE = 0.25
"""Of old water with much ammonia, at once. Common practice, no source."""

Danger = Literal[
    "base", "strong_air", "hydroxide", "untreated", "acid", "salt", "filter", "one_reading", "large_change"
]


@dataclass(frozen=True)
class Warned:
    """A dangerous action. blocked: nothing of it may be done after this reading; else it is warned of."""

    danger: Danger
    blocked: bool
    finding: Finding


def of(found: Judgement, portion: base.Base) -> tuple[Warned, ...]:
    """The dangers that this reading brings near, the blocked ones first, else in their fixed order."""
    return tuple(sorted(_all(found, portion), key=lambda one: not one.blocked))


def _all(found: Judgement, portion: base.Base) -> Iterator[Warned]:
    value = found.given.value
    trouble = found.reached("unionised_ammonia", "watch") or found.reached("tan", "watch")
    nitrite = found.reached("nitrite", "watch")
    yield from _base(found, portion)
    yield from _strong_air(found)
    yield from _hydroxide(found, portion)
    if trouble or nitrite or found.reached("chlorine", "emergency"):
        yield _warned("untreated", "finding-chlorine-reading-untreated", True)
    if found.reached("ph", "watch") or found.reached("alkalinity", "watch"):
        yield _warned("acid", "finding-ph-reading-acid", True)
    if nitrite or trouble or portion.state != "not wanted":
        yield _warned("salt", "finding-nitrite-reading-salt", False)
    if trouble or nitrite:
        yield _warned("filter", "finding-ammonia-reading-filter", True)
    if found.level in ("emergency", "act today", "watch") or found.asked:
        change = Amount("change", PORTION_PH, "ph")
        yield _warned("one_reading", "finding-kit-reading-one", False, change)
    if value("ph") < judge.OLD_WATER_PH and found.reached("tan", "act today"):
        share = Amount("share", LARGEST_CHANGE, "share")
        yield _warned(
            "large_change", "finding-ammonia-reading-large-change", True, share, _amount("ph", value("ph"))
        )


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
        final = max(portion.dose.ph_at_once, portion.dose.ph_settled)
    there = tan * float(ammonia.unionised_fraction(final, found.temperature_c))
    if there <= judge.act_line(found.given) and not found.reached("unionised_ammonia", "act today"):
        return
    yield _warned(
        "base",
        "finding-ammonia-reading-base",
        portion.state != "portion",
        _amount("ph", final),
        Amount("unionised", there, "nitrogen"),
        Amount("line", judge.act_line(found.given), "nitrogen"),
    )


def _strong_air(found: Judgement) -> Iterator[Warned]:
    """Hard bubbling drives carbon dioxide out and pH up; where oxygen is short it is done all the same."""
    tan, water = _most_tan(found), judge.water(found.given, found.temperature_c)
    if not tan > 0.0:
        return
    final = dosing.HIGHEST_PH
    if water is not None:
        final = float(
            carbonate.ph_at_carbon_dioxide(
                water.alkalinity_mg_l,
                min(STRIPPED_CARBON_DIOXIDE_MG_L, float(water.carbon_dioxide_mg_l)),
                water.temperature_c,
                water.ionic_strength,
            )
        )
    final = max(final, found.ph)
    there = tan * float(ammonia.unionised_fraction(final, found.temperature_c))
    if there <= judge.act_line(found.given):
        return
    blocked = not found.reached("oxygen", "watch")
    amounts = (_amount("ph", final), Amount("unionised", there, "nitrogen"))
    yield _warned("strong_air", "finding-ammonia-reading-air", blocked, *amounts)


def _hydroxide(found: Judgement, portion: base.Base) -> Iterator[Warned]:
    """More hydroxide than free carbon dioxide can take; dry lye or lime."""
    if portion.state == "not wanted" or not (base.hydroxides(found) or found.given.setting == "school"):
        return
    water = judge.water(found.given, found.temperature_c)
    if water is None:
        yield _warned("hydroxide", "finding-ph-reading-hydroxide-not-known", True)
        return
    dioxide = float(water.carbon_dioxide_mg_l)
    most = dosing.HYDROXIDE_SHARE_REFUSED * dioxide / MOLAR_MASS_CO2_G_MOL * MG_CACO3_PER_MEQ
    blocked = found.given.setting == "school" or portion.state != "portion"
    amounts = (Amount("dioxide", dioxide, "concentration"), Amount("most", most, "alkalinity"))
    yield _warned("hydroxide", "finding-ph-reading-hydroxide", blocked, *amounts)


def _most_tan(found: Judgement) -> float:
    """The reading, or the upper end of what its kit leaves open."""
    tan = found.given.measures.get("tan")
    if tan is None:
        return math.nan
    return tan.high if math.isfinite(tan.high) else tan.value


def _amount(name: str, ph: float) -> Amount:
    return Amount(name, ph, "ph")


def _warned(danger: Danger, key: str, blocked: bool, *amounts: Amount) -> Warned:
    level: Level = "act today" if blocked else "watch"
    return Warned(danger, blocked, Finding(key, "", level, amounts, (), ("OWN", "TRADE")))
