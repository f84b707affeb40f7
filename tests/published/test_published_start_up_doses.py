"""Doses of a start-up, the first feed, bag water, the time that growers tell: held against other figures."""

from datetime import date

import pytest
from published_rows import hold, ids, rows

from aquacalc import nitrogen
from aquacalc.startup import backward, doses, first_feed, methods, new_fish, plan
from aquacalc.startup import case as cases
from aquacalc.water import dosing

ROWS = rows("start_up_doses")


def amount(product: str, strength_pct: float, rise_mg_l: float) -> float:
    return doses.amount(doses.source(product, strength_pct), rise_mg_l, 1000.0)


def middle_weeks(temperature_c: float) -> float:
    """Weeks until a dose is gone in a day, in the middle try of a garden without seed."""
    case = cases.typed(1000.0, temperature_c, date(2027, 4, 1), film_m2=125.0, ph=7.5, alkalinity_mg_l=150.0)
    return plan.of_case(case, plan.Choice(), members=200).span("complete").middle / 7.0


NAMES = {
    "amount": amount,
    "doses": doses,
    "dosing": dosing,
    "first_feed": first_feed,
    "methods": methods,
    "middle_weeks": middle_weeks,
    "new_fish": new_fish,
    "nitrogen": nitrogen,
    "shown": first_feed.Shown,
}


@pytest.mark.parametrize(("table", "row"), ROWS, ids=ids(ROWS))
def test_a_row_holds(table: str, row: dict[str, str]):
    hold(row, NAMES)


@pytest.mark.parametrize(
    ("temperature_c", "begun"), [(25.0, date(2027, 4, 3)), (15.0, date(2027, 2, 20))], ids=["heated", "cold"]
)
def test_fish_by_the_middle_of_may_ask_for_the_dates_that_growers_tell(temperature_c: float, begun: date):
    most = backward.practice_days(temperature_c)[1]
    assert backward.before(date(2027, 5, 15), most) == begun
