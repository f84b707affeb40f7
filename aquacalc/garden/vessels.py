"""A tank or sump that is described by its shape: which measures it takes, and what they make.

`depth` is the water's. A vessel whose walls lean is measured at the floor (`length`, `width`) and further up
(`top_length`, `top_width`): at `height` above the floor, or at the water line where no height is given. A
trough has half-round ends and is as long as its longer measure; a lying one is a barrel on its side; a cone
is the floor of a round one, and `depth` reaches down to its tip.
"""

from collections.abc import Iterator
from typing import Protocol

from aquacalc.errors import Problem
from aquacalc.garden.place import Place, place
from aquacalc.hydraulics import shapes

MEASURES = {
    "round": ("diameter",),
    "oval": ("length", "width"),
    "rectangular": ("length", "width"),
    "tapered": ("length", "width", "top_length", "top_width"),
    "trough": ("length", "width"),
    "lying": ("diameter", "length"),
    "cone": ("diameter", "cone"),
}
"""Shapes and the measures that each must have, beside the depth of the water."""

OPTIONAL = {"tapered": ("height",)}
ALL = ("diameter", "length", "width", "top_length", "top_width", "height", "cone")
RIM = {"tapered": "height", "lying": "diameter"}
"""Shapes that end somewhere, and the measure that says where."""

MOST_APART = 0.1
"""Share by which a given volume may differ from what the shape makes; beyond it one of them is a slip."""


class Shaped(Protocol):
    """A section with a shape; None where something is not given."""

    @property
    def shape(self) -> str | None:
        """One of `MEASURES`, or None."""

    @property
    def diameter(self) -> float | None:
        """Inside, m."""

    @property
    def length(self) -> float | None:
        """Inside, at the floor, m."""

    @property
    def width(self) -> float | None:
        """Inside, at the floor, m."""

    @property
    def top_length(self) -> float | None:
        """At the water line or at `height`, m."""

    @property
    def top_width(self) -> float | None:
        """At the water line or at `height`, m."""

    @property
    def height(self) -> float | None:
        """Over the floor, of the top measures, m."""

    @property
    def cone(self) -> float | None:
        """Height of the cone that is the floor, m."""

    @property
    def depth(self) -> float | None:
        """Of the water, m."""

    @property
    def volume(self) -> float | None:
        """As given, L."""


def volume_l(vessel: Shaped) -> float | None:
    """Water that shape, measures and depth make, L; None where they are not all given."""
    m = _measures(vessel)
    if m is None:
        return None
    depth = m["depth"]
    match vessel.shape:
        case "round":
            return float(shapes.round_l(m["diameter"], depth))
        case "oval":
            return float(shapes.oval_l(m["length"], m["width"], depth))
        case "rectangular":
            return float(shapes.box_l(m["length"], m["width"], depth))
        case "trough":
            return float(shapes.trough_l(*_longer_first(m), depth))
        case "lying":
            return float(shapes.lying_cylinder_l(m["diameter"], m["length"], depth))
        case "cone":
            return float(shapes.cone_bottom_l(m["diameter"], m["cone"], depth))
    return float(shapes.tapered_l(m["length"], m["width"], *_line(vessel, m), depth))


def surface_m2(vessel: Shaped) -> float | None:
    """Surface of the water, m2; None where the measures are not all given."""
    m = _measures(vessel)
    if m is None:
        return None
    match vessel.shape:
        case "round":
            return float(shapes.round_m2(m["diameter"]))
        case "oval":
            return float(shapes.oval_m2(m["length"], m["width"]))
        case "rectangular":
            return m["length"] * m["width"]
        case "trough":
            return float(shapes.trough_m2(*_longer_first(m)))
        case "lying":
            return float(shapes.lying_cylinder_m2(m["diameter"], m["length"], m["depth"]))
        case "cone":
            return float(shapes.cone_bottom_m2(m["diameter"], m["cone"], m["depth"]))
    long, wide = _line(vessel, m)
    return long * wide


def problems(vessel: Shaped, at: Place) -> Iterator[Problem]:
    """What is missing or does not fit in the description of a vessel; at: its place in the file."""
    given = [name for name in ALL if getattr(vessel, name) is not None]
    if vessel.shape is None:
        if given:
            yield Problem("problem-missing", place((*at, "shape")))
        elif vessel.volume is None:
            yield Problem("problem-missing", place((*at, "volume")))
        return
    needed = MEASURES[vessel.shape]
    for name in (*needed, "depth"):
        if getattr(vessel, name) is None:
            yield Problem("problem-missing", place((*at, name)))
    for name in given:
        if name not in (*needed, *OPTIONAL.get(vessel.shape, ())):
            yield Problem("problem-not-of-shape", place((*at, name)), vessel.shape, (*needed, "depth"))
    rim = getattr(vessel, RIM[vessel.shape]) if vessel.shape in RIM else None
    brim_full = vessel.shape == "lying" and vessel.depth == rim  # no surface is left
    if rim is not None and vessel.depth is not None and (vessel.depth > rim or brim_full):
        where = place((*at, "depth"))
        yield Problem("problem-depth-above-rim", where, f"{vessel.depth:.3g} m", (f"{rim:.3g} m",))
        return
    made = volume_l(vessel)
    if made is not None and vessel.volume is not None and abs(vessel.volume - made) > MOST_APART * made:
        yield Problem(
            "problem-volume-of-shape", place((*at, "volume")), f"{vessel.volume:.4g} L", (f"{made:.4g} L",)
        )


def _measures(vessel: Shaped) -> dict[str, float] | None:
    if vessel.shape is None:
        return None
    found = {name: getattr(vessel, name) for name in (*MEASURES[vessel.shape], "depth")}
    return None if any(value is None for value in found.values()) else found


def _longer_first(m: dict[str, float]) -> tuple[float, float]:
    return max(m["length"], m["width"]), min(m["length"], m["width"])


def _line(vessel: Shaped, m: dict[str, float]) -> tuple[float, float]:
    """Length and width at the water line of a vessel whose walls lean."""
    if vessel.height is None:
        return m["top_length"], m["top_width"]
    long, wide = (
        float(shapes.at_line_m(m[side], m[f"top_{side}"], vessel.height, m["depth"]))
        for side in ("length", "width")
    )
    return long, wide
