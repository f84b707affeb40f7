"""pH and alkalinity by what a garden aims at: where plants stand, and at its own target."""

from dataclasses import replace

import numpy as np
import pytest

from aquacalc.advice import aims
from aquacalc.advice.reading import given
from aquacalc.advice.reading.base import wanted
from aquacalc.advice.reading.judge import judge
from aquacalc.garden.file import GardenFile
from aquacalc.judge import lines
from aquacalc.judge.levels import FINE, RANKED

PLANTED = lines.Aim(7.0, 6.8, True, 12.0)


@pytest.mark.parametrize(
    ("ph", "planted", "bare"),
    [
        (5.9, "act today", "act today"),
        (6.1, "watch", "watch"),
        (6.3, "fine", "watch"),
        (7.3, "fine", "watch"),
        (7.4, "watch", "watch"),
        (7.8, "act today", "act today"),
    ],
)
def test_plants_widen_what_is_fine_and_move_no_line_to_act(ph: float, planted: str, bare: str):
    assert RANKED[int(lines.ranks("ph", ph, aim=PLANTED))] == planted
    assert lines.level("ph", ph) == bare


def test_a_higher_target_is_fine_up_to_where_it_asks_to_act():
    def watch(target: float) -> float:
        return lines.begins_at("ph", "watch", aim=replace(PLANTED, target_ph=target))

    assert [watch(target) for target in (7.0, 7.4, 7.6, 8.2)] == pytest.approx([7.4, 7.6, 7.8, 7.8])
    assert lines.begins_at("ph", "act today", aim=replace(PLANTED, target_ph=8.2)) == 7.8


def test_alkalinity_is_watched_under_what_is_kept_between_two_looks():
    values = np.array([9.0, 11.0, 13.0, 25.0, 79.0])
    often = lines.ranks("alkalinity", values, aim=PLANTED)
    seldom = lines.ranks("alkalinity", values, aim=replace(PLANTED, floor_mg_l=30.0))
    assert [RANKED[rank] for rank in often] == ["act today", "watch", "fine", "fine", "fine"]
    assert [RANKED[rank] for rank in seldom] == ["act today", "watch", "watch", "watch", "fine"]
    assert int(lines.ranks("alkalinity", 15.0)) > FINE


def test_a_reading_asks_for_base_where_the_season_does():
    garden = GardenFile.open("demo:greenhouse").garden
    aim = aims.of_garden(garden)
    assert aim == lines.Aim(7.0, 6.8, True, pytest.approx(12.4, abs=0.5))
    typed = ("ph=6.7", "kh='30 mg/L CaCO3'", "tan='0 N'", "temp=14C")

    def asks(target: float) -> bool:
        aimed = replace(garden, targets=replace(garden.targets, base_to_ph=target))
        return wanted(judge(given.read([one.replace("'", "") for one in typed], aimed)))

    assert (asks(6.6), asks(7.0), asks(7.4)) == (False, True, True)
    assert not wanted(judge(given.read([one.replace("'", "") for one in typed])))


def test_a_ph_that_is_fine_asks_for_no_base_where_air_is_wanted_or_ammonia_was_not_read():
    garden = GardenFile.open("demo:greenhouse").garden

    def asks(*typed: str) -> bool:
        return wanted(judge(given.read(typed, garden)))

    assert asks("ph=6.7", "kh=30 mg/L CaCO3", "tan=0 N", "temp=14C")
    # The same pH with much alkalinity is carbon dioxide.
    assert not asks("ph=6.7", "kh=90 mg/L CaCO3", "tan=0 N", "temp=14C")
    assert not asks("ph=6.7", "kh=30 mg/L CaCO3", "temp=14C")
    assert not asks("ph=6.7")
    # A pH that is too low asks whatever else was read.
    assert asks("ph=6.0")
    assert asks("ph=6.0", "kh=90 mg/L CaCO3", "tan=0 N", "temp=14C")
