"""The fish through their days: feed, growth, losses, what the kitchen takes, when feed is held back."""

from datetime import date, timedelta

import numpy as np
import pytest

from aquacalc import fish
from aquacalc.garden.file import GardenFile
from aquacalc.judge import ration
from aquacalc.season import fishes, wastes
from aquacalc.uncertainty import coefficient, draw

WARM = np.array([28.0])


@pytest.fixture(scope="module")
def yard():
    return GardenFile.open("demo:yard").garden


@pytest.fixture
def kind(yard):
    (found,) = fishes.kinds(yard, drawn(yard))
    return found


def drawn(garden):
    names = {name: coefficient(name) for name in fishes.COEFFICIENTS}
    return draw({**fishes.triangles(garden), **names}, 1)


def stocked(count: float = 40.0, weight_g: float = 100.0) -> fishes.Fishes:
    return fishes.Fishes(np.array([[count]]), np.array([[weight_g]]), np.zeros((1, 1)), ration.top(1))


def day_after(kind, days: int) -> int:
    return kind.arrives + days


def feed(kind, now, day, water_c=28.0, oxygen=7.0, away=1.0, starts=True, yesterday=None):
    at = np.array([water_c])
    before = at if yesterday is None else np.array([yesterday])
    return fishes.fed(day, starts, away, (kind,), now, at, before, np.array([oxygen]))


def test_a_fed_fish_gains_what_the_growth_formula_gives(kind):
    now = stocked()
    given = feed(kind, now, day_after(kind, 60))
    fishes.evening(day_after(kind, 60), (kind,), now, given, WARM)
    expected = fish.weights_g(100.0, kind.tgc, [28.0])[-1]
    assert now.weight_g[0, 0] == pytest.approx(float(expected), rel=1e-12)
    appetite = fish.daily_feed_g(100.0, kind.tgc, 28.0, fish.fcr_at_weight(kind.fcr, 100.0))
    assert given.feed_g[0, 0] == pytest.approx(40.0 * float(appetite[0]))


def test_the_week_keeps_the_ration_of_its_garden_day(kind):
    now = stocked()
    first = feed(kind, now, day_after(kind, 60), water_c=24.0)
    later = feed(kind, now, day_after(kind, 61), water_c=29.0, starts=False, yesterday=28.0)
    assert later.feed_g[0, 0] == pytest.approx(first.feed_g[0, 0])


@pytest.mark.parametrize(
    ("changed", "share"),
    [
        ({"water_c": 33.0}, 0.5),  # above the warm line, half
        ({"water_c": 9.0}, 0.0),  # below the feed stop
        ({"oxygen": 2.0}, 0.0),  # under the critical oxygen
        ({"away": 0.5}, 0.5),
        ({"yesterday": 24.0}, 0.5),  # the water has jumped by 4 C
    ],
)
def test_heat_cold_thin_oxygen_absence_and_jumps_cut_the_feed(kind, changed, share):
    usual = feed(kind, stocked(), day_after(kind, 60), water_c=changed.get("water_c", 28.0))
    satiation = 40.0 * float(
        fish.daily_feed_g(
            100.0,
            kind.tgc,
            fish.growing_temperature_c(changed.get("water_c", 28.0), kind.species),
            fish.fcr_at_weight(kind.fcr, 100.0),
        )[0]
    )
    found = feed(kind, stocked(), day_after(kind, 60), **changed)
    assert found.feed_g[0, 0] == pytest.approx(share * satiation, abs=1e-9)
    assert usual.feed_g[0, 0] <= satiation + 1e-9


def test_new_fish_are_fed_by_quarters(kind):
    shares = []
    for since in range(9):
        now = stocked()
        now.ration_g[:] = 2.0
        shares.append(float(feed(kind, now, day_after(kind, since)).share[0, 0]))
    assert shares == pytest.approx([0.25, 0.25, 0.5, 0.5, 0.5, 0.75, 0.75, 1.0, 1.0])


def test_half_of_the_losses_fall_in_the_first_month(kind):
    now = stocked(count=1000.0)
    given = feed(kind, now, day_after(kind, 0))
    for since in range(fishes.FIRST_MONTH_D + fishes.GROW_OUT_D + 100):
        fishes.evening(day_after(kind, since), (kind,), now, given, WARM)
        if since == fishes.FIRST_MONTH_D - 1:
            month = 1000.0 - now.count[0, 0]
    loss = 1000.0 * float(kind.loss[0])
    assert month == pytest.approx(loss / 2.0, rel=0.05)
    assert 1000.0 - now.count[0, 0] == pytest.approx(loss, rel=0.1)


def test_the_kitchen_takes_only_fish_of_size_and_no_weight_is_lost(kind):
    final = kind.batch.final_weight_g
    small = stocked(weight_g=0.3 * final)
    number, _ = fishes.take(day_after(kind, 60), True, (kind,), small)
    assert number[0, 0] < 0.01
    near = stocked(weight_g=0.95 * final)
    before = float(near.count[0, 0] * near.weight_g[0, 0])
    number, kg = fishes.take(day_after(kind, 60), True, (kind,), near)
    assert 0.0 < number[0, 0] <= kind.week_take
    assert 1000.0 * kg[0, 0] / number[0, 0] >= final - 1e-9
    after = float(near.count[0, 0] * near.weight_g[0, 0])
    assert before - after == pytest.approx(1000.0 * kg[0, 0])


def test_nothing_is_taken_between_garden_days(kind):
    now = stocked(weight_g=2.0 * kind.batch.final_weight_g)
    assert fishes.take(day_after(kind, 60), False, (kind,), now)[0].sum() == 0.0


def test_a_batch_leaves_whole_on_its_day_and_fasts_before(yard):
    from dataclasses import replace

    until = yard.season.start + timedelta(days=150)
    garden = replace(yard, fish=(replace(yard.fish[0], until=until, stocked=date(2027, 4, 10)),))
    (kind,) = fishes.kinds(garden, drawn(garden))
    assert kind.leaves == 150
    assert feed(kind, stocked(), 147).feed_g.sum() > 0.0
    assert feed(kind, stocked(), 148).feed_g.sum() == 0.0
    assert feed(kind, stocked(), 148, water_c=14.5).feed_g.sum() == 0.0
    assert feed(kind, stocked(), 147, water_c=14.5).feed_g.sum() == 0.0
    now = stocked()
    number, kg = fishes.take(150, False, (kind,), now)
    assert number[0, 0] == 40.0
    assert kg[0, 0] == pytest.approx(4.0)
    assert now.count[0, 0] == 0.0


def looked(kind, now, unionised: float, nitrite: float, chloride: float = 20.0) -> float:
    """Share of the ration after a morning's look."""
    fishes.look((kind,), now, np.array([unionised]), np.array([nitrite]), np.array([chloride]))
    return float(now.ladder.share[0])


def test_the_ration_follows_unionised_ammonia_and_nitrite_against_its_chloride(kind):
    assert looked(kind, stocked(), 0.04, 0.5) == 1.0
    assert looked(kind, stocked(), 0.06, 0.0) == 0.8
    assert looked(kind, stocked(), 0.12, 0.0) == 0.25
    assert looked(kind, stocked(), 0.0, 0.9) == 1.0
    assert looked(kind, stocked(), 0.0, 0.9, chloride=2.0) == 0.25
    assert looked(kind, stocked(), 0.2, 0.0) == 0.0
    assert looked(kind, stocked(count=0.0), 0.2, 5.0) == 1.0


def test_fish_get_the_lower_of_what_water_oxygen_and_warmth_allow(kind):
    full = feed(kind, stocked(), day_after(kind, 60)).feed_g.sum()
    now = stocked()
    looked(kind, now, 0.12, 0.0)
    assert feed(kind, now, day_after(kind, 60)).feed_g.sum() == pytest.approx(0.25 * full)
    hot = feed(kind, stocked(), day_after(kind, 60), water_c=33.0).feed_g.sum()
    now = stocked()
    looked(kind, now, 0.06, 0.0)
    assert feed(kind, now, day_after(kind, 60), water_c=33.0).feed_g.sum() == pytest.approx(hot)


# --- hunger, heat, protein ---------------------------------------------------------------------------------


def test_unfed_fish_lose_weight_and_their_nitrogen_comes_out(kind):
    now = stocked(weight_g=500.0)
    given = feed(kind, now, day_after(kind, 60), away=0.0, water_c=20.0)
    assert given.feed_g.sum() == 0.0
    assert given.gain_g[0, 0] == pytest.approx(-500.0 * 0.0015)
    waste = wastes.of_day((kind,), now, given, 0.32, np.zeros(1), everything())
    # 40 fish of 500 g at 20 C: 0.195 g N a day for each 5 kg.
    assert waste.excreted_n_g[0] == pytest.approx(4 * 0.195, rel=1e-6)
    assert waste.solids_n_g[0] == 0.0


def test_nitrogen_of_the_feed_is_in_fish_water_and_solids_whatever_the_conversion(kind):
    now = stocked()
    given = feed(kind, now, day_after(kind, 60))
    for drawn_off in (0.0, 0.7):
        waste = wastes.of_day((kind,), now, given, 0.32, np.array([drawn_off]), everything())
        left = waste.excreted_n_g + waste.solids_n_g + waste.fish_n_g
        fed_n = 0.32 * 0.16 * given.feed_g[0]
        gone = drawn_off * (1.0 - 0.03) * (1.0 - 0.9) * fed_n
        assert left == pytest.approx(fed_n - gone)
    assert waste.fish_n_g == pytest.approx(0.026 * given.gain_g[0] * now.count[0])


def test_fish_gain_no_more_than_the_protein_of_their_feed_allows(yard):
    from dataclasses import replace

    lean = replace(yard, feeds=tuple(replace(bag, protein_pct=10.0) for bag in yard.feeds))
    (kind,) = fishes.kinds(lean, drawn(lean))
    now = stocked()
    given = feed(kind, now, day_after(kind, 60))
    waste = wastes.of_day((kind,), now, given, lean.protein_fraction(), np.zeros(1), everything())
    assert waste.excreted_n_g[0] == pytest.approx(0.15 * 0.016 * given.feed_g[0, 0])


def test_water_beyond_a_lethal_corner_kills(kind):
    now = stocked()
    given = feed(kind, now, day_after(kind, 60))
    hot = np.array([kind.species.lethal_high_c + 1.0])
    dead = fishes.evening(day_after(kind, 60), (kind,), now, given, hot)
    assert dead[0, 0] == pytest.approx(40.0 * 0.55, rel=0.01)


def test_a_grower_never_gives_more_than_they_said(kind):
    now = stocked()
    whole = feed(kind, now, day_after(kind, 60))
    now = stocked()
    at = np.array([28.0])
    given = fishes.fed(day_after(kind, 60), True, 1.0, (kind,), now, at, at, np.array([7.0]), 10.0)
    assert whole.feed_g.sum() > 10.0
    assert given.feed_g.sum() == pytest.approx(10.0)
    assert given.gain_g[0, 0] < whole.gain_g[0, 0]


def everything():
    names = (*fishes.COEFFICIENTS, *wastes.COEFFICIENTS)
    return draw({name: coefficient(name) for name in names}, 1)
