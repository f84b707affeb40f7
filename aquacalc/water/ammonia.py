"""Un-ionised ammonia: its share of TAN, the TAN that a limit allows, and the US EPA 2013 criteria.

All concentrations as N.
"""

import numpy as np

from aquacalc.constants import KELVIN_0_C, Numbers
from aquacalc.possible import possible
from aquacalc.water import carbonate


@possible
def pka(temperature_c: Numbers) -> Numbers:
    """pKa of ammonium at zero ionic strength, 0 to 50 C. Source: EMER75 (read-2nd).

    >>> round(pka(25.0), 3)
    9.246
    """
    return 0.09018 + 2729.92 / (temperature_c + KELVIN_0_C)


@possible
def unionised_fraction(ph: Numbers, temperature_c: Numbers) -> Numbers:
    """Share of TAN that is un-ionised ammonia in fresh water, 0 to 1.

    Without ionic-strength correction, hence 4 to 10 % high in system water: the cautious side, and far
    inside a kit's error. An error of 0.3 in pH is a factor of two here. Source: EMER75 (read-2nd), 0 to 50 C.

    >>> round(unionised_fraction(8.0, 24.0), 4)
    0.0502
    """
    return unionised_fraction_at(10.0 ** (-ph), 10.0 ** (-pka(temperature_c)))


def unionised_fraction_at(hydrogen: Numbers, ka: Numbers) -> Numbers:
    """The same from hydrogen activity and 10^-pKa, both mol/kg, for a model that has them at hand.

    Source: as `unionised_fraction`.
    """
    return ka / (ka + hydrogen)


@possible
def unionised_fraction_at_ionic_strength(
    ph: Numbers, temperature_c: Numbers, ionic_strength: Numbers
) -> Numbers:
    """The same with the activity of ammonium; ionic strength in mol/kg, up to about 0.1.

    Source: EMER75 (read-2nd), activity as `carbonate.activity`.

    >>> round(float(unionised_fraction_at_ionic_strength(8.0, 25.0, 0.009)), 4)
    0.0489
    """
    gamma = carbonate.activity(1, temperature_c, ionic_strength)
    return 1.0 / (1.0 + 10.0 ** (pka(temperature_c) - ph) / gamma)


@possible
def tan_for_unionised_mg_l(unionised_mg_l: Numbers, ph: Numbers, temperature_c: Numbers) -> Numbers:
    """TAN (mg N/L) that holds a given un-ionised ammonia (mg N/L).

    Source: as `unionised_fraction`, turned round.

    >>> round(tan_for_unionised_mg_l(0.05, 7.5, 25.0), 2)
    2.84
    """
    return unionised_mg_l / unionised_fraction(ph, temperature_c)


@possible
def acute_criterion_mg_l(ph: Numbers, temperature_c: Numbers, salmonids: bool) -> Numbers:
    """One-hour criterion for TAN, mg N/L (CMC), with or without trout and salmon. pH 6.5 to 9, 0 to 30 C.

    Made for wild waters with mussels. Source: EPA13, as adopted in OAR340 (read-2nd).

    >>> round(float(acute_criterion_mg_l(7.0, 20.0, salmonids=False)), 1)
    16.8
    """
    by_ph = 0.7249 * (0.0114 / (1.0 + 10.0 ** (7.204 - ph)) + 1.6181 / (1.0 + 10.0 ** (ph - 7.204)))
    mussels = 23.12 * 10.0 ** (0.036 * (20.0 - temperature_c))
    if not salmonids:
        return by_ph * np.minimum(51.93, mussels)
    trout = 0.275 / (1.0 + 10.0 ** (7.204 - ph)) + 39.0 / (1.0 + 10.0 ** (ph - 7.204))
    return np.minimum(trout, by_ph * mussels)


@possible
def chronic_criterion_mg_l(ph: Numbers, temperature_c: Numbers) -> Numbers:
    """30-day criterion for TAN, mg N/L (CCC); no four-day mean above 2.5 times. pH 6.5 to 9, 0 to 30 C.

    Mussels set it, so that it is a cautious line for a fish tank. Source: as `acute_criterion_mg_l`.

    >>> round(float(chronic_criterion_mg_l(7.0, 20.0)), 2)
    1.89
    """
    by_ph = 0.8876 * (0.0278 / (1.0 + 10.0 ** (7.688 - ph)) + 1.1994 / (1.0 + 10.0 ** (ph - 7.688)))
    return by_ph * 2.126 * 10.0 ** (0.028 * (20.0 - np.maximum(temperature_c, 7.0)))
