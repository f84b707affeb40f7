"""Nitrate that leaves as gas: tied to the solids that a garden holds, by kind of bed and filter."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import solids
from aquacalc.sizing.surfaces import NETTING
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import Bed, Garden

Kind = Literal["drained", "flooded", "settled", "netted"]
COEFFICIENTS = (
    "denitrified_in_films",
    "denitrified_drained_g_g",
    "denitrified_flooded_g_g",
    "denitrified_settled_g_g",
    "denitrified_netted_g_g",
    "solids_n_mineralised_per_d",
    "removal_radial",
    "removal_swirl",
    "removal_settler",
)
DISSOLVED_SHARE, SOLIDS_SHARE = 0.556, 0.127
"""Of feed nitrogen, in the long run: given off dissolved, and in solids (own reckoning)."""


def removed(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Share of the faeces that the solids filter takes out of the water."""
    own = garden.solids_filter
    if own.kind == "none":
        return np.zeros_like(draw["removal_radial"])
    return solids.caught_share(own.kind, draw, own.whole_flow)


def drawn(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Share of the faeces that leaves the loop: what lies in the filter mineralises until the draw."""
    days = garden.solids_filter.draw_every_d
    found: Floats = removed(garden, draw) * solids.still_there_share(draw["solids_n_mineralised_per_d"], days)
    return found


def per_mineralised_g_g(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Nitrate-N denitrified for each g of N that solids set free, with plenty of nitrate.

    Solids in the beds by the kind of each, by area; those that lie in the filter as settled ones.
    """
    whole = sum(bed.area_m2 for bed in garden.beds)
    beds = sum(bed.area_m2 / whole * _of_kind(_kind(garden, bed), draw) for bed in garden.beds)
    lying = removed(garden, draw) - drawn(garden, draw)
    passing = 1.0 - removed(garden, draw)
    found: Floats = (passing * beds + lying * _of_kind("settled", draw)) / (passing + lying)
    return found


def share(garden: Garden, draw: Mapping[str, Floats]) -> Floats:
    """Share of the nitrified nitrogen that leaves as gas once as much mineralises as comes."""
    staying = SOLIDS_SHARE * (1.0 - drawn(garden, draw))
    by_solids = per_mineralised_g_g(garden, draw) * staying / (DISSOLVED_SHARE + staying)
    return np.minimum(draw["denitrified_in_films"] + by_solids, 1.0)


def _kind(garden: Garden, bed: Bed) -> Kind:
    """How solids lie in a bed: hardly any get there, or they lie where floods bring air, or under water, or
    they hang in nets, thick and without air, until these are cleaned."""
    settled_ahead = garden.solids_filter.kind != "none"
    if garden.biofilter is not None and garden.biofilter.medium == NETTING:
        return "netted"
    if bed.holds_medium and bed.drain == "constant":
        return "settled"
    if settled_ahead:
        return "drained"
    return "flooded" if bed.holds_medium else "settled"


def _of_kind(kind: Kind, draw: Mapping[str, Floats]) -> Floats:
    return draw[f"denitrified_{kind}_g_g"]
