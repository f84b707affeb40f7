"""A change of water: how much of it, what treats the new water, and which values to expect after it."""

import math
from collections.abc import Iterator

from aquacalc.advice import shelf
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading import after
from aquacalc.advice.reading.action import EVENING_H, Action, Goods
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.bounds import Bounds
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement
from aquacalc.judge import sizes
from aquacalc.water import ammonia, chlorine, dosing

SMALL_SHARE = 0.1
"""Of the water, where more of it at once would harm. Common practice, no source."""


def safely(
    found: Judgement, bounds: Bounds, now: After, share: float, *names: str
) -> tuple[list[Action], After]:
    """A change of water that takes the tank past no line on its way, and the water after it.

    As much as is wished with the water at hand; else less of it, with a test before the next; else soft
    water of the tank's own pH. names: of the values that are told after it.
    """
    given = found.given
    new, acid = given.new_water, _acid_mg_l(given)
    whole = after.changed(now, share, new, acid)
    for part in (share, *(one for one in (sizes.LEAST_SHARE, SMALL_SHARE) if one < share)):
        then = after.changed(now, part, new, acid)
        if bounds.hold(then):
            why = () if part == share else (Note("reading-less-at-a-time", _told(share, whole)),)
            return [changed(given, part, then, *names, why=why)], then
    part = min(share, sizes.OLD_WATER_SHARE)
    key = "change-other-ph" if math.isnan(whole.value("tan")) else "change-other"
    return [Action(key, _told(part, whole), again_h=EVENING_H)], after.thinned(now, part)


def _told(share: float, then: After) -> tuple[Amount, ...]:
    """What a change would come to."""
    ph = max(then.ph, then.ph_closed)
    there = then.value("tan") * float(ammonia.unionised_fraction(ph, then.temperature_c))
    told = (Amount("share", share, "share"), Amount("ph", ph, "ph"))
    return told if math.isnan(there) else (*told, Amount("unionised", there, "nitrogen"))


def _acid_mg_l(given: Given) -> float:
    """Alkalinity of new water that what treats it uses up, mg/L CaCO3."""
    treated = given.new_water.chlorine_mg_l
    if not treated > 0.0:
        return 0.0
    return float(chlorine.alkalinity_used_mg_l(reagent(given, treated, 1.0).chemical, treated))


def changed(given: Given, share: float, then: After, *names: str, why: tuple[Note, ...] = ()) -> Action:
    """A change of water. names: of the values that are told after it; why: no more of it is changed."""
    expected = [_after(then, name) for name in names]
    if then.carbonates is not None and then.ph != given.value("ph"):
        expected.append(Amount("ph", then.ph, "ph"))
    notes = (*why, *_of_new_water(given, then, "tan" in names))
    shared = Amount("share", share, "share")
    if math.isnan(given.litres):
        return Action("change", (shared,), None, tuple(expected), EVENING_H, notes)
    volume = share * given.litres
    treated = given.new_water.chlorine_mg_l
    goods = reagent(given, treated, volume) if treated > 0.0 else None
    amounts = (shared, Amount("volume", volume, "volume"))
    return Action("change-litres", amounts, goods, tuple(expected), EVENING_H, notes)


def _after(then: After, name: str) -> Amount:
    """A value after a change; un-ionised ammonia as a range where nobody knows the pH of the mixture."""
    if name == "unionised-ammonia":
        if math.isnan(then.unionised_most):
            return Amount(name, then.unionised, "nitrogen")
        return Amount(name, then.unionised_most, "nitrogen", then.unionised, then.unionised_most)
    return Amount(name, then.value(name), _kind(name))


def _of_new_water(given: Given, then: After, of_ammonia: bool) -> Iterator[Note]:
    """What the new water does beside thinning: its pH, and the ammonia of its chloramine."""
    if not math.isnan(then.ph_most):
        brought = Amount("ph", then.ph_most, "ph")
        if "ph" in given.measures:
            yield Note("reading-new-ph-not-known", (brought,))
        else:
            yield Note("reading-new-ph-assumed", (brought, Amount("assumed", then.ph, "ph")))
    elif then.carbonates is not None and then.ph > given.value("ph") + dosing.PH_STEP_PER_DAY:
        yield Note("reading-new-ph", (Amount("ph", then.ph, "ph"),))
    new = given.new_water
    if not new.soft and (math.isnan(new.value("ph")) or math.isnan(new.value("alkalinity"))):
        yield Note("reading-new-no-harder")
    if of_ammonia and new.freed.typical > 0.0:
        key = "reading-new-freed" if new.disinfectant == "chloramine" else "reading-new-freed-may-be"
        yield Note(key, (Amount("freed", new.freed.typical, "nitrogen", new.freed.low, new.freed.high),))


def _kind(name: str) -> str:
    return "concentration" if name == "chloride" else "nitrogen"


def new_water_untold(given: Given, done: tuple[Action, ...]) -> Iterator[Note]:
    """What new water is taken to be free of, where values after a change of it are told."""
    told = {
        one.name for action in done for one in action.expected if action.key.startswith(("change", "nitrate"))
    }
    names = [
        name
        for name in ("tan", "nitrite", "nitrate")
        if name in told
        and math.isnan(given.new_water.value(name))
        and not (name == "tan" and given.new_water.freed.typical > 0.0)
    ]
    if names:
        yield Note("reading-assumed-new-water", (Amount("what", " ".join(names), "words"),))


def usual_reagent(chlorine_mg_l: float, volume_l: float) -> Goods:
    """Grams of what takes chlorine out and is no acid, from no shelf."""
    per_gram = shelf.removes_g_g(chlorine.USUAL_REAGENT)
    return Goods(chlorine.USUAL_REAGENT, float(chlorine.reagent_g(chlorine_mg_l, volume_l, per_gram)))


def reagent(given: Given, chlorine_mg_l: float, volume_l: float) -> Goods:
    """Grams of what takes chlorine out: from the shelf, else thiosulfate."""
    product = shelf.dechlorinator(given.products)
    name = product.chemical if product else chlorine.USUAL_REAGENT
    per_gram = shelf.removes_g_g(name, shelf.share_pure(product))
    return Goods(name, float(chlorine.reagent_g(chlorine_mg_l, volume_l, per_gram)), product)
