import numpy as np
import pytest

from aquacalc.uncertainty import Band, Triangle, band, draw, probabilities, quantile

WIDE = Triangle(0.0, 2.0, 10.0)


def test_quantiles_of_a_triangle_start_and_end_in_its_corners():
    assert quantile(WIDE, [0.0, 0.2, 1.0]).tolist() == [0.0, 2.0, 10.0]


def test_a_triangle_without_width_is_its_value():
    assert quantile(Triangle(3.0, 3.0, 3.0), [0.1, 0.9]).tolist() == [3.0, 3.0]


def test_corners_out_of_order_are_refused():
    with pytest.raises(ValueError, match="order"):
        Triangle(2.0, 1.0, 3.0)


def test_each_slice_of_probability_is_met_once():
    slices = np.floor(probabilities("anything", 50) * 50)
    assert sorted(slices) == list(range(50))


def test_a_coefficient_is_drawn_alike_whoever_is_drawn_beside_it():
    alone = draw({"a": WIDE}, 200)["a"]
    together = draw({"b": WIDE, "a": WIDE}, 200)["a"]
    assert np.array_equal(alone, together)


def test_another_seed_is_another_draw():
    assert not np.array_equal(draw({"a": WIDE}, 200, 1)["a"], draw({"a": WIDE}, 200, 2)["a"])


def test_one_member_is_the_typical_value():
    assert draw({"a": WIDE}, 1)["a"].tolist() == [2.0]


def test_the_mean_of_a_draw_is_that_of_the_triangle():
    assert draw({"a": WIDE}, 2000)["a"].mean() == pytest.approx((0.0 + 2.0 + 10.0) / 3.0, rel=1e-3)


def test_correlated_draws_keep_their_own_spread():
    plain = draw({"a": WIDE, "b": WIDE}, 500)
    tied = draw({"a": WIDE, "b": WIDE}, 500, correlated={("a", "b"): -0.5})
    assert np.corrcoef(tied["a"], tied["b"])[0, 1] == pytest.approx(-0.5, abs=0.1)
    assert np.array_equal(np.sort(tied["b"]), np.sort(plain["b"]))
    assert np.array_equal(tied["a"], plain["a"])


def test_a_draw_cannot_be_changed():
    with pytest.raises(ValueError, match="read-only"):
        draw({"a": WIDE}, 5)["a"][0] = 1.0


def test_band_is_the_percentiles_that_numpy_gives():
    values = np.random.default_rng(3).normal(size=(200, 4))
    found = band(values, axis=0)
    for mine, theirs in zip(
        (found.low, found.middle, found.high), np.percentile(values, [10, 50, 90], axis=0), strict=True
    ):
        np.testing.assert_allclose(mine, theirs, rtol=1e-12)


def test_members_without_an_answer_are_left_out_until_half_are():
    assert band([1.0, 2.0, 3.0, np.nan]) == Band(1.2, 2.0, 2.8)
    assert np.isnan(band([1.0, np.nan, np.nan]).middle)


def test_infinite_members_do_not_spoil_the_band():
    assert band([1.0, np.inf, np.inf]).high == np.inf
