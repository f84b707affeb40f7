"""Which plantings fill the beds best: areas and weeks by a general solver, on numbers alone.

A mixed whole-number programme (`scipy.optimize.milp`). Weeks are counted from the first day for planting; a
bed is planted on that day of the week only, so that only on these days it can become too full.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from aquacalc.uncertainty import Floats

FORTNIGHT_WEEKS = 2
"""Heads are counted by the fortnight: a head that is ready waits for a while."""
HEAD_SHORT_KG = 2.0
PLANTING_KG = 0.15
"""What a head that is wished and missing weighs against a kilogram picked, and the work of a planting. Our
own choice, no source."""
MOST_OF_WISH = 1.25
"""More heads of a fortnight than this share of the wish are too many to eat (own choice, no source)."""
GAP = 0.03
"""The search ends where nothing can be better by more than this share; and after so many branches."""
BRANCHES = 200
SMALL_M2 = 1e-6


@dataclass(frozen=True)
class Choice:
    """A planting that may be made.

    bed: its place among the beds; first, last: weeks in which it takes its place, both counted; kg_m2: what
    is picked of it; heads_m2: of these by week.
    """

    crop: str
    bed: int
    first: int
    last: int
    kg_m2: float
    heads_m2: tuple[tuple[int, float], ...]


@dataclass(frozen=True)
class Asked:
    """What a plan of the beds is to do.

    beds_m2: area of each bed; weeks: of the season; heads: wished a week, by crop; worth: of a kilogram, by
    crop, 1 where not named; at_least_m2: area of a crop that is planted at some time; plantings: most in a
    week; most_of_one: share of all bed weeks that one crop may take; least_m2: of one planting.
    """

    beds_m2: tuple[float, ...]
    weeks: int
    heads: Mapping[str, float] = field(default_factory=dict)
    worth: Mapping[str, float] = field(default_factory=dict)
    at_least_m2: Mapping[str, float] = field(default_factory=dict)
    plantings: int = 2
    most_of_one: float = 1.0
    least_m2: float = 0.3


@dataclass(frozen=True, eq=False)
class Filled:
    """areas_m2: of each choice, 0 where it is not made; short: heads missing, by crop, (fortnights,)."""

    areas_m2: Floats
    short: Mapping[str, Floats]


class _Programme:
    """Variables with their cost and bounds, and rows between them."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.high: list[float] = []
        self.whole: list[int] = []
        self.terms: list[tuple[int, int, float]] = []
        self.low_rows: list[float] = []
        self.high_rows: list[float] = []

    def variable(self, cost: float, high: float = np.inf, whole: bool = False) -> int:
        self.cost.append(cost)
        self.high.append(high)
        self.whole.append(int(whole))
        return len(self.cost) - 1

    def row(self, terms: Iterable[tuple[int, float]], low: float = -np.inf, high: float = np.inf) -> None:
        self.terms += [(len(self.low_rows), place, amount) for place, amount in terms]
        self.low_rows.append(low)
        self.high_rows.append(high)

    def solved(self) -> Floats | None:
        """The values with the least cost; None where the rows contradict each other."""
        # Loading the solver takes half a second, which who plans no bed does not wait for.
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        rows, places, amounts = zip(*self.terms, strict=True) if self.terms else ((), (), ())
        matrix = csr_array((amounts, (rows, places)), shape=(len(self.low_rows), len(self.cost)))
        found = milp(
            np.array(self.cost),
            integrality=np.array(self.whole),
            bounds=Bounds(0.0, np.array(self.high)),
            constraints=LinearConstraint(matrix, self.low_rows, self.high_rows),
            options={"mip_rel_gap": GAP, "node_limit": BRANCHES},
        )
        values: Floats | None = found.x
        return values


def filled(choices: Sequence[Choice], asked: Asked) -> Filled | None:
    """The plantings that bring most; None where what is asked contradicts itself.

    Source: own reckoning, a mixed whole-number programme; its weights are our own choice.
    """
    programme = _Programme()
    areas = []
    for one in choices:
        most = asked.beds_m2[one.bed]
        area = programme.variable(-asked.worth.get(one.crop, 1.0) * one.kg_m2, most)
        made = programme.variable(PLANTING_KG, 1.0, whole=True)
        programme.row([(area, 1.0), (made, -most)], high=0.0)
        programme.row([(area, 1.0), (made, -min(asked.least_m2, most))], low=0.0)
        areas.append(area)
    _space(programme, areas, choices, asked)
    for week in range(asked.weeks):
        # A planting's own variable stands behind its area.
        begun = [(area + 1, 1.0) for area, one in zip(areas, choices, strict=True) if one.first == week]
        if len(begun) > asked.plantings:
            programme.row(begun, high=asked.plantings)
    missing = {crop: _wish(programme, areas, choices, asked, crop) for crop in asked.heads}
    found = programme.solved()
    if found is None:
        return None
    areas_m2 = np.where(found[areas] > SMALL_M2, found[areas], 0.0) if areas else np.zeros(0)
    return Filled(areas_m2, {crop: np.maximum(found[places], 0.0) for crop, places in missing.items()})


def steadiest(choices: Sequence[Choice], asked: Asked, crop: str) -> float:
    """Heads of a crop a week that the beds give in every fortnight in which it can be ready at all.

    Source: own reckoning, a linear programme; plantings may be as small as is wished.
    """
    own = [one for one in choices if one.crop == crop]
    fortnights = _by_fortnight(range(len(own)), own, crop)
    if not fortnights:
        return 0.0
    programme = _Programme()
    areas = [programme.variable(0.0, asked.beds_m2[one.bed]) for one in own]
    heads = programme.variable(-1.0)
    _space(programme, areas, own, asked)
    for terms in fortnights.values():
        programme.row([*terms, (heads, -float(FORTNIGHT_WEEKS))], low=0.0)
    found = programme.solved()
    return 0.0 if found is None else float(found[heads])


def _space(programme: _Programme, areas: Sequence[int], choices: Sequence[Choice], asked: Asked) -> None:
    """Room in each bed in each week, most of one crop, least of those that are to stand at some time."""
    both = list(zip(areas, choices, strict=True))
    for bed, had in enumerate(asked.beds_m2):
        for week in range(asked.weeks):
            there = [(area, 1.0) for area, one in both if one.bed == bed and one.first <= week <= one.last]
            if there:
                programme.row(there, high=had)
    whole = sum(asked.beds_m2) * asked.weeks
    for crop in dict.fromkeys(one.crop for one in choices):
        own = [(area, one) for area, one in both if one.crop == crop]
        if asked.most_of_one < 1.0:
            taken = [(area, float(min(one.last, asked.weeks - 1) - one.first + 1)) for area, one in own]
            programme.row(taken, high=asked.most_of_one * whole)
        if crop in asked.at_least_m2:
            programme.row([(area, 1.0) for area, _ in own], low=asked.at_least_m2[crop])


def _wish(
    programme: _Programme, areas: Sequence[int], choices: Sequence[Choice], asked: Asked, crop: str
) -> list[int]:
    """Heads of each fortnight, at least as wished or short, and not many more."""
    wish = FORTNIGHT_WEEKS * asked.heads[crop]
    ready = _by_fortnight(areas, choices, crop)
    missing = []
    for fortnight in range(asked.weeks // FORTNIGHT_WEEKS):
        short = programme.variable(HEAD_SHORT_KG, wish)
        terms = ready.get(fortnight, [])
        programme.row([*terms, (short, 1.0)], low=wish)
        if terms:
            programme.row(terms, high=MOST_OF_WISH * wish)
        missing.append(short)
    return missing


def _by_fortnight(
    areas: Iterable[int], choices: Sequence[Choice], crop: str
) -> dict[int, list[tuple[int, float]]]:
    """Heads of a crop in each fortnight, by the places of the areas."""
    found: dict[int, list[tuple[int, float]]] = {}
    for area, one in zip(areas, choices, strict=True):
        if one.crop == crop:
            for week, heads in one.heads_m2:
                found.setdefault(week // FORTNIGHT_WEEKS, []).append((area, heads))
    return found
