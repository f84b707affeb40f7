"""Doses of a start-up: what brings ammonia, how much of it a reading calls for, and when none is given.

All concentrations as N, alkalinity mg/L CaCO3, litres of all the circulating water. No dose is ordered by a
date: each function asks for the reading of the day. Whoever prints a dose prints the caution with it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from aquacalc import kits, nitrogen, tables
from aquacalc.constants import (
    ATOMIC_MASS_N_G_MOL,
    MOLAR_MASS_H2O_G_MOL,
    MOLAR_MASS_NH3_G_MOL,
)
from aquacalc.errors import InputError, Problem
from aquacalc.startup.rule import P1
from aquacalc.uncertainty import coefficient
from aquacalc.water import ammonia, carbonate, dosing

Counts = Literal["NH3 by weight", "NH3 by volume", "NH4OH", "not told"]
"""What the percentage on a label counts. By volume: grams of NH3 in 100 mL."""
Foam = Literal["none", "lasting", "not tried"]
"""What the shake test showed."""
NoDose = Literal["ammonia_there", "nitrite_high", "nitrite_off_scale", "nitrite_not_known"]

SOLUTION = "ammonia_solution"
DEFAULT_PRODUCT = "ammonium_chloride"

FIRST_TAN_MG_L = (2.0, 3.0, 4.0)
NEXT_TAN_MG_L = (1.0, P1.to_tan_mg_l, 2.0)
"""TAN that the first and the later doses aim at: least, usual, most."""
REDOSE_AT_TAN_MG_L = P1.low_tan_mg_l
"""At or below it the water is fed again."""
HOLD_NITRITE_MG_L = P1.high_nitrite_mg_l
"""Above it ammonia waits."""
HOLD_DILUTION = 5.0
"""A nitrite reading at the end of its scale counts as too high only from this dilution on."""
LOW_PH = 6.2
"""At it or below no ammonia is given before the base (failure table of the nitrogen reference)."""
MOST_TAN_MG_L = 8.0
"""No dose goes beyond it. All of these lines: common practice, no source (hobby protocols 1 to 5 ppm)."""

ALKALINITY_KEPT_MG_L = (P1.low_alkalinity_mg_l, P1.full_alkalinity_mg_l)
"""Kept between them in a start-up without fish."""

STRENGTHS_PCT = (1.0, 30.0)
"""NH3 by weight that the density table covers."""
HYDROXIDE_TO_AMMONIA = MOLAR_MASS_NH3_G_MOL / (MOLAR_MASS_NH3_G_MOL + MOLAR_MASS_H2O_G_MOL)
"""Grams of NH3 in a gram of "NH4OH": 0.486."""
NITROGEN_IN_AMMONIA = ATOMIC_MASS_N_G_MOL / MOLAR_MASS_NH3_G_MOL

_LOWEST_PH, _HIGHEST_PH = 3.0, 13.0
_BISECTIONS = 60


@dataclass(frozen=True)
class Source:
    """What brings the ammonia.

    product: `SOLUTION`, or a key of `chemicals.csv` of the kind `ammonia`. nitrogen_g: g of N in a millilitre
    of the solution, or in a gram of the salt. doubtful: the label does not tell what its percentage counts,
    so it is taken for the strongest that it can be: test an hour later and add what is missing.
    """

    product: str
    strength_pct: float
    nitrogen_g: float
    doubtful: bool = False

    @property
    def is_solution(self) -> bool:
        """Whether it is poured by the millilitre."""
        return self.product == SOLUTION

    @property
    def alkalinity_per_n(self) -> float:
        """Alkalinity that comes with a mg of N, mg CaCO3: ammonia is a base, its salts are not."""
        return nitrogen.ALKALINITY_PER_N if self.is_solution or self.product == "urea" else 0.0

    @property
    def alkalinity_cost_per_n(self) -> float:
        """Alkalinity used up in all by the time a mg of N has become nitrate, mg CaCO3.

        >>> round(source("ammonium_chloride", 99.0).alkalinity_cost_per_n, 2)
        7.15
        """
        return 2.0 * nitrogen.ALKALINITY_PER_N - self.alkalinity_per_n


def source(
    product: str, strength_pct: float | None, counts: Counts = "NH3 by weight", foam: Foam = "none"
) -> Source:
    """A product as its label has it.

    strength_pct: as printed; for a salt its purity. Raises `InputError`: strength not told or not possible,
    lasting foam, a product that brings no ammonia.

    >>> round(source("ammonia_solution", 10.0).nitrogen_g, 5)
    0.07875
    """
    if foam == "lasting":
        raise InputError(Problem("problem-startup-foam", "", product))
    if strength_pct is None or math.isnan(strength_pct):
        raise InputError(Problem("problem-startup-no-strength"))
    if product == SOLUTION:
        return _solution(strength_pct, counts)
    row = tables.load("chemicals").row(product)
    if row.text("kind") != "ammonia":
        names = tuple(one.key for one in tables.load("chemicals") if one.text("kind") == "ammonia")
        raise InputError(Problem("problem-startup-no-ammonia", "start_up.product", product, names))
    if not 1.0 <= strength_pct <= 100.0:
        raise InputError(
            Problem("problem-range", "start_up.strength", f"{strength_pct:g}", ("1", "100", "%"))
        )
    return Source(product, strength_pct, row.number("n_g_g") * strength_pct / 100.0)


def _solution(strength_pct: float, counts: Counts) -> Source:
    share = HYDROXIDE_TO_AMMONIA if counts == "NH4OH" else 1.0
    low, high = (end / share for end in STRENGTHS_PCT)
    if not low <= strength_pct <= high:
        ends = (f"{low:.2g}", f"{high:.2g}", "%")
        raise InputError(Problem("problem-startup-strength", "start_up.strength", f"{strength_pct:g}", ends))
    by_volume = counts in ("NH3 by volume", "not told")
    density = 1.0 if by_volume else float(nitrogen.ammonia_density_g_ml(strength_pct * share))
    grams = density * share * strength_pct / 100.0 * NITROGEN_IN_AMMONIA
    return Source(SOLUTION, strength_pct, grams, doubtful=counts == "not told")


def amount(of: Source, rise_mg_l: float, volume_l: float) -> float:
    """Millilitres of a solution, grams of a salt, for a rise of TAN.

    >>> round(amount(source("ammonia_solution", 10.0), 2.0, 1000.0), 2)
    25.4
    """
    return rise_mg_l * volume_l / 1000.0 / of.nitrogen_g


def rise_mg_l(of: Source, given: float, volume_l: float) -> float:
    """Rise of TAN from millilitres of a solution or grams of a salt."""
    return given * of.nitrogen_g * 1000.0 / volume_l


# --- whether to dose today ---------------------------------------------------------------------------------


def why_none(tan_mg_l: float, nitrite: kits.Interval | None, nitrite_dilution: float = 1.0) -> NoDose | None:
    """Why no ammonia is given on a reading; None where it may be.

    nitrite: where nitrite-N lies, None where it was not measured. A reading at the end of its scale may be
    anything above: before it counts as too high, or as low enough, the sample is diluted 1 : 5.
    """
    if tan_mg_l > REDOSE_AT_TAN_MG_L:
        return "ammonia_there"
    if nitrite is None:
        return "nitrite_not_known"
    if nitrite.low > HOLD_NITRITE_MG_L:
        return "nitrite_high"
    if nitrite.high == math.inf:
        return "nitrite_high" if nitrite_dilution >= HOLD_DILUTION else "nitrite_off_scale"
    return None


# --- the dose ----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Water:
    """The water that is dosed, as read. alkalinity_mg_l: NaN where not known."""

    volume_l: float
    tan_mg_l: float
    ph: float
    temperature_c: float
    alkalinity_mg_l: float = math.nan


@dataclass(frozen=True)
class Dose:
    """Ammonia for one day, and the water after it.

    amount: mL of a solution, g of a salt. ph_at_once: before the air has brought carbon dioxide back;
    ph_settled: with as much of it as before; both the pH as read where the alkalinity is not known.
    unionised_mg_l: un-ionised ammonia at the settled pH; unionised_at_once_mg_l: for some hours.
    alkalinity_cost_mg_l: what is used up until all of the dose is nitrate.
    """

    source: Source
    rise_mg_l: float
    amount: float
    tan_mg_l: float
    ph_at_once: float
    ph_settled: float
    unionised_mg_l: float
    unionised_at_once_mg_l: float
    alkalinity_cost_mg_l: float

    @property
    def in_portions(self) -> bool:
        """Whether it is better spread over the day: for some hours it would slow the second step."""
        return self.unionised_at_once_mg_l > slowing_unionised_mg_l()


def dose(of: Source, water: Water, wished_tan_mg_l: float) -> Dose:
    """What brings TAN from its reading up to a wished value; only what is missing is given.

    Raises `InputError`: beyond `MOST_TAN_MG_L`, nothing missing, or so much un-ionised ammonia that the
    second step would run at less than half of its speed (the constant of its inhibition).
    """
    if wished_tan_mg_l > MOST_TAN_MG_L:
        found = f"{wished_tan_mg_l:g}"
        raise InputError(Problem("problem-startup-dose-high", "", found, (f"{MOST_TAN_MG_L:g}",)))
    rise = wished_tan_mg_l - water.tan_mg_l
    if rise <= 0.0:
        found = f"{water.tan_mg_l:.3g}"
        raise InputError(Problem("problem-startup-dose-none", "", found, (f"{wished_tan_mg_l:g}",)))
    celsius = water.temperature_c
    at_once = ph_at_once(water, rise, of.alkalinity_per_n)
    settled = ph_settled(water, rise, of.alkalinity_per_n)
    unionised = float(wished_tan_mg_l * ammonia.unionised_fraction(settled, celsius))
    line = slowing_unionised_mg_l()
    if unionised > line:
        most = float(ammonia.tan_for_unionised_mg_l(line, settled, celsius))
        ends = (f"{most:.2g}", f"{settled:.1f}")
        raise InputError(Problem("problem-startup-unionised", "", f"{wished_tan_mg_l:g}", ends))
    return Dose(
        source=of,
        rise_mg_l=rise,
        amount=amount(of, rise, water.volume_l),
        tan_mg_l=wished_tan_mg_l,
        ph_at_once=at_once,
        ph_settled=settled,
        unionised_mg_l=unionised,
        unionised_at_once_mg_l=float(
            wished_tan_mg_l * ammonia.unionised_fraction(max(at_once, settled), celsius)
        ),
        alkalinity_cost_mg_l=rise * of.alkalinity_cost_per_n,
    )


def slowing_unionised_mg_l() -> float:
    """Un-ionised ammonia, as N, that halves the speed of the nitrite oxidisers."""
    return coefficient("inhibition_free_ammonia_nitrite_oxidisers_mg_l").typical


def ph_at_once(water: Water, rise_mg_l: float, alkalinity_per_n: float) -> float:
    """pH right after a dose of ammonia, while no carbon dioxide is exchanged with the air.

    A charge balance of carbonate and ammonia: ammonia water takes protons until both agree. alkalinity_per_n:
    mg CaCO3 that comes with a mg of N. The pH as read where the alkalinity is not known or none is left.

    >>> soft = Water(1000.0, 0.0, 7.2, 20.0, 40.0)
    >>> round(ph_at_once(soft, 3.0, 3.573), 1), round(ph_at_once(soft, 3.0, 0.0), 1)
    (9.0, 7.2)
    """
    if not water.alkalinity_mg_l > 0.0:
        return water.ph
    celsius = water.temperature_c

    def base_mg_l(tan_mg_l: float, ph: float) -> float:
        return float(nitrogen.ALKALINITY_PER_N * tan_mg_l * ammonia.unionised_fraction(ph, celsius))

    # A titration counts un-ionised ammonia among the alkalinity.
    carbonates = water.alkalinity_mg_l - base_mg_l(water.tan_mg_l, water.ph)
    carbon = float(carbonate.inorganic_carbon_mmol_l(water.ph, carbonates, celsius))
    if not carbon > 0.0:
        return water.ph
    wanted = water.alkalinity_mg_l + alkalinity_per_n * rise_mg_l
    low, high = _LOWEST_PH, _HIGHEST_PH
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        held = carbonate.alkalinity_mg_l(middle, carbon, celsius)
        if float(held) + base_mg_l(water.tan_mg_l + rise_mg_l, middle) < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def ph_settled(water: Water, rise_mg_l: float, alkalinity_per_n: float) -> float:
    """pH once free carbon dioxide is back where it was; as read where the alkalinity is not known."""
    if not water.alkalinity_mg_l > 0.0:
        return water.ph
    celsius = water.temperature_c
    dioxide = carbonate.carbon_dioxide_mg_l(water.ph, water.alkalinity_mg_l, celsius)
    raised = water.alkalinity_mg_l + alkalinity_per_n * rise_mg_l
    return float(carbonate.ph_at_carbon_dioxide(raised, dioxide, celsius, 0.0))


# --- the table on the sheet --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Line:
    """A reading as the kit shows it, what it is inside, and the amount that it calls for; 0 for none."""

    shown: float
    inside: float
    amount: float


USUAL_ALKALINITY_STEPS = (0.0, 20.0, 40.0, 60.0, 80.0)
"""Rows where no kit is described: round values of our own."""


def ammonia_lines(
    of: Source, volume_l: float, scale: kits.Scale | None, wished_tan_mg_l: float = NEXT_TAN_MG_L[1]
) -> tuple[Line, ...]:
    """What each step of a kit's ammonia card calls for; only steps up to the first that calls for nothing.

    scale: the kit's, None where there is none. Raises `InputError` where a kit does not tell its basis.
    """
    if scale is not None and scale.steps:
        shown: Sequence[float] = scale.steps
        inside = [_inside(one, scale) for one in scale.steps]
    else:
        shown = inside = list(kits.ROUND_TAN_STEPS_MG_L)
    found = [
        Line(mark, tan, amount(of, wished_tan_mg_l - tan, volume_l) if tan <= REDOSE_AT_TAN_MG_L else 0.0)
        for mark, tan in zip(shown, inside, strict=True)
    ]
    return _to_first_without(found)


def alkalinity_lines(
    of: dosing.Chemical, purity: float, volume_l: float, scale: kits.Scale | None
) -> tuple[Line, ...]:
    """What each reading of alkalinity calls for, up to the first that needs nothing.

    of: a base that brings carbonate. A reading below the lower line is brought to the upper one.
    """
    low = ALKALINITY_KEPT_MG_L[0]
    if scale is not None and scale.drop is not None:
        unit = _inside(scale.drop, scale)
        shown = [scale.drop * k for k in range(math.ceil(low / unit - 1e-9) + 1)]
        inside = [unit * k for k in range(len(shown))]
    elif scale is not None and scale.steps:
        shown, inside = list(scale.steps), [_inside(one, scale) for one in scale.steps]
    else:
        shown = inside = list(USUAL_ALKALINITY_STEPS)
    found = [
        Line(*pair, carbonate_g(of, purity, volume_l, pair[1])) for pair in zip(shown, inside, strict=True)
    ]
    return _to_first_without(found)


def _to_first_without(lines: Sequence[Line]) -> tuple[Line, ...]:
    last = next((k for k, line in enumerate(lines) if line.amount == 0.0), len(lines) - 1)
    return tuple(lines[: last + 1])


def _inside(shown: float, scale: kits.Scale) -> float:
    value = kits.as_inside(shown, scale)
    if value is None:
        key = "alkalinity" if scale.parameter == "alkalinity" else "nitrogen"
        raise InputError(Problem(f"problem-startup-basis-{key}", f"kit.{scale.parameter}"))
    return value


def carbonate_g(of: dosing.Chemical, purity: float, volume_l: float, alkalinity_mg_l: float) -> float:
    """Grams of a base that a reading of alkalinity calls for: from below 80 to 150 mg/L, else nothing.

    >>> round(carbonate_g(dosing.chemical("potassium_bicarbonate"), 1.0, 1000.0, 50.0), 1)
    200.1
    """
    low, high = ALKALINITY_KEPT_MG_L
    if alkalinity_mg_l >= low:
        return 0.0
    return float(dosing.grams_for_alkalinity(of, high - alkalinity_mg_l, volume_l, purity))


def is_for_start_up(chemical: str) -> bool:
    """Whether a product raises alkalinity in time and by carbonate: no hydroxide, no slow shell.

    >>> [is_for_start_up(one) for one in ("potassium_bicarbonate", "calcium_hydroxide", "calcium_carbonate")]
    [True, False, False]
    """
    row = tables.load("chemicals").row(chemical)
    slow = "slow" in row.listed("caution")
    return row.text("kind") == "base" and not slow and row.number("carbon_mol_eq") > 0.0
