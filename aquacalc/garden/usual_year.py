"""A usual year of a garden by day: air, nights, light and water, at the typical coefficients."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.climate import months
from aquacalc.garden import surroundings
from aquacalc.uncertainty import Floats, coefficient, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden


@dataclass(frozen=True, eq=False)
class UsualYear:
    """Daily means of shape (365,), the first of January first.

    air_c, night_c: mean and lowest air where the crops stand; outdoor_night_c: lowest air of the weather;
    light_mol_m2_d: sun and lamps over the beds; water_c: of the fish tanks.
    """

    air_c: Floats
    night_c: Floats
    outdoor_night_c: Floats
    light_mol_m2_d: Floats
    water_c: Floats

    @property
    def range_k(self) -> Floats:
        """From the lowest to the highest air of a day; its mean lies in the middle."""
        return 2.0 * np.maximum(self.air_c - self.night_c, 0.0)


def usual_year_of(garden: Garden) -> UsualYear:
    """The usual year of a garden: a smooth line through its monthly means."""
    typical = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members=1)
    outdoor_night = np.array(garden.site.climate.air_min_c)
    monthly = (
        surroundings.growing_air_c(garden, typical)[0],
        surroundings.growing_night_c(garden, typical)[0],
        outdoor_night,
        surroundings.light_mol_m2_d(garden, typical)[0],
        surroundings.water_c(garden, typical)[0],
    )
    air, night, outdoor, light, water = months.monthly_to_daily(np.array(monthly))
    # The line may pass below the darkest month; light has no less than none.
    return UsualYear(air, night, outdoor, np.maximum(light, 0.0), water)
