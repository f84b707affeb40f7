"""What the check of a kit found corrects the log's readings from the day of the check on."""

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from aquacalc.garden.model import Kit, KitScale
from aquacalc.logbook import trend
from aquacalc.logbook.log import Reading
from aquacalc.logbook.plan import corrected

CHECKED = date(2027, 5, 10)
STEPS = (0.0, 0.3, 0.6, 1.2, 2.5, 6.0)


def garden(offset: float) -> Any:
    scale = KitScale("tan", "NH4", STEPS, None, offset, 1.0, CHECKED)
    return SimpleNamespace(kits=(Kit("invented", None, (scale,)),), fish=())


def reading(day: date, shown_nh4: float) -> Reading:
    return Reading(day, "tan", shown_nh4 / 1.2879, "mg_l", "N")


def test_a_reading_is_corrected_in_the_kits_own_basis_from_its_check_on():
    after = corrected(reading(CHECKED, 1.2), garden(0.3))
    assert after.value == pytest.approx(0.9 / 1.2879, rel=1e-3)
    before = reading(CHECKED - timedelta(days=1), 1.2)
    assert corrected(before, garden(0.3)) == before
    assert corrected(before, garden(0.0)) == before


def test_the_interval_of_a_trend_moves_with_the_check():
    plain = trend.interval(reading(CHECKED, 1.2), garden(0.0))
    moved = trend.interval(reading(CHECKED, 1.2), garden(0.3))
    assert plain.low - moved.low == pytest.approx(0.3 / 1.2879, rel=1e-3)
    assert plain.high - moved.high == pytest.approx(0.3 / 1.2879, rel=1e-3)
    assert trend.interval(reading(CHECKED - timedelta(days=1), 1.2), garden(0.3)) == plain


def test_a_kit_out_of_its_error_corrects_nothing_and_has_no_steps():
    spoiled = garden(2.0)
    assert corrected(reading(CHECKED, 1.2), spoiled).value == pytest.approx(1.2 / 1.2879)
    by_usual_error = trend.interval(reading(CHECKED, 1.2), SimpleNamespace(kits=(), fish=()))
    assert trend.interval(reading(CHECKED, 1.2), spoiled) == by_usual_error
