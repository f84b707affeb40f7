import pytest

from aquacalc import power
from aquacalc.uncertainty import coefficient


def test_loads_add_over_the_month():
    assert power.month_kwh([(45.0, 24.0), (100.0, 6.0)]) == pytest.approx((45 * 24 + 600) / 24 * 0.73)


def test_an_inverter_makes_the_battery_larger():
    direct = power.battery_wh(10.0, 10.0, power.BatterySystem(1.0, 0.5, 0.8))
    assert direct == pytest.approx(250.0)
    typical = {name: coefficient(name).typical for name in power.LEAD_COEFFICIENTS}
    inverter = power.lead_with_inverter({**typical, "battery_ageing_share": 0.8})
    assert power.battery_wh(10.0, 10.0, inverter) == pytest.approx(direct / 0.85)


def test_storage_covers_the_days_without_sun():
    assert power.storage_kwh(1.44, 2.0, 0.8) == pytest.approx(4.0)
