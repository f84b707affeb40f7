"""Which way readings go, as far as a test kit can tell, and between which dates a line is reached.

A reading is an interval: a step of a card stands for all that is nearer to it than to its neighbours, and a
reading at the end of a scale only bounds the water. Values are drawn from the intervals, rows are drawn with
them, and each draw gets its robust line (the median of the slopes of all pairs, after Theil and Sen). Low and
high are the 10th and 90th percentile over the draws.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import inf, isfinite

import numpy as np
from numpy.typing import NDArray

from aquacalc import kits, units
from aquacalc.logbook import clock
from aquacalc.logbook.limits import BASES, TESTS
from aquacalc.logbook.log import Log, Reading
from aquacalc.logbook.plan import Garden

WINDOW_DAYS = 56
"""Readings of the last eight weeks tell the trend. Common practice, no source."""

FEWEST, SHORTEST_DAYS = 4, 14
"""Fewer readings, or a shorter span of days, show no trend. Common practice, no source."""

HORIZON_DAYS = 42
"""Beyond six weeks a line says nothing."""

MOST_READINGS = 40
DRAWS, SEED = 400, 1

_CHANGED = (
    r"\bchanged\b.*\b(?:water|L|gal|litres?|liters?|half|third|quarter)|\b[0-9]+ ?(?:L|gal)\b.*\bchanged"
)
_BASE = r"carbonate|baking soda|\blime\b|\bdosed\b"
JUMPS = {
    "alkalinity": (re.compile(f"{_BASE}|{_CHANGED}", re.IGNORECASE), ("carbonate", "hydroxide")),
    "ph": (re.compile(f"{_BASE}|{_CHANGED}", re.IGNORECASE), ("carbonate", "hydroxide")),
    "nitrate": (re.compile(_CHANGED, re.IGNORECASE), ("nitrate",)),
    "tan": (re.compile(_CHANGED, re.IGNORECASE), ("ammonium", "ammonia", "urea")),
}
"""By parameter: what a note says of a dose or a change of water, and parts of the keys of chemicals."""

BY_DAY = ("ph", "oxygen")
"""Parameters that rise from morning to afternoon."""

SIGMA = {"ph": 0.2, "alkalinity": 9.0}
"""Half-widths where no kit tells its steps: pH drops, and half a dKH in mg/L CaCO3. Common practice."""

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Trend:
    """A line through readings, a middle and a band of each number.

    slope, slope_low, slope_high: change of the value in a week. now, now_low, now_high: value on `last`.
    count: readings. first, last: their days. bounded: some readings stand at the end of their scale, so the
    change may be larger. draws: slope a day and value on `last` of each draw.
    """

    slope: float
    slope_low: float
    slope_high: float
    now: float
    now_low: float
    now_high: float
    count: int
    first: date
    last: date
    bounded: bool
    draws: tuple[Floats, Floats]

    @property
    def rising(self) -> bool:
        """Whether it rises for certain, as far as these readings tell."""
        return self.slope_low > 0.0

    @property
    def falling(self) -> bool:
        """Whether it falls for certain, as far as these readings tell."""
        return self.slope_high < 0.0


def lines(
    days: Floats, low: Floats, high: Floats, draws: int = DRAWS, seed: int = SEED
) -> tuple[Floats, Floats]:
    """Slope a day and value at the last day of each draw.

    days, low, high: one a reading, shape (readings,); low and high finite, the ends of its interval. Draws in
    which all days are the same have slope zero.
    """
    rng = np.random.default_rng(seed)
    count = len(days)
    values = low + (high - low) * rng.random((draws, count))
    # Rows are drawn with replacement, so that no single one decides.
    chosen = rng.integers(0, count, (draws, count))
    x, y = days[chosen], np.take_along_axis(values, chosen, axis=1)
    one, two = np.triu_indices(count, 1)
    run, rise = x[:, two] - x[:, one], y[:, two] - y[:, one]
    with np.errstate(divide="ignore", invalid="ignore"):
        slopes = np.where(run != 0.0, rise / run, np.nan)
    slope = _medians(slopes)
    now = np.median(y - slope[:, None] * (x - days.max()), axis=1)
    return slope, now


def _medians(values: Floats) -> Floats:
    """The median of each row without its NaN, zero where there is nothing else."""
    ordered = np.sort(values, axis=1)  # NaN comes last
    count = np.isfinite(values).sum(axis=1)
    at = np.arange(len(values))
    middle = (ordered[at, np.maximum(count - 1, 0) // 2] + ordered[at, count // 2 * (count > 0)]) / 2.0
    return np.where(count > 0, middle, 0.0)


def trend(
    days: Sequence[date], low: Sequence[float], high: Sequence[float], least: float = -inf
) -> Trend | None:
    """The trend of readings, or None where they are too few or too near together.

    low, high: ends of each reading's interval; an infinite end is drawn at the other one. least: the lowest
    value that there is.
    """
    if len(days) < FEWEST or (max(days) - min(days)).days < SHORTEST_DAYS:
        return None
    kept = sorted(zip(days, low, high, strict=True))[-MOST_READINGS:]
    ends = [(_end(below, above), _end(above, below)) for _, below, above in kept]
    at = np.array([float((day - kept[0][0]).days) for day, _, _ in kept])
    slope, now = lines(at, np.array([one for one, _ in ends]), np.array([other for _, other in ends]))
    now = np.maximum(now, least)
    slope_band, now_band = (np.percentile(one, [10.0, 50.0, 90.0]) for one in (slope, now))
    return Trend(
        slope=float(slope_band[1]) * 7.0,
        slope_low=float(slope_band[0]) * 7.0,
        slope_high=float(slope_band[2]) * 7.0,
        now=float(now_band[1]),
        now_low=float(now_band[0]),
        now_high=float(now_band[2]),
        count=len(kept),
        first=kept[0][0],
        last=kept[-1][0],
        bounded=any(not (isfinite(below) and isfinite(above)) for _, below, above in kept),
        draws=(slope, now),
    )


def _end(end: float, other: float) -> float:
    return end if isfinite(end) else other


def reaches(found: Trend, line: float) -> tuple[date, date | None] | None:
    """Between which days a line is reached; the later one None where it may never be.

    None where the value is beyond the line already, goes the other way, or gets there after six weeks only.
    """
    slope, now = found.draws
    with np.errstate(divide="ignore", invalid="ignore"):
        ahead = (line - now) / slope
    ahead = np.where((ahead > 0.0) & np.isfinite(ahead), ahead, inf)
    certain = found.falling if line < found.now else found.rising
    if not certain:
        return None
    early, late = (float(one) for one in np.percentile(ahead, [10.0, 90.0], method="nearest"))
    if early > HORIZON_DAYS:
        return None
    end = found.last + timedelta(days=round(late)) if late <= 2 * HORIZON_DAYS else None
    return found.last + timedelta(days=round(early)), end


def interval(reading: Reading, garden: Garden) -> kits.Interval:
    """Where the water lies by a reading: by the steps of the kit in use, else by the test's usual error."""
    if reading.half > 0.0:
        return kits.Interval(reading.value - reading.half, reading.value + reading.half)
    scale, _ = _in_use(garden, reading.parameter, reading.day)
    if scale is not None:
        shown = kits.as_shown(reading.value, scale)
        if shown is not None:
            near = next((step for step in scale.steps if abs(shown - step) <= 0.005 * abs(step)), shown)
            found = kits.interval_inside(near, kits.on_day(scale, reading.day))
            # What was typed as a bound is one, unless the card ends there.
            if found is not None and (found.at_end or reading.beyond == ""):
                return _positive(found, reading.parameter)
    if reading.beyond:
        below = kits.Interval(-inf, reading.value)
        return _positive(
            below if reading.beyond == "below" else kits.Interval(reading.value, inf), reading.parameter
        )
    half = SIGMA.get(reading.parameter, 0.0)
    if reading.parameter in TESTS:
        # The table counts ammonia as N, nitrite and nitrate as the ion.
        ion = "N" if reading.parameter == "tan" else BASES[reading.parameter][-1]
        shown = units.from_n(reading.value, ion)
        half = units.as_n(kits.error_of(TESTS[reading.parameter], shown), ion)
    return kits.Interval(max(reading.value - half, 0.0), reading.value + half)


def _positive(found: kits.Interval, parameter: str) -> kits.Interval:
    """An interval without its part below nothing; a reading of 0 begins there."""
    if parameter == "ph":
        return found
    return kits.Interval(max(found.low, 0.0), found.high)


def _in_use(garden: Garden, parameter: str, day: date) -> tuple[kits.Scale | None, date]:
    """The scale in use on a day, and the day from which it is."""
    newest, scale = date.min, None
    for kit in garden.kits:
        start = kit.start or date.min
        if newest <= start <= day:
            for one in kit.scales:
                if one.parameter == parameter:
                    newest, scale = start, one
    return scale, newest


def jumped(log: Log, parameter: str, until: date) -> date | None:
    """The last day up to a day on which the grower moved a parameter: a dose, or a change of water.

    A line through both sides of such a jump is neither's. Told by the notes and by the columns of doses.
    """
    if parameter not in JUMPS:
        return None
    words, doses = JUMPS[parameter]
    days = [day for day, note in log.notes if day <= until and words.search(note)]
    days += [
        one.day
        for one in log.all("dose")
        if one.day <= until and one.value > 0.0 and any(part in one.subject for part in doses)
    ]
    return max(days, default=None)


def half_of_day(readings: Sequence[Reading]) -> bool | None:
    """Whether more readings were taken before noon than after it; None where all are of one half."""
    before = [one.hour < clock.NOON for one in readings if one.hour is not None]
    return sum(before) * 2 >= len(before) if 0 < sum(before) < len(before) else None


def of_log(log: Log, garden: Garden, parameter: str, until: date) -> Trend | None:
    """The trend of a parameter in the weeks up to a day, by the kit in use then.

    Readings of an earlier kit are left out: another kit steps elsewhere, and the step would look like a
    change of the water. So are readings before the last dose or change of water (`jumped`), and those of
    which nobody says what they count. pH and oxygen of the afternoon
    are not compared with those of the morning: the half of the day with more readings counts.
    """
    _, since = _in_use(garden, parameter, until)
    begin = max(since, until - timedelta(days=WINDOW_DAYS))
    jump = jumped(log, parameter, until)
    if jump is not None:
        begin = max(begin, jump + timedelta(days=1))
    readings = [
        one for one in log.all(parameter) if begin <= one.day <= until and one.basis != kits.NOT_KNOWN
    ]
    half = half_of_day(log.all(parameter)) if parameter in BY_DAY else None
    if half is not None:
        readings = [one for one in readings if one.hour is None or (one.hour < clock.NOON) == half]
    spans = [interval(one, garden) for one in readings]
    lows, highs = [one.low for one in spans], [one.high for one in spans]
    return trend([one.day for one in readings], lows, highs, -inf if parameter == "ph" else 0.0)
