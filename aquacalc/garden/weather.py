"""A daily weather file to twelve monthly means."""

import csv
import math
from collections.abc import Callable
from datetime import date
from pathlib import Path

from aquacalc import units
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.garden.fields import bounds
from aquacalc.garden.model import MonthlyClimate, Twelve

COLUMNS: dict[str, tuple[str, str, str, float]] = {
    "air_max_c": ("temperature", "c", "air_temperature", 1.0),
    "air_min_c": ("temperature", "c", "air_temperature", 1.0),
    "humidity_pct": ("share", "pct", "humidity", 100.0),
    "wind_m_s": ("speed", "m_s", "wind", 1.0),
    "rain_mm": ("rain", "rain_mm", "rain", 1.0),
    "sun_mj_m2_d": ("irradiation", "mj_m2_d", "sun", 1.0),
}
"""Known columns: kind, unit, bounds, and what the value in the base unit is multiplied by."""

NEEDED = ("date", "air_max_c", "air_min_c")
MOST_PROBLEMS = 20


def from_extremes(
    warm_max_c: float, warm_min_c: float, cold_max_c: float, cold_min_c: float, southern: bool = False
) -> tuple[Twelve, Twelve]:
    """Monthly highest and lowest air temperatures from those of the warmest and of the coldest month.

    One wave through the year, warmest in July, or January south of the equator: a first guess for someone who
    has no monthly means at hand. It misses them by 1.5 C and more. Own reckoning; the months are practice.

    >>> from_extremes(26.0, 14.0, 4.0, -2.0)[0][:4]
    (4.0, 5.47, 9.5, 15.0)
    """
    warmest = 0 if southern else MONTHS_PER_YEAR // 2

    def wave(warm: float, cold: float) -> Twelve:
        mean, swing = (warm + cold) / 2.0, (warm - cold) / 2.0
        turns = (math.cos(math.tau * (month - warmest) / MONTHS_PER_YEAR) for month in range(MONTHS_PER_YEAR))
        return tuple(round(mean + swing * turn, 2) for turn in turns)

    return wave(warm_max_c, cold_max_c), wave(warm_min_c, cold_min_c)


def monthly(path: Path) -> MonthlyClimate:
    """Monthly means (rain: mean monthly sums) of a CSV file with a row a day; gaps are left out.

    Raises `InputError`: a file or column that is missing, cells that cannot be read, a month without a day.
    """
    rows = _rows(path)
    values: dict[str, list[tuple[date, float]]] = {name: [] for name in COLUMNS}
    problems: list[Problem] = []
    for line, row in rows:
        try:
            day = date.fromisoformat(row["date"].strip())
        except ValueError:
            problems.append(Problem("problem-date", f"{path.name} line {line} date", row["date"]))
            continue
        for name in values:
            text = (row.get(name) or "").strip()
            if not text:
                continue
            try:
                values[name].append((day, _value(text, name)))
            except InputError as error:
                where = f"{path.name} line {line} {name}"
                problems += [Problem(p.key, where, p.found, p.allowed, p.nearest) for p in error.problems]
    for name in NEEDED[1:]:
        present = {day.month for day, _ in values[name]}
        absent = [str(month) for month in range(1, MONTHS_PER_YEAR + 1) if month not in present]
        if absent and not problems:
            problems.append(Problem("problem-weather-month", f"{path.name} {name}", ", ".join(absent)))
    if problems:
        raise InputError(problems[:MOST_PROBLEMS])
    return MonthlyClimate(
        air_max_c=_means(values["air_max_c"]),
        air_min_c=_means(values["air_min_c"]),
        humidity_pct=_whole_year(values["humidity_pct"], _means),
        wind_m_s=_whole_year(values["wind_m_s"], _means),
        rain_mm=_whole_year(values["rain_mm"], _sums),
        radiation_mj_m2_d=_whole_year(values["sun_mj_m2_d"], _means),
    )


def _rows(path: Path) -> list[tuple[int, dict[str, str]]]:
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise InputError(Problem("problem-file-missing", "site weather_file", str(path))) from None
    except OSError as error:
        raise InputError(
            Problem("problem-file-unreadable", "site weather_file", str(path), (error.strerror or "",))
        ) from error
    except UnicodeDecodeError:
        raise InputError(Problem("problem-file-not-text", "site weather_file", str(path))) from None
    reader = csv.DictReader(text.splitlines())
    header = tuple(reader.fieldnames or ())
    for needed in NEEDED:
        if needed not in header:
            raise InputError(Problem("problem-weather-column", path.name, needed, header))
    return [
        (reader.line_num, {key: value for key, value in row.items() if isinstance(key, str) and value})
        for row in reader
        if row.get("date")
    ]


def _value(text: str, name: str) -> float:
    kind, unit, bound, scale = COLUMNS[name]
    value = units.read(text, kind, unit=unit)
    return bounds(bound, kind).check(value, text) * scale


def _by_month(values: list[tuple[date, float]], month: int) -> list[float]:
    return [value for day, value in values if day.month == month]


def _means(values: list[tuple[date, float]]) -> Twelve:
    months = (_by_month(values, month) for month in range(1, MONTHS_PER_YEAR + 1))
    return tuple(sum(one) / len(one) if one else math.nan for one in months)


def _sums(values: list[tuple[date, float]]) -> Twelve:
    found = []
    for month in range(1, MONTHS_PER_YEAR + 1):
        years = {day.year for day, _ in values if day.month == month}
        found.append(sum(_by_month(values, month)) / len(years) if years else math.nan)
    return tuple(found)


def _whole_year(
    values: list[tuple[date, float]], reduce: Callable[[list[tuple[date, float]]], Twelve]
) -> Twelve | None:
    # A column that misses a whole month tells too little to be used.
    found = reduce(values)
    return None if any(math.isnan(one) for one in found) else found
