"""A spell of heat or cold: water follows the air, a wrapped tank more slowly; ice by the heat it takes."""

import math

import pytest

from aquacalc.climate import spell


def test_water_ends_between_where_it_was_and_the_air():
    for wrapped in (False, True):
        after = spell.after_c(24.0, 38.0, 10.0, 1000.0, wrapped)
        assert 24.0 < after < 38.0
        assert spell.after_c(24.0, 38.0, 1e4, 1000.0, wrapped) == pytest.approx(38.0)


def test_a_wrapped_tank_and_a_larger_one_follow_more_slowly():
    bare = spell.after_c(24.0, 38.0, 10.0, 1000.0, wrapped=False)
    assert spell.after_c(24.0, 38.0, 10.0, 1000.0, wrapped=True) < bare
    assert spell.after_c(24.0, 38.0, 10.0, 8000.0, wrapped=False) < bare


@pytest.mark.parametrize(("water", "line", "air"), [(24.0, 30.0, 38.0), (18.0, 12.0, 2.0)])
def test_after_the_hours_to_a_line_the_water_is_at_it(water: float, line: float, air: float):
    hours = spell.hours_to_c(water, line, air, 1000.0, wrapped=False)
    assert spell.after_c(water, air, hours, 1000.0, wrapped=False) == pytest.approx(line)


@pytest.mark.parametrize(
    ("water", "line", "air"), [(24.0, 30.0, 28.0), (24.0, 30.0, 10.0), (24.0, 30.0, 24.0)]
)
def test_a_line_beyond_the_air_or_behind_the_water_is_never_met(water: float, line: float, air: float):
    assert math.isinf(spell.hours_to_c(water, line, air, 1000.0, wrapped=False))


def test_ice_takes_what_the_water_gives():
    ice = spell.ice_kg(1000.0, 2.0, 24.0)
    given = 1000.0 * spell.tank.WATER_HEAT_J_L_K * 2.0
    assert ice * (spell.ICE_MELT_J_KG + spell.WATER_HEAT_J_KG_K * 24.0) == pytest.approx(given)
