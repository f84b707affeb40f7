"""Whether a base may go in after a reading, which one, and how large a portion.

Everything that raises pH is first reckoned to its final pH: there un-ionised ammonia has to stay under the
line from which fish ask to act today. Portions and that pH are those of `advice.doses`, so that a judged
reading and a plan of doses never part. A portion is never the whole: the next one waits for a new test.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

from aquacalc import tables
from aquacalc.advice import shelf
from aquacalc.advice.doses import course, planning, portion, request
from aquacalc.advice.doses.refusals import may_offer
from aquacalc.advice.reading import derived
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.model import Product
from aquacalc.judge import lines
from aquacalc.judge.water import fits
from aquacalc.sizing.nitrification import RISE_PH
from aquacalc.water import ammonia, carbonate, dosing

BASES_UP_TO_PH = 7.2
"""Where alkalinity alone is low, no base is given above it, or above what the garden aims at. Common
practice, no source."""

WITHOUT_LITRES = 1000.0
"""Portions of water of which the litres are not known are reckoned for so much."""

State = Literal[
    "not wanted", "test ammonia", "test alkalinity", "does not fit", "change first", "refused", "portion"
]


@dataclass(frozen=True)
class Base:
    """What is said about a base. product: from the garden's shelf, else None. dose: None but for `portion`
    and for what was refused; portions: of its like on one day at most; grams: of the portion, NaN where the
    litres are not known. missing_mg_l: alkalinity that the base would bring in all, mg/L CaCO3; judged_ph:
    where ammonia was judged, with the error of a drop kit."""

    state: State
    chemical: str = ""
    product: Product | None = None
    dose: dosing.Dose | None = None
    portions: int = 0
    grams: float = math.nan
    missing_mg_l: float = math.nan
    judged_ph: float = math.nan


def base_of(found: Judgement) -> Base:
    """The next portion of base, or why there is none.

    Not wanted: pH and alkalinity are high enough. Test: ammonia or alkalinity has to be known first. Change
    first: un-ionised ammonia at the final pH would pass the line. Refused: something else speaks against it.
    """
    if not wanted(found):
        return Base("not wanted")
    given = found.given
    tan = given.measures.get("tan")
    if tan is None or tan.beyond == "above":
        return Base("test ammonia")
    if "alkalinity" not in given.measures or "ph" not in given.measures:
        return Base("test alkalinity")
    if not given.measures["alkalinity"].told or given.measures["ph"].beyond == "above":
        return Base("test alkalinity")
    found_water = derived.water(given, found.temperature_c)
    if found_water is None or not fits(float(found_water.carbon_dioxide_mg_l)):
        return Base("does not fit")
    chemical, product = _goods(found)
    purity = shelf.share_pure(product)
    place = _place(found, found_water)
    missing = _missing_mg_l(found, place, chemical)
    if not missing > 0.0 or not portion.day_of(place, chemical).rise_mg_l > 0.0:
        return Base("not wanted")
    # What is told of the portion is its pH once the water is well aired again: the higher one.
    aired = replace(place, usual_carbon_dioxide_mg_l=dosing.aired_mg_l(place.usual_carbon_dioxide_mg_l))
    next_one = portion.portion_of(aired, chemical, missing, purity)
    way = course.day_by_day(place, chemical, purity, missing)
    line = given.act_line_mg_l
    judged = course.ammonia_after(place, way, missing, line)
    against = dosing.objections(next_one.dose, portion.ph_step(given.value("ph")), line)
    state: State = "portion"
    if tan.highest > judged.tan_line_mg_l or "unionised_ammonia" in against:
        state = "change first"
    elif set(against) - {"calcite"} or not _would_be_planned(found, place, chemical, missing, next_one):
        state = "refused"
    return Base(
        state,
        chemical.key,
        product,
        next_one.dose,
        next_one.day.portions,
        math.nan if math.isnan(given.litres) else next_one.dose.grams,
        missing,
        judged.judged_ph,
    )


def _would_be_planned(
    found: Judgement, place: dosing.Place, of: dosing.Chemical, missing_mg_l: float, next_one: portion.Portion
) -> bool:
    """Whether a plan of doses for the same wish holds no refusal; that a wish takes many days is none."""
    given, water = found.given, place.water
    wish = request.Request(
        chemical=of.key,
        goal="alkalinity",
        wished=float(water.alkalinity_mg_l) + missing_mg_l,
        volume_l=place.volume_l,
        ph=float(water.ph),
        alkalinity_mg_l=float(water.alkalinity_mg_l),
        temperature_c=float(water.temperature_c),
        tan_mg_l=place.tan_mg_l,
        conductivity_us_cm=given.value("conductivity"),
        setting=given.setting,
        crops=given.crops,
        line_mg_l=given.act_line_mg_l,
    )
    refusal = planning.plan(wish).refusal
    if refusal is not None and refusal.reason == "too-many":
        rise = float(water.alkalinity_mg_l) + next_one.dose.rise_mg_l
        refusal = planning.plan(replace(wish, wished=rise)).refusal
    return refusal is None


def _place(found: Judgement, as_read: carbonate.Water) -> dosing.Place:
    """The water as a plan of doses reckons it, with the carbon dioxide that it holds now."""
    given = found.given
    strength = carbonate.usual_ionic_strength(given.value("conductivity"))
    water = carbonate.water(
        given.value("ph"), float(as_read.alkalinity_mg_l), float(as_read.temperature_c), strength
    )
    litres = WITHOUT_LITRES if math.isnan(given.litres) else given.litres
    return dosing.Place(water, litres, float(water.carbon_dioxide_mg_l), given.measures["tan"].highest)


def wanted(found: Judgement) -> bool:
    """Whether pH or alkalinity is low enough for a base.

    A pH that is only under the garden's target is no trouble: base is for it where all that it asks for was
    read, and where alkalinity does not stand high already, which is carbon dioxide that wants more air.
    """
    ph, alkalinity = found.given.value("ph"), found.given.value("alkalinity")
    aim = found.given.aim
    low_alkalinity = alkalinity <= lines.begins_at("alkalinity", "watch", above=False, aim=aim)
    if low_alkalinity and not ph > max(BASES_UP_TO_PH, aim.high_ph):
        return True
    if ph <= lines.begins_at("ph", "watch", above=False, aim=aim):
        return True
    read = "tan" in found.given.measures
    return ph <= aim.begin_ph and read and alkalinity < lines.begins_at("alkalinity", "watch", aim=aim)


def waits_for_ammonia(found: Judgement, portion: Base) -> bool:
    """Whether a base is wanted and ammonia forbids it: then nothing is fed until it has fallen.

    Where no portion can be reckoned, ammonia counts at the pH that the base would aim at, with the rise of an
    afternoon. Common practice, no source.
    """
    if portion.state in ("not wanted", "test ammonia", "portion"):
        return False
    aim, tan = max(found.given.aim.target_ph + RISE_PH, found.ph), found.given.measures["tan"]
    if not tan.seen:
        return False
    there = tan.highest * float(ammonia.unionised_fraction(aim, found.temperature_c))
    return portion.state == "change first" or there > found.given.act_line_mg_l


def hydroxides(found: Judgement) -> bool:
    """Whether a hydroxide may be at hand: on the shelf, or the shelf is not known."""
    given = found.given
    if not given.shelf_known:
        return True
    return any(dosing.chemical(product.chemical).is_hydroxide for product in given.products)


def _goods(found: Judgement) -> tuple[dosing.Chemical, Product | None]:
    """The base to take: mild ones first, hydroxides never in a school, sodium and slow ones not at all."""
    chemicals = tables.load("chemicals")
    mild: list[tuple[dosing.Chemical, Product | None]] = []
    strong: list[tuple[dosing.Chemical, Product | None]] = []
    for product in found.given.products:
        row = chemicals.row(product.chemical)
        unfit = {"slow", "sodium"} & set(row.listed("caution"))
        if row.text("kind") != "base" or unfit or not may_offer(row, found.given.setting):
            continue
        of_shelf = dosing.chemical(product.chemical)
        (strong if of_shelf.is_hydroxide else mild).append((of_shelf, product))
    fitting = [*mild, *strong]
    return fitting[0] if fitting else (dosing.chemical(dosing.MILDEST_BASE), None)


def _missing_mg_l(found: Judgement, place: dosing.Place, of: dosing.Chemical) -> float:
    """Alkalinity that is missing to the least working value, or to the target pH."""
    aim = found.given.aim
    least = lines.begins_at("alkalinity", "watch", above=False, aim=aim)
    by_alkalinity = least - float(place.water.alkalinity_mg_l)
    by_ph = float(dosing.rise_for_ph_mg_l(place.water, of, aim.target_ph))
    return max(by_alkalinity, by_ph if math.isfinite(by_ph) else 0.0)
