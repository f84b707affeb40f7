"""Pairs `name=value`, as they are typed for one reading: which names there are, and what each one means."""

import difflib
from collections.abc import Iterator, Sequence

from aquacalc.errors import Problem

NAMES = {
    "tan": "tan",
    "ammonia": "tan",
    "nitrite": "nitrite",
    "no2": "nitrite",
    "nitrate": "nitrate",
    "no3": "nitrate",
    "ph": "ph",
    "temp": "temperature",
    "temperature": "temperature",
    "oxygen": "oxygen",
    "do": "oxygen",
    "kh": "alkalinity",
    "alkalinity": "alkalinity",
    "gh": "hardness",
    "hardness": "hardness",
    "chlorine": "chlorine",
    "chloride": "chloride",
    "ec": "conductivity",
    "conductivity": "conductivity",
    "salt": "added_salt",
}
"""Names that are typed, and the parameter that each means."""

OTHERS = {
    "signs": "signs",
    "sign": "signs",
    "fish": "fish",
    "litres": "litres",
    "liters": "litres",
    "new-water": "new-water",
    "new_water": "new-water",
}
"""Names that are no readings: what the fish show, which fish, how much water, what a change brings."""

OFFERED = (
    *("tan", "nitrite", "nitrate", "ph", "temp", "oxygen", "kh", "gh", "chlorine", "chloride", "ec", "salt"),
    *("signs", "fish", "litres", "new-water"),
)
"""Names that a sentence offers; `problem-reading-name` names them all."""

NO_READINGS = frozenset(("fish", "litres", "new-water"))
"""Names that by themselves give nothing to judge."""

GARDEN_MAY_MEND = ("problem-reading-degrees", "problem-reading-none")
"""Problems that say nothing while the garden that was named cannot be read."""


def told(typed: Sequence[str]) -> Iterator[tuple[str, str, Problem | None]]:
    """Parameter, value and what is wrong with each pair; no parameter where none is meant.

    >>> list(told(["TAN=2 NH3", "kh=4 dKH"]))
    [('tan', '2 NH3', None), ('alkalinity', '4 dKH', None)]
    """
    seen: set[str] = set()
    for text in typed:
        name, sign, value = text.partition("=")
        plain = name.strip().casefold()
        parameter = NAMES.get(plain, "") or OTHERS.get(plain, "")
        problem = None
        if not sign:
            parameter, problem = "", Problem("problem-reading-pair", "", text)
        elif not parameter:
            near = difflib.get_close_matches(plain, [*NAMES, *OTHERS], n=1)
            problem = Problem("problem-reading-name", "", name.strip(), OFFERED, near[0] if near else "")
        elif parameter in seen:
            problem = Problem("problem-given-twice", "", name.strip())
        seen.add(parameter)
        yield parameter, value.strip(), problem


def nothing_read() -> Problem:
    """The problem that no reading and no sign was told."""
    return Problem(
        "problem-reading-none", "", "", tuple(name for name in OFFERED if name in (*NAMES, "signs"))
    )


def offered_name(parameter: str) -> str:
    """The name under which a parameter is offered: where a problem of it is said to stand."""
    return next(name for name in OFFERED if NAMES.get(name, name) == parameter)
