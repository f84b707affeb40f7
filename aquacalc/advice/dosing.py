"""A dose that is asked for: the plan with its portions, or why not and the milder way.

A plan never says a date. It says what to test, the portion, and what the water does at once and settled; the
number of portions is an estimate that each new test corrects. The pH that counts for ammonia is the highest
on the way. Keys and amounts; `panels` and `pages` make the sentences.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

from aquacalc import crops, kits, tables
from aquacalc.advice.finding import Amount
from aquacalc.constants import MG_CACO3_PER_MEQ
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Setting
from aquacalc.tables import Row
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, carbonate, dosing, salts, supplements
from aquacalc.water.dosing import Chemical, Dose, Place

Reason = Literal[
    "acid",
    "not-for-the-loop",
    "school",
    "no-effect",
    "nothing-to-raise",
    "ph-high",
    "limestone",
    "chelate",
    "ammonia",
    "hydroxide",
    "ph-step",
    "element-day",
    "too-many",
    "sodium",
    "crops",
]
REASONS: tuple[Reason, ...] = Reason.__args__  # type: ignore[attr-defined]
Goal = Literal["alkalinity", "ph", "Fe", "K", "Ca", "Mg", "Cl"]
GOALS: tuple[Goal, ...] = Goal.__args__  # type: ignore[attr-defined]

MILDEST = "potassium_bicarbonate"
MOST_PORTIONS = 30
"""A plan of more portions than this is another plan: take something milder. Common practice, no source."""
USUAL_CONDUCTIVITY_DS_M = 0.6
"""Loop water of which it is not known. Common practice, no source."""
LEAST_YIELD_PCT = 90.0
"""Yield of a crop below which added salt counts as more than it can take. Common practice, no source."""
TEST_PORTION_SHARE = 1e-6


@dataclass(frozen=True)
class Request:
    """What is asked for. NaN where a reading is not known.

    strength: share of the product that is the chemical (of a chelate: iron on its label). wished: of the
    goal, mg/L CaCO3, pH, or mg/L of the element; element_mg_l: of that element now. days: in how many days
    the grower means to be there, NaN for as many as it takes. carbon_dioxide_mg_l: usual in this loop, NaN
    for what pH and alkalinity now say. stock_g_l: product in each litre of a solution that it
    was made up as, NaN for none. species: key of the fish. crops: keys.
    """

    chemical: str
    goal: Goal
    wished: float
    volume_l: float
    ph: float
    alkalinity_mg_l: float
    temperature_c: float
    strength: float = 1.0
    element_mg_l: float = math.nan
    tan_mg_l: float = math.nan
    calcium_mg_l: float = math.nan
    conductivity_us_cm: float = math.nan
    carbon_dioxide_mg_l: float = math.nan
    days: float = math.nan
    stock_g_l: float = math.nan
    species: str = "nile_tilapia"
    setting: Setting = "home"
    crops: tuple[str, ...] = ()


@dataclass(frozen=True)
class Refusal:
    """Why not, with amounts; each reason has a milder way, in the catalogue under the same name."""

    reason: Reason
    amounts: tuple[Amount, ...] = ()


@dataclass(frozen=True)
class Plan:
    """The answer.

    grams: in all; portion_g: the first portion, the most for one day; portions: an estimate. bound_by: what
    sets the portion. first: what the first portion does, None for a product without alkalinity. ph_low,
    ph_high: settled, at the usual carbon dioxide and at that of a well-aired loop. ph_highest: on the way;
    ph_judged: the same with the error of a drop kit. tan_line_mg_l: TAN that would reach the act line there.
    elements_mg_l: what comes along in all. dioxide_mg_l: by the readings, NaN where it does not matter.
    refusal: None where nothing speaks against it; what stands beside one still tells the amounts.
    """

    request: Request
    chemical: Chemical
    cautions: tuple[str, ...]
    grams: float
    portion_g: float
    portions: int
    bound_by: str
    rise_mg_l: float
    first: Dose | None
    ph_low: float
    ph_high: float
    ph_highest: float
    ph_judged: float
    tan_line_mg_l: float
    elements_mg_l: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    dioxide_mg_l: float = math.nan
    refusal: Refusal | None = None

    @property
    def portion_ml(self) -> float:
        """Millilitres of the solution for a portion, NaN where none was made up."""
        return float(supplements.stock_solution_ml(self.portion_g, self.request.stock_g_l))

    @property
    def is_doubtful(self) -> bool:
        """Whether pH and alkalinity hardly go together."""
        low, high = carbonate.LIKELY_CARBON_DIOXIDE_MG_L
        return self.dioxide_mg_l < low or self.dioxide_mg_l > high


def water_of(request: Request) -> carbonate.Water:
    """The water as measured; ionic strength by its conductivity where known."""
    known = not math.isnan(request.conductivity_us_cm)
    conductivity = request.conductivity_us_cm if known else 1000.0 * USUAL_CONDUCTIVITY_DS_M
    strength = float(carbonate.ionic_strength_from_conductivity(conductivity))
    return check(carbonate.water(request.ph, request.alkalinity_mg_l, request.temperature_c, strength))


def check(water: carbonate.Water) -> carbonate.Water:
    """The water itself; `InputError` where no water has such a pH with so little alkalinity."""
    if float(water.inorganic_carbon_mmol_l) <= 0.0:
        raise InputError(Problem("problem-no-such-water"))
    return water


def place_of(request: Request) -> Place:
    """The water, its litres and its usual carbon dioxide: as told, else what the reading itself holds."""
    water = water_of(request)
    usual = request.carbon_dioxide_mg_l
    if math.isnan(usual):
        usual = float(water.carbon_dioxide_mg_l)
    return Place(water, request.volume_l, usual, request.tan_mg_l, request.calcium_mg_l)


def row_of(request: Request) -> Row:
    """The chemical's row; `InputError` for a name that is not known."""
    return tables.load("chemicals").row(request.chemical)


def act_line_mg_l(species: str) -> float:
    """Un-ionised ammonia, mg N/L, from which to act for a species: that of its warmth."""
    cold = tables.load("species").row(species).text("temperature_class") == "cold"
    key = "unionised_ammonia_cold" if cold else "unionised_ammonia_warm"
    return tables.load("water_limits").row(key).number("act_from")


def rise_wished_mg_l(request: Request, of: Chemical, purity: float) -> float:
    """Rise of alkalinity that the wish comes to, mg/L CaCO3; a wished pH is the settled one.

    >>> wish = Request("potassium_bicarbonate", "alkalinity", 60.0, 1000.0, 6.4, 20.0, 25.0)
    >>> rise_wished_mg_l(wish, dosing.chemical("potassium_bicarbonate"), 1.0)
    40.0
    """
    if request.goal == "alkalinity":
        return request.wished - request.alkalinity_mg_l
    place = place_of(request)
    if request.goal == "ph":
        water = place.water
        wished = carbonate.alkalinity_at_carbon_dioxide_mg_l(
            request.wished, place.usual_carbon_dioxide_mg_l, water.temperature_c, water.ionic_strength
        )
        return float(wished - request.alkalinity_mg_l)
    if of.alkalinity_eq_mol == 0.0:
        return 0.0
    grams = _grams_for_element(request, of, purity)
    return float(dosing.rise_of_grams_mg_l(of, grams, request.volume_l, purity))


def plan(request: Request) -> Plan:
    """The plan for a request, with the first thing that speaks against it, if any.

    >>> answer = plan(Request("potassium_bicarbonate", "alkalinity", 71.4, 600.0, 6.8, 35.7, 24.0))
    >>> round(answer.grams), answer.refusal is None
    (43, True)
    """
    row, of = row_of(request), dosing.chemical(request.chemical)
    purity = supplements.purity_of_label(request.strength, of.elements["Fe"], row.number("fe_high_g_g"))
    cautions = row.listed("caution")
    before = _before_amounts(request, row, of)
    if before is not None:
        return _empty(request, of, cautions, before)
    if of.alkalinity_eq_mol == 0.0:
        made = _supplement(request, of, purity, cautions)
        return replace(made, refusal=_against_supplement(made, row))
    rise = rise_wished_mg_l(request, of, purity)
    if rise <= 0.0:
        return _empty(request, of, cautions, Refusal("nothing-to-raise", _lowering(request)))
    made = _base(request, of, purity, cautions, rise)
    return replace(made, refusal=_against_base(made, purity))


# What speaks against it before anything is weighed


def _before_amounts(request: Request, row: Row, of: Chemical) -> Refusal | None:
    kind = row.text("kind")
    if kind == "acid":
        return Refusal("acid")
    if kind in ("ammonia", "dechlorinator"):
        return Refusal("not-for-the-loop")
    if request.setting == "school" and (of.is_hydroxide or "caustic" in row.listed("caution")):
        return Refusal("school")
    wished_base = request.goal in ("alkalinity", "ph")
    effect = of.alkalinity_eq_mol if wished_base else of.elements[request.goal]
    if effect == 0.0:
        return Refusal("no-effect", (Amount("others", _others(request.goal), "text"),))
    if request.goal == "ph" and request.wished > dosing.HIGHEST_PH:
        return Refusal("ph-high", _highest())
    if not wished_base and request.wished <= _element_now(request):
        return Refusal("nothing-to-raise", _lowering(request))
    return None


def _others(goal: Goal) -> str:
    """Names of what does have the effect, parted by semicolons."""
    rows = [row for row in tables.load("chemicals") if row.text("kind") in ("base", "supplement", "salt")]
    if goal in ("alkalinity", "ph"):
        found = [row for row in rows if row.text("kind") == "base" and "carbonate" in row.key]
    else:
        found = [row for row in rows if dosing.chemical(row.key).elements[goal] > 0.0 and not _caustic(row)]
    return "; ".join(row.text("name") for row in found[:4])


def _caustic(row: Row) -> bool:
    return "caustic" in row.listed("caution")


def _lowering(request: Request) -> tuple[Amount, ...]:
    kind = {"alkalinity": "alkalinity", "ph": "ph"}.get(request.goal, "concentration")
    now = {"alkalinity": request.alkalinity_mg_l, "ph": request.ph}.get(request.goal, _element_now(request))
    return (Amount("wished", request.wished, kind), Amount("now", now, kind))


def _highest() -> tuple[Amount, ...]:
    return (Amount("highest", dosing.HIGHEST_PH, "ph"),)


def _empty(request: Request, of: Chemical, cautions: tuple[str, ...], refusal: Refusal) -> Plan:
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=0.0,
        portion_g=0.0,
        portions=0,
        bound_by="",
        rise_mg_l=0.0,
        first=None,
        ph_low=request.ph,
        ph_high=request.ph,
        ph_highest=request.ph,
        ph_judged=request.ph,
        tan_line_mg_l=math.nan,
        refusal=refusal,
    )


# Supplements and salts


def _element_now(request: Request) -> float:
    return 0.0 if math.isnan(request.element_mg_l) else request.element_mg_l


def _grams_for_element(request: Request, of: Chemical, purity: float) -> float:
    rise = request.wished - _element_now(request)
    return float(dosing.grams_for_element(of, request.goal, rise, request.volume_l, purity))


def _supplement(request: Request, of: Chemical, purity: float, cautions: tuple[str, ...]) -> Plan:
    grams = _grams_for_element(request, of, purity)
    elements = dosing.element_rises_mg_l(of, grams, request.volume_l, purity)
    bound, portions = "", 1
    for element, most in supplements.MOST_IN_A_DAY_MG_L.items():
        times = math.ceil(float(elements.get(element, 0.0)) / most - 1e-9)
        if times > portions:
            bound, portions = element, times
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=grams,
        portion_g=grams / portions,
        portions=portions,
        bound_by=bound,
        rise_mg_l=0.0,
        first=None,
        ph_low=request.ph,
        ph_high=request.ph,
        ph_highest=request.ph,
        ph_judged=request.ph,
        tan_line_mg_l=math.nan,
        elements_mg_l=MappingProxyType({element: float(rise) for element, rise in elements.items()}),
    )


def _against_supplement(made: Plan, row: Row) -> Refusal | None:
    request = made.request
    ends = row.number("ph_stable_to_low"), row.number("ph_stable_to_high")
    if supplements.chelate_hold(request.ph, *ends) == "lost":
        return Refusal("chelate", (Amount("ph", request.ph, "ph"), Amount("end", ends[1], "ph")))
    return _too_salty(made) or _too_many(made) or _too_fast(made)


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
    now = USUAL_CONDUCTIVITY_DS_M if math.isnan(known) else known / 1000.0
    after = crops.with_salt_ds_m(now, supplements.as_common_salt_g_l(made.elements_mg_l))
    both = crops.salt_yield_pct([now, float(after)], of.salt_threshold_ds_m, of.salt_slope_pct_ds_m)
    return float(both[0]), float(both[1])


def _is_hurt(made: Plan, crop: str) -> bool:
    """Whether a crop cannot take the salt: by its yield, or by the working cap on added salt."""
    before, after = _yields_pct(made, crop)
    cap = tables.load("crops").row(crop).number("added_salt_cap_high_g_l")
    added = supplements.as_common_salt_g_l(made.elements_mg_l)
    return (after < LEAST_YIELD_PCT and after < before - 1.0) or added > cap


# Bases


def _base(request: Request, of: Chemical, purity: float, cautions: tuple[str, ...], rise: float) -> Plan:
    place = place_of(request)
    grams = float(dosing.grams_for_alkalinity(of, rise, request.volume_l, purity))
    elements = dosing.element_rises_mg_l(of, grams, request.volume_l, purity)
    first, bound, portions, highest = _portions(place, of, purity, rise, slow="slow" in cautions)
    low, high = _settled(place, rise)
    highest = max(highest, high)
    judged = highest + kits.error_of("ph_drops", highest)
    line = act_line_mg_l(request.species)
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=grams,
        portion_g=first.grams,
        portions=portions,
        bound_by=bound,
        rise_mg_l=rise,
        first=first,
        ph_low=low,
        ph_high=high,
        ph_highest=highest,
        ph_judged=judged,
        dioxide_mg_l=float(place.water.carbon_dioxide_mg_l),
        tan_line_mg_l=float(ammonia.tan_for_unionised_mg_l(line, judged, request.temperature_c)),
        elements_mg_l=MappingProxyType({element: float(amount) for element, amount in elements.items()}),
    )


def _settled(place: Place, rise_mg_l: float) -> tuple[float, float]:
    """Settled pH of the whole dose: at the usual carbon dioxide, and where the loop is well aired."""
    water = place.water

    def at(dioxide_mg_l: float) -> float:
        return float(
            carbonate.ph_at_carbon_dioxide(
                water.alkalinity_mg_l + rise_mg_l, dioxide_mg_l, water.temperature_c, water.ionic_strength
            )
        )

    usual = place.usual_carbon_dioxide_mg_l
    return at(usual), at(min(usual, dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L))


def _portions(
    place: Place, of: Chemical, purity: float, rise: float, slow: bool
) -> tuple[Dose, str, int, float]:
    """First portion, what sets it, how many of their like, and the highest pH right after one.

    Between two portions the free carbon dioxide comes back to its usual level. What dissolves over weeks is
    given whole: its pH is the settled one.
    """
    if slow:
        whole = dosing.dose(place, of, rise, purity)
        return whole, "", 1, whole.ph_settled
    step = coefficient("ph_step_per_day").typical
    first: Dose | None = None
    bound, count, left, highest, now = "", 0, rise, 0.0, place
    while left > 1e-6 * rise and count <= MOST_PORTIONS:
        day = dosing.daily_limit(now, of, purity, step)
        if first is not None and day.dose.rise_mg_l < TEST_PORTION_SHARE * rise:
            # The water has come to the highest pH: what is left cannot be given.
            return first, "ph_high", MOST_PORTIONS + 1, highest
        most, sets = min((day.dose.rise_mg_l, str(day.bound_by)), _by_elements(of))
        taken = min(left, most)
        portion = dosing.dose(now, of, taken, purity)
        if first is None:
            first, bound = portion, sets if taken < left else ""
        highest = max(highest, portion.ph_at_once)
        left, count = left - taken, count + 1
        now = replace(now, water=_settled_water(now, portion.alkalinity_mg_l))
        if taken == 0.0:
            return portion, "ph_high", MOST_PORTIONS + 1, highest
    assert first is not None
    return first, bound, count, highest


def _by_elements(of: Chemical) -> tuple[float, str]:
    """Rise of alkalinity, mg/L CaCO3, that brings the most of an element for one day, and that element."""
    per_rise = of.grams_per_eq / MG_CACO3_PER_MEQ
    return min(
        (most / (per_rise * of.elements[element]), element)
        for element, most in supplements.MOST_IN_A_DAY_MG_L.items()
        if of.elements[element] > 0.0
    )


def _settled_water(place: Place, alkalinity_mg_l: float) -> carbonate.Water:
    water = place.water
    ph = carbonate.ph_at_carbon_dioxide(
        alkalinity_mg_l, place.usual_carbon_dioxide_mg_l, water.temperature_c, water.ionic_strength
    )
    return carbonate.water(float(ph), alkalinity_mg_l, water.temperature_c, water.ionic_strength)


def _against_base(made: Plan, purity: float) -> Refusal | None:
    request = made.request
    place = place_of(request)
    stopped = made.bound_by == "ph_high" and made.portions > MOST_PORTIONS
    if stopped or made.ph_low > dosing.HIGHEST_PH:
        return Refusal("ph-high", _highest())
    return (
        _limestone(made, place)
        or _past_ammonia(made)
        or _hydroxide(made, place, purity)
        or _too_salty(made)
        or _too_many(made)
        or _too_fast(made)
    )


def _limestone(made: Plan, place: Place) -> Refusal | None:
    """Limestone, shell and dolomite stop by themselves where calcite is at its solubility."""
    if "slow" not in made.cautions:
        return None
    most = limestone_reach_mg_l(place, made.chemical)
    if _alkalinity_after(made) <= most + 0.5:
        return None
    water = place.water
    ph = carbonate.ph_at_carbon_dioxide(
        most, place.usual_carbon_dioxide_mg_l, water.temperature_c, water.ionic_strength
    )
    return Refusal("limestone", (Amount("alkalinity", most, "alkalinity"), Amount("ph", float(ph), "ph")))


def _alkalinity_after(made: Plan) -> float:
    """Alkalinity that a plan leads to, mg/L CaCO3."""
    return made.request.alkalinity_mg_l + made.rise_mg_l


def limestone_reach_mg_l(place: Place, of: Chemical) -> float:
    """Alkalinity, mg/L CaCO3, at which limestone stops, settled at the usual carbon dioxide; by halving.

    Calcium that is not known counts as that of the alkalinity now, as in most hard water.
    """
    start = float(place.water.alkalinity_mg_l)
    calcium = place.calcium_mg_l
    if math.isnan(calcium):
        calcium = start * dosing.chemical("calcium_carbonate").elements["Ca"]
    per_rise = of.grams_per_eq / MG_CACO3_PER_MEQ * of.elements["Ca"]

    def index(alkalinity: float) -> float:
        water = _settled_water(place, alkalinity)
        held = calcium + per_rise * (alkalinity - start)
        return float(
            carbonate.calcite_saturation_index(
                float(water.ph), alkalinity, max(held, 1e-6), water.temperature_c, water.ionic_strength
            )
        )

    low, high = max(start, 1e-3), max(start, 1e-3) + 1000.0
    if index(low) >= 0.0:
        return low
    for _ in range(40):
        middle = (low + high) / 2.0
        low, high = (middle, high) if index(middle) < 0.0 else (low, middle)
    return low


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
    """A hydroxide portion, as the grower means to give it, beyond 0.4 of the free carbon dioxide."""
    if math.isnan(made.request.days) or not made.chemical.is_hydroxide:
        return None
    rise = made.rise_mg_l / max(made.request.days, 1.0)
    share = float(dosing.hydroxide_share(place.water, made.chemical, rise))
    if share <= dosing.HYDROXIDE_SHARE_REFUSED:
        return None
    mild = dosing.chemical(MILDEST)
    return Refusal(
        "hydroxide",
        (
            Amount("ph", dosing.dose(place, made.chemical, rise, purity).ph_at_once, "ph"),
            Amount("portion", made.portion_g, "dose"),
            Amount("mild", float(dosing.grams_for_alkalinity(mild, made.rise_mg_l, place.volume_l)), "dose"),
        ),
    )


def _too_many(made: Plan) -> Refusal | None:
    if made.portions <= MOST_PORTIONS:
        return None
    return Refusal(
        "too-many", (Amount("portion", made.portion_g, "dose"), Amount("grams", made.grams, "dose"))
    )


def _too_fast(made: Plan) -> Refusal | None:
    """Fewer days than portions."""
    days = made.request.days
    if math.isnan(days) or days >= made.portions:
        return None
    amounts = (
        Amount("portions", float(made.portions), "number"),
        Amount("portion", made.portion_g, "dose"),
    )
    return Refusal("ph-step" if made.first is not None else "element-day", amounts)
