"""Whether four forecasts in five hold, for growers whose bacteria the forecast does not know."""

import growers
import numpy as np
import pytest

from aquacalc.startup import forecast, members, milestones
from aquacalc.startup.rule import P1

pytestmark = pytest.mark.slow

GROWERS, SEED = 200, 7
DAYS = (13, 19, 25)


def test_eight_of_ten_growers_finish_within_their_band_and_bands_narrow(capsys: pytest.CaptureFixture[str]):
    crowd = growers.hidden(GROWERS, SEED)
    known = [growers.FIRST_DOSE]
    found = forecast.forecast_of(growers.CASE, events=known)
    table, covered, widths = [], {}, {}
    for day in DAYS:
        course = members.run(growers.CASE, crowd, known, forecast.HORIZON_DAYS, rule=P1, rule_from=day)
        true = milestones.milestones_of(course).complete
        found = forecast.update(found, [], known, day)
        hit, width, error = [], [], []
        for grower in range(GROWERS):
            read = growers.readings(course, grower, range(1, day + 1, 2), SEED)
            band = forecast.reweigh(found, read).complete
            hit.append(band.low <= true[grower] <= band.high)
            width.append(band.high - band.low)
            error.append(abs(band.middle - true[grower]))
        covered[day], widths[day] = float(np.mean(hit)), float(np.median(width))
        table.append(
            f"day {day}: {covered[day]:.0%} within the band, width {widths[day]:.0f} d,"
            f" middle off by {np.median(error):.0f} d"
        )
    with capsys.disabled():
        print("\n" + "\n".join(table))
    assert all(0.7 <= one <= 0.9 for one in covered.values())
    assert widths[13] > widths[19] > widths[25]
