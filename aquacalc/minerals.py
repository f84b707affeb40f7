"""What feed brings to the water: each element eaten is digested or not, kept in the fish or given off.

Nitrogen goes the same way, with its own coefficients, so that it closes at every feed conversion.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from aquacalc.uncertainty import Floats

ELEMENTS = ("potassium", "calcium", "magnesium", "phosphorus", "sodium", "iron")
"""Elements of feed that a season follows; sulphur suffices from feed and water."""


class Released(NamedTuple):
    """What becomes of an element of a day's feed, g: in the water, in solids, in the fish.

    The three sum to what the feed held; kept is negative where fish waste away, or (calcium) take from the
    water.
    """

    dissolved_g: Floats
    solid_g: Floats
    kept_g: Floats


def released(
    feed_g: ArrayLike,
    gain_g: ArrayLike,
    content_g_kg: ArrayLike,
    body_g_kg: ArrayLike,
    digested_share: ArrayLike,
    uneaten_share: ArrayLike,
    from_water: bool = False,
) -> Released:
    """What fish make of an element of their feed; arguments broadcast.

    feed_g: given; gain_g: live weight won, negative where unfed fish waste away; content_g_kg: in feed;
    body_g_kg: in what they gain; digested_share: of what is eaten. from_water: fish that gain more than they
    digest take the rest from the water (calcium does); else they keep what there is.

    Source: retention and digestibility after SUGIURA98 and SUMPEN07 (read); the balance is own reckoning.

    >>> found = released(1000.0, 625.0, 51.2, 26.0, 0.9, 0.03)
    >>> [round(float(part), 2) for part in found]
    [28.45, 6.5, 16.25]
    """
    feed, gain, content, body, digestible, uneaten = _floats(
        feed_g, gain_g, content_g_kg, body_g_kg, digested_share, uneaten_share
    )
    held = feed * content / 1000.0
    digested = held * (1.0 - uneaten) * digestible
    wanted = gain * body / 1000.0
    kept = wanted if from_water else np.minimum(wanted, digested)
    return Released(digested - kept, held - digested, kept)


def _floats(*values: ArrayLike) -> tuple[Floats, ...]:
    return tuple(np.asarray(value, dtype=np.float64) for value in values)


def freed(
    held_g: ArrayLike, added_g: ArrayLike, rate_1_d: ArrayLike, freed_share: ArrayLike
) -> tuple[Floats, Floats, Floats]:
    """A day of the solids' store of an element: what it holds in the evening, what came free, what was bound.

    rate_1_d: at which solids break down; freed_share: of what breaks down, the part that dissolves; the rest
    is bound for good. Source: first order (KSU21, a table of aired sludge, read); own reckoning.
    """
    held, added, rate, share = _floats(held_g, added_g, rate_1_d, freed_share)
    whole = held + added
    broken = whole * -np.expm1(-rate)
    out = broken * share
    return whole - broken, out, broken - out


def taken_up(there_g: ArrayLike, wanted_g: ArrayLike) -> Floats:
    """What crops take of an element in a day, g: what they want while there is plenty, never all there is.

    Source: own reckoning, so that nothing is taken that is not there.

    >>> float(taken_up(0.0, 5.0)), round(float(taken_up(1000.0, 5.0)), 2)
    (0.0, 4.99)
    """
    there, wanted = _floats(there_g, wanted_g)
    there = np.maximum(there, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        taken = -there * np.expm1(-wanted / there)
    return np.where(there > 0.0, taken, 0.0)


def supply(concentration_mg_l: ArrayLike, half_mg_l: ArrayLike) -> Floats:
    """How well a crop is supplied with an element, 0 to 1: half at `half_mg_l`.

    Common practice, no source; bracketed by trials at held concentrations (WILD74, GENT03, read).
    """
    there, half = _floats(concentration_mg_l, half_mg_l)
    return there / (there + half)
