"""Whether a base may go in after a reading, which one, and how large a portion.

Everything that raises pH is first reckoned to its final pH: there un-ionised ammonia has to stay under the
line from which fish ask to act today. A portion is never the whole: the next one waits for a new test.
"""

import math
from dataclasses import dataclass
from typing import Literal

from aquacalc import tables
from aquacalc.advice.reading import judge
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden.model import Product
from aquacalc.water import dosing

USUAL_CARBON_DIOXIDE_MG_L = 5.0
"""Of a well-aired loop, low end of the usual 5 to 10. Common practice, no source."""

TARGET_PH = 6.8
"""Middle of the usual working range. Common practice, no source."""

BASES_UP_TO_PH = 7.2
"""Where alkalinity alone is low, no base is given above it. Common practice, no source."""

PH_STEP, PH_STEP_EMERGENCY = 0.3, 0.5
PORTIONS, PORTIONS_WITH_CARE = 2, 4
"""Most for one day, in how many portions; with care for hydroxides and below pH 5.5. Common practice."""

WITHOUT_LITRES = 1000.0
OTHERWISE = "potassium_bicarbonate"
"""The mildest base; where nothing fitting stands on the shelf."""

State = Literal[
    "not wanted", "test ammonia", "test alkalinity", "does not fit", "change first", "refused", "portion"
]


@dataclass(frozen=True)
class Base:
    """What is said about a base. product: from the garden's shelf, else None. dose: None but for `portion`
    and for what was refused; its grams are NaN where the litres are not known."""

    state: State
    chemical: str = ""
    product: Product | None = None
    dose: dosing.Dose | None = None
    portions: int = 0
    grams: float = math.nan


def of(found: Judgement) -> Base:
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
    water = judge.water(given, found.temperature_c)
    if water is None or not judge.fits(float(water.carbon_dioxide_mg_l)):
        return Base("does not fit")
    chemical, product = _goods(found)
    purity = 1.0 if product is None else product.strength_pct / 100.0
    litres = WITHOUT_LITRES if math.isnan(given.litres) else given.litres
    most_tan = tan.high if math.isfinite(tan.high) else tan.value
    place = dosing.Place(water, litres, USUAL_CARBON_DIOXIDE_MG_L, most_tan)
    hurry = found.reached("ph", "emergency") and given.value("ph") < BASES_UP_TO_PH
    step = PH_STEP_EMERGENCY if hurry else PH_STEP
    day = dosing.daily_limit(place, chemical, purity, step).dose.rise_mg_l
    rise = min(day, _missing_mg_l(found, place, chemical))
    if not rise > 0.0:
        return Base("not wanted")
    portions = PORTIONS_WITH_CARE if hurry or chemical.is_hydroxide else PORTIONS
    portion = dosing.dose(place, chemical, rise / portions, purity)
    against = dosing.objections(portion, step, judge.act_line(given))
    state: State = "portion"
    if "unionised_ammonia" in against:
        state = "change first"
    elif set(against) - {"calcite"}:
        state = "refused"
    grams = math.nan if math.isnan(given.litres) else portion.grams
    return Base(state, chemical.key, product, portion, portions, grams)


def wanted(found: Judgement) -> bool:
    """Whether pH or alkalinity is low enough for a base."""
    limits = tables.load("water_limits")
    ph, alkalinity = found.given.value("ph"), found.given.value("alkalinity")
    low_ph = ph <= limits.row("ph_low").number("watch_from")
    low_alkalinity = alkalinity <= limits.row("alkalinity_low").number("watch_from")
    return low_ph or (low_alkalinity and not ph > BASES_UP_TO_PH)


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
        if row.text("kind") != "base" or {"slow", "sodium"} & set(row.listed("caution")):
            continue
        of_shelf = dosing.chemical(product.chemical)
        (strong if of_shelf.is_hydroxide else mild).append((of_shelf, product))
    if found.given.setting == "school":
        strong = []
    fitting = [*mild, *strong]
    return fitting[0] if fitting else (dosing.chemical(OTHERWISE), None)


def _missing_mg_l(found: Judgement, place: dosing.Place, of: dosing.Chemical) -> float:
    """Alkalinity that is missing to the least working value, or to the target pH."""
    least = tables.load("water_limits").row("alkalinity_low").number("watch_from")
    by_alkalinity = least - float(place.water.alkalinity_mg_l)
    by_ph = float(dosing.rise_for_ph_mg_l(place.water, of, TARGET_PH))
    return max(by_alkalinity, by_ph if math.isfinite(by_ph) else 0.0)
