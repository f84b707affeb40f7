"""What a start-up is, from a garden and without one."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.season import setting
from aquacalc.season.setting import triangles
from aquacalc.startup import case
from aquacalc.uncertainty import draw

SOUTHERN = GardenFile.open("demo:southern").garden


def test_a_garden_has_the_litres_the_film_and_the_water_of_its_season():
    found = case.of_garden(SOUTHERN)
    middle = setting.setting_of(SOUTHERN, (), draw(triangles(SOUTHERN), 1), 1, anomalies=False)
    assert found.first == middle.first == date(2027, 9, 6)
    assert found.litres == middle.full_l
    for own, other in zip(found.surfaces, middle.gases.surfaces, strict=True):
        assert own.area_m2 == pytest.approx(float(np.ravel(other.area_m2)[0]))
        assert own.transfer_m_d == other.transfer_m_d
        if other.flow_m3_d is not None:
            assert own.flow_m3_d == pytest.approx(float(np.ravel(other.flow_m3_d)[0]))
    assert found.water_c[: middle.days] == pytest.approx(middle.sky.water_c[: case.DAYS, 0])
    assert found.alkalinity_mg_l == found.tap.alkalinity_mg_l == 12.0


def test_a_heater_and_a_first_day_of_ones_own():
    warm = replace(SOUTHERN, heat=replace(SOUTHERN.heat, setpoint_c=26.0))
    found = case.of_garden(warm, first=date(2027, 7, 1), seed="tenth")
    assert found.water_c.min() == pytest.approx(26.0)
    assert found.day_of(date(2027, 7, 31)) == 30
    assert found.date_of(30) == date(2027, 7, 31)


def test_alkalinity_that_is_not_known_is_the_target():
    unknown = replace(SOUTHERN, top_up=replace(SOUTHERN.top_up, alkalinity_mg_l=None))
    assert case.of_garden(unknown).alkalinity_mg_l == SOUTHERN.targets.alkalinity_mg_l


def test_of_media_the_wetted_share_counts():
    by_media = case.typed(1000.0, 24.0, date(2027, 3, 1), media_l=500.0, medium="tuff")
    (bed,) = by_media.surfaces
    assert (bed.area_m2, bed.transfer_m_d) == pytest.approx((0.5 * 350.0 * 0.5, 0.4))
    (filter_,) = case.typed(1000.0, 24.0, date(2027, 3, 1), film_m2=125.0).surfaces
    assert (filter_.area_m2, filter_.transfer_m_d) == (125.0, 0.8)


def test_all_that_cannot_be_is_named_at_once():
    with pytest.raises(InputError) as raised:
        case.typed(0.0, [20.0, 60.0], date(2027, 3, 1), ph=2.0)
    assert [(one.key, one.where) for one in raised.value.problems] == [
        ("problem-range", "litres"),
        ("problem-range", "temperature_c"),
        ("problem-range", "ph"),
        ("problem-missing", "media_l"),
    ]


def test_the_last_value_holds_on():
    assert [case.on_day(np.array([1.0, 2.0]), day) for day in (0, 1, 9)] == [1.0, 2.0, 2.0]


def test_more_seed_begins_higher():
    assert [case.SEEDS[key].mean for key in ("unseeded", "handful", "tenth")] == pytest.approx(
        [-2.5, -0.7, np.log10(0.5)]
    )
