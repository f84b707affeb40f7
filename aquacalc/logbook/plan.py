"""What the log needs to know of a garden: its batches of fish, and the test kits with their days."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Protocol

from aquacalc import kits
from aquacalc.logbook.log import Reading


class Batch(Protocol):
    """One batch of fish, as the garden file plans it."""

    @property
    def name(self) -> str:
        """Its name; columns of the log name it."""

    @property
    def count(self) -> int:
        """How many are stocked."""

    @property
    def stocked(self) -> date:
        """The day on which they come."""

    @property
    def final_weight_g(self) -> float:
        """Weight at which a fish is taken out."""

    @property
    def until(self) -> date | None:
        """The day on which the last are taken out, or None."""


class Kit(Protocol):
    """A test kit and the day from which it is in use."""

    @property
    def start(self) -> date | None:
        """First day of its use; None where it was always there."""

    @property
    def scales(self) -> Sequence[kits.Scale]:
        """What it measures."""


class Garden(Protocol):
    """The garden that a log belongs to."""

    @property
    def fish(self) -> Sequence[Batch]:
        """Its batches of fish."""

    @property
    def kits(self) -> Sequence[Kit]:
        """Its test kits."""


def scale_in_use(garden: Garden, parameter: str, day: date) -> kits.Scale | None:
    """The scale by which a parameter was read on a day: that of the newest kit in use by then, or None.

    A kit that came into use later says nothing about an earlier reading.
    """
    found: kits.Scale | None = None
    newest = date.min
    for kit in garden.kits:
        start = kit.start or date.min
        if not newest <= start <= day:
            continue
        for scale in kit.scales:
            if scale.parameter == parameter:
                found, newest = scale, start
    return found


def corrected(reading: Reading, garden: Garden) -> Reading:
    """A reading by what the check of its kit found, from the day of that check on; else as it is."""
    found = scale_in_use(garden, reading.parameter, reading.day)
    if found is None or not found.offset:
        return reading
    scale = kits.on_day(found, reading.day)
    shown = kits.as_shown(reading.value, scale)
    if shown is None or reading.basis == kits.NOT_KNOWN or not scale.offset:
        return reading
    return replace(reading, value=kits.as_inside(kits.corrected(shown, scale), scale) or 0.0)
