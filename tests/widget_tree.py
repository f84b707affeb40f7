"""A panel's widgets in the order in which a reader meets them where everything stands in one column."""

from typing import Any


def widgets_in(panel: Any) -> list[Any]:
    """The panel's widgets from the top down, each before those that it holds."""
    return [panel, *(one for child in getattr(panel, "children", ()) for one in widgets_in(child))]
