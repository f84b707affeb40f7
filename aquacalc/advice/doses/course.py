"""The portions of a base one after the other, up to the wish, and the highest pH on that way."""

import math
from dataclasses import dataclass

from aquacalc.advice.doses.limestone import settled_place
from aquacalc.advice.doses.portion import day_of, judged_ph, portion_of, settled_ph, tan_line_mg_l
from aquacalc.water import dosing
from aquacalc.water.dosing import Chemical, Dose, Place

MOST_DAYS = 30
"""A plan of more days than this is another plan: take something milder. Common practice, no source."""
TEST_PORTION_SHARE = 1e-6


@dataclass(frozen=True)
class Course:
    """Portions on the way: the first, how many, on how many days, what sets them, the highest pH at once."""

    first: Dose
    day_mg_l: float
    portions: int
    a_day: int
    days: int
    bound_by: str
    highest_ph: float


@dataclass(frozen=True)
class Ammonia:
    """Where a base leads: the highest pH on the way, the same with the error of a drop kit, and the TAN,
    mg N/L, that reaches the act line there."""

    highest_ph: float
    judged_ph: float
    tan_line_mg_l: float


def ammonia_after(place: Place, course: Course, rise_mg_l: float, act_line_mg_l: float) -> Ammonia:
    """The line for ammonia before a whole rise of alkalinity: right after portions, and well aired."""
    highest = max(course.highest_ph, settled_ph(place, rise_mg_l)[1])
    judged = judged_ph(highest)
    return Ammonia(highest, judged, tan_line_mg_l(act_line_mg_l, judged, float(place.water.temperature_c)))


def at_once(place: Place, of: Chemical, purity: float, rise: float, slow: bool) -> Course:
    """All of it in one portion: into a vessel without fish, or in a bag that dissolves over weeks."""
    whole = dosing.dose(place, of, rise, purity)
    highest = whole.ph_settled if slow else max(whole.ph_at_once, whole.ph_settled)
    return Course(whole, rise, 1, 1, 1, "", highest)


def day_by_day(place: Place, of: Chemical, purity: float, rise: float) -> Course:
    """Day after day by the one rule for portions; between two days free carbon dioxide comes back.

    More days than a plan has are counted as one more: it is refused.
    """
    first = portion_of(place, of, rise, purity)
    given = min(rise, first.day.rise_mg_l)
    left, now, highest, days, count = rise, place, 0.0, 0, 0
    while left > TEST_PORTION_SHARE * rise and days <= MOST_DAYS:
        day = day_of(now, of)
        if day.rise_mg_l < TEST_PORTION_SHARE * rise:
            # The water has come to the highest pH: what is left cannot be given.
            return Course(first.dose, given, count, first.day.portions, MOST_DAYS + 1, "ph_high", highest)
        taken = min(left, day.rise_mg_l)
        highest = max(highest, dosing.dose(now, of, taken, purity).ph_at_once)
        count += math.ceil(taken / (day.rise_mg_l / day.portions) - 1e-9)
        left, days = left - taken, days + 1
        now = settled_place(now, float(now.water.alkalinity_mg_l) + taken)
    bound = "" if first.within else first.day.bound_by
    return Course(first.dose, given, count, first.day.portions, days, bound, highest)
