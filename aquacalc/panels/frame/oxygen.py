"""A reading of oxygen as meters show it: in mg/L, or in % of what the water holds."""

from collections.abc import Callable
from typing import Any

from aquacalc import units, words
from aquacalc.errors import InputError, Problem
from aquacalc.panels.frame.fields import NumberField

MG_L, SHARE = "mg_l", "pct"


class OxygenField(NumberField):
    """Oxygen, mg/L, or nothing. holds: what the water holds at the moment, mg/L; a share of it that was typed
    stays the same share when that changes."""

    def __init__(self, label: str, reader: words.Reader, high: float, holds: Callable[[], float]) -> None:
        self.holds = holds
        self._percent: float | None = None
        super().__init__(label, "concentration", None, reader, 0.0, high, optional=True)
        self._busy, self._fixed = True, True
        self.unit.options = [(units.unit(key).label, key) for key in (MG_L, SHARE)]
        self._busy = False

    @property
    def value(self) -> float | None:
        """The reading in mg/L."""
        return self._value if self._percent is None else self._percent / 100.0 * self.holds()

    def set(self, value: float | None) -> None:
        """Put a reading in mg/L in."""
        self._percent = None
        super().set(value)

    def unit_chosen(self, change: dict[str, Any]) -> None:
        """Show the same reading the other way."""
        self._value = self.value
        super().unit_chosen(change)

    def _read(self, text: str) -> float | None:
        tidy = text.strip()
        named = any(character.isalpha() for character in tidy)
        if not tidy or not (tidy.endswith("%") or (self.unit.value == SHARE and not named)):
            value = None if not tidy else units.read(tidy, self.kind, self.label, MG_L)
            percent = None
        else:
            percent = units.read_number(tidy.removesuffix("%"), self.label)
            value = percent / 100.0 * self.holds()
        if value is not None and not self.low <= value <= self.high:
            ends = (self._end(self.low), self._end(self.high), self._unit_label())
            raise InputError(Problem("problem-range", self.label, tidy, ends))
        self._percent = percent
        return value

    def _in_unit(self, value: float) -> float:
        return 100.0 * value / self.holds() if self.unit.value == SHARE else value
