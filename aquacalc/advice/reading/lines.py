"""The lines of the fish and crops that are there: how severe a value is for the most sensitive of them."""

import math
from collections.abc import Callable

from aquacalc import tables
from aquacalc.advice import levels
from aquacalc.advice.finding import Level, worst
from aquacalc.advice.reading import derived
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.measure import Measure
from aquacalc.tables import Row

COLUMNS: tuple[tuple[Level, str], ...] = (
    ("watch", "watch_from"),
    ("act today", "act_from"),
    ("emergency", "emergency_from"),
)
"""Levels and where each begins, in `data/water_limits.csv`."""

SUNFISH = ("largemouth_bass", "bluegill")
"""They take up no nitrite, so that chloride adds little. Source: Tomasso 1986 (read)."""


def severest(given: Given, rule: Callable[[Row], Level]) -> Level:
    """The severest level among the fish that are there; `not known` only where no fish knows better."""
    found = [rule(row) for row in given.species]
    known = [level for level in found if level != "not known"]
    return worst(known) if known else "not known"


def unionised_lines(given: Given) -> tuple[tuple[Level, float], ...]:
    """Levels and the un-ionised ammonia, mg N/L, at which each begins for the most sensitive fish there."""
    groups = {group for row in given.species for group in levels.groups(row)}
    rows = [row for row in tables.load("water_limits") if row.text("parameter") == "unionised_ammonia"]
    held = [row for row in rows if row.text("group") in groups]
    return tuple((level, min(row.number(column) for row in held)) for level, column in COLUMNS)


def act_line(given: Given) -> float:
    """Un-ionised ammonia, mg N/L, from which the most sensitive fish there asks to act today."""
    return dict(unionised_lines(given))["act today"]


def level_of(given: Given, one: Measure, row: Row, ph: float, temperature_c: float) -> Level:
    """The level of a reading for one fish; ph, temperature_c: as counted, for the criteria of ammonia."""
    if one.parameter == "oxygen":
        known = "do_full_feed_mg_l" in row.numbers
        return levels.of_oxygen(one.value, row) if known else levels.of_water("oxygen", one.value, row)
    if one.parameter == "temperature":
        return levels.of_temperature(one.value, row) if "t_lethal_low_c" in row.numbers else "not known"
    if one.parameter == "tan":
        by_line = levels.of_water("tan", one.value, row)
        return worst((by_line, levels.of_criteria(one.value, ph, temperature_c, row)))
    if one.parameter == "added_salt":
        level = levels.of_water("added_salt", one.value, row)
        # The lower lines are those of plants, and a crop's own cap goes first.
        return level if level == "emergency" else "fine"
    if one.parameter == "nitrite":
        return levels.of_water("nitrite", one.value, row, derived.chloride_ratio(given))
    return levels.of_water(one.parameter, one.value, row)


def salt_for_crops(keys: tuple[str, ...], salt_g_l: float) -> Level:
    """Added salt by the working cap of each crop, low and high; a crop without one has the common lines."""
    line, crops = tables.load("water_limits").row("added_salt_warm"), tables.load("crops")
    common = (line.number("watch_from"), line.number("act_from"))
    caps = []
    for row in map(crops.row, keys):
        own = (row.number("added_salt_cap_low_g_l"), row.number("added_salt_cap_high_g_l"))
        caps.append(common if math.isnan(own[1]) else own)
    low, high = map(min, zip(*(caps or [common]), strict=True))
    return "act today" if salt_g_l >= high else "watch" if salt_g_l >= low else "fine"


def ranges_known(given: Given) -> bool:
    """Whether a species is told; warm or cold alone has no range of temperature."""
    return any("t_lethal_low_c" in row.numbers for row in given.species)
