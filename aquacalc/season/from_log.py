"""What a season takes over from what was noted: readings, counts and weights of its first day.

The log goes before the measurements of the garden file, unless one of those is newer.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from aquacalc import kits
from aquacalc.logbook import stock, today
from aquacalc.logbook.log import Log
from aquacalc.logbook.today import Standing
from aquacalc.season.start import Start
from aquacalc.water import carbonate

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

TAKEN_OVER = ("tan_mg_l", "nitrite_mg_l", "nitrate_mg_l", "alkalinity_mg_l", "ph")
"""Readings of the log, by the names of `Standing.water`, with which a season begins."""
MEASURED = {
    "ph": "ph",
    "alkalinity": "alkalinity_mg_l",
    "hardness": "hardness_mg_l",
    "chloride": "chloride_mg_l",
}
"""Measurements of the garden file with which a season begins, by their names here."""
LEAST_ALKALINITY_MG_L = 1.0
LIKELY_ALKALINITY_MG_L = 50.0
USUAL_C = 20.0
"""For the question whether a pH and an alkalinity can go together; both our own choice."""


def standing(garden: Garden, log: Log | None) -> Standing | None:
    """What the log tells of the season's first day; None without a log, and where it begins later."""
    first = garden.season.start
    if log is None or not log.rows or log.rows[0].day > first:
        return None
    return today.standing(garden, log, first)


def start(garden: Garden, log: Log | None, told: Standing | None) -> Start:
    """What the season takes over: readings, counts, and weights of samples that are not too old.

    A batch of which the log says that none are left begins without any. What is written in the garden file
    counts from the season's first day at the latest.
    """
    measured = _measured(garden, told)
    if told is None or log is None:
        return Start(_possible(measured))
    there = {one.batch: one for one in told.fish}
    counts = {name: float(one.count) for name, one in there.items()}
    for batch in garden.fish:
        if batch.name not in there and stock.number(log, batch, told.day) == 0:
            counts[batch.name] = 0.0
    weights = {
        name: one.weight_g
        for name, one in there.items()
        if one.weight_g is not None
        and one.weighed is not None
        and (told.day - one.weighed).days <= kits.OLDEST_DAYS
        and not _weighed_since(garden, name, one.weighed, told.day)
    }
    read = {name: told.water[name].value for name in TAKEN_OVER if name in told.water}
    return Start(_possible({**read, **measured}), counts, weights)


def _measured(garden: Garden, told: Standing | None) -> dict[str, float]:
    """Measurements of the garden file up to the first day, without those that the log has newer."""
    found = {}
    for what, name in MEASURED.items():
        known = [
            one
            for one in garden.measured
            if one.what == what and (one.day is None or one.day <= garden.season.start)
        ]
        if not known:
            continue
        newest = max(known, key=lambda one: one.day or date.min)
        logged = told.water.get(name) if told is not None else None
        if logged is None or (newest.day is not None and newest.day > logged.day):
            found[name] = newest.value
    return found


def _weighed_since(garden: Garden, name: str, weighed: date, first: date) -> bool:
    """Whether the garden file has a newer weight of a batch than the log."""
    return any(
        batch.name == name and batch.weighed is not None and weighed < batch.weighed <= first
        for batch in garden.fish
    )


def _possible(read: Mapping[str, float]) -> dict[str, float]:
    """Readings with which a season can begin.

    Alkalinity that a kit reads as 0 is a little; a pH that no water of this alkalinity has is left out.
    """
    found = dict(read)
    if "alkalinity_mg_l" in found:
        found["alkalinity_mg_l"] = max(found["alkalinity_mg_l"], LEAST_ALKALINITY_MG_L)
    alkalinity = found.get("alkalinity_mg_l", LIKELY_ALKALINITY_MG_L)
    if "ph" in found and not carbonate.inorganic_carbon_mmol_l(found["ph"], alkalinity, USUAL_C) > 0.0:
        del found["ph"]
    return found
