import pytest

from aquacalc import power


def test_loads_add_over_the_month():
    assert power.month_kwh([(45.0, 24.0), (100.0, 6.0)]) == pytest.approx((45 * 24 + 600) / 24 * 0.73)


def test_an_inverter_makes_the_battery_larger():
    direct = power.battery_wh(10.0, 10.0, power.LEAD_DIRECT)
    assert direct == pytest.approx(250.0)
    assert power.battery_wh(10.0, 10.0, power.LEAD_WITH_INVERTER) == pytest.approx(direct / 0.85)
    assert power.battery_wh(10.0, 10.0, power.LITHIUM_DIRECT) < direct


def test_storage_covers_the_days_without_sun():
    assert power.storage_kwh(1.44, 2.0, 0.8) == pytest.approx(4.0)
