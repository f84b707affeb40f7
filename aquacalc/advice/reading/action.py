"""One thing to do after a reading: its key, amounts, goods, and what to expect of it."""

from dataclasses import dataclass

from aquacalc.advice.finding import Amount, Note
from aquacalc.garden.model import Product

SOON_H, HOUR_H, EVENING_H, DAY_H, WEEK_H = 0.5, 1.0, 6.0, 24.0, 168.0
"""Hours to the next test. Common practice, no source."""

LATER = (
    *(
        "find",
        "find-old",
        "test-more",
        "base-later",
        "base-refused",
        "base-does-not-fit",
        "base-after-change",
        "ph-high",
        "dioxide-later",
    ),
    *("nitrite-watch", "nitrate-low", "nitrate", "nitrate-watch", "salt", "salt-watch", "oxygen-watch"),
)
"""What is done once the fish are out of the worst."""


@dataclass(frozen=True)
class Goods:
    """Grams of a chemical; product: from the garden's shelf, else None. grams: NaN without litres."""

    chemical: str
    grams: float
    product: Product | None = None


@dataclass(frozen=True)
class Action:
    """One thing to do. expected: values after it, named by parameter. again_h: hours to the next test.

    notes: what else is to be known of it.
    """

    key: str
    amounts: tuple[Amount, ...] = ()
    goods: Goods | None = None
    expected: tuple[Amount, ...] = ()
    again_h: float = DAY_H
    notes: tuple[Note, ...] = ()

    @property
    def later(self) -> bool:
        """Whether it can wait until what is urgent has been done."""
        return self.key in LATER
