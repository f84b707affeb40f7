"""What the fish of a day put into the water: nitrogen and minerals, dissolved and in solids.

The solids' minerals are followed day by day; their nitrogen is hour by hour with the water.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from aquacalc import minerals, nitrogen
from aquacalc.constants import Numbers
from aquacalc.season.fishes import Fed, Fishes, Kind
from aquacalc.uncertainty import Floats

COEFFICIENTS = tuple(
    name
    for element in minerals.ELEMENTS
    for name in (
        f"feed_{element}_g_kg",
        f"body_{element}_g_kg",
        f"digested_{element}_share",
        f"freed_{element}_share",
    )
)


@dataclass(frozen=True, eq=False)
class Wastes:
    """A day's, arrays of members: nitrogen given off and in solids, g; minerals by element, g dissolved and
    in solids that stay; fish_n_g, kept_g: what the fish keep, less than nothing where they waste away."""

    excreted_n_g: Floats
    solids_n_g: Floats
    fish_n_g: Floats
    dissolved_g: Mapping[str, Floats]
    solid_g: Mapping[str, Floats]
    kept_g: Mapping[str, Floats]


class Settled(NamedTuple):
    """An evening, by element, g: what solids hold, what the water has, what was bound in solids for good, and
    what the fish kept."""

    held_g: dict[str, Floats]
    ions_g: dict[str, Floats]
    bound_g: dict[str, Floats]
    kept_g: dict[str, Floats]


def of_day(
    all_kinds: tuple[Kind, ...],
    stocked: Fishes,
    given: Fed,
    protein: Numbers,
    drawn: Floats,
    draw: Mapping[str, Floats],
) -> Wastes:
    """The wastes of a day's feed and of what it makes of the fish.

    protein: share of feed; drawn: share of the faeces that leaves with the sludge; uneaten feed stays.
    """
    uneaten = draw["feed_n_uneaten_share"]
    feed_g = given.feed_g.sum(axis=0)
    won_g = given.gain_g * stocked.count
    n_feed = nitrogen.feed_nitrogen_g_day(1000.0, protein)
    excreted, solids, kept = (np.zeros_like(feed_g) for _ in range(3))
    for place, kind in enumerate(all_kinds):
        own = minerals.released(
            given.feed_g[place],
            won_g[place],
            n_feed,
            kind.body_nitrogen_g_kg,
            draw["digested_nitrogen_share"],
            uneaten,
        )
        left = uneaten * n_feed * given.feed_g[place] / 1000.0
        excreted, kept = excreted + own.dissolved_g, kept + own.kept_g
        solids = solids + left + (own.solid_g - left) * (1.0 - drawn)
    dissolved, solid, built_in = {}, {}, {}
    gain_g = won_g.sum(axis=0)
    for element in minerals.ELEMENTS:
        content = draw[f"feed_{element}_g_kg"]
        found = minerals.released(
            feed_g,
            gain_g,
            content,
            draw[f"body_{element}_g_kg"],
            draw[f"digested_{element}_share"],
            uneaten,
            from_water=element == "calcium",
        )
        left = uneaten * content * feed_g / 1000.0
        dissolved[element], built_in[element] = found.dissolved_g, found.kept_g
        solid[element] = left + (found.solid_g - left) * (1.0 - drawn)
    return Wastes(excreted, solids, kept, dissolved, solid, built_in)


def settled(
    held_g: Mapping[str, Floats],
    ions_g: Mapping[str, Numbers],
    wastes: Wastes,
    rate_1_d: Floats,
    draw: Mapping[str, Floats],
) -> Settled:
    """The evening: what becomes of each element, after the day's wastes.

    rate_1_d: at which solids break down in this water. What phosphate then settles with calcium is reckoned
    with the water (`rules.phosphate`).
    """
    held, ions, bound, kept = {}, {name: np.asarray(amount) for name, amount in ions_g.items()}, {}, {}
    for element in minerals.ELEMENTS:
        share = draw[f"freed_{element}_share"]
        held[element], out, bound[element] = minerals.freed(
            held_g[element], wastes.solid_g[element], rate_1_d, share
        )
        there = ions[element] + wastes.dissolved_g[element]
        # Fish that want more calcium than they digest find no more than there is.
        kept[element] = wastes.kept_g[element] + np.minimum(there, 0.0)
        ions[element] = np.maximum(there, 0.0) + out
    return Settled(held, ions, bound, kept)


def built_in(
    held_g: Mapping[str, Floats],
    ions_g: Mapping[str, Numbers],
    denitrified_g: Numbers,
    phosphorus_g_g: Numbers,
) -> tuple[dict[str, Floats], dict[str, Numbers]]:
    """What solids hold and what the water has once bacteria that live on nitrate have built in phosphorus.

    denitrified_g: nitrate-N that left as gas; phosphorus_g_g: built in for each g of it. The cells lie with
    the solids and break down with them. Source: growth on nitrate (ASM2D, memory); sludge of fish loops
    that stores phosphate (VANRIJN06, memory).
    """
    moved = minerals.taken_up(ions_g["phosphorus"], denitrified_g * phosphorus_g_g)
    return (
        dict(held_g) | {"phosphorus": held_g["phosphorus"] + moved},
        dict(ions_g) | {"phosphorus": ions_g["phosphorus"] - moved},
    )
