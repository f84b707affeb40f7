"""The width of a picture over days: as wide as a page, or as a phone."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Sheet:
    """How wide the picture is, and where its days begin and end. inside: names stand in the plot, over their
    line; else at its right."""

    width: float
    left: float
    right: float
    inside: bool = False
