"""Test kits: what a reading says about the water, and where a limit stands on a kit's own scale.

A scale belongs to the kit's leaflet and is typed in by the grower: the parameter, its basis (what the numbers
count), the steps of its card or what one drop counts. Nothing is assumed about a kit: without a basis a
reading is not known. Inside the workbook nitrogen is as N and alkalinity and hardness are mg/L CaCO3.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, inf
from typing import Protocol

from aquacalc import tables, units

NITROGEN = ("tan", "nitrite", "nitrate")
"""Parameters whose numbers may count N, NH3, NH4, NO2 or NO3."""

IN_A_UNIT = ("alkalinity", "hardness")
"""Parameters whose basis is a unit key."""

NOT_KNOWN = "not known"


class Scale(Protocol):
    """One parameter of a kit, as its leaflet has it."""

    @property
    def parameter(self) -> str:
        """What is measured: ph, tan, nitrite, nitrate, alkalinity, hardness, oxygen ..."""

    @property
    def basis(self) -> str:
        """What its numbers count: N, NH3, NH4, NO2, NO3, or a unit key; else `not known`."""

    @property
    def steps(self) -> tuple[float, ...]:
        """Values of its card, in its own basis, rising; none for a drop test or a meter."""

    @property
    def drop(self) -> float | None:
        """What one drop counts, or None."""


@dataclass(frozen=True)
class Interval:
    """Where a value lies. An open end is infinite: the reading stands at the end of its scale."""

    low: float
    high: float

    @property
    def at_end(self) -> bool:
        """Whether the reading only bounds the value on one side."""
        return self.low == -inf or self.high == inf


@dataclass(frozen=True)
class OnScale:
    """A limit as a kit shows it: `value` in the kit's basis, `step` the one to print, None beyond the end."""

    value: float
    step: float | None


def basis_is_known(scale: Scale) -> bool:
    """Whether it is told what the numbers count; parameters with one basis only (pH, oxygen) always are."""
    return scale.parameter not in (*NITROGEN, *IN_A_UNIT) or scale.basis != NOT_KNOWN


def as_inside(shown: float, scale: Scale) -> float | None:
    """A shown value as the workbook counts it (as N, mg/L CaCO3); None where the basis is not known."""
    if not basis_is_known(scale):
        return None
    if scale.parameter in NITROGEN:
        return units.as_n(shown, scale.basis)
    if scale.parameter in IN_A_UNIT:
        return units.unit(scale.basis).to_base(shown)
    return shown


def as_shown(value: float, scale: Scale) -> float | None:
    """A value as the kit counts it; None where the basis is not known."""
    if not basis_is_known(scale):
        return None
    if scale.parameter in NITROGEN:
        return units.from_n(value, scale.basis)
    if scale.parameter in IN_A_UNIT:
        return units.to(value, scale.basis)
    return value


def steps_around(shown: float, steps: Sequence[float]) -> tuple[float | None, float | None]:
    """The nearest step at or below a value and the nearest at or above it; None beyond an end.

    >>> steps_around(0.9, (0, 0.3, 0.6, 1.2, 2.5, 6))
    (0.6, 1.2)
    """
    below = [step for step in steps if step <= shown]
    above = [step for step in steps if step >= shown]
    return (below[-1] if below else None), (above[0] if above else None)


def interval(shown: float, scale: Scale, dilution: float = 1.0) -> Interval | None:
    """Where the water lies when a kit shows `shown`, in the kit's own basis; None without steps or drops.

    On a card a reading at a step may be anything to half-way towards its neighbours, one between two steps
    lies between them, one at an end only bounds the value. A drop test turns between its last two drops.
    dilution: 5 for one part of sample in five parts of water; it widens reading and steps alike.
    """
    if scale.drop is not None:
        return Interval((shown - scale.drop) * dilution, shown * dilution)
    if not scale.steps:
        return None
    marks = scale.steps
    if shown not in marks:
        below, above = steps_around(shown, marks)
        return _times(Interval(-inf if below is None else below, inf if above is None else above), dilution)
    halves = [(a + b) / 2.0 for a, b in pairwise(marks)]
    place = marks.index(shown)
    low = halves[place - 1] if place > 0 else -inf
    high = halves[place] if place < len(halves) else inf
    return _times(Interval(low, high), dilution)


def _times(span: Interval, factor: float) -> Interval:
    return Interval(span.low * factor, span.high * factor)


def interval_inside(shown: float, scale: Scale, dilution: float = 1.0) -> Interval | None:
    """`interval` as the workbook counts it; None where steps or basis are not known."""
    span = interval(shown, scale, dilution)
    if span is None:
        return None
    low, high = as_inside(span.low, scale), as_inside(span.high, scale)
    return None if low is None or high is None else Interval(low, high)


def act_value_on_scale(value: float, scale: Scale, falling: bool = False) -> OnScale | None:
    """Where a limit stands on a kit, for printing "act at": the first step at or beyond it.

    value: as the workbook counts it (as N, mg/L CaCO3). falling: the limit is a least value (alkalinity,
    oxygen), so that "beyond" means below. None where the basis or the steps are not known.
    """
    shown = as_shown(value, scale)
    if shown is None:
        return None
    if scale.drop is not None:
        drops = floor(shown / scale.drop + 1e-9) if falling else ceil(shown / scale.drop - 1e-9)
        return OnScale(shown, drops * scale.drop)
    if not scale.steps:
        return None
    below, above = steps_around(shown, scale.steps)
    return OnScale(shown, below if falling else above)


def dilution_to_read(value: float, scale: Scale, choices: Sequence[int] = (1, 2, 5, 10, 20)) -> int | None:
    """The smallest dilution that brings a value (as N, mg/L CaCO3) below the top step; None if none does.

    Dilute with de-ionised water: other water brings its own nitrate and alkalinity.
    """
    shown = as_shown(value, scale)
    if shown is None or not scale.steps:
        return None
    return next((one for one in choices if shown / one < scale.steps[-1]), None)


def error_of(test_kind: str, value: float) -> float:
    """One standard deviation of a reading by a row of `data/test_kinds.csv`, in that row's unit.

    The larger of an absolute and a relative error. Common practice, no source.

    >>> error_of("tan_indophenol", 2.0)
    0.5
    """
    row = tables.load("test_kinds").row(test_kind)
    return max(row.number("sigma_absolute"), row.number("sigma_relative") * abs(value))
