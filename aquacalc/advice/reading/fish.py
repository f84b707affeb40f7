"""Which fish a reading is judged for, and what they show."""

import difflib
import re
from typing import Literal

from aquacalc import tables
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden
from aquacalc.tables import Row

Sign = Literal["gasping", "bottom", "jumping", "brown_gills"]

SIGNS = {
    "gasping": "gasping",
    "gasp": "gasping",
    "surface": "gasping",
    "bottom": "bottom",
    "lying": "bottom",
    "lying on the bottom": "bottom",
    "jumping": "jumping",
    "jump": "jumping",
    "brown gills": "brown_gills",
    "brown": "brown_gills",
}
"""What the fish show, as it may be typed; the names that are offered are those of `SIGNS_OFFERED`."""

SIGNS_OFFERED = ("gasping", "bottom", "jumping", "brown gills")

WARMTH = ("warm", "cold")
"""What may be told of fish whose species is not in the table."""


def only_warmth(warmth: str) -> Row:
    """A stand-in for a species of which only `warm` or `cold` is known."""
    return Row(warmth, 0, {"temperature_class": warmth, "nitrogen_tolerance_class": "", "name": warmth}, {})


def of_garden(garden: Garden | None) -> tuple[Row, ...]:
    """The species of a garden, each once; fish of cold water, the severest, where none is known."""
    if garden is None or not garden.fish:
        return (only_warmth("cold"),)
    table = tables.load("species")
    return tuple(table.row(key) for key in dict.fromkeys(batch.species for batch in garden.fish))


def of_text(text: str) -> tuple[Row, ...]:
    """A species by its key, with spaces or not, or `warm` or `cold`; `InputError` for any other."""
    table = tables.load("species")
    plain = "_".join(text.casefold().split())
    if plain in WARMTH:
        return (only_warmth(plain),)
    if plain not in table.keys():  # noqa: SIM118  (a table is no mapping)
        near = difflib.get_close_matches(plain, [*WARMTH, *table.keys()], n=1)
        known = (*WARMTH, *table.keys())
        raise InputError(Problem("problem-unknown-name", "fish", text, known, near[0] if near else ""))
    return (table.row(plain),)


def signs_of_text(text: str) -> tuple[Sign, ...]:
    """What the fish show, each once, in the order of `Sign`; `InputError` with each that is not known."""
    found: set[str] = set()
    problems = []
    for part in text.split(","):
        plain = " ".join(re.split(r"[\s_-]+", part.strip().casefold()))
        if plain in SIGNS:
            found.add(SIGNS[plain])
        else:
            near = difflib.get_close_matches(plain, SIGNS, n=1, cutoff=0.85)  # "dying" is no "lying"
            nearest = SIGNS[near[0]].replace("_", " ") if near else ""
            problems.append(Problem("problem-unknown-name", "signs", part.strip(), SIGNS_OFFERED, nearest))
    if problems:
        raise InputError(problems)
    known: tuple[Sign, ...] = Sign.__args__  # type: ignore[attr-defined]
    return tuple(sign for sign in known if sign in found)
