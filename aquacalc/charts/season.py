"""Charts of a season: the year strip, one quantity through the year, the fish, the water."""

from aquacalc.charts.season_lines import fish, fish_on_phone, water, water_on_phone
from aquacalc.charts.season_panels import Limit
from aquacalc.charts.season_strip import strip, strip_on_phone, strips

__all__ = [
    "Limit",
    "fish",
    "fish_on_phone",
    "strip",
    "strip_on_phone",
    "strips",
    "water",
    "water_on_phone",
]
