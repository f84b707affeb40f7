"""Against ammonia and nitrite: a change of water, air, chloride."""

import math

from aquacalc import tables
from aquacalc.advice import shelf
from aquacalc.advice.finding import Amount
from aquacalc.advice.reading import after, change
from aquacalc.advice.reading.action import DAY_H, EVENING_H, Action, Goods
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.bounds import Bounds
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.model import Product
from aquacalc.judge import nitrite, sizes
from aquacalc.water import dosing, supplements

MOST_POTASSIUM_MG_L = 100.0
"""Of one dose against nitrite; of sodium, what plants are kept below. Common practice, no source."""

SALTS = ("calcium_chloride_dihydrate", "calcium_chloride_anhydrous", "sodium_chloride", "potassium_chloride")
"""Chlorides in the order of choice."""

KEPT_FROM_SCHOOLS = {"caustic", "acid", "adults", "irritant"}
"""Cautions of what no school is told to add, carbonates apart (`base`)."""


def urgent(found: Judgement) -> bool:
    """Whether ammonia asks for a change of water."""
    return found.reached("unionised_ammonia", "act today") or found.reached("tan", "emergency")


def of_ammonia(found: Judgement, bounds: Bounds, aired: bool, now: After) -> tuple[list[Action], After]:
    """What is done against ammonia, and the water after it. aired: air was asked for already."""
    if not urgent(found):
        return [], now
    made, now = change_for_ammonia(found, bounds, now)
    if not aired:
        made.append(Action("air" if bounds.hold_aired(now) else "air-gently", again_h=EVENING_H))
    return made, now


def change_share(found: Judgement) -> float:
    """Share of the water to change at once for ammonia, by what the new water brings."""
    given = found.given
    brought = given.new_water.brings("tan")
    return sizes.change_share(given.value("tan"), found.ph, found.temperature_c, given.species, brought)


def change_for_ammonia(found: Judgement, bounds: Bounds, now: After) -> tuple[list[Action], After]:
    """A part of the water for treated water, no warmer or colder, that takes ammonia past no line."""
    brought = found.given.new_water.brings("tan")
    if brought >= now.value("tan"):
        no_less = (Amount("brought", brought, "nitrogen"),)
        return [Action("change-no-gain", no_less, again_h=EVENING_H)], now
    return change.safely(found, bounds, now, change_share(found), "tan", "unionised-ammonia")


def of_nitrite(found: Judgement, bounds: Bounds, aired: bool, now: After) -> tuple[list[Action], After]:
    """The same against nitrite."""
    given = found.given
    if not found.reached("nitrite", "watch") or not given.value("nitrite") > 0.0:
        return [], now
    if not found.reached("nitrite", "act today"):
        return [Action("nitrite-watch", again_h=DAY_H)], now
    made = []
    if now.changed == 0.0 and not aired:  # else the air is on already
        made.append(Action("nitrite-air" if bounds.hold_aired(now) else "air-gently", again_h=EVENING_H))
    if all(row.key in nitrite.SUNFISH for row in given.species):
        made.append(Action("nitrite-no-chloride", again_h=DAY_H))
    else:
        action, now = _chloride(given, now)
        made.append(action)
    if now.changed == 0.0:
        changes, now = change.safely(found, bounds, now, sizes.LEAST_SHARE, "nitrite", "chloride")
        made += changes
    return made, now


def _chloride(given: Given, now: After) -> tuple[Action, After]:
    """Chloride to 20 or 40 times the nitrite as N; what is not known of it counts as none."""
    ratio = nitrite.chloride_ratio_wanted(given.species)
    missing = nitrite.chloride_missing_mg_l(now.value("nitrite"), now.value("chloride"), given.species)
    if not missing > 0.0:
        key = "nitrite-chloride-there" if now.changed == 0.0 else "nitrite-chloride-then"
        return Action(key, (Amount("ratio", ratio, "ratio"),), again_h=DAY_H), now
    of, product = _salt(given, missing)
    purity = shelf.share_pure(product)
    most = min(missing, _most_chloride_mg_l(of))
    grams = float(dosing.grams_for_element(of, "Cl", most, given.litres, purity))
    then = after.salted(now, most)
    key = "chloride" if most == missing else "chloride-part"
    expected = (Amount("chloride", then.value("chloride"), "concentration"),)
    amounts = (Amount("rise", most, "concentration"), Amount("ratio", ratio, "ratio"))
    return Action(key, amounts, Goods(of.key, grams, product), expected, EVENING_H), then


def _salt(given: Given, missing_mg_l: float) -> tuple[dosing.Chemical, Product | None]:
    """The chloride that stands on the shelf, calcium first; else plain salt while its sodium suits crops."""
    for name in SALTS:
        for product in given.products:
            if product.chemical == name and not _kept_away(given, name):
                return dosing.chemical(name), product
    plain = dosing.chemical("sodium_chloride")
    return (plain if missing_mg_l <= _most_chloride_mg_l(plain) else dosing.chemical(SALTS[0])), None


def _kept_away(given: Given, chemical: str) -> bool:
    """Whether a chemical is not for this garden's hands: in a school nothing that burns or irritates."""
    cautions = set(tables.load("chemicals").row(chemical).listed("caution"))
    return given.setting == "school" and bool(cautions & KEPT_FROM_SCHOOLS)


def _most_chloride_mg_l(of: dosing.Chemical) -> float:
    caps = (("Na", supplements.SODIUM_LIMIT_MG_L), ("K", MOST_POTASSIUM_MG_L))
    return min(
        (
            cap * of.elements["Cl"] / of.elements[element]
            for element, cap in caps
            if of.elements[element] > 0.0
        ),
        default=math.inf,
    )
