"""What a loop is made of, as somebody buys it: amounts from the garden, spares, rounded up to packs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from aquacalc import tables

if TYPE_CHECKING:
    from aquacalc.garden.model import Bed, Garden

Kind = Literal["volume", "length", "count"]

CUT_SHARE = 0.1
"""More pipe than the tape says, for cuts and a length that is spoilt. Common practice, no source."""
SETTLES_SHARE = 0.1
"""More medium than the bed's volume: it settles, and some is crushed. Common practice, no source."""
ELBOWS_A_PIPE = 3
"""Elbows of a line where nobody counted. Common practice, no source."""
STONE_L_MIN = 5.0
"""Air of one small stone. Common practice, no source."""
HOSE_A_STONE_M = 2.0
"""Air hose of each stone. Common practice, no source."""
BELL = ("standpipe", "bell", "guard")
PACKS: Mapping[str, float] = {"medium": 50.0, "pipe": 3.0, "hose": 10.0}
"""Litres in a bag, metres in a length of pipe and in a coil of air hose, until they are typed."""
SPARES = ("pump", "air-pump", "stone", "fuse-lead")
"""What kills when it fails, and what is worn: one of each stands on the shelf."""


@dataclass(frozen=True)
class Part:
    """A line of the list. name: of the thing that it belongs to. need: in L, m or pieces.

    bore_mm: of pipes and fittings; medium: its key. pack: what one that is bought holds; price: of one, NaN
    where not known. spare: whether it lies on the shelf.
    """

    key: str
    name: str
    need: float
    kind: Kind
    bore_mm: float = 0.0
    medium: str = ""
    pack: float = 1.0
    price: float = math.nan
    spare: bool = False

    @property
    def packs(self) -> int:
        """How many are bought; a need of whole packs is not rounded up for a rounding error."""
        return math.ceil(self.need / self.pack - 1e-9)

    @property
    def cost(self) -> float:
        """Of all of them."""
        return self.packs * self.price


def parts_of(
    garden: Garden, packs: Mapping[str, float] | None = None, prices: Mapping[str, float] | None = None
) -> tuple[Part, ...]:
    """The list of a garden's loop, from vessels to spares.

    packs: litres in a bag, metres in a length, by key; prices: of one pack, by key. Fittings that no file
    counts are common practice, no source.
    """
    sizes, cost = {**PACKS, **(packs or {})}, prices or {}
    return tuple(
        replace(one, pack=sizes.get(one.key, one.pack), price=cost.get(one.key, math.nan))
        for one in (*_vessels(garden), *_lines(garden), *_beds(garden), *_air(garden), *_spares(garden))
    )


def total(parts: Sequence[Part]) -> tuple[float, int]:
    """Cost of what has a price, and how many lines have none. By definition."""
    priced = [one.cost for one in parts if not math.isnan(one.price)]
    return sum(priced), len(parts) - len(priced)


def _vessels(garden: Garden) -> Iterator[Part]:
    for tank in garden.tanks:
        yield Part("tank", tank.name, tank.volume_l, "volume", pack=tank.volume_l)
        yield Part("cover", tank.name, 1.0, "count")
    if garden.sump is not None:
        yield Part("sump", "", garden.sump.rim_l, "volume", pack=garden.sump.rim_l)
    for bed in garden.beds:
        yield Part("box", bed.name, _box_l(bed), "volume", pack=_box_l(bed))


def _box_l(bed: Bed) -> float:
    return 1000.0 * bed.area_m2 * bed.depth_m


def _lines(garden: Garden) -> Iterator[Part]:
    for pump in garden.pumps:
        yield Part("pump", pump.name, float(pump.count), "count")
        yield Part("strainer", pump.name, float(pump.count), "count")
        yield Part("union", pump.name, float(pump.count), "count")
    for pipe in garden.pipes:
        yield Part("pipe", pipe.name, pipe.length_m * (1.0 + CUT_SHARE), "length", pipe.bore_mm)
        yield Part("elbow", pipe.name, float(ELBOWS_A_PIPE), "count", pipe.bore_mm)
        yield Part("valve", pipe.name, 1.0, "count", pipe.bore_mm)
    for drain in garden.drains:
        yield Part("wall-fitting", drain.name, 1.0, "count", drain.bore_mm)
    for bed in garden.beds:
        yield Part("branch-valve", bed.name, 1.0, "count")


def _beds(garden: Garden) -> Iterator[Part]:
    for bed in garden.beds:
        yield Part("bed-fitting", bed.name, 1.0, "count")
        if bed.holds_medium and bed.medium:
            name = tables.load("media").row(bed.medium).text("name")
            yield Part("medium", name, _box_l(bed) * (1.0 + SETTLES_SHARE), "volume", medium=bed.medium)
        if bed.drain == "siphon":
            for one in BELL:
                yield Part(one, bed.name, 1.0, "count")


def _air(garden: Garden) -> Iterator[Part]:
    if garden.air is None:
        return
    stones = max(math.ceil(garden.air.flow_l_min / STONE_L_MIN), 1)
    yield Part("air-pump", "", 1.0, "count")
    yield Part("stone", "", float(stones), "count")
    yield Part("hose", "", stones * HOSE_A_STONE_M, "length")
    yield Part("check-valve", "", 1.0, "count")


def _spares(garden: Garden) -> Iterator[Part]:
    for key in SPARES:
        if key != "pump" or garden.pumps:
            yield Part(key, "", 1.0, "count", spare=True)
    for key in ("thermometer", "net", "bucket", "residual-current"):
        yield Part(key, "", 2.0 if key in ("bucket", "thermometer") else 1.0, "count")
