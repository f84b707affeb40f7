"""The water that the season drinks: the thirstiest month, and the rain barrel that runs dry."""

from __future__ import annotations

from datetime import timedelta

from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season import barrel
from aquacalc.advice.season.days import Look, Stretch, stretches, weekly, whole
from aquacalc.uncertainty import band

THIRSTY = "finding-water-season-thirsty"
DRY = "finding-water-season-barrel-dry"
MAY_BE_DRY = "finding-water-season-barrel-may-be-dry"
RAIN_NOT_KNOWN = "finding-water-season-rain-not-known"
SOURCES = ("OWN", "TRADE")

DRY_GAP_DAYS = 7
"""Single rains do not part a dry time."""


def findings_of(look: Look) -> list[Finding]:
    """Litres a week in the thirstiest month; with rain alone, the weeks without any."""
    return [*_thirsty(look), *_rain(look)]


def _thirsty(look: Look) -> list[Finding]:
    values = look.run.daily["top_up_l"]
    months = [(first, stretch) for first, stretch in look.by_month() if stretch.days >= 7] or look.by_month()
    first, stretch = max(months, key=lambda one: float(weekly(values, one[1]).middle))
    week = weekly(values, stretch)
    if float(week.middle) <= 0.0:
        return []
    amounts = (
        whole("week", week, "volume"),
        Amount("worst", first.month, "month"),
        whole("total", band(values.sum(axis=1)), "volume"),
    )
    return [look.finding(THIRSTY, "fine", stretch, amounts, SOURCES)]


def _rain(look: Look) -> list[Finding]:
    """From a full barrel on the first day."""
    garden, run = look.garden, look.run
    if garden.top_up.source != "rain":
        return []
    whole_season = Stretch(0, run.days - 1)
    wanted = run.daily["top_up_l"]
    monthly = garden.site.climate.rain_mm
    holds = Amount("barrel", garden.rain.barrel_l, "volume")
    if monthly is None or garden.rain.roof_m2 == 0.0:
        amounts = (holds, whole("week", weekly(wanted, whole_season), "volume"))
        return [look.finding(RAIN_NOT_KNOWN, "not known", whole_season, amounts, SOURCES)]
    rain = barrel.rain_l(monthly, garden.rain.roof_m2, run.first, run.days)
    missing = barrel.daily(rain, wanted, garden.rain.barrel_l, garden.rain.barrel_l).missing_l
    by_day = band(missing, axis=0)
    dry = stretches(by_day.middle > 0.0, DRY_GAP_DAYS)
    may = by_day.high > 0.0
    for span in dry:
        # What one try in ten adds at both ends is the same dry time.
        may[max(span.first - 2 * DRY_GAP_DAYS, 0) : span.last + 2 * DRY_GAP_DAYS + 1] = False

    def told(key: str, span: Stretch) -> Finding:
        amounts = (
            whole("missing", band(missing[:, span.slice].sum(axis=1)), "volume"),
            whole("week", weekly(wanted, span), "volume"),
            Amount("rain", float(7.0 * rain[span.slice].mean()), "volume"),
            holds,
            Amount("before", (run.date(span.first) - timedelta(days=14)).isoformat(), "date"),
        )
        return look.finding(key, "watch", span, amounts, SOURCES)

    return [
        *(told(DRY, span) for span in dry),
        *(told(MAY_BE_DRY, span) for span in stretches(may, DRY_GAP_DAYS)),
    ]
