"""What to do after a reading, in the order in which it kills: keys and amounts, doses where litres are known.

Oxygen, chlorine, feed, ammonia, nitrite, temperature, pH, the rest. Each action says which values to expect
after it and in how many hours to test again. Hours and shares of changes are common practice, no source.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from aquacalc import tables
from aquacalc.advice.finding import URGENCY, Amount
from aquacalc.advice.reading import base, dangers, judge
from aquacalc.advice.reading.dangers import Warned
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.model import Product
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, chlorine, dosing, salts

LEAST_SHARE, MOST_SHARE = 0.25, 0.5
"""Of the water, changed at once."""

SOON_H, HOUR_H, EVENING_H, DAY_H, WEEK_H = 0.5, 1.0, 6.0, 24.0, 168.0

MOST_SODIUM_MG_L, MOST_POTASSIUM_MG_L = 50.0, 100.0
"""Of one dose against nitrite. Sodium after SRAC 454 (from memory), potassium common practice."""

SLOWLY_K_H, SLOWLY_K_D = 1.0, 4.0
"""Most that a tank is cooled or warmed in an hour and in a day. Common practice, no source."""

SALTS = ("calcium_chloride_dihydrate", "calcium_chloride_anhydrous", "sodium_chloride", "potassium_chloride")
"""Chlorides in the order of choice."""

DECHLORINATOR = "thiosulfate_pentahydrate"

STOPS_FEED = ("oxygen", "unionised_ammonia", "nitrite", "chlorine", "temperature")


@dataclass(frozen=True)
class Goods:
    """Grams of a chemical; product: from the garden's shelf, else None. grams: NaN without litres."""

    chemical: str
    grams: float
    product: Product | None = None


@dataclass(frozen=True)
class Action:
    """One thing to do. expected: values after it, named by parameter. again_h: hours to the next test."""

    key: str
    amounts: tuple[Amount, ...] = ()
    goods: Goods | None = None
    expected: tuple[Amount, ...] = ()
    again_h: float = DAY_H


@dataclass(frozen=True)
class Answer:
    """A reading judged: what it means, what to do in which order, what to leave alone."""

    judgement: Judgement
    actions: tuple[Action, ...]
    warned: tuple[Warned, ...]

    @property
    def again_h(self) -> float:
        """Hours until the first test is due."""
        return min((action.again_h for action in self.actions), default=WEEK_H)


def answer(given: Given) -> Answer:
    """The answer to what was given."""
    found = judge.judge(given)
    portion = base.of(found)
    warned = dangers.of(found, portion)
    return Answer(found, tuple(_actions(found, portion, warned)), warned)


def _actions(found: Judgement, portion: base.Base, warned: tuple[Warned, ...]) -> Iterator[Action]:
    gently = any(one.danger == "strong_air" and one.blocked for one in warned)
    stops = any(found.reached(name, "act today") for name in STOPS_FEED) or found.reached("tan", "emergency")
    if found.reached("oxygen", "act today"):
        yield Action("oxygen", expected=(_oxygen_line(found),), again_h=HOUR_H)
    elif found.reached("oxygen", "watch"):
        yield Action("oxygen-watch", expected=(_oxygen_line(found),), again_h=EVENING_H)
    if found.reached("chlorine", "emergency"):
        yield _dechlorinate(found.given)
    if stops or may_act(found):
        yield Action("feed", again_h=EVENING_H)
    yield from _ammonia(found, gently)
    yield from _nitrite(found)
    yield from _temperature(found)
    yield from _acidity(found, portion, gently)
    yield from _nitrate(found)
    if found.level == "not known":
        yield Action("test-more", again_h=EVENING_H)


def may_act(found: Judgement) -> bool:
    """Whether un-ionised ammonia may ask to act today, by the errors of the kit."""
    one = found.of("unionised_ammonia")
    return one is not None and URGENCY.index(one.level_high) <= URGENCY.index("act today")


def _oxygen_line(found: Judgement) -> Amount:
    """Oxygen to be reached: the full-feed line of the fish that wants most, else of its group."""
    lines = [row.numbers.get("do_full_feed_mg_l", math.nan) for row in found.given.species]
    known = [line for line in lines if not math.isnan(line)]
    limits = tables.load("water_limits")
    groups = [limits.row(f"oxygen_{row.key}") for row in found.given.species if row.line == 0]
    return Amount("oxygen", max([*known, *(row.number("watch_from") for row in groups)]), "concentration")


def _dechlorinate(given: Given) -> Action:
    """For all of the water, by the reading; a home kit's first step lies past what harms."""
    there = given.value("chlorine")
    amounts = (Amount("chlorine", there, "concentration"),)
    expected = (Amount("chlorine", 0.0, "concentration"),)
    return Action("chlorine", amounts, _reagent(given, there, given.litres), expected, SOON_H)


def _reagent(given: Given, chlorine_mg_l: float, volume_l: float) -> Goods:
    """Grams of what takes chlorine out: from the shelf, else thiosulfate."""
    chemicals = tables.load("chemicals")
    kinds = {product: chemicals.row(product.chemical).text("kind") for product in given.products}
    product = next((one for one, kind in kinds.items() if kind == "dechlorinator"), None)
    name = product.chemical if product else DECHLORINATOR
    purity = product.strength_pct / 100.0 if product else 1.0
    per_gram = chemicals.row(name).number("dechlorination_default_g_g") / purity
    return Goods(name, float(chlorine.reagent_g(chlorine_mg_l, volume_l, per_gram)), product)


# --- ammonia and nitrite -----------------------------------------------------------------------------------


def _ammonia(found: Judgement, gently: bool) -> Iterator[Action]:
    urgent = found.reached("unionised_ammonia", "act today") or found.reached("tan", "emergency")
    if urgent:
        yield change(found)
        yield Action("air-gently" if gently else "air", again_h=EVENING_H)
    if urgent or found.reached("tan", "watch") or found.reached("unionised_ammonia", "watch"):
        old = found.given.value("ph") < judge.OLD_WATER_PH
        yield Action("find-old" if old else "find", again_h=EVENING_H if urgent or may_act(found) else DAY_H)


def change_share(found: Judgement) -> float:
    """Share of the water to change at once for ammonia, 0.25 to 0.5; 0.25 for old water.

    Towards the un-ionised ammonia from which the most sensitive fish is watched.
    """
    tan = found.given.value("tan")
    if found.given.value("ph") < judge.OLD_WATER_PH:
        return dangers.LARGEST_CHANGE
    fraction = float(ammonia.unionised_fraction(found.ph, found.temperature_c))
    target = 0.5 * judge.act_line(found.given) / fraction
    if not tan > target:
        return LEAST_SHARE
    share = float(salts.share_to_change(tan, target, 0.0))
    return min(max(share, LEAST_SHARE), MOST_SHARE)


def change(found: Judgement) -> Action:
    """A part of the water for treated water, no warmer or colder, its pH no higher than the tank's."""
    given, share = found.given, change_share(found)
    tan = float(salts.after_change_mg_l(given.value("tan"), 0.0, share))
    there = tan * float(ammonia.unionised_fraction(found.ph, found.temperature_c))
    return _change(
        given, share, Amount("tan", tan, "nitrogen"), Amount("unionised-ammonia", there, "nitrogen")
    )


def _change(given: Given, share: float, *expected: Amount) -> Action:
    if math.isnan(given.litres):
        return Action("change", (Amount("share", share, "share"),), None, expected, EVENING_H)
    volume = share * given.litres
    amounts = (Amount("share", share, "share"), Amount("volume", volume, "volume"))
    treated = given.new_water_chlorine_mg_l
    goods = _reagent(given, treated, volume) if treated > 0.0 else None
    return Action("change-litres", amounts, goods, expected, EVENING_H)


def _nitrite(found: Judgement) -> Iterator[Action]:
    given, nitrite = found.given, found.given.value("nitrite")
    if not found.reached("nitrite", "watch"):
        return
    if not found.reached("nitrite", "act today"):
        yield Action("nitrite-watch", again_h=DAY_H)
        return
    sunfish = all(row.key in judge.SUNFISH for row in given.species)
    if sunfish:
        yield Action("nitrite-no-chloride", again_h=DAY_H)
    else:
        yield _chloride(given)
    after = float(salts.after_change_mg_l(nitrite, 0.0, LEAST_SHARE))
    urgent = found.reached("unionised_ammonia", "act today") or found.reached("tan", "emergency")
    if not urgent:  # else the water is changed already
        yield _change(given, LEAST_SHARE, Amount("nitrite", after, "nitrogen"))
        yield Action("nitrite-air", again_h=EVENING_H)


def _chloride(given: Given) -> Action:
    """Chloride to 20 times the nitrite as N; what is not known of it counts as none."""
    now = given.value("chloride")
    now = 0.0 if math.isnan(now) else now
    ratio = coefficient("chloride_per_nitrite").typical
    missing = float(salts.chloride_needed_mg_l(given.value("nitrite"), now, ratio))
    if not missing > 0.0:
        return Action("nitrite-chloride-there", (Amount("ratio", ratio, "ratio"),), again_h=DAY_H)
    of, product = _salt(given, missing)
    purity = product.strength_pct / 100.0 if product else 1.0
    most = min(missing, _most_chloride_mg_l(of))
    grams = float(dosing.grams_for_element(of, "Cl", most, given.litres, purity))
    key = "chloride" if most == missing else "chloride-part"
    expected = (Amount("chloride", now + most, "concentration"),)
    amounts = (Amount("rise", most, "concentration"), Amount("ratio", ratio, "ratio"))
    return Action(key, amounts, Goods(of.key, grams, product), expected, EVENING_H)


def _salt(given: Given, missing_mg_l: float) -> tuple[dosing.Chemical, Product | None]:
    """The chloride that stands on the shelf, calcium first; else plain salt while its sodium suits crops."""
    for name in SALTS:
        for product in given.products:
            if product.chemical == name:
                return dosing.chemical(name), product
    plain = dosing.chemical("sodium_chloride")
    return (plain if missing_mg_l <= _most_chloride_mg_l(plain) else dosing.chemical(SALTS[0])), None


def _most_chloride_mg_l(of: dosing.Chemical) -> float:
    caps = (("Na", MOST_SODIUM_MG_L), ("K", MOST_POTASSIUM_MG_L))
    return min(
        (
            cap * of.elements["Cl"] / of.elements[element]
            for element, cap in caps
            if of.elements[element] > 0.0
        ),
        default=math.inf,
    )


# --- temperature, pH, the rest -----------------------------------------------------------------------------


def _temperature(found: Judgement) -> Iterator[Action]:
    if not found.reached("temperature", "watch"):
        return
    temperature_c = found.given.value("temperature")
    rows = [row for row in found.given.species if "t_stress_high_c" in row.numbers]
    hot = any(temperature_c > row.number("t_stress_high_c") for row in rows)
    slowly = (
        Amount("rate", SLOWLY_K_H, "temperature_difference"),
        Amount("day", SLOWLY_K_D, "temperature_difference"),
    )
    yield Action("cool" if hot else "warm", slowly, again_h=HOUR_H)


def _acidity(found: Judgement, portion: base.Base, gently: bool) -> Iterator[Action]:
    given = found.given
    if portion.state == "portion" and portion.dose is not None:
        dose = portion.dose
        goods = Goods(portion.chemical, portion.grams, portion.product)
        expected = (
            Amount("ph", dose.ph_at_once, "ph"),
            Amount("alkalinity", dose.alkalinity_mg_l, "alkalinity"),
        )
        amounts = (
            Amount("rise", dose.rise_mg_l, "alkalinity"),
            Amount("portions", portion.portions, "number"),
            Amount("settled", dose.ph_settled, "ph"),
        )
        yield Action("base", amounts, goods, expected, EVENING_H)
    elif portion.state == "test ammonia":
        yield Action("base-test-ammonia", again_h=SOON_H)
    elif portion.state == "test alkalinity":
        yield Action("base-test-alkalinity", again_h=SOON_H)
    elif portion.state == "does not fit":
        yield Action("base-does-not-fit", again_h=SOON_H)
    elif portion.state == "refused":
        yield Action("base-refused", again_h=DAY_H)
    elif portion.state == "change first":
        changed = found.reached("unionised_ammonia", "act today") or found.reached("tan", "emergency")
        if not changed:
            yield change(found)
        yield Action("base-later", (Amount("line", judge.act_line(given), "nitrogen"),), again_h=EVENING_H)
    high = tables.load("water_limits").row("ph_high").number("watch_from")
    if given.value("ph") >= high:
        known = "tan" in given.measures
        yield Action("ph-high" if known else "ph-high-test", again_h=DAY_H)
    if found.reached("carbon_dioxide", "watch"):
        yield Action("dioxide-later" if gently else "dioxide", again_h=EVENING_H)


def _nitrate(found: Judgement) -> Iterator[Action]:
    if not found.reached("nitrate", "watch"):
        return
    nitrate = found.given.value("nitrate")
    low = tables.load("water_limits").row("nitrate_low").number("watch_from")
    if nitrate <= low:
        yield Action("nitrate-low", again_h=WEEK_H)
    elif found.reached("nitrate", "act today"):
        after = float(salts.after_change_mg_l(nitrate, 0.0, LEAST_SHARE))
        expected = (Amount("nitrate", after, "nitrogen"),)
        yield Action("nitrate", (Amount("share", LEAST_SHARE, "share"),), None, expected, DAY_H)
    else:
        yield Action("nitrate-watch", again_h=WEEK_H)
