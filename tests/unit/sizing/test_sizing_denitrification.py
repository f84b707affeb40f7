"""Nitrate that leaves as gas: the worse solids are aired where they lie, the more of it."""

from dataclasses import replace

import seasons

from aquacalc.garden.model import Garden
from aquacalc.sizing import denitrification
from aquacalc.uncertainty import coefficient, draw

TYPICAL = draw({name: coefficient(name) for name in denitrification.COEFFICIENTS}, 1)


def share(garden: Garden) -> float:
    return float(denitrification.share(garden, TYPICAL)[0])


def with_medium(garden: Garden, medium: str) -> Garden:
    return replace(garden, biofilter=replace(garden.biofilter, medium=medium))


def test_nets_that_hold_the_solids_give_off_the_most():
    garden = seasons.garden("greenhouse")
    carriers, nets = (share(with_medium(garden, one)) for one in ("moving_bed_carrier", "netting"))
    assert carriers < 0.2
    assert nets > 2.0 * carriers
    assert nets < 1.0


def test_solids_that_are_taken_out_give_off_less():
    garden = with_medium(seasons.garden("greenhouse"), "netting")
    unsettled = replace(garden, solids_filter=replace(garden.solids_filter, kind="none"))
    assert share(unsettled) > 0.65
    assert share(garden) < share(unsettled)
