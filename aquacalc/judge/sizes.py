"""How much is done at once: of the water to change, of warmth to move."""

from collections.abc import Sequence

from aquacalc.judge import lines
from aquacalc.tables import Row
from aquacalc.water import ammonia, salts

LEAST_SHARE, MOST_SHARE = 0.25, 0.5
"""Of the water, changed at once. Common practice, no source."""

OLD_WATER_SHARE = 0.25
"""Most of old water with much ammonia, at once. Common practice, no source."""

OLD_WATER_PH = 6.0
"""Below it nitrification stalls and ammonia piles up. Common practice, no source."""

SLOWLY_K_H, SLOWLY_K_D = 1.0, 4.0
"""Most that a tank is cooled or warmed in an hour and in a day. Common practice, no source."""

CHANGE_STEP_K = 2.0
"""Most that new water may be warmer or colder than the tank. Common practice, no source."""


def is_old(ph: float) -> bool:
    """Whether water is so sour that ammonia piles up in it; what is not known is not old.

    >>> is_old(5.9), is_old(6.0), is_old(float("nan"))
    (True, False, False)
    """
    return ph < OLD_WATER_PH


def change_shares(ph: float) -> tuple[float, float]:
    """The least and the most of the water that is changed at once against a poison.

    Common practice, no source.
    """
    return LEAST_SHARE, OLD_WATER_SHARE if is_old(ph) else MOST_SHARE


def change_share(
    tan_mg_l: float, ph: float, temperature_c: float, fish: Sequence[Row], brought_mg_l: float = 0.0
) -> float:
    """Share of the water to change at once for ammonia.

    Towards the un-ionised ammonia from which the fish are watched, by what the new water brings; a quarter
    to a half, of old water a quarter. Own reckoning; the shares are common practice, no source.

    >>> from aquacalc import tables
    >>> tilapia = (tables.load("species").row("nile_tilapia"),)
    >>> change_share(4.0, 7.8, 26.0, tilapia), change_share(40.0, 5.8, 26.0, tilapia)
    (0.5, 0.25)
    """
    least, most = change_shares(ph)
    line = lines.begins_at("unionised_ammonia", "watch", fish)
    target = line / float(ammonia.unionised_fraction(ph, temperature_c))
    if not tan_mg_l > target:
        return least
    if brought_mg_l >= target:
        return most
    return min(max(float(salts.share_to_change(tan_mg_l, target, brought_mg_l)), least), most)
