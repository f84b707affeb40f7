"""The season's own hourly step on the worked start-ups, and whole seasons against what others measured."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import seasons
import start_ups
from published_rows import hold, ids, rows
from yard import yard

from aquacalc import fish, nitrogen
from aquacalc.garden import litres
from aquacalc.judge import ration
from aquacalc.nitrogen import Kinetics
from aquacalc.season import fishes, hour, setting
from aquacalc.season.run import triangles
from aquacalc.uncertainty import Floats, coefficient, draw

TABLES = ("start_up", "season")
ROWS = rows(*TABLES)

# The hourly step


def start(what: str) -> float:
    """Speeds and bounds of the first hour of worked example A."""
    k = Kinetics.typical()
    driven, water = start_ups.hour(25.0), start_ups.begin(3.0, 150.0, 0.003)
    now = hour.speeds(water, driven, start_ups.rates(), hydrogen=10.0**-7.5)
    # The second step has nothing to do yet: its speed is its factor times capacity over half saturation.
    # So young a film adds next to nothing to the half saturation.
    phi_first = now.nitritation / 0.003 * (k.ammonia.half_saturation_mg_l + 3.0)
    phi_second = now.nitratation / 0.003 * k.nitrite.half_saturation_mg_l
    return {
        "r1": now.nitritation * water.tan_g,
        "ammonia": phi_first,
        "nitrite": phi_second,
        "ammonia_most": driven.ammonia_most_g_d,
        "nitrite_most": driven.nitrite_most_g_d,
        "ammonia_transfer": driven.ammonia_transfer_m3_d,
        "nitrite_transfer": driven.nitrite_transfer_m3_d,
    }[what]


def late_d(name: str, day: int, what: str, printed: float) -> float:
    """Days by which the hourly step passes a falling value late, by its last hour's fall."""
    before, now = (start_ups.READ[what](start_ups.course(name)[24 * day - back]) for back in (1, 0))
    return (now - printed) / (before - now) / 24.0


def whole_nitrogen(name: str, day: int) -> float:
    """Nitrogen in the water and in cells, mg/L."""
    held = seasons.held(start_ups.course(name)[24 * day], start_ups.rates())
    return float(held["nitrogen"])


# Water and nitrogen of whole seasons


def top_up_pct_d(name: str) -> float:
    """Water topped up, per cent of the loop's water a day, mean of the year."""
    topped_up = seasons.by_day(seasons.middle(name), "top_up_l")
    return 100.0 * float(topped_up.mean()) / litres.litres_of(seasons.garden(name)).whole


def shares(name: str) -> dict[str, float]:
    """Where the nitrogen of a year's feed went, as shares of it; `nitrate`: what the water gained."""
    garden, run = seasons.garden(name), seasons.middle(name)
    feed_g = nitrogen.feed_nitrogen_g_day(
        float(seasons.by_day(run, "feed_g").sum()), garden.protein_fraction()
    )
    first, last = run.waters[run.before], run.waters[-1]
    uneaten, digested = (
        coefficient(one).typical for one in ("feed_n_uneaten_share", "digested_nitrogen_share")
    )
    given_off = float(seasons.by_day(run, "excreted_g").sum()) / feed_g
    return {
        # What was digested and did not come out again.
        "fish": (1.0 - uneaten) * digested - given_off,
        "crops": float(seasons.by_day(run, "taken_up_g").sum()) / feed_g,
        "gas": float(seasons.by_day(run, "denitrified_g").sum()) / feed_g,
        "nitrate": (last.nitrate_g - first.nitrate_g) / feed_g,
    }


def recovered(name: str) -> float:
    """Share of the feed's nitrogen in fish and crops."""
    found = shares(name)
    return found["fish"] + found["crops"]


# Fish


@cache
def evenings(key: str, weight_g: float, tgc: float, temperatures_c: tuple[float, ...]) -> Floats:
    """Weight after every evening of the season's own fish, fed all that they want."""
    batch = replace(
        yard().fish[0],
        species=key,
        weight_g=weight_g,
        final_weight_g=5000.0,
        stocked=yard().season.start,
        eaten=True,
    )
    garden = replace(yard(), fish=(batch,))
    sampled = dict(draw(triangles(garden), 1))
    sampled |= {f"fish.{key}.tgc": np.array([tgc]), f"fish.{key}.loss": np.array([0.0])}
    kinds = fishes.kinds(garden, sampled)
    stock = fishes.Fishes(
        np.full((1, 1), 20.0), np.full((1, 1), float(weight_g)), np.zeros((1, 1)), ration.top(1)
    )
    found = [weight_g]
    for day, water_c in enumerate(temperatures_c):
        at = np.array([water_c])
        warm = np.array([fish.effective_temperature_c(at, kinds[0].species.corners)])
        gain = fish.daily_gain_g(stock.weight_g, tgc, warm)
        fishes.evening(day, kinds, stock, fishes.Fed(0.0 * gain, 0.0 * gain + 1.0, gain), at)
        found.append(float(stock.weight_g[0, 0]))
    return np.array(found)


def thirty_days(*temperatures_c: float) -> tuple[float, ...]:
    return tuple(np.repeat(temperatures_c, 30).tolist())


A_WATER = thirty_days(21, 24, 27, 28, 25, 20)
B_WATER = thirty_days(14, 11, 8, 6, 5, 7, 10, 13, 17, 20)
C_WATER = tuple((22 + 8 * np.sin(2 * np.pi * (np.arange(365) - 100) / 365)).tolist())

NAMES = {
    "A_WATER": A_WATER,
    "B_WATER": B_WATER,
    "C_WATER": C_WATER,
    "day_of": start_ups.day_of,
    "evenings": evenings,
    "example": start_ups.example,
    "falls_through": start_ups.falls_through,
    "late_d": late_d,
    "peak": start_ups.peak,
    "quick_estimate_d": start_ups.quick_estimate_d,
    "recovered": recovered,
    "start": start,
    "steady": start_ups.steady,
    "top_up_pct_d": top_up_pct_d,
    "whole_nitrogen": whole_nitrogen,
}


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, NAMES)


# Where a season lies outside what others found, and why


def test_the_greenhouse_tops_up_less_than_the_handbook_says_for_it_is_cool_and_has_little_bed():
    garden = seasons.garden("greenhouse")
    assert top_up_pct_d("greenhouse") < 1.0
    # The handbook's 1 to 3 % belong to some 3 m2 of bed on a cubic metre that drink 4 mm a day (FAO589:3.4).
    assert sum(bed.area_m2 for bed in garden.beds) / litres.litres_of(garden).whole < 0.7 * 3.0 / 1000.0
    under_glass = setting.setting_of(garden, (), draw(triangles(garden), 1), 1, anomalies=False).sky.et0_mm_d
    assert under_glass.mean() < 0.5 * 4.0
    assert all(tank.lid for tank in garden.tanks)


def test_beds_that_are_large_for_the_feed_recover_more_than_the_trial():
    """Half of the feed's nitrogen got into fish and crops there (ZOU16); here crops want more than that."""
    for name in ("greenhouse", "classroom"):
        found, garden = shares(name), seasons.garden(name)
        assert recovered(name) > 0.509
        feed_g_m2_d = seasons.by_day(seasons.middle(name), "feed_g").mean() / sum(
            bed.area_m2 for bed in garden.beds
        )
        # Less feed than the leanest rule for leafy beds (13 to 20 g/m2/d, LEN); little of it gathers as
        # nitrate.
        assert feed_g_m2_d < 13.0
        assert found["nitrate"] < 0.1


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom"])
def test_a_loop_whose_filter_is_large_enough_never_leaves_the_full_ration(name: str):
    assert (seasons.by_day(seasons.middle(name), "ration") == 1.0).all()


def test_an_overloaded_loop_is_fed_by_levels_and_hardly_ever_not_at_all():
    """A hold of all or nothing flips from day to day there; the ladder settles on a level that is carried."""
    garden = seasons.garden("greenhouse")
    crowded = replace(garden, fish=tuple(replace(batch, count=6 * batch.count) for batch in garden.fish))
    ration = seasons.by_day(seasons.simulated(crowded, 200), "ration")
    assert 0.2 < ration.mean() < 0.9
    assert (ration == 0.0).mean() < 0.1
    assert (np.diff(ration) != 0.0).sum() < 50
