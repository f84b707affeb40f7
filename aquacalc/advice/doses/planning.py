"""From a request to its plan: grams, portions, what the water does at once and settled."""

import math
from collections.abc import Mapping
from dataclasses import replace

from aquacalc.advice.doses import course, refusals
from aquacalc.advice.doses.answer import Plan, Refusal
from aquacalc.advice.doses.portion import settled_ph
from aquacalc.advice.doses.request import (
    Request,
    grams_for_element,
    place_of,
    purity_of,
    row_of,
    water_of,
)
from aquacalc.tables import Row
from aquacalc.water import carbonate, chlorine, dosing, supplements
from aquacalc.water.dosing import Chemical

ACID_PORTIONS = 2
"""Half of the acid first, then a test, in which a stronger acid shows. Common practice, no source."""


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
    grams = grams_for_element(request, of, purity)
    return float(dosing.rise_of_grams_mg_l(of, grams, request.volume_l, purity))


def plan(request: Request) -> Plan:
    """The plan for a request, with the first thing that speaks against it, if any.

    >>> answer = plan(Request("potassium_bicarbonate", "alkalinity", 71.4, 600.0, 6.8, 35.7, 24.0))
    >>> round(answer.grams), answer.refusal is None
    (43, True)
    """
    row, of = row_of(request), dosing.chemical(request.chemical)
    purity, cautions = purity_of(request, row, of), row.listed("caution")
    before = refusals.before_weighing(request, row, of)
    if before is not None:
        return _empty(request, of, cautions, before)
    if row.text("kind") == "dechlorinator":
        treated = _dechlorinator(request, of, row, cautions)
        return replace(treated, refusal=refusals.against_dechlorinator(treated))
    if row.text("kind") == "acid":
        return _acid(request, of, purity, cautions)
    if of.alkalinity_eq_mol == 0.0:
        made = _supplement(request, of, purity, cautions)
        return replace(made, refusal=refusals.against_supplement(made, row))
    rise = rise_wished_mg_l(request, of, purity)
    if rise <= 0.0:
        return _empty(request, of, cautions, refusals.nothing_to_raise(request))
    made = _base(request, of, purity, cautions, rise)
    return replace(made, refusal=refusals.against_base(made, purity))


def _empty(request: Request, of: Chemical, cautions: tuple[str, ...], refusal: Refusal) -> Plan:
    ph = request.ph
    return Plan(request, of, cautions, ph_low=ph, ph_high=ph, ph_highest=ph, ph_judged=ph, refusal=refusal)


def _elements(request: Request, of: Chemical, grams: float, purity: float) -> Mapping[str, float]:
    found = dosing.element_rises_mg_l(of, grams, request.volume_l, purity)
    return {element: float(rise) for element, rise in found.items()}


# What has no alkalinity


def _supplement(request: Request, of: Chemical, purity: float, cautions: tuple[str, ...]) -> Plan:
    grams = grams_for_element(request, of, purity)
    elements = _elements(request, of, grams, purity)
    bound, days = "", 1
    # What lives in the loop has to follow; in a vessel nothing lives.
    limits = supplements.MOST_IN_A_DAY_MG_L.items() if request.into == "loop" else ()
    for element, most in limits:
        times = math.ceil(elements.get(element, 0.0) / most - 1e-9)
        if times > days:
            bound, days = element, times
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=grams,
        portion_g=grams / days,
        day_g=grams / days,
        portions=days,
        days=days,
        bound_by=bound,
        ph_low=request.ph,
        ph_high=request.ph,
        ph_highest=request.ph,
        ph_judged=request.ph,
        elements_mg_l=elements,
    )


def _dechlorinator(request: Request, of: Chemical, row: Row, cautions: tuple[str, ...]) -> Plan:
    """All at once: chlorine kills at any rest of it. Ascorbic acid uses up alkalinity."""
    per_gram = row.number("dechlorination_default_g_g") / request.strength
    grams = float(
        chlorine.reagent_g(request.element_mg_l - max(request.wished, 0.0), request.volume_l, per_gram)
    )
    used = float(chlorine.alkalinity_used_mg_l(of.key, request.element_mg_l))
    ph = request.ph if used == 0.0 else float(water_of(request).plus(-used, 0.0).ph)
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=grams,
        portion_g=grams,
        day_g=grams,
        portions=1,
        days=1,
        rise_mg_l=-used,
        ph_low=ph,
        ph_high=request.ph,
        ph_highest=request.ph,
        ph_judged=request.ph,
        elements_mg_l=_elements(request, of, grams, request.strength),
    )


# Acid, in the top-up water's own vessel only


def _acid(request: Request, of: Chemical, purity: float, cautions: tuple[str, ...]) -> Plan:
    place, rise = place_of(request), request.wished - request.alkalinity_mg_l
    grams = float(dosing.grams_for_alkalinity(of, rise, request.volume_l, purity))
    whole = dosing.dose(place, of, rise, purity)
    after = dosing.after_rise(place.water, of, rise)
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=grams,
        portion_g=grams / ACID_PORTIONS,
        day_g=grams,
        portions=ACID_PORTIONS,
        a_day=ACID_PORTIONS,
        days=1,
        rise_mg_l=rise,
        first=whole,
        ph_low=whole.ph_settled,
        ph_high=whole.ph_settled,
        ph_highest=max(float(place.water.ph), whole.ph_settled),
        ph_judged=whole.ph_settled,
        elements_mg_l=whole.elements_mg_l,
        dioxide_mg_l=float(place.water.carbon_dioxide_mg_l),
        dioxide_after_mg_l=float(after.carbon_dioxide_mg_l),
    )


# Bases


def _base(request: Request, of: Chemical, purity: float, cautions: tuple[str, ...], rise: float) -> Plan:
    place = place_of(request)
    whole = request.into == "vessel" or "slow" in cautions
    way = (
        course.at_once(place, of, purity, rise, "slow" in cautions)
        if whole
        else course.day_by_day(place, of, purity, rise)
    )
    grams = float(dosing.grams_for_alkalinity(of, rise, request.volume_l, purity))
    low, high = settled_ph(place, rise)
    ammonia = course.ammonia_after(place, way, rise, request.act_line_mg_l)
    return Plan(
        request=request,
        chemical=of,
        cautions=cautions,
        grams=grams,
        portion_g=way.first.grams,
        day_g=float(dosing.grams_for_alkalinity(of, way.day_mg_l, request.volume_l, purity)),
        portions=way.portions,
        a_day=way.a_day,
        days=way.days,
        bound_by=way.bound_by,
        rise_mg_l=rise,
        first=way.first,
        ph_low=low,
        ph_high=high,
        ph_highest=ammonia.highest_ph,
        ph_judged=ammonia.judged_ph,
        dioxide_mg_l=float(place.water.carbon_dioxide_mg_l),
        tan_line_mg_l=ammonia.tan_line_mg_l,
        elements_mg_l=_elements(request, of, grams, purity),
    )
