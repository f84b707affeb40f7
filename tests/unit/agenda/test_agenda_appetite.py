"""A day's feed by the weight of a fish and the temperature of the water."""

from datetime import date

import plans
import pytest
import seasons

from aquacalc import fish, units
from aquacalc.agenda import appetite


def of_month(garden: str, month: int) -> tuple[appetite.Appetite, ...]:
    agenda = plans.of_season(garden).agenda
    assert agenda is not None
    return next(found for first, found in agenda.appetites.items() if first.month == month)


def test_catfish_eat_what_the_ration_formula_says():
    # 40 catfish of 170 g in 26 C, at the typical growth and feed conversion of their species.
    of = fish.species("channel_catfish")
    pct = float(fish.ration_pct(170.0, of.tgc.typical, 26.0, fish.fcr_at_weight(of.fcr.typical, 170.0)))
    batch = plans.of_season("yard").garden.fish[0]
    assert batch.species == "channel_catfish"
    grams = appetite._eaten_g(batch, 40, 170.0, appetite._temperatures(26.0, "metric"))
    # The middle of skewed triangles lies a little beside their typical corner.
    assert grams[1][2] == pytest.approx(40 * 170.0 * pct / 100.0, rel=0.07)


def test_the_temperatures_are_round_where_they_are_read_and_two_degrees_apart():
    assert list(appetite._temperatures(23.2, "metric")) == [20.0, 22.0, 24.0, 26.0, 28.0]
    read = [units.unit("f").from_base(float(one)) for one in appetite._temperatures(23.2, "us")]
    # 23.2 C are 73.8 F.
    assert read == pytest.approx([64.0, 68.0, 72.0, 76.0, 80.0], abs=1e-9)


@pytest.mark.parametrize("garden", seasons.DEMOS)
def test_heavier_fish_eat_more_nobody_eats_past_the_ends_and_the_loop_carries_it(garden: str):
    plan = plans.of_season(garden)
    assert plan.agenda is not None
    assert plan.season is not None
    species = {batch.name: fish.species(batch.species) for batch in plan.garden.fish}
    cells = 0
    for found in plan.agenda.appetites.values():
        for one in found:
            assert all(
                a <= b + 1e-9
                for light, heavy in zip(one.grams, one.grams[1:], strict=False)
                for a, b in zip(light, heavy, strict=True)
            )
            for place, water_c in enumerate(one.water_c):
                feeds = bool(fish.eats(water_c, species[one.batch]))
                assert all((row[place] > 0.0) is feeds for row in one.grams)
                cells += 1
    assert cells
    for first, found in plan.agenda.appetites.items():
        last = date(first.year, first.month, 28)
        cap = plan.agenda.cap_g_day(first, max(first, last))
        if cap is not None and found:
            for row in range(len(appetite.WEIGHT_SHARES)):
                for place in range(appetite.COLUMNS):
                    assert sum(one.grams[row][place] for one in found) <= cap * (1.0 + 1e-9)


def test_fish_in_water_that_is_too_warm_get_half():
    batch = plans.of_season("yard").garden.fish[0]
    of = fish.species(batch.species)
    warm = appetite._eaten_g(batch, 1, 170.0, of.warm_limit_c + appetite._temperatures(0.0, "metric") / 4.0)
    assert 0.0 < warm[1][3] < 0.6 * warm[1][2]


def test_batches_that_get_the_same_share_a_table():
    one = appetite.Appetite("a", 3, (1.0, 2.0, 3.0), (20.0,), ((1.0,), (2.0,), (3.0,)))
    other = appetite.Appetite("b", 3, (1.0, 2.0, 3.0), (20.0,), ((1.0,), (2.0,), (3.0,)))
    more = appetite.Appetite("c", 4, (1.0, 2.0, 3.0), (20.0,), ((1.0,), (2.0,), (3.0,)))
    assert [names for names, _ in appetite.alike((one, more, other))] == [("a", "b"), ("c",)]
    assert of_month("yard", 1) == ()
