"""What is asked for: a chemical, a wish, and the water that it goes into."""

import math
from dataclasses import dataclass
from typing import Literal

from aquacalc import tables
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Setting
from aquacalc.judge import lines
from aquacalc.tables import Row
from aquacalc.water import carbonate, dosing, supplements
from aquacalc.water.dosing import Chemical, Place

Goal = Literal["alkalinity", "ph", "Fe", "K", "Ca", "Mg", "Cl", "chlorine"]
GOALS: tuple[Goal, ...] = Goal.__args__  # type: ignore[attr-defined]

Into = Literal["loop", "vessel"]
"""The loop with its fish, or the top-up water's own vessel, in which nothing lives."""


@dataclass(frozen=True)
class Request:
    """What is asked for. NaN where a reading is not known.

    into: where it goes, and of which all readings are. strength: share of the product that is the chemical
    (of a chelate: iron on its label). wished: of the goal, mg/L CaCO3, pH, or mg/L of the element; for
    chlorine what may be left. element_mg_l: of that element, or of total chlorine, now. days: in how many
    days the grower means to be there, NaN for as many as it takes. carbon_dioxide_mg_l: usual in this loop,
    NaN for what pH and alkalinity now say. stock_g_l: product in each litre of a solution that it was made up
    as; spoon_g: product in a level spoon; NaN for none. species: key of the fish. crops: keys. line_mg_l:
    un-ionised ammonia from which to act, mg N/L, where it is not that of the species.
    """

    chemical: str
    goal: Goal
    wished: float
    volume_l: float
    ph: float
    alkalinity_mg_l: float
    temperature_c: float
    strength: float = 1.0
    element_mg_l: float = math.nan
    tan_mg_l: float = math.nan
    calcium_mg_l: float = math.nan
    conductivity_us_cm: float = math.nan
    carbon_dioxide_mg_l: float = math.nan
    days: float = math.nan
    stock_g_l: float = math.nan
    spoon_g: float = math.nan
    species: str = "nile_tilapia"
    setting: Setting = "home"
    crops: tuple[str, ...] = ()
    into: Into = "loop"
    line_mg_l: float = math.nan

    @property
    def act_line_mg_l(self) -> float:
        """Un-ionised ammonia, mg N/L, from which to act: as told, else that of the species."""
        if not math.isnan(self.line_mg_l):
            return self.line_mg_l
        return lines.begins_at("unionised_ammonia", "act today", (tables.load("species").row(self.species),))

    @property
    def wants_base(self) -> bool:
        """Whether the wish is about alkalinity or pH, and not about a single element or chlorine."""
        return self.goal in ("alkalinity", "ph")

    @property
    def element_now(self) -> float:
        """Of the wished element now; what is not known counts as none."""
        return 0.0 if math.isnan(self.element_mg_l) else self.element_mg_l


def water_of(request: Request) -> carbonate.Water:
    """The water as measured; ionic strength by its conductivity where known."""
    strength = carbonate.usual_ionic_strength(request.conductivity_us_cm)
    return check(carbonate.water(request.ph, request.alkalinity_mg_l, request.temperature_c, strength))


def check(water: carbonate.Water) -> carbonate.Water:
    """The water itself; `InputError` where no water has such a pH with so little alkalinity."""
    if float(water.inorganic_carbon_mmol_l) <= 0.0:
        raise InputError(Problem("problem-no-such-water"))
    return water


def place_of(request: Request) -> Place:
    """The water, its litres and its usual carbon dioxide.

    As told; else in a loop what the reading itself holds, and in a vessel what the air leaves in it.
    """
    water = water_of(request)
    usual = request.carbon_dioxide_mg_l
    if math.isnan(usual):
        usual = float(
            carbonate.carbon_dioxide_in_equilibrium_mg_l(request.temperature_c)
            if request.into == "vessel"
            else water.carbon_dioxide_mg_l
        )
    return Place(water, request.volume_l, usual, request.tan_mg_l, request.calcium_mg_l)


def row_of(request: Request) -> Row:
    """The chemical's row; `InputError` for a name that is not known."""
    return tables.load("chemicals").row(request.chemical)


def purity_of(request: Request, row: Row, of: Chemical) -> float:
    """Share of the product that is the chemical, whichever of the two the label states."""
    return supplements.purity_of_label(request.strength, of.elements["Fe"], row.number("fe_high_g_g"))


def grams_for_element(request: Request, of: Chemical, purity: float) -> float:
    """Grams that bring the wished element from what is there to the wish."""
    rise = request.wished - request.element_now
    return float(dosing.grams_for_element(of, request.goal, rise, request.volume_l, purity))
