"""What speaks against a dose, in the order in which it is said; each reason has its milder way."""

import math

from aquacalc import crops, tables
from aquacalc.advice.doses.answer import Plan, Refusal
from aquacalc.advice.doses.course import MOST_DAYS
from aquacalc.advice.doses.limestone import limestone_reach_mg_l
from aquacalc.advice.doses.portion import settled_ph
from aquacalc.advice.doses.request import Goal, Request, place_of, water_of
from aquacalc.advice.finding import Amount
from aquacalc.garden.model import Setting
from aquacalc.judge import lines
from aquacalc.tables import Row
from aquacalc.water import carbonate, dosing, salts, supplements
from aquacalc.water.dosing import Chemical, Place

LEAST_YIELD_PCT = 90.0
"""Yield of a crop below which added salt counts as more than it can take. Common practice, no source."""
MOST_OTHERS = 4


# Before anything is weighed


def adults_only(row: Row) -> bool:
    """Whether a chemical is for adults only: hydroxides, acids, and whatever the table says so of.

    >>> [adults_only(tables.load("chemicals").row(name)) for name in ("citric_acid", "sodium_carbonate")]
    [True, False]
    """
    hydroxide = row.text("kind") == "base" and dosing.chemical(row.key).is_hydroxide
    return hydroxide or row.text("kind") in ("acid", "ammonia") or "adults" in row.listed("caution")


def may_offer(row: Row, setting: Setting) -> bool:
    """Whether a chemical is offered at a place at all: in a school nothing that is for adults only."""
    return row.text("kind") != "ammonia" and not (setting == "school" and adults_only(row))


def works_for(row: Row, goal: Goal) -> bool:
    """Whether a chemical changes what is wished; an acid lowers alkalinity and does nothing else here."""
    kind, of = row.text("kind"), dosing.chemical(row.key)
    if goal == "chlorine":
        return kind == "dechlorinator"
    if kind in ("acid", "dechlorinator", "ammonia"):
        return kind == "acid" and goal == "alkalinity"
    return of.alkalinity_eq_mol > 0.0 if goal in ("alkalinity", "ph") else of.elements[goal] > 0.0


def before_weighing(request: Request, row: Row, of: Chemical) -> Refusal | None:
    """What a chemical cannot do or may not do here, and wishes for which nothing is needed."""
    kind = row.text("kind")
    if request.setting == "school" and adults_only(row) and kind != "ammonia":
        return Refusal("school-acid" if kind == "acid" else "school")
    if kind == "ammonia":
        return Refusal("not-for-the-loop")
    if kind == "acid":
        return _acid(request)
    if not works_for(row, request.goal):
        return Refusal("no-effect", (Amount("others", others(request.goal), "text"),))
    if request.goal == "chlorine":
        return Refusal("chlorine-not-told") if not request.element_mg_l > 0.0 else None
    if request.goal == "ph" and request.wished > dosing.HIGHEST_PH:
        return Refusal("ph-high", _highest())
    if not request.wants_base and request.wished <= request.element_now:
        return Refusal("nothing-to-raise", wished_and_now(request))
    return None


def _acid(request: Request) -> Refusal | None:
    """Acid never goes into a loop; in the vessel it lowers alkalinity, and not below the working range."""
    if request.into == "loop":
        return Refusal("acid")
    if request.goal != "alkalinity":
        return Refusal("acid-goal")
    if request.wished >= request.alkalinity_mg_l:
        return Refusal("nothing-to-lower", wished_and_now(request))
    least = lines.begins_at("alkalinity", "watch", above=False)
    if request.wished < least:
        return Refusal("acid-low", (Amount("least", least, "alkalinity"),))
    return None


def others(goal: Goal) -> str:
    """Names of what does have the effect, mild ones first, parted by semicolons."""
    rows = [
        row
        for row in tables.load("chemicals")
        if row.text("kind") in ("base", "supplement", "salt", "dechlorinator")
        and works_for(row, goal)
        and not adults_only(row)
    ]
    return "; ".join(row.text("name") for row in rows[:MOST_OTHERS])


def wished_and_now(request: Request) -> tuple[Amount, ...]:
    """The wish and what is there."""
    kind = {"alkalinity": "alkalinity", "ph": "ph"}.get(request.goal, "concentration")
    now = {"alkalinity": request.alkalinity_mg_l, "ph": request.ph}.get(request.goal, request.element_now)
    return (Amount("wished", request.wished, kind), Amount("now", now, kind))


def nothing_to_raise(request: Request) -> Refusal:
    """The wish is there already, or comes by itself as carbon dioxide leaves."""
    place = place_of(request)
    settled = settled_ph(place, 0.0)[0]
    if request.goal == "ph" and request.wished > request.ph:
        return Refusal(
            "air-alone", (Amount("settled", settled, "ph"), Amount("wished", request.wished, "ph"))
        )
    return Refusal("nothing-to-raise", wished_and_now(request))


def _highest() -> tuple[Amount, ...]:
    return (Amount("highest", dosing.HIGHEST_PH, "ph"),)


# Supplements and salts


def against_supplement(made: Plan, row: Row) -> Refusal | None:
    """A chelate that lets go, too much salt, too many days, or fewer days than it takes."""
    request = made.request
    ends = row.number("ph_stable_to_low"), row.number("ph_stable_to_high")
    if supplements.chelate_hold(request.ph, *ends) == "lost":
        return Refusal("chelate", (Amount("ph", request.ph, "ph"), Amount("end", ends[1], "ph")))
    return _too_much(made) or _too_salty(made) or _too_many(made) or _too_fast(made)


def _too_much(made: Plan) -> Refusal | None:
    """More of an element than plants are given, the wished one and what comes along with it."""
    for element, highest in supplements.HIGHEST_MG_L.items():
        there = made.request.element_now if element == made.request.goal else 0.0
        after = there + made.elements_mg_l.get(element, 0.0)
        if made.elements_mg_l.get(element, 0.0) > 0.0 and after > highest * (1.0 + 1e-9):
            return Refusal(
                "element-high",
                (
                    Amount("element", element, "text"),
                    Amount("after", after, "concentration"),
                    Amount("highest", highest, "concentration"),
                ),
            )
    return None


def _too_salty(made: Plan) -> Refusal | None:
    """Sodium past the plants' limit, or a crop that loses more than a tenth by ions that stay."""
    elements = made.elements_mg_l
    if not any(elements.get(one, 0.0) > 0.0 for one in supplements.CHLORIDE_SALTS):
        return None
    hurt = [name for name in made.request.crops if _is_hurt(made, name)]
    if hurt:
        names = "; ".join(crops.crop(name).name for name in hurt)
        after = min(_yields_pct(made, name)[1] for name in hurt)
        return Refusal("crops", (Amount("names", names, "text"), Amount("yield", after, "percent")))
    sodium = elements.get("Na", 0.0)
    if sodium > supplements.SODIUM_LIMIT_MG_L:
        return Refusal(
            "sodium",
            (
                Amount("sodium", sodium, "concentration"),
                Amount("line", supplements.SODIUM_LIMIT_MG_L, "concentration"),
            ),
        )
    return None


def _yields_pct(made: Plan, crop: str) -> tuple[float, float]:
    """Yield of a crop before and after the whole dose, % of that without salt; NaN where not known."""
    of = crops.crop(crop)
    known = made.request.conductivity_us_cm
    now = carbonate.USUAL_CONDUCTIVITY_US_CM / 1000.0 if math.isnan(known) else known / 1000.0
    after = crops.with_salt_ds_m(now, supplements.as_common_salt_g_l(made.elements_mg_l))
    both = crops.salt_yield_pct([now, float(after)], of.salt_threshold_ds_m, of.salt_slope_pct_ds_m)
    return float(both[0]), float(both[1])


def _is_hurt(made: Plan, crop: str) -> bool:
    """Whether a crop cannot take the salt: by its yield, or by the working cap on added salt."""
    before, after = _yields_pct(made, crop)
    cap = tables.load("crops").row(crop).number("added_salt_cap_high_g_l")
    added = supplements.as_common_salt_g_l(made.elements_mg_l)
    return (after < LEAST_YIELD_PCT and after < before - 1.0) or added > cap


def against_dechlorinator(made: Plan) -> Refusal | None:
    """Ascorbic acid in a water that cannot take its acid. Nothing lives in a vessel."""
    if made.request.into == "vessel" or made.ph_low == made.request.ph:
        return None
    before = water_of(made.request)
    if stands_acid(before, before.plus(made.rise_mg_l, 0.0)):
        return None
    return Refusal("sour", (Amount("ph", made.ph_low, "ph"), Amount("used", -made.rise_mg_l, "alkalinity")))


def stands_acid(before: carbonate.Water, after: carbonate.Water) -> bool:
    """Whether an acid leaves pH and alkalinity on no worse a side of each line than before."""
    return lines.is_no_worse("ph", float(after.ph), float(before.ph)) and lines.is_no_worse(
        "alkalinity", float(after.alkalinity_mg_l), float(before.alkalinity_mg_l)
    )


# Bases


def against_base(made: Plan, purity: float) -> Refusal | None:
    """Too high a pH, limestone that stops, ammonia, hydroxide, scale, salt, too many days, or too few."""
    place = place_of(made.request)
    if made.request.into == "vessel":
        # Nothing lives there: it is aired and tested before it goes to the fish.
        return (
            _limestone(made, place) or _hydroxide(made, place, purity) or _too_much(made) or _too_salty(made)
        )
    stopped = made.bound_by == "ph_high" and made.days > MOST_DAYS
    if stopped or made.ph_low > dosing.HIGHEST_PH:
        return Refusal("ph-high", _highest())
    return (
        _limestone(made, place)
        or _past_ammonia(made)
        or _hydroxide(made, place, purity)
        or _scale(made, place)
        or _too_much(made)
        or _too_salty(made)
        or _too_many(made)
        or _too_fast(made)
    )


def _limestone(made: Plan, place: Place) -> Refusal | None:
    """Limestone, shell and dolomite stop by themselves where calcite is at its solubility."""
    if "slow" not in made.cautions:
        return None
    most = limestone_reach_mg_l(place, made.chemical)
    if made.alkalinity_after_mg_l <= most + 0.5:
        return None
    water = place.water
    ph = carbonate.ph_at_carbon_dioxide(
        most, place.usual_carbon_dioxide_mg_l, water.temperature_c, water.ionic_strength
    )
    return Refusal("limestone", (Amount("alkalinity", most, "alkalinity"), Amount("ph", float(ph), "ph")))


def _scale(made: Plan, place: Place) -> Refusal | None:
    """Settled water in which scale forms; where calcium is not known, nothing is said."""
    calcium = place.calcium_mg_l + made.elements_mg_l.get("Ca", 0.0)
    if math.isnan(calcium) or not calcium > 0.0 or "slow" in made.cautions:
        return None
    water = place.water
    index = carbonate.calcite_saturation_index(
        made.ph_low, made.alkalinity_after_mg_l, calcium, water.temperature_c, water.ionic_strength
    )
    if index <= carbonate.SCALE_INDEX:
        return None
    amounts = (
        Amount("alkalinity", made.alkalinity_after_mg_l, "alkalinity"),
        Amount("calcium", calcium, "concentration"),
    )
    return Refusal("calcite", amounts)


def _past_ammonia(made: Plan) -> Refusal | None:
    request = made.request
    if math.isnan(request.tan_mg_l) or request.tan_mg_l <= made.tan_line_mg_l:
        return None
    share = float(salts.share_to_change(request.tan_mg_l, made.tan_line_mg_l, 0.0))
    return Refusal(
        "ammonia",
        (
            Amount("tan", request.tan_mg_l, "nitrogen"),
            Amount("ph", made.ph_judged, "ph"),
            Amount("line", made.tan_line_mg_l, "nitrogen"),
            Amount("share", share, "share"),
        ),
    )


def _hydroxide(made: Plan, place: Place, purity: float) -> Refusal | None:
    """Hydroxide of a day, as the grower means to give it, beyond what free carbon dioxide can take."""
    in_vessel = made.request.into == "vessel"
    if not made.chemical.is_hydroxide or (math.isnan(made.request.days) and not in_vessel):
        return None
    rise = made.rise_mg_l / (1.0 if in_vessel else max(made.request.days, 1.0))
    share = float(dosing.hydroxide_share(place.water, made.chemical, rise))
    if share <= dosing.HYDROXIDE_SHARE_REFUSED:
        return None
    mild = dosing.chemical(dosing.MILDEST_BASE)
    mild_g = float(dosing.grams_for_alkalinity(mild, made.rise_mg_l, place.volume_l))
    dioxide_mg_l = float(place.water.carbon_dioxide_mg_l)
    most = float(dosing.rise_by_hydroxide_mg_l(dioxide_mg_l, dosing.HYDROXIDE_SHARE_ADVISED))
    most_g = float(dosing.grams_for_alkalinity(made.chemical, most, place.volume_l, purity))
    return Refusal(
        "hydroxide",
        (
            Amount("ph", dosing.dose(place, made.chemical, rise, purity).ph_at_once, "ph"),
            Amount("portion", most_g if in_vessel else made.day_g, "dose"),
            Amount("mild", mild_g, "dose"),
        ),
    )


def _too_many(made: Plan) -> Refusal | None:
    if made.days <= MOST_DAYS:
        return None
    return Refusal("too-many", (Amount("portion", made.day_g, "dose"), Amount("grams", made.grams, "dose")))


def _too_fast(made: Plan) -> Refusal | None:
    """Fewer days than it takes."""
    days = made.request.days
    if made.request.into == "vessel" or math.isnan(days) or days >= made.days:
        return None
    amounts = (Amount("days", float(made.days), "number"), Amount("portion", made.day_g, "dose"))
    return Refusal("ph-step" if made.first is not None else "element-day", amounts)
