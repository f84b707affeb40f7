"""Turning a knob changes that part of the garden and no other."""

from dataclasses import replace

import pytest
from hand_made_garden import garden

from aquacalc.sizing import vary
from aquacalc.sizing.balance import balance
from aquacalc.sizing.vary import Knobs

GARDEN = garden()
NOW = vary.knobs(GARDEN, balance(GARDEN, members=1))


def turned(**wanted: object):
    return vary.turned(GARDEN, NOW, replace(NOW, **wanted), backup_air_l_min=12.0)  # type: ignore[arg-type]


def test_knobs_that_stay_leave_the_garden_as_it_is():
    assert turned() == GARDEN


def test_the_knobs_of_the_turned_garden_stand_where_they_were_turned_to():
    wanted = Knobs(31.0, 600.0, 3.5, 2222.0, 33.0, 75.0, NOW.backup)
    made = vary.turned(GARDEN, NOW, wanted, 12.0)
    found = vary.knobs(made, balance(made, members=1))
    for name in ("fish_count", "final_weight_g", "bed_m2", "flow_l_h", "air_l_min", "biofilter_l"):
        assert getattr(found, name) == pytest.approx(getattr(wanted, name)), name


def test_each_knob_leaves_the_other_parts_alone():
    assert replace(turned(air_l_min=50.0), air=GARDEN.air) == GARDEN
    assert replace(turned(biofilter_l=50.0), biofilter=GARDEN.biofilter) == GARDEN
    assert replace(turned(fish_count=3.0), fish=GARDEN.fish) == GARDEN
    assert replace(turned(flow_l_h=900.0), measured=GARDEN.measured) == GARDEN


def test_a_backup_is_added_and_taken_away():
    without = turned(backup=False)
    assert without.power.backup == "none"
    off = vary.knobs(without, balance(without, members=1))
    again = vary.turned(without, off, replace(off, backup=True), backup_air_l_min=12.0)
    assert (again.power.backup, again.power.backup_air_l_min) == ("battery air", 12.0)


def test_no_batch_is_left_without_a_fish():
    assert min(batch.count for batch in turned(fish_count=0.0).fish) == 1


def test_less_bed_is_taken_off_all_beds_with_their_water_and_plants():
    garden = replace(GARDEN, beds=tuple(replace(bed, water_l=120.0) for bed in GARDEN.beds))
    now = vary.knobs(garden, balance(garden, 1))
    less = vary.turned(garden, now, replace(now, bed_m2=0.1), 0.0)
    assert sum(bed.area_m2 for bed in less.beds) == pytest.approx(0.1)
    share = 0.1 / now.bed_m2
    assert [bed.water_l for bed in less.beds] == pytest.approx([120.0 * share] * len(garden.beds))
    assert [plan.area_m2 for plan in less.crops] == pytest.approx(
        [plan.area_m2 * share for plan in garden.crops]
    )
