"""Water that a change brings in: the garden's top-up, or what was typed of it."""

import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from aquacalc.advice.reading import measure, pairs
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Disinfectant, Garden
from aquacalc.uncertainty import Triangle, coefficient
from aquacalc.water import chlorine

DISINFECTANTS: Mapping[str, Disinfectant] = MappingProxyType(
    {"none": "none", "rain": "none", "chlorine": "chlorine", "chloramine": "chloramine"}
)

MEASURED = ("tan", "nitrite", "nitrate", "chloride", "ph", "alkalinity")
"""Readings of new water that change what is to be expected."""

OFFERED = (
    "none",
    "rain",
    "chlorine",
    "chloramine",
    "tan",
    "nitrite",
    "nitrate",
    "chloride",
    "ph",
    "kh",
)

_PART = re.compile(r"\s*(?P<name>[a-z]+)[\s:]*(?P<amount>.*)", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True)
class NewWater:
    """Water that a change brings in. measures: as the workbook counts them, named by parameter.

    chlorine_mg_l: the supplier's highest figure, as Cl2. told: whether anything is known of it.
    soft: whether it is rain, which has no more pH and alkalinity than any tank.
    """

    disinfectant: Disinfectant = "not known"
    chlorine_mg_l: float = 0.0
    measures: Mapping[str, float] = field(default_factory=dict)
    told: bool = False
    soft: bool = False

    def value(self, parameter: str) -> float:
        """What was told of it; NaN where nothing was."""
        return self.measures.get(parameter, math.nan)

    def brings(self, parameter: str) -> float:
        """mg/L of a substance in it: what is not told counts as none; chloramine leaves ammonia behind."""
        known = self.value(parameter)
        known = 0.0 if math.isnan(known) else known
        return known + self.freed.typical if parameter == "tan" else known

    @property
    def freed(self) -> Triangle:
        """Ammonia, mg N/L, that its chloramine leaves; what may be chloramine counts as such."""
        amount = self.chlorine_mg_l if self.disinfectant in ("chloramine", "not known") else 0.0
        per = coefficient("ammonia_freed_per_chloramine")
        return Triangle(amount * per.low, amount * per.typical, amount * per.high)


def of_garden(garden: Garden | None) -> NewWater:
    """The garden's top-up: what it tells of itself, and the supplier's highest chlorine."""
    if garden is None:
        return NewWater()
    of = garden.top_up
    known = {
        "nitrate": of.nitrate_n_mg_l,
        "chloride": of.chloride_mg_l,
        "ph": of.ph,
        "alkalinity": of.alkalinity_mg_l,
    }
    measures = {name: value for name, value in known.items() if value is not None}
    return NewWater(of.disinfectant, of.chlorine_max_mg_l, measures, told=True, soft=of.source == "rain")


def of_text(text: str) -> NewWater:
    """`chloramine 2, nitrate 5 NO3, ph 7.8`: parts by comma, readings with their basis or unit.

    Without a figure chlorine counts as the most that a supplier may have; water of which no disinfectant is
    told is taken for treated with chloramine, as nobody knows.
    """
    disinfectant: Disinfectant = "not known"
    soft = False
    most_mg_l: float | None = None
    measures: dict[str, float] = {}
    problems: list[Problem] = []
    for part in re.split(r",(?!\d)", text):
        match = _PART.fullmatch(part)
        name, amount = (match["name"].casefold(), match["amount"].strip()) if match else (part.strip(), "")
        parameter = pairs.NAMES.get(name, "")
        try:
            if name in DISINFECTANTS:
                disinfectant, soft = DISINFECTANTS[name], name == "rain"
                most_mg_l = measure.of_text("chlorine", amount, None).value if amount else None
            elif parameter in MEASURED:
                measures[parameter] = measure.of_text(parameter, amount, None).value
            else:
                near = difflib.get_close_matches(name, OFFERED, n=1)
                nearest = near[0] if near else ""
                problems.append(Problem("problem-unknown-name", "", part.strip(), OFFERED, nearest))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(replace(one, where=f"new-water {one.where}".strip()) for one in problems)
    if disinfectant == "none":
        most_mg_l = 0.0
    if most_mg_l is None:
        most_mg_l = chlorine.SUPPLIERS_MOST_MG_L
    return NewWater(disinfectant, most_mg_l, measures, told=True, soft=soft)
