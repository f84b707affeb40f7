"""Numbers of an axis: round ticks and ends, and labels that keep their distance."""

import math
from collections.abc import Sequence

ROUND_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
PLAIN_NUMBER = "~f"
"""Numbers on axes without commas and without powers of ten."""


def ticks(low: float, high: float, most: int = 7) -> list[float]:
    """Round places for axis ticks from `low` to `high`, at most `most` steps apart.

    >>> ticks(0.0, 240.0)
    [0.0, 50.0, 100.0, 150.0, 200.0]
    """
    power = 10.0 ** math.floor(math.log10((high - low) / most))
    step = next(power * size for size in ROUND_STEPS if power * size * most >= (high - low) * (1 - 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [step * k for k in range(first, last + 1)]


def round_up(value: float) -> float:
    """The next round number for the end of an axis at or above a value.

    >>> round_up(231.8), round_up(0.0)
    (250.0, 1.0)
    """
    if not value > 0.0:
        return 1.0
    step = ticks(0.0, value)[1]
    return step * math.ceil(value / step - 1e-9)


def spread(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Move places apart so that none is nearer than `gap` to the next and all stay between `low` and `high`.

    The order stays; each group of crowded places keeps its centre where it can.

    >>> spread([1.0, 1.0, 5.0], 1.0, 0.0, 10.0)
    [0.5, 1.5, 5.0]
    """
    order = sorted(range(len(places)), key=lambda i: places[i])
    groups: list[tuple[float, int]] = []
    for i in order:
        centre, size = places[i], 1
        centre = min(max(centre, low), high)
        while groups:
            last_centre, last_size = groups[-1]
            if centre - last_centre >= gap * (size + last_size) / 2:
                break
            groups.pop()
            centre = (centre * size + last_centre * last_size) / (size + last_size)
            size += last_size
            half = gap * (size - 1) / 2
            centre = min(max(centre, low + half), high - half)
        groups.append((centre, size))
    moved = [centre + gap * (k - (size - 1) / 2) for centre, size in groups for k in range(size)]
    found = [0.0] * len(places)
    for i, place in zip(order, moved, strict=True):
        found[i] = place
    return found
