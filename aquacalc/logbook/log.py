"""A log that was read: rows in order of their days, values in base units."""

from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import Literal

from aquacalc import units

Beyond = Literal["", "below", "above"]
"""Where the water lies when a reading only bounds it: below or above the number; empty for a value."""


@dataclass(frozen=True)
class Reading:
    """One cell.

    parameter: of the water `temperature`, `ph`, `tan`, `nitrite`, `nitrate`, `alkalinity`, `hardness`,
    `oxygen`, `chlorine`, `chloride`, `added_salt`, `iron`, `conductivity`; of the day `feed`, `top_up`,
    `dose`, `picked`; of a batch of fish `count`, `weight` (mean of a sample), `taken`, `dead`, `stocked`.
    value: in `unit`, the key of a base unit of `units.csv`; empty for pH, for what is counted, and where
    nobody says in which unit it was written.
    basis: `N` for ammonia, nitrite and nitrate; `not known` where nobody says what the number counts, and
    then the value is as typed; else empty.
    beyond: `<` or `>` was typed, or the number is the last step of the kit's card on that side.
    text: the cell as typed.
    subject: the batch of fish, or the key of the crop or of the chemical; else empty.
    hour: of the day at which it was read, in hours since midnight; None where nobody noted it.
    half: half the width of a reading typed as a range; `value` is its middle.
    own_unit, own_basis: unit and basis in which it was typed; they are no part of what it says.
    """

    day: date
    parameter: str
    value: float
    unit: str
    basis: str = ""
    beyond: Beyond = ""
    text: str = ""
    subject: str = ""
    hour: float | None = None
    half: float = 0.0
    own_unit: str = field(default="", compare=False)
    own_basis: str = field(default="", compare=False)

    @property
    def own_label(self) -> str:
        """The unit and basis in which it was typed; empty for plain numbers and where nobody knows."""
        label = units.unit(self.own_unit).label if self.own_unit else ""
        return f"{label} as {self.own_basis}" if self.own_basis in units.N_BASES else label

    def at(self, day: date, hour: float | None) -> "Reading":
        """The same reading on another day and hour; `replace` takes several times as long."""
        return Reading(
            day,
            self.parameter,
            self.value,
            self.unit,
            self.basis,
            self.beyond,
            self.text,
            self.subject,
            hour,
            self.half,
            self.own_unit,
            self.own_basis,
        )

    def as_typed(self, value: float) -> float:
        """A value of this parameter as this reading was typed."""
        counted = units.from_n(value, self.own_basis) if self.own_basis in units.N_BASES else value
        return units.to(counted, self.own_unit) if self.own_unit else counted


@dataclass(frozen=True)
class Row:
    """One day, or one time of a day.

    number: of the row in the file, as a spreadsheet counts it (the header is row 1). time: as 08:10, empty
    where nobody noted it.
    """

    day: date
    readings: tuple[Reading, ...]
    note: str = ""
    number: int = 0
    time: str = ""


@dataclass(frozen=True)
class Log:
    """A log. name: of its file. rows: one a day, or one for each time of a day, sorted by day."""

    name: str
    rows: tuple[Row, ...]

    def all(self, parameter: str, subject: str = "") -> tuple[Reading, ...]:
        """Every reading of a parameter in order of days; of one batch, crop or chemical where it is named."""
        found = self._by_parameter.get(parameter, ())
        return tuple(one for one in found if one.subject == subject) if subject else found

    @cached_property
    def _by_parameter(self) -> dict[str, tuple[Reading, ...]]:
        # A log of years is asked for its readings again and again.
        found: dict[str, list[Reading]] = {}
        for row in self.rows:
            for one in row.readings:
                found.setdefault(one.parameter, []).append(one)
        return {parameter: tuple(readings) for parameter, readings in found.items()}

    def about(self, subject: str) -> "Log":
        """The log without all that is not about one batch, crop or chemical."""
        kept = (
            replace(row, readings=tuple(one for one in row.readings if one.subject == subject), note="")
            for row in self.rows
        )
        return replace(self, rows=tuple(row for row in kept if row.readings))

    def last(self, parameter: str, on_or_before: date, subject: str = "") -> Reading | None:
        """The newest reading of a parameter up to a day, that day included; None where there is none."""
        found = [one for one in self.all(parameter, subject) if one.day <= on_or_before]
        return found[-1] if found else None

    @property
    def notes(self) -> tuple[tuple[date, str], ...]:
        """Day and text of each note."""
        return tuple((row.day, row.note) for row in self.rows if row.note)

    @property
    def counts(self) -> dict[str, tuple[Reading, ...]]:
        """Fish counted, by batch."""
        return self._by_subject("count")

    @property
    def weights(self) -> dict[str, tuple[Reading, ...]]:
        """Mean weights of samples in g, by batch."""
        return self._by_subject("weight")

    def _by_subject(self, parameter: str) -> dict[str, tuple[Reading, ...]]:
        found = self.all(parameter)
        return {
            subject: tuple(one for one in found if one.subject == subject)
            for subject in dict.fromkeys(one.subject for one in found)
        }
