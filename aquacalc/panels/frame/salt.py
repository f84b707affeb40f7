"""Plain salt, weighed or counted in level teaspoons."""

import re

from aquacalc import units, words
from aquacalc.panels.frame.fields import NumberField

TEASPOON_G = 6.0
"""A level teaspoon (5 mL) of fine, dry table salt. From memory: advice on salt in food counts it so. Coarse
salt weighs less."""
SPOONS = "teaspoons"


class SaltField(NumberField):
    """Salt, g; `12 tsp` is read as well."""

    def __init__(self, label: str, value: float, reader: words.Reader, low: float, high: float) -> None:
        super().__init__(label, "mass", value, reader, low, high)
        self._busy = True
        chosen = self.unit.value
        self.unit.options = (*self.unit.options, (words.say("beside-teaspoons", reader), SPOONS))
        self.unit.value = chosen
        self._busy = False

    def _read(self, text: str) -> float | None:
        counted = re.fullmatch(r"(?i)(.+?)\s*(?:tsp|(?:level\s+)?(?:tea)?spoons?)", text.strip())
        plain = not any(character.isalpha() for character in text)
        if counted is None and (self.unit.value != SPOONS or not plain):
            return super()._read(text)
        number = units.read_number(counted[1] if counted else text, self.label)
        return super()._read(f"{TEASPOON_G * number!r} g")

    def _in_unit(self, value: float) -> float:
        return value / TEASPOON_G if self.unit.value == SPOONS else super()._in_unit(value)

    def _unit_label(self) -> str:
        return (
            words.say("beside-teaspoons", self.reader) if self.unit.value == SPOONS else super()._unit_label()
        )
