"""Aeration: air stones, falls, surfaces, and the sum of what they bring. Grams of oxygen an hour throughout.

Transfer rates are made of operators only, so that they run on floats and arrays alike.
"""

from dataclasses import dataclass

from aquacalc.constants import Numbers
from aquacalc.possible import possible
from aquacalc.uncertainty import Triangle, coefficient
from aquacalc.water import oxygen

THETA_AERATION = 1.024
"""Transfer per degree (ASCE2, memory)."""

STONE_COEFFICIENTS = {
    "coarse": "oxygen_transfer_coarse_per_m",
    "small": "oxygen_transfer_small_per_m",
    "fine": "oxygen_transfer_fine_per_m",
}
"""Kind of stone to its row in the table of coefficients."""

_LITRES_MIN_TO_M3_H = 0.06


def transfer_per_m(stones: str) -> Triangle:
    """Share of the air's oxygen that `coarse`, `small` or `fine` stones transfer per metre of depth."""
    return coefficient(STONE_COEFFICIENTS[stones])


@possible
def standard_rate_g_h(air_l_min: Numbers, depth_m: Numbers, transfer_per_m: Numbers) -> Numbers:
    """SOTR of air stones: oxygen into clean, oxygen-free water of 20 C at 1 atm.

    air_l_min: flow at depth, not the open-flow rating of the box; transfer_per_m: share per metre of depth.
    Exact, by mass balance.

    >>> round(float(standard_rate_g_h(20.0, 0.6, 0.035)), 2)
    7.02
    """
    return air_l_min * _LITRES_MIN_TO_M3_H * oxygen.in_air_kg_m3(20.0) * 1000.0 * transfer_per_m * depth_m


@possible
def field_rate_g_h(
    standard_g_h: Numbers,
    temperature_c: Numbers,
    oxygen_mg_l: Numbers,
    saturation_mg_l: Numbers,
    alpha: Numbers = 0.8,
    beta: Numbers = 0.98,
) -> Numbers:
    """OTR: what the same stones bring in this water; negative above saturation, where they strip oxygen.

    saturation_mg_l: at the water's temperature and the garden's air pressure; alpha, beta: system water
    against clean water. Source: ASCE2 (memory).

    >>> round(float(field_rate_g_h(7.02, 26.0, 5.5, 8.113, beta=0.95)), 2)
    1.57
    """
    deficit = beta * saturation_mg_l - oxygen_mg_l
    clean = oxygen.saturation_mg_l(20.0)
    return standard_g_h * alpha * THETA_AERATION ** (temperature_c - 20.0) * deficit / clean


@possible
def deficit_ratio(
    height_m: Numbers, temperature_c: Numbers, quality: Numbers = 1.6, shape: Numbers = 0.8
) -> Numbers:
    """Oxygen deficit above a fall over that below it; 1 means that nothing is gained.

    quality a: clean 1.8, slight load 1.6, moderate 1.0, gross 0.65; shape b: broad lip 0.7 to 0.9, sharp
    0.8 to 1.05, outlet under water 0.05. Made for weirs in rivers, +-30 % (BUTEVA83). For falls up to 3 m.
    """
    return 1.0 + 0.38 * quality * shape * height_m * (1.0 - 0.11 * height_m) * (1.0 + 0.046 * temperature_c)


@possible
def oxygen_after_fall_mg_l(oxygen_mg_l: Numbers, saturation_mg_l: Numbers, ratio: Numbers) -> Numbers:
    """Oxygen below a fall of a `deficit_ratio`. By definition."""
    return saturation_mg_l - (saturation_mg_l - oxygen_mg_l) / ratio


@possible
def carried_g_h(flow_l_h: Numbers, gain_mg_l: Numbers) -> Numbers:
    """Oxygen that a flow brings when it gains `gain_mg_l` on its way. By definition.

    >>> carried_g_h(2000.0, 0.75)
    1.5
    """
    return flow_l_h * gain_mg_l / 1000.0


@possible
def surface_g_h(
    area_m2: Numbers, velocity_m_h: Numbers, saturation_mg_l: Numbers, oxygen_mg_l: Numbers
) -> Numbers:
    """Oxygen through a water surface; transfer velocity 0.01 to 0.04 m/h still, 0.03 to 0.3 stirred.

    By definition; the velocities: COLCAR98 (from memory) still, common practice, no source, stirred.
    """
    return area_m2 * velocity_m_h * (saturation_mg_l - oxygen_mg_l)


@dataclass(frozen=True)
class Fall:
    """Water that falls into the tank, and the factors of `deficit_ratio`; spread: of that formula."""

    flow_m3_h: Numbers
    height_m: Numbers
    quality: Numbers
    shape: Numbers
    spread: Numbers = 1.0

    def exchange_m3_h(self, temperature_c: Numbers) -> Numbers:
        """Water that the fall brings to balance with air. Own reckoning, by the deficit ratio."""
        gained = self.spread * (deficit_ratio(self.height_m, temperature_c, self.quality, self.shape) - 1.0)
        return self.flow_m3_h * gained / (1.0 + gained)


@dataclass(frozen=True)
class Exchange:
    """What brings water to balance with air: m3/h of it, and the share of saturation to which each leads.

    stones_m3_h: at 20 C. beds: water that trickles through beds which fall dry.
    """

    surface_m3_h: Numbers
    stones_m3_h: Numbers
    beds_m3_h: Numbers
    stones_share: Numbers
    beds_share: Numbers
    fall: Fall | None = None

    def stones_at_m3_h(self, temperature_c: Numbers) -> Numbers:
        """Of the stones at another temperature. Source: ASCE2 (memory)."""
        return self.stones_m3_h * THETA_AERATION ** (temperature_c - 20.0)

    def fall_at_m3_h(self, temperature_c: Numbers) -> Numbers:
        """Of the fall; nothing where there is none."""
        return 0.0 if self.fall is None else self.fall.exchange_m3_h(temperature_c)

    def m3_h(self, temperature_c: Numbers) -> Numbers:
        """All of it. By definition."""
        return (
            self.surface_m3_h
            + self.stones_at_m3_h(temperature_c)
            + self.beds_m3_h
            + self.fall_at_m3_h(temperature_c)
        )

    def gain_g_h(self, temperature_c: Numbers, saturation_mg_l: Numbers) -> Numbers:
        """Oxygen that it brings into water without any, g/h. By definition."""
        return saturation_mg_l * (
            self.surface_m3_h
            + self.stones_at_m3_h(temperature_c) * self.stones_share
            + self.beds_m3_h * self.beds_share
            + self.fall_at_m3_h(temperature_c)
        )


@possible
def stones_m3_h(air_l_min: Numbers, depth_m: Numbers, transfer_per_m: Numbers, alpha: Numbers) -> Numbers:
    """Water of 20 C that air stones bring to balance in an hour. air_l_min: at depth.

    Own reckoning, from the standard rate.

    >>> round(float(stones_m3_h(20.0, 0.6, 0.035, 0.8)), 2)
    0.62
    """
    # Grams an hour for each mg/L of deficit, in clean water of 20 C.
    return standard_rate_g_h(air_l_min, depth_m, transfer_per_m) * alpha / oxygen.saturation_mg_l(20.0)


def feed_for_oxygen_g_day(
    supply_g_h: Numbers, oxygen_per_feed_kg_kg: Numbers, peak_factor: Numbers
) -> Numbers:
    """Feed whose oxygen use in its peak hours is met by `supply_g_h`. By definition."""
    return supply_g_h * 24.0 / (oxygen_per_feed_kg_kg * peak_factor)


@possible
def oxygen_for_feed_g_h(
    feed_g_day: Numbers, oxygen_per_feed_kg_kg: Numbers, peak_factor: Numbers = 1.0
) -> Numbers:
    """Oxygen that a day's feed uses in an hour; the daily mean unless a peak factor is given. By definition.

    >>> oxygen_for_feed_g_h(200.0, 0.6)
    5.0
    """
    return feed_g_day * oxygen_per_feed_kg_kg * peak_factor / 24.0


@possible
def air_for_oxygen_l_min(
    oxygen_g_h: Numbers,
    depth_m: Numbers,
    transfer_per_m: Numbers,
    temperature_c: Numbers,
    oxygen_mg_l: Numbers,
    saturation_mg_l: Numbers,
    alpha: Numbers = 0.8,
    beta: Numbers = 0.98,
) -> Numbers:
    """Air flow at depth whose stones bring `oxygen_g_h` into this water.

    Own reckoning: `transfer_g_h` turned round.
    """
    one = field_rate_g_h(
        standard_rate_g_h(1.0, depth_m, transfer_per_m),
        temperature_c,
        oxygen_mg_l,
        saturation_mg_l,
        alpha,
        beta,
    )
    return oxygen_g_h / one
