"""Charts of a season: the year strip, one quantity through the year, the fish, the water."""

from aquacalc.charts.season_lines import fish, water
from aquacalc.charts.season_panels import Limit
from aquacalc.charts.season_strip import strip, strips

__all__ = ["Limit", "fish", "strip", "strips", "water"]
