"""The one rule for a portion of base. Judged readings, plans of doses and the printed table all ask here.

A day's most is set by the step of pH, by pH 7.8, by free carbon dioxide for hydroxides, and by the potassium,
calcium, magnesium or sodium that comes along. It is given in two portions, in four where care is due: for
hydroxides, and below pH 5.5, where a day may move pH by more. Each portion waits for a new test.
"""

from dataclasses import dataclass

from aquacalc import kits
from aquacalc.constants import MG_CACO3_PER_MEQ
from aquacalc.judge import lines
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, carbonate, dosing, supplements
from aquacalc.water.dosing import Chemical, Dose, Place

PORTIONS_A_DAY, PORTIONS_WITH_CARE = 2, 4
"""In how many portions a day's most is given. Four below pH 5.5 and for hydroxides: water section 7,
common practice."""


@dataclass(frozen=True)
class Day:
    """The most of a base for one day: alkalinity, mg/L CaCO3, what sets it, and in how many portions."""

    rise_mg_l: float
    bound_by: str
    portions: int


@dataclass(frozen=True)
class Portion:
    """The next portion, and the day's most that it is part of. within: whether it brings all of the wish."""

    dose: Dose
    day: Day
    within: bool


def is_emergency(ph: float) -> bool:
    """Whether pH is so low that the larger step counts: below 5.5.

    >>> is_emergency(5.4), is_emergency(5.5)
    (True, False)
    """
    return ph < lines.begins_at("ph", "emergency", above=False)


def ph_step(ph: float) -> float:
    """Most that a day may raise pH: 0.3, below pH 5.5 0.5 (common practice, no source)."""
    step = coefficient("ph_step_per_day")
    return step.high if is_emergency(ph) else step.typical


def day_of(place: Place, of: Chemical) -> Day:
    """The most of a base for one day in the water as it stands."""
    ph = float(place.water.ph)
    limit = dosing.daily_limit(place, of, 1.0, ph_step(ph))
    care = of.is_hydroxide or is_emergency(ph)
    limits = [(limit.dose.rise_mg_l, str(limit.bound_by)), _by_elements(of)]
    rise, bound = min(limits, key=lambda one: one[0])
    return Day(rise, bound, PORTIONS_WITH_CARE if care else PORTIONS_A_DAY)


def portion_of(place: Place, of: Chemical, wished_mg_l: float, purity: float = 1.0) -> Portion:
    """The next portion towards a rise of alkalinity, mg/L CaCO3, above zero.

    It is all of the wish where that is no more than a portion. Purity: share of the product.

    >>> water = carbonate.water(6.6, 35.7, 24.0, 0.0096)
    >>> of = dosing.chemical("potassium_bicarbonate")
    >>> round(portion_of(Place(water, 600.0, 5.0), of, 35.7).dose.grams)
    21
    """
    day = day_of(place, of)
    rise = min(wished_mg_l, day.rise_mg_l / day.portions)
    return Portion(dosing.dose(place, of, rise, purity), day, rise >= wished_mg_l)


def _by_elements(of: Chemical) -> tuple[float, str]:
    """Rise of alkalinity, mg/L CaCO3, that brings the most of an element for one day, and that element."""
    per_rise = of.grams_per_eq / MG_CACO3_PER_MEQ
    return min(
        (most / (per_rise * of.elements[element]), element)
        for element, most in supplements.MOST_IN_A_DAY_MG_L.items()
        if of.elements[element] > 0.0
    )


def settled_ph(place: Place, rise_mg_l: float) -> tuple[float, float]:
    """Settled pH after a rise: at the usual carbon dioxide, and where the water is well aired."""
    water = place.water

    def at(dioxide_mg_l: float) -> float:
        return float(
            carbonate.ph_at_carbon_dioxide(
                water.alkalinity_mg_l + rise_mg_l, dioxide_mg_l, water.temperature_c, water.ionic_strength
            )
        )

    usual = place.usual_carbon_dioxide_mg_l
    return at(usual), at(dosing.aired_mg_l(usual))


def judged_ph(highest_ph: float) -> float:
    """The pH at which ammonia is judged: the highest on the way, with the error of a drop kit."""
    return highest_ph + kits.error_of("ph_drops", highest_ph)


def tan_line_mg_l(act_line_mg_l: float, judged: float, temperature_c: float) -> float:
    """TAN, mg N/L, that reaches the act line of un-ionised ammonia at the judged pH."""
    return float(ammonia.tan_for_unionised_mg_l(act_line_mg_l, judged, temperature_c))
