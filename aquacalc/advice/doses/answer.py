"""The answer to a request: a plan, and what speaks against it, as keys and amounts."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from aquacalc.advice.doses.request import Request
from aquacalc.advice.finding import Amount
from aquacalc.water import carbonate, supplements
from aquacalc.water.dosing import Chemical, Dose

Reason = Literal[
    "acid",
    "acid-goal",
    "acid-low",
    "not-for-the-loop",
    "school",
    "school-acid",
    "no-effect",
    "chlorine-not-told",
    "sour",
    "nothing-to-raise",
    "nothing-to-lower",
    "air-alone",
    "ph-high",
    "limestone",
    "calcite",
    "chelate",
    "ammonia",
    "hydroxide",
    "ph-step",
    "element-day",
    "element-high",
    "too-many",
    "sodium",
    "crops",
]
REASONS: tuple[Reason, ...] = Reason.__args__  # type: ignore[attr-defined]


@dataclass(frozen=True)
class Refusal:
    """Why not, with amounts; each reason has a milder way, in the catalogue under the same name."""

    reason: Reason
    amounts: tuple[Amount, ...] = ()


@dataclass(frozen=True)
class Plan:
    """The answer.

    grams: in all; portion_g: the first portion; day_g: the most for one day, in `a_day` portions at most.
    portions, days: an estimate. bound_by: what sets the day's most, empty where the wish is less. first: what
    the first portion does, None for a product without alkalinity. ph_low, ph_high: settled, at the usual
    carbon dioxide and at that of a well-aired loop. ph_highest: on the way; ph_judged: the same with the
    error of a drop kit. tan_line_mg_l: TAN that would reach the act line there. elements_mg_l: what comes
    along in all. dioxide_mg_l: by the readings; dioxide_after_mg_l: free, right after all of it; NaN where
    they do not matter. refusal: None where nothing speaks against it; what stands beside one still tells the
    amounts.
    """

    request: Request
    chemical: Chemical
    cautions: tuple[str, ...] = ()
    grams: float = 0.0
    portion_g: float = 0.0
    day_g: float = 0.0
    portions: int = 0
    a_day: int = 1
    days: int = 0
    bound_by: str = ""
    rise_mg_l: float = 0.0
    first: Dose | None = None
    ph_low: float = math.nan
    ph_high: float = math.nan
    ph_highest: float = math.nan
    ph_judged: float = math.nan
    tan_line_mg_l: float = math.nan
    elements_mg_l: Mapping[str, float] = field(default_factory=dict)
    dioxide_mg_l: float = math.nan
    dioxide_after_mg_l: float = math.nan
    refusal: Refusal | None = None

    @property
    def portion_ml(self) -> float:
        """Millilitres of the solution for a portion, NaN where none was made up."""
        return float(supplements.stock_solution_ml(self.portion_g, self.request.stock_g_l))

    @property
    def is_doubtful(self) -> bool:
        """Whether pH and alkalinity hardly go together."""
        low, high = carbonate.LIKELY_CARBON_DIOXIDE_MG_L
        return self.dioxide_mg_l < low or self.dioxide_mg_l > high

    @property
    def alkalinity_after_mg_l(self) -> float:
        """Alkalinity that the whole plan leads to, mg/L CaCO3."""
        return self.request.alkalinity_mg_l + self.rise_mg_l
