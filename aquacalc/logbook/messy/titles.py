"""Titles of columns as people write them, brought to those of `columns`."""

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from aquacalc import units
from aquacalc.errors import InputError, Problem
from aquacalc.logbook import columns
from aquacalc.logbook.columns import Column
from aquacalc.logbook.plan import Garden

DATES = ("date", "day", "dates", "datum", "tag", "jour")
ALIASES = {
    "temp": "water temperature",
    "temperature": "water temperature",
    "water temp": "water temperature",
    "ph value": "pH",
    "nh3": "ammonia",
    "nh4": "ammonia",
    "nh3/nh4": "ammonia",
    "no2": "nitrite",
    "no3": "nitrate",
    "kh": "alkalinity",
    "carbonate hardness": "alkalinity",
    "gh": "hardness",
    "general hardness": "hardness",
    "do": "oxygen",
    "o2": "oxygen",
    "dissolved oxygen": "oxygen",
    "ec": "conductivity",
    "salt": "added salt",
    "salt added": "added salt",
    "fed": "feed",
    "food": "feed",
    "topup": "top-up",
    "top up": "top-up",
    "deaths": "dead",
    "died": "dead",
    "harvested": "taken",
    "hour": "time",
    "clock": "time",
    "time of day": "time",
    "notes": "note",
    "comment": "note",
    "comments": "note",
    "remark": "note",
    "remarks": "note",
    # Headings of German and French notebooks; those that name a test only, as NH3 does.
    "temperatur": "water temperature",
    "wassertemperatur": "water temperature",
    "température": "water temperature",
    "temp. eau": "water temperature",
    "température eau": "water temperature",
    "température de l'eau": "water temperature",
    "ph-wert": "pH",
    "ammoniak": "ammonia",
    "ammonium": "ammonia",
    "ammoniaque": "ammonia",
    "nitrit": "nitrite",
    "nitrites": "nitrite",
    "nitrat": "nitrate",
    "nitrates": "nitrate",
    "sauerstoff": "oxygen",
    "oxygène": "oxygen",
    "leitfähigkeit": "conductivity",
    "conductivité": "conductivity",
    "leitwert": "conductivity",
    "futter": "feed",
    "nourriture": "feed",
    "uhrzeit": "time",
    "heure": "time",
    "bemerkung": "note",
    "bemerkungen": "note",
    "notiz": "note",
    "remarque": "note",
    "remarques": "note",
}
"""Ways to write a title that can mean one column only. `NH3` names a test, not what its numbers count."""

NEEDS_UNIT = ("temperature", "conductivity", "added_salt", "feed", "top_up", "weight", "picked", "dose")
"""Parameters whose numbers say nothing without a unit."""


@dataclass(frozen=True)
class Title:
    """A column of the file: what it holds, its title as typed and as the clean file has it.

    bare: its header names no unit and its parameter needs one, so that each cell has to.
    """

    column: Column
    typed: str
    clean: str
    bare: bool = False


def is_date(cell: str) -> bool:
    """Whether a cell is the title of the column of days."""
    return " ".join(cell.strip(' "').casefold().split()) in DATES


def title(typed: str, garden: Garden) -> Title | None:
    """The column of a title; None where it cannot be understood.

    >>> from types import SimpleNamespace
    >>> title("Temp [°C]", SimpleNamespace(fish=(), kits=())).clean
    'water temperature (°C)'
    """
    tidy = " ".join(typed.replace("[", "(").replace("]", ")").replace("_", " ").split())
    for way in _ways(tidy):
        column = _known(way, garden)
        if column is not None:
            return Title(column, typed, way)
    # Without its unit; the cells have to name it then.
    for name in (tidy, ALIASES.get(tidy.casefold(), "")):
        for kind in ("temperature", "conductivity", "mass", "volume"):
            label = units.base(kind).label
            column = _known(f"{name} ({label})", garden) if name and "(" not in name else None
            if column is not None and column.parameter in NEEDS_UNIT:
                return Title(replace(column, title=name), typed, f"{name} ({label})", True)
    return None


def nearest(typed: str) -> tuple[str, ...]:
    """Titles that are near to one that is not known."""
    of_the_day = ("feed", "top-up", "time", "note")
    known = [*columns.WATER, *of_the_day, *columns.FISH]
    return tuple(difflib.get_close_matches(typed.casefold(), known, n=2))


def with_units(typed: str, garden: Garden) -> tuple[str, ...]:
    """How a title may be written whose name is known and whose unit is not; empty for an unknown name.

    >>> from types import SimpleNamespace
    >>> with_units("top-up (gal)", SimpleNamespace(fish=(), kits=()))
    ('top-up (L)', 'top-up (m3)', 'top-up (US gal)', 'top-up (imp gal)')
    """
    tidy = " ".join(typed.replace("[", "(").replace("]", ")").replace("_", " ").split())
    for way in _ways(tidy):
        found: Sequence[Problem] = ()
        try:
            found = columns.read(("date", way), garden, "")[1]
        except InputError as error:
            found = error.problems
        for one in found:
            if one.key in ("problem-log-unit", "problem-log-unit-missing"):
                return tuple(str(allowed) for allowed in one.allowed)
    return ()


def _ways(tidy: str) -> Sequence[str]:
    """A title as it stands, and with its name and its unit told apart."""
    ways = [tidy]
    name, unit = tidy, ""
    if tidy.endswith(")") and "(" in tidy:
        name, _, unit = (part.strip() for part in tidy[:-1].rpartition("("))
        ways.append(f"{ALIASES.get(name.casefold(), name)} ({unit})")
    else:
        ways.append(ALIASES.get(name.casefold(), name))
        words = re.split(r"[ ,]+", tidy)
        for cut in range(len(words) - 1, 0, -1):
            first, rest = " ".join(words[:cut]), " ".join(words[cut:])
            ways.append(f"{ALIASES.get(first.casefold(), first)} ({rest})")
    return list(dict.fromkeys(ways))


def _known(way: str, garden: Garden) -> Column | None:
    try:
        found, problems = columns.read(("date", way), garden, "")
    except InputError:
        return None
    if problems or found[1] is None or found[1].parameter in (columns.NOT_READ, columns.DATE):
        return None
    return found[1]
