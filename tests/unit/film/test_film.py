"""The film in balance: its two sums, both ways, and the draws that films are sampled by."""

import numpy as np
import pytest

from aquacalc import film, nitrogen
from aquacalc.film import Film, Surface
from aquacalc.uncertainty import draw

TYPICAL = nitrogen.Kinetics.typical()
AROUND = (7.0, 6.5, 100.0)


def one_m2(step: nitrogen.Step, temperature_c, constants=TYPICAL, transfer_m_d: float = 0.8) -> Film:
    return film.film_of(step, [Surface(1.0, transfer_m_d)], temperature_c, constants)


def sampled(members: int) -> nitrogen.Kinetics:
    return nitrogen.kinetics(draw(nitrogen.kinetic_triangles(), members, 1, nitrogen.CORRELATIONS))


def test_members_along_the_first_axis_meet_months_along_the_second():
    values = draw(nitrogen.kinetic_triangles(), 7, 1, nitrogen.CORRELATIONS)
    constants = nitrogen.kinetics({name: values[name][:, None] for name in values})
    months_c = np.linspace(8, 28, 12)[None, :]
    found = film.rate_g_d(
        "ammonia", one_m2("ammonia", months_c, constants), 0.5, months_c, *AROUND, constants
    )
    assert found.shape == (7, 12)
    assert np.all(found > 0.0)
    assert np.all(np.diff(found, axis=1) >= 0.0)


def test_one_member_is_the_typical_value():
    one = nitrogen.kinetics(draw(nitrogen.kinetic_triangles(), members=1))
    at = film.rate_g_d("nitrite", one_m2("nitrite", 25.0, one), 1.0, 25.0, *AROUND, one)
    assert at == pytest.approx(film.rate_g_d("nitrite", one_m2("nitrite", 25.0), 1.0, 25.0, *AROUND, TYPICAL))


def test_a_load_beyond_the_film_has_no_steady_concentration():
    beyond = film.steady_substrate_mg_l("ammonia", one_m2("ammonia", 25.0), 2.0, 25, *AROUND, TYPICAL)
    assert beyond == np.inf
    assert film.lowest_substrate_mg_l("ammonia", 25, 7, 0.0, 100, TYPICAL) == np.inf


def test_water_that_hardly_passes_a_filter_sets_its_transfer():
    slow = film.film_of("ammonia", [Surface(100.0, 0.8, 5.0)], 20.0, TYPICAL)
    quick = film.film_of("ammonia", [Surface(100.0, 0.8, 1e9)], 20.0, TYPICAL)
    assert slow.transfer_m3_d == pytest.approx(80.0 * 5.0 / 85.0)
    assert quick.transfer_m3_d == pytest.approx(80.0)
    assert film.film_of("nitrite", [Surface(100.0, 0.8)], 20.0, TYPICAL).transfer_m3_d == pytest.approx(
        80.0 / 0.3
    )


def test_surfaces_add_up():
    both = film.film_of("ammonia", [Surface(10.0, 0.8), Surface(30.0, 0.2)], 12.0, TYPICAL)
    apart = [
        film.film_of("ammonia", [one], 12.0, TYPICAL) for one in (Surface(10.0, 0.8), Surface(30.0, 0.2))
    ]
    assert both.most_g_d == pytest.approx(sum(one.most_g_d for one in apart))
    assert both.transfer_m3_d == pytest.approx(sum(one.transfer_m3_d for one in apart))


def test_every_draw_is_a_film_that_lives():
    constants = sampled(2000)
    for celsius in (8.0, 18.0, 27.0):
        for step in nitrogen.STEPS:
            assert np.isfinite(film.lowest_substrate_mg_l(step, celsius, *AROUND, constants)).all()


def test_the_draw_is_correlated_as_told():
    values = draw(nitrogen.kinetic_triangles(), 4000, 1, nitrogen.CORRELATIONS)

    def ranks(name: str):
        return np.argsort(np.argsort(values[name]))

    for (one, other), wanted in nitrogen.CORRELATIONS.items():
        assert np.corrcoef(ranks(one), ranks(other))[0, 1] == pytest.approx(wanted, abs=0.04)


def test_a_share_that_growth_and_decay_hold_in_balance():
    """At the steady substrate and the share filled, growth of a step is its decay."""
    load, celsius = 0.2, 18.0
    here = one_m2("ammonia", celsius)
    filled = film.filled_share("ammonia", here, load, celsius, TYPICAL)
    substrate = float(film.steady_substrate_mg_l("ammonia", here, load, celsius, *AROUND, TYPICAL))
    factor = nitrogen.rate_factor("ammonia", celsius, *AROUND, TYPICAL)
    rate = substrate * nitrogen.oxidation_speed(
        filled * here.most_g_d, factor, substrate, TYPICAL.ammonia.half_saturation_mg_l, here.transfer_m3_d
    )
    assert rate == pytest.approx(load)
    grown = TYPICAL.ammonia.growth_1_d * rate * (1.0 - filled)
    decayed = nitrogen.decay_1_d("ammonia", celsius, TYPICAL) * filled * here.most_g_d
    assert grown == pytest.approx(decayed)
