import math

import pytest

from aquacalc.water import supplements, top_up


@pytest.mark.parametrize(
    ("ph", "low", "high", "holds"),
    [
        (6.0, 6.0, 6.5, "holds"),
        (6.4, 6.0, 6.5, "partly"),
        (6.6, 6.0, 6.5, "lost"),
        (7.5, math.nan, math.nan, "holds"),
    ],
)
def test_a_chelate_ends_between_what_suppliers_name(ph: float, low: float, high: float, holds: str):
    assert supplements.chelate_hold(ph, low, high) == holds


def test_a_label_above_what_a_pure_chelate_holds_states_the_chelate():
    assert supplements.purity_of_label(0.11, 0.11, 0.11) == pytest.approx(1.0)
    assert supplements.purity_of_label(0.12, 0.11, 0.11) == 0.12
    assert supplements.purity_of_label(0.9, 0.0, math.nan) == 0.9


def test_salts_count_by_their_equivalents():
    calcium_chloride = {"Ca": 272.6, "Cl": 482.3}
    assert supplements.as_common_salt_g_l(calcium_chloride) == pytest.approx(2 * 58.44 / 147.008, rel=1e-3)
    assert supplements.as_common_salt_g_l({"Fe": 2.0}) == 0.0


def test_a_year_never_falls_below_nothing():
    loop = top_up.Loop(1000.0, 20.0, 2.0)
    assert float(top_up.after_days_mg_l(loop, 100.0, 100.0, -50.0)) == 0.0
    assert loop.top_up_l_d == 22.0


def test_a_mixture_lies_between_its_waters():
    assert top_up.share_for_alkalinity(214.0, 5.0, 214.0) == 0.0
    assert top_up.share_for_alkalinity(214.0, 5.0, 5.0) == 1.0
    assert math.isnan(top_up.share_for_alkalinity(214.0, 5.0, 4.0))
    assert top_up.share_for_alkalinity(80.0, 80.0, 80.0) == 0.0
    assert math.isnan(top_up.share_for_alkalinity(80.0, 80.0, 70.0))


def test_a_barrel_with_no_use_never_runs_dry():
    assert math.isinf(float(top_up.barrel_days(300.0, 0.0)))
