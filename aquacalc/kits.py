"""Test kits: what a reading says about the water, and where a limit stands on a kit's own scale.

A scale belongs to the kit's leaflet and is typed in by the grower: the parameter, its basis (what the numbers
count), the steps of its card or what one drop counts. Nothing is assumed about a kit: without a basis a
reading is not known. Inside the workbook nitrogen is as N and alkalinity and hardness are mg/L CaCO3.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import ceil, floor, inf
from typing import Protocol

from aquacalc import constants as c
from aquacalc import tables, units

NITROGEN = ("tan", "nitrite", "nitrate")
"""Parameters whose numbers may count N, NH3, NH4, NO2 or NO3."""

IN_A_UNIT = ("alkalinity", "hardness")
"""Parameters whose basis is a unit key."""

NOT_KNOWN = "not known"

ROUND_TAN_STEPS_MG_L = (0.0, 0.3, 1.0, 3.0, 10.0)
"""Steps of our own, mg N/L, wherever no kit is described."""

OLDEST_DAYS = 30
"""Readings of the water that are older say nothing about today. Common practice, no source."""

ROUNDING = 1e-9
"""Bases are turned into each other by floats."""


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

    @property
    def offset(self) -> float:
        """By how much it read too high when it was checked, in its own basis; 0 where it never was."""

    @property
    def standard(self) -> float | None:
        """The content at which it was checked, in its own basis, or None."""

    @property
    def checked(self) -> date | None:
        """The day on which it was checked, or None."""


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


def label(scale: Scale) -> str:
    """What the numbers of a scale count, as printed behind them; empty for pH and where it is not known."""
    if not basis_is_known(scale):
        return ""
    if scale.parameter in NITROGEN:
        return scale.basis
    return units.unit(scale.basis).label if scale.parameter in IN_A_UNIT else ""


def as_inside(shown: float, scale: Scale) -> float | None:
    """A shown value as the workbook counts it (as N, mg/L CaCO3); None where the basis is not known.

    Exact, by molar mass and definition of the units.
    """
    if not basis_is_known(scale):
        return None
    if scale.parameter in NITROGEN:
        return units.as_n(shown, scale.basis)
    if scale.parameter in IN_A_UNIT:
        return units.unit(scale.basis).to_base(shown)
    return shown


def as_shown(value: float, scale: Scale) -> float | None:
    """A value as the kit counts it; None where the basis is not known.

    Exact, by molar mass and definition of the units.
    """
    if not basis_is_known(scale):
        return None
    if scale.parameter in NITROGEN:
        return units.from_n(value, scale.basis)
    if scale.parameter in IN_A_UNIT:
        return units.to(value, scale.basis)
    return value


def as_read(value: float, scale: Scale) -> float | None:
    """What the kit reads in water of a value: `as_shown`, with what its check found it to read too high.

    Own reckoning.
    """
    shown = as_shown(value, scale)
    return shown if shown is None or not usable(scale) else shown + scale.offset


def corrected(shown: float, scale: Scale) -> float:
    """A shown value without what the check of the kit found too much; never below nothing but for pH.

    A kit that the check found out of its error is not corrected: it is not to be used (`usable`).
    Own reckoning.
    """
    if not scale.offset or not usable(scale):
        return shown
    return _there(shown - scale.offset, scale)


def _there(value: float, scale: Scale) -> float:
    """There is no less than nothing of what is counted."""
    return value if scale.parameter in ("ph", "temperature") else max(value, 0.0)


def steps_around(shown: float, steps: Sequence[float]) -> tuple[float | None, float | None]:
    """The nearest step at or below a value and the nearest at or above it; None beyond an end. By definition.

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
    What a check of the kit found it to read too high is taken off; a kit that read out of its error counts
    as one whose steps are not known.
    dilution: 5 for one part of sample in five parts of water; it widens reading and steps alike.
    """
    span = _in_the_tube(shown, scale) if usable(scale) else None
    if span is None:
        return None
    off = scale.offset
    high = _there(span.high - off, scale) if off else span.high
    return Interval((span.low - off) * dilution, high * dilution)


def _in_the_tube(shown: float, scale: Scale) -> Interval | None:
    """Where a value lies by steps or drops alone."""
    if scale.drop is not None:
        return Interval(shown - scale.drop, shown)
    if not scale.steps:
        return None
    marks = scale.steps
    if shown not in marks:
        below, above = steps_around(shown, marks)
        return Interval(-inf if below is None else below, inf if above is None else above)
    halves = [(a + b) / 2.0 for a, b in pairwise(marks)]
    place = marks.index(shown)
    return Interval(halves[place - 1] if place > 0 else -inf, halves[place] if place < len(halves) else inf)


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
    oxygen), so that "beyond" means below. None where the basis or the steps are not known. A kit that was
    found to read too high shows the limit as much too high.
    """
    shown = as_read(value, scale)
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

    Dilute with de-ionised water: other water brings its own nitrate and alkalinity. Own reckoning.
    """
    shown = as_shown(value, scale)
    if shown is None or not scale.steps:
        return None
    # The offset stays the same in the tube, however thin the sample is.
    off = scale.offset if usable(scale) else 0.0
    return next((one for one in choices if shown / one + off < scale.steps[-1]), None)


def error_of(test_kind: str, value: float) -> float:
    """One standard deviation of a reading by a row of `data/test_kinds.csv`, in that row's unit.

    The larger of an absolute and a relative error. Common practice, no source.

    >>> error_of("tan_indophenol", 2.0)
    0.5
    """
    row = tables.load("test_kinds").row(test_kind)
    return max(row.number("sigma_absolute"), row.number("sigma_relative") * abs(value))


USUAL_TESTS = {
    "ph": ("ph_drops", NOT_KNOWN),
    "tan": ("tan_indophenol", "N"),
    "nitrite": ("nitrite_azo", "NO2"),
    "nitrate": ("nitrate_reduction", "NO3"),
    "alkalinity": ("alkalinity_drops", "dkh"),
    "hardness": ("hardness_drops", "hardness_dgh"),
    "oxygen": ("oxygen_drops", NOT_KNOWN),
    "conductivity": ("conductivity_meter", NOT_KNOWN),
    "temperature": ("thermometer", NOT_KNOWN),
}
"""Rows of `data/test_kinds.csv` for a kit that is not described, and what their numbers count."""

LARGE_OFFSET_ERRORS = 2.0
"""An offset of more usual errors than these is no offset: the kit is spoiled. Common practice, no source."""


def usual_error(value: float, scale: Scale) -> float | None:
    """One standard deviation of a usual test at a value, both in the scale's own basis.

    None where the basis is not known, and for chlorine and iron, whose tests differ too much.
    Common practice, no source.
    """
    if scale.parameter not in USUAL_TESTS or not basis_is_known(scale):
        return None
    kind, basis = USUAL_TESTS[scale.parameter]
    usual = _Counted(scale.parameter, basis)
    counted = as_shown(_known(as_inside(value, scale)), usual)
    return as_shown(_known(as_inside(error_of(kind, _known(counted)), usual)), scale)


@dataclass(frozen=True)
class _Counted:
    """A scale of which only the basis is known."""

    parameter: str
    basis: str
    steps: tuple[float, ...] = ()
    drop: float | None = None
    offset: float = 0.0
    standard: float | None = None
    checked: date | None = None


def on_day(scale: Scale, day: date) -> Scale:
    """The scale as it counts on a day: what a check found holds from the day of the check on."""
    if scale.checked is None or day >= scale.checked:
        return scale
    return _Counted(scale.parameter, scale.basis, scale.steps, scale.drop)


def _known(value: float | None) -> float:
    assert value is not None  # the basis is known
    return value


def usable(scale: Scale) -> bool:
    """Whether the check of the kit, where there was one, found it within its error."""
    return not scale.offset or not too_far(scale.offset, scale.standard or 0.0, scale)


def too_far(offset: float, standard: float, scale: Scale) -> bool:
    """Whether an offset at a standard is no small one, so that the kit is not to be used.

    Both in the kit's own basis. Without a basis it cannot be told.
    """
    error = usual_error(standard, scale)
    return error is not None and abs(offset) > LARGE_OFFSET_ERRORS * error * (1.0 + ROUNDING)


def offset_found(
    readings: Sequence[float], content: float, scale: Scale, factor: float = 1.0
) -> float | None:
    """By how much a kit reads a standard too high, in its own basis, 0 where its reading fits it.

    readings: of one standard. content: of the standard, as the workbook counts it. factor: dilution of the
    sample; the offset is that of the diluted one. None without a basis. Earlier offsets are not counted.
    By definition.
    """
    inside = as_shown(content, scale)
    if not readings or inside is None:
        return None
    in_tube = inside / factor
    spans = [_in_the_tube(one, scale) for one in readings]
    if all(span is not None and _holds(span, in_tube) for span in spans):
        return 0.0
    # A drop test turns somewhere between its last two drops.
    middle = sum(readings) / len(readings) - (scale.drop or 0.0) / 2.0
    return middle - in_tube


def _holds(span: Interval, value: float) -> bool:
    slack = ROUNDING * abs(value)
    return span.low - slack <= value <= span.high + slack


# --- a kit against itself ----------------------------------------------------------------------------------


def dilution(sample_ml: float, water_ml: float) -> float:
    """By what a reading is multiplied when a sample was mixed with de-ionised water. By definition.

    >>> dilution(5.0, 20.0)
    5.0
    """
    return (sample_ml + water_ml) / sample_ml


@dataclass(frozen=True)
class Standard:
    """A salt from which a solution of a known content is made.

    salt: its key among the sentences. counts: what the content counts: N, or a unit key.
    g_per_g: grams of the salt for one gram of what is counted.
    """

    parameter: str
    salt: str
    formula: str
    counts: str
    g_per_g: float


def _nitrogen_salt(parameter: str, salt: str, formula: str, molar_mass_g_mol: float) -> Standard:
    return Standard(parameter, salt, formula, "N", molar_mass_g_mol / c.ATOMIC_MASS_N_G_MOL)


STANDARDS = {
    one.parameter: one
    for one in (
        _nitrogen_salt("tan", "ammonium-chloride", "NH4Cl", c.MOLAR_MASS_NH4_G_MOL + c.ATOMIC_MASS_CL_G_MOL),
        _nitrogen_salt("nitrite", "sodium-nitrite", "NaNO2", c.ATOMIC_MASS_NA_G_MOL + c.MOLAR_MASS_NO2_G_MOL),
        _nitrogen_salt(
            "nitrate", "potassium-nitrate", "KNO3", c.ATOMIC_MASS_K_G_MOL + c.MOLAR_MASS_NO3_G_MOL
        ),
        Standard(
            "alkalinity",
            "sodium-bicarbonate",
            "NaHCO3",
            "mg_l_caco3",
            (c.ATOMIC_MASS_NA_G_MOL + c.MOLAR_MASS_HCO3_G_MOL) / c.MG_CACO3_PER_MEQ,
        ),
        Standard(
            "hardness",
            "calcium-chloride",
            "CaCl2.2H2O",
            "hardness_mg_l_caco3",
            (c.MOLAR_MASS_CACL2_G_MOL + 2.0 * c.MOLAR_MASS_H2O_G_MOL) / c.MOLAR_MASS_CACO3_G_MOL,
        ),
    )
}
"""Salts for standards, by parameter; molar masses from the atomic weights."""


def standard_g(parameter: str, wished_mg_l: float, volume_l: float, purity: float = 1.0) -> float:
    """Grams of the salt of `STANDARDS` for a content in de-ionised water.

    wished_mg_l: as the workbook counts it (as N, mg/L CaCO3). purity: share of the salt in what is weighed.
    Exact, by molar mass.

    >>> round(standard_g("nitrate", 1000.0, 1.0), 3)
    7.218
    """
    return STANDARDS[parameter].g_per_g * wished_mg_l * volume_l / 1000.0 / purity


def stock_ml(wished_mg_l: float, volume_l: float, stock_mg_l: float) -> float:
    """Millilitres of a stock solution that make a volume of a standard. Exact, by mass balance.

    >>> stock_ml(2.0, 0.5, 1000.0)
    1.0
    """
    return 1000.0 * wished_mg_l * volume_l / stock_mg_l


def reads_standard(shown: float, content: float, scale: Scale, factor: float = 1.0) -> bool | None:
    """Whether a reading of a standard is one that its content can give; None without basis or steps.

    An earlier offset is not counted: the check begins anew.

    content: of the standard, as the workbook counts it. factor: dilution of the sample.
    """
    span, inside = _in_the_tube(shown, scale), as_shown(content, scale)
    return None if span is None or inside is None else _holds(span, inside / factor)


def duplicates_agree(first: float, second: float, scale: Scale) -> bool | None:
    """Whether two readings of one sample can be of one water; None without steps or drops.

    On a card they may be neighbours, in a drop test one drop apart.
    """
    one, other = _in_the_tube(first, scale), _in_the_tube(second, scale)
    if one is None or other is None:
        return None
    return one.low <= other.high + ROUNDING and other.low <= one.high + ROUNDING


def expired(expires: date | None, day: date) -> bool | None:
    """Whether a kit is past the day on its bottles; None where that is not known."""
    return None if expires is None else day > expires
