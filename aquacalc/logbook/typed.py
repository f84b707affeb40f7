"""A reading of a log as a grower would type it at a kit: in the counts of the log, with unit or basis.

What is typed is read by the same door as any other reading, so that both are judged alike.
"""

from collections.abc import Callable
from functools import partial

from aquacalc import kits, units
from aquacalc.logbook.limits import BASES, limits
from aquacalc.logbook.log import Reading

PLAIN = {
    "ph": "",
    **dict.fromkeys(("oxygen", "chlorine", "chloride", "added_salt"), " mg/L"),
    "conductivity": " uS/cm",
}
"""What stands behind readings that are typed as they are counted."""

SIGNS = {"": "", "above": ">", "below": "<"}


EXACT = 9
"""Digits that a number keeps on its way through a unit."""


def text_of(one: Reading, scale: kits.Scale, digits: int = EXACT) -> str:
    """The reading as it would be typed; empty for what is judged by nobody.

    scale: of the kit in use on its day. A bare number is read with that kit's own steps or drops; where the
    log counts otherwise than the kit, unit or basis stand behind it.
    """
    sign, number = sign_of(one), partial(_figure, digits=digits)
    if one.parameter == "temperature":
        return f"{sign}{number(one.value)} C"
    if one.parameter in PLAIN:
        # No water conducts nothing: such a meter was dry.
        nothing = one.parameter == "conductivity" and one.value == 0.0
        return "" if nothing else f"{sign}{number(one.value)}{PLAIN[one.parameter]}"
    if one.parameter in kits.NITROGEN:
        return f"{sign}{_nitrogen(one, number)}"
    if one.parameter not in kits.IN_A_UNIT:
        return ""
    if not one.unit or (kits.basis_is_known(scale) and one.own_unit == scale.basis):
        return f"{sign}{number(one.as_typed(one.value) if one.unit else one.value)}"
    unit = units.unit(one.own_unit or one.unit)
    return f"{sign}{number(unit.from_base(one.value))} {unit.label}"


def sign_of(one: Reading) -> str:
    """The sign that was typed; where a number stands at the end of a card, the card tells it anew."""
    return "" if one.text and one.text.lstrip()[:1] not in ("<", ">") else SIGNS[one.beyond]


def _nitrogen(one: Reading, number: Callable[[float], str]) -> str:
    if one.basis == kits.NOT_KNOWN:
        # More than nitrogen can be counts the ion, whatever nobody says.
        ion = BASES[one.parameter][-1] if one.value > limits(one.parameter).high else ""
        return f"{number(one.value)} {ion}".strip()
    basis = one.own_basis if one.own_basis in units.N_BASES else "N"
    return f"{number(units.from_n(one.value, basis))} {basis}"


def _figure(value: float, digits: int) -> str:
    return f"{value:.{digits}g}"
