from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import plans
import pytest
import seasons
from hand_made_garden import garden
from hand_made_season import FIRST, crop_batch, on, season

from aquacalc.agenda import beds
from aquacalc.garden.model import Away


def after(days: int) -> date:
    return FIRST + timedelta(days=days)


def test_first_and_last_pick_are_those_of_the_tries():
    picked = np.zeros((5, 10))
    for member in range(5):
        picked[member, member] = 1.0  # the first picks on days 0 to 4, the last on day 9
        picked[member, 9] = 2.0
    batch = crop_batch()
    (one,) = beds.beds(season(batches=[batch], crops=[{"picked_kg": picked}]), garden())
    assert one.first is not None
    assert one.last is not None
    assert (one.first.first, one.first.day, one.first.last) == (after(0), after(2), after(4))
    assert (one.last.first, one.last.day, one.last.last) == (after(9),) * 3
    assert (one.kg.low, one.kg.middle, one.kg.high) == (3.0, 3.0, 3.0)
    assert (one.short, one.place, one.batch) == (0.0, 0, batch)


def test_tries_that_pick_nothing_are_left_out_of_the_days_and_counted():
    picked = on(4, [1.0, 1.0, 1.0, 0.0, 0.0])
    (one,) = beds.beds(season(batches=[crop_batch()], crops=[{"picked_kg": picked}]), garden())
    assert one.first is not None
    assert one.first.first == one.first.last == after(4)
    assert one.short == pytest.approx(0.4)
    assert (one.kg.low, one.kg.middle) == (0.0, 1.0)


def test_fewer_than_half_are_no_day():
    picked = on(4, [1.0, 1.0, 0.0, 0.0, 0.0])
    (one,) = beds.beds(season(batches=[crop_batch()], crops=[{"picked_kg": picked}]), garden())
    assert one.first is one.last is None


def test_a_batch_that_most_tries_never_pick_makes_room_on_its_last_day():
    nothing = {"picked_kg": on(4, [1.0, 0.0, 0.0, 0.0, 0.0], 40)}
    (one,) = beds.beds(season(40, batches=[crop_batch(days=20)], crops=[nothing]), garden())
    assert one.cleared == one.ends == after(20)
    (beyond,) = beds.beds(season(40, batches=[crop_batch(days=50)], crops=[nothing]), garden())
    assert (beyond.cleared, beyond.ends) == (None, after(50))


def test_what_is_cut_once_leaves_its_place_by_itself():
    cut = {"picked_kg": on(12, 1.0, 40)}
    (one,) = beds.beds(season(40, batches=[crop_batch("lettuce_leaf", days=30)], crops=[cut]), garden())
    assert one.cut_once
    assert (one.cleared, one.ends) == (None, after(12))
    assert one.days(season(40)) == (0, 13)


def test_a_clearing_is_moved_out_of_an_absence_but_never_before_the_last_pick():
    picked = {"picked_kg": on(10, 1.0, 40)}  # Thursday 11 March; the garden day is Saturday 13 March
    run = season(40, batches=[crop_batch(days=30)], crops=[picked])
    assert beds.beds(run, garden())[0].cleared == after(12)
    away = replace(garden(), away=(Away(after(11), after(20), "a neighbour"),))
    (moved,) = beds.beds(run, away)
    assert moved.cleared is not None
    assert moved.cleared >= after(10)
    assert not after(11) <= moved.cleared <= after(20)


def test_young_plants_are_bought_where_nothing_is_sown():
    bought, sown = crop_batch(), crop_batch(seeds=12)
    standing = crop_batch(state="standing")
    found = beds.beds(season(batches=[bought, sown, standing], crops=[{}, {}, {}]), garden())
    assert [one.bought for one in found] == [True, False, False]


@pytest.mark.parametrize(
    ("picking", "usual", "named"), [(4, 20, False), (3, 20, True), (3, 80, False), (3, None, False)]
)
def test_a_batch_that_often_fails_is_named_unless_the_year_ends(picking: int, usual: int | None, named: bool):
    picked = {"picked_kg": on(20, [1.0] * picking + [0.0] * (5 - picking), 99)}
    batch = crop_batch(first_pick=None if usual is None else after(usual))
    (one,) = beds.beds(season(99, batches=[batch], crops=[picked]), garden())
    assert one.short == pytest.approx(1.0 - picking / 5)
    assert one.may_fail is named


def test_a_garden_without_crops_has_no_batches():
    assert beds.beds(season(), garden()) == ()
    assert beds.lots((), season(), garden()) == ()


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_in_demo_gardens_a_batch_is_picked_while_it_stands_and_makes_room_after_its_last_pick(name: str):
    agenda = plans.of_season(name).agenda
    assert agenda is not None
    picked = [one for one in agenda.beds if one.first is not None and one.last is not None]
    assert picked
    for one in picked:
        assert one.batch.plant <= one.first.first <= one.last.last <= one.ends <= one.batch.leaves
        assert one.cleared is None or one.cleared == one.ends


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_a_lot_weighs_what_its_batches_weigh_together(name: str):
    agenda, run = plans.of_season(name).agenda, seasons.season(name)
    assert agenda is not None
    assert [one for lot in agenda.lots for one in lot.batches] == list(agenda.beds)
    for lot in agenda.lots:
        together = sum(run.crops["picked_kg"][one.place].sum(axis=1) for one in lot.batches)
        assert float(lot.kg.middle) == pytest.approx(float(np.median(together)))
