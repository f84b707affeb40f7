"""A change of water: how much of it, what treats the new water, and which values to expect after it."""

import math
from collections.abc import Iterator

from aquacalc.advice import shelf
from aquacalc.advice.finding import Amount, Note
from aquacalc.advice.reading.action import EVENING_H, Action, Goods
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.given import Given
from aquacalc.water import chlorine, dosing


def changed(given: Given, share: float, then: After, *names: str) -> Action:
    """A change of water. names: of the values that are told after it."""
    expected = [_after(then, name) for name in names]
    if "tan" in names and then.carbonates is not None and then.ph != given.value("ph"):
        expected.append(Amount("ph", then.ph, "ph"))
    notes = tuple(_of_new_water(given, then, "tan" in names))
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
    freed = given.new_water.freed
    if of_ammonia and freed.typical > 0.0:
        amount = Amount("freed", freed.typical, "nitrogen", freed.low, freed.high)
        yield Note("reading-new-freed", (amount,))


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
        if name in told and math.isnan(given.new_water.value(name))
    ]
    if names:
        yield Note("reading-assumed-new-water", (Amount("what", " ".join(names), "words"),))


def reagent(given: Given, chlorine_mg_l: float, volume_l: float) -> Goods:
    """Grams of what takes chlorine out: from the shelf, else thiosulfate."""
    product = shelf.dechlorinator(given.products)
    name = product.chemical if product else chlorine.USUAL_REAGENT
    per_gram = shelf.removes_g_g(name, shelf.share_pure(product))
    return Goods(name, float(chlorine.reagent_g(chlorine_mg_l, volume_l, per_gram)), product)
