"""A log that was read: rows in order of their days, values in base units."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

Beyond = Literal["", "below", "above"]
"""Where the water lies when a reading only bounds it: below or above the number; empty for a value."""


@dataclass(frozen=True)
class Reading:
    """One cell.

    parameter: of the water `temperature`, `ph`, `tan`, `nitrite`, `nitrate`, `alkalinity`, `hardness`,
    `oxygen`, `chlorine`, `iron`, `conductivity`; of the day `feed`, `top_up`, `dose`, `picked`; of a batch of
    fish `count`, `weight` (mean of a sample), `taken`, `dead`, `stocked`.
    value: in `unit`, the key of a base unit of `units.csv`; empty for pH, for what is counted, and where
    nobody says in which unit it was written.
    basis: `N` for ammonia, nitrite and nitrate; `not known` where nobody says what the number counts, and
    then the value is as typed; else empty.
    beyond: `<` or `>` was typed, or the number is the last step of the kit's card on that side.
    text: the cell as typed.
    subject: the batch of fish, or the key of the crop or of the chemical; else empty.
    """

    day: date
    parameter: str
    value: float
    unit: str
    basis: str = ""
    beyond: Beyond = ""
    text: str = ""
    subject: str = ""


@dataclass(frozen=True)
class Row:
    """One day. number: of the row in the file, as a spreadsheet counts it (the header is row 1)."""

    day: date
    readings: tuple[Reading, ...]
    note: str = ""
    number: int = 0


@dataclass(frozen=True)
class Log:
    """A log. name: of its file. rows: one a day, sorted by day."""

    name: str
    rows: tuple[Row, ...]

    def all(self, parameter: str, subject: str = "") -> tuple[Reading, ...]:
        """Every reading of a parameter in order of days; of one batch, crop or chemical where it is named."""
        return tuple(
            reading
            for row in self.rows
            for reading in row.readings
            if reading.parameter == parameter and subject in ("", reading.subject)
        )

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
