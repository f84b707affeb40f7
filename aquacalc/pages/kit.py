"""Values as the garden's own kit shows them: its basis, its steps, and what they are as N."""

import math
from datetime import date

from aquacalc import kits, units, words
from aquacalc.garden.model import Garden, KitScale
from aquacalc.words import Reader

PAST_END = "*"
"""Marks a limit that lies past the end of the kit."""


def scale_of(garden: Garden, parameter: str) -> KitScale:
    """The scale of the newest kit that measures a parameter; one without basis and steps where none does."""
    dated = sorted(garden.kits, key=lambda kit: kit.start or date.min)
    scales = [scale for kit in dated for scale in kit.scales if scale.parameter == parameter]
    return scales[-1] if scales else KitScale(parameter)


def label(scale: KitScale) -> str:
    """What the numbers of a scale count, as printed behind them; empty for pH and where it is not known."""
    if scale.parameter in kits.NITROGEN and kits.basis_is_known(scale):
        return scale.basis
    if scale.parameter in kits.IN_A_UNIT and kits.basis_is_known(scale):
        return units.unit(scale.basis).label
    return ""


def limit(value: float, scale: KitScale, reader: Reader, falling: bool = False) -> str:
    """A limit as the kit shows it, with the value as N behind it: the first step at or beyond it.

    value: as the workbook counts it. falling: the limit is a least value; a drop test then gives the drop
    whose span holds it. A value past the kit's end carries a star; without a described kit it stands alone.
    """
    own = words.quantity(value, _kind(scale.parameter), reader)
    shown = kits.as_shown(value, scale)
    if shown is None or not (scale.steps or scale.drop):
        return own
    step = _drops(shown, scale.drop) if scale.drop else _step(value, scale, falling)
    text = words.number(shown if step is None else step, 3)
    text = words.NO_BREAK_SPACE.join(
        part for part in (text, label(scale), PAST_END if step is None else "") if part
    )
    if scale.parameter not in kits.NITROGEN or scale.basis == "N":
        return text
    return words.say("kit-step", reader, step=text, inside=words.number(value))


def _drops(shown: float, drop: float) -> float:
    return math.ceil(shown / drop - 1e-9) * drop


def _step(value: float, scale: KitScale, falling: bool) -> float | None:
    found = kits.act_value_on_scale(value, scale, falling)
    return found.step if found else None


def _kind(parameter: str) -> str:
    if parameter in kits.NITROGEN:
        return "nitrogen"
    return parameter if parameter in ("alkalinity", "hardness", "ph", "temperature") else "concentration"
