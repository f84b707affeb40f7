"""What the grower measured counts: each kind changes what is reckoned, and is told; or says why not."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from small_garden import TEXT

from aquacalc import words
from aquacalc.advice import build, findings, measured
from aquacalc.advice.new_water import water_use
from aquacalc.errors import InputError
from aquacalc.garden import litres, sections, surroundings
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.schedule import crops
from aquacalc.season import from_log, run, setting, start
from aquacalc.season.result import SeasonRun
from aquacalc.sentences import balance as sentences
from aquacalc.sizing import balance, stock
from aquacalc.uncertainty import coefficient, draw

TODAY = date(2027, 3, 10)
FILE = TEXT + '\n[sump]\nvolume = "150 L"\nrim = "240 L"\n\n[[away]]\nstart = 2027-07-01\nend = 2027-07-20\n'


def opened(folder: Path, *entries: str, text: str = FILE) -> Garden:
    path = folder / "garden.toml"
    path.write_text(text + "".join(f"\n[[measured]]\n{entry}\n" for entry in entries), "utf-8")
    return GardenFile.open(path, TODAY).garden


def entry(what: str, value: str, day: str = "", subject: str = "") -> str:
    lines = [f'what = "{what}"', f'value = "{value}"']
    lines += [f"day = {day}"] if day else []
    lines += [f'subject = "{subject}"'] if subject else []
    return "\n".join(lines)


def first_water(garden: Garden) -> Any:
    """Water and ions of a season's first morning, typical values."""
    sampled = draw(run.triangles(garden), 1)
    now = setting.setting_of(garden, (), sampled, 1, anomalies=False, days=2)
    begin = from_log.start(garden, None, None)
    water, ions, _ = start.water(now, begin, start.stock(now, begin))
    return water, ions, now


def carried(garden: Garden) -> float:
    return float(balance.balance(garden, 1).limit("nitrification").feed_g_day.middle[0])


def july_c(garden: Garden) -> float:
    return float(balance.balance(garden, 1).water_c.middle[4])


def demand(garden: Garden) -> float:
    return float(balance.balance(garden, 1).demand.feed_g_day.middle[4])


def weight(garden: Garden) -> float:
    return float(balance.balance(garden, 1).demand.weight_g.middle[4])


def lasts(garden: Garden) -> float:
    (found,) = [one for one in build.of_garden(garden) if one.key == "finding-away-water"]
    return next(one.number for one in found.amounts if one.name == "lasts")


CHANGES: dict[str, tuple[str, Callable[[Garden], float]]] = {
    "flow": ("700 L/h", lambda garden: float(balance.balance(garden, 1).flow_l_h.middle)),
    "ph": ("6.2", carried),
    "alkalinity": ("15 mg/L CaCO3", carried),
    "oxygen": ("4 mg/L", carried),
    "hardness": ("12 dGH", lambda garden: float(first_water(garden)[1]["calcium"][0])),
    "chloride": ("55 mg/L", lambda garden: float(first_water(garden)[1]["chloride"][0])),
    "conductivity": ("1500 uS/cm", lambda garden: float(first_water(garden)[2].ionic_strength[0])),
    "water_temperature": ("27 C", july_c),
    "fish_weight": ("240 g", weight),
    "feed": ("20 g/day", demand),
    "bed_water": ("110 L", lambda garden: litres.litres_of(garden).beds_full),
    "water_use": ("13.5 L/day", lasts),
    "loop_volume": ("900 L", lambda garden: litres.litres_of(garden).whole),
}


def test_each_kind_has_its_place_here_and_there():
    assert set(CHANGES) == set(sections.MEASURED) == set(measured.RECKONED) == set(measured.KINDS)


@pytest.mark.parametrize("what", CHANGES)
def test_a_measurement_changes_what_is_reckoned_and_both_are_told(what: str, tmp_path: Path):
    value, reckoned = CHANGES[what]
    before = opened(tmp_path)
    after = opened(tmp_path, entry(what, value, "2027-05-10" if what in DAYED else ""))
    assert reckoned(after) != pytest.approx(reckoned(before), rel=0.01)
    (counted,) = measured.counted(after)
    assert counted.counts
    (said,) = sentences.measured((counted,), words.Reader())
    assert words.quantity(counted.value, counted.kind, words.Reader()) in said
    if not np.isnan(counted.reckoned):
        assert words.quantity(counted.reckoned, counted.kind, words.Reader()) in said


DAYED = ("water_temperature", "fish_weight", "feed")


@pytest.mark.parametrize("what", DAYED)
def test_what_says_nothing_without_its_day_asks_for_it(what: str, tmp_path: Path):
    with pytest.raises(InputError) as caught:
        opened(tmp_path, entry(what, CHANGES[what][0]))
    assert [(one.key, one.where) for one in caught.value.problems] == [("problem-missing", "measured 1 day")]


@pytest.mark.parametrize(
    ("written", "key", "where"),
    [
        (entry("water_usage", "13 L/day"), "problem-choice", "measured 1 what"),
        ('what = 3\nvalue = "13 L/day"', "problem-choice", "measured 1 what"),
        (entry("water_use", "0 L/day"), "problem-range", "measured 1 value"),
        (entry("bed_water", "600 L"), "problem-range", "measured 1 value"),
        (entry("bed_water", "110 L", subject="tank"), "problem-unknown-name", "measured 1 subject"),
        (entry("fish_weight", "200 g", "2027-02-01"), "problem-weighed-early", "measured 1 day"),
    ],
    ids=["wrong what", "no text", "nothing used", "more than the bed", "not a bed", "before the fish came"],
)
def test_what_cannot_be_is_refused_in_a_sentence(written: str, key: str, where: str, tmp_path: Path):
    with pytest.raises(InputError) as caught:
        opened(tmp_path, written)
    (problem,) = caught.value.problems
    assert (problem.key, problem.where) == (key, where)
    assert words.problem(problem, words.Reader())
    if problem.found == "water_usage":
        assert problem.nearest == "water_use"


def test_two_beds_want_to_know_which_one(tmp_path: Path):
    raft = '[[bed]]\nname = "raft"\nkind = "raft"\narea = "1 m2"\n\n[[fish]]'
    text = FILE.replace("[[fish]]", raft).replace("[[crop]]", '[[crop]]\nbed = "bed"')
    with pytest.raises(InputError) as caught:
        opened(tmp_path, entry("bed_water", "110 L"), text=text)
    assert caught.value.problems[0].where == "measured 1 subject"
    named = opened(tmp_path, entry("bed_water", "110 L", subject="bed"), text=text)
    assert [bed.water_l for bed in named.beds] == [110.0, None]


# --- the season

SPRING = FILE + "\n[season]\nstart = 2027-05-01\nend = 2027-06-09\n"
WITHIN = "2027-05-10"
FIRST_DAY = "2027-05-01"
MOVES = {
    "flow": "ph",
    "ph": "ph",
    "alkalinity": "alkalinity_mg_l",
    "hardness": "calcium_mg_l",
    "chloride": "chloride_mg_l",
    "conductivity": "ph",
    "water_temperature": "water_c",
    "fish_weight": "fish_kg",
    "feed": "feed_g",
    "bed_water": "top_up_l",
    "water_use": "top_up_l",
    "loop_volume": "top_up_l",
}
"""What of the season's days each measurement moves. Oxygen is not among them: it has hours of its own."""


def lived(folder: Path, *entries: str) -> SeasonRun:
    garden = opened(folder, *entries, text=SPRING)
    return run.run(garden, crops.batches(garden), 1, begin=from_log.start(garden, None, None))


@pytest.fixture(scope="module")
def untouched(tmp_path_factory: pytest.TempPathFactory) -> SeasonRun:
    return lived(tmp_path_factory.mktemp("season"))


def test_all_measurements_are_asked_of_the_season():
    assert {*MOVES, "oxygen"} == set(CHANGES)


@pytest.mark.parametrize("what", MOVES)
def test_a_measurement_moves_the_season(what: str, untouched: SeasonRun, tmp_path: Path):
    value = "9 g/day" if what == "feed" else CHANGES[what][0]
    moved = lived(tmp_path, entry(what, value, WITHIN if what in DAYED else FIRST_DAY))
    before, after = untouched.daily[MOVES[what]], moved.daily[MOVES[what]]
    assert np.max(np.abs(after - before)) > 0.003 * np.max(np.abs(before))


@pytest.mark.parametrize("what", sorted(from_log.MEASURED))
def test_what_a_season_begins_with_is_refused_or_told_where_it_came_later(
    what: str, untouched: SeasonRun, tmp_path: Path
):
    late = entry(what, CHANGES[what][0], WITHIN)
    if what != "alkalinity":  # by which the balance of the first morning's filter is struck
        moved = lived(tmp_path, late)
        assert all(np.array_equal(moved.daily[name], values) for name, values in untouched.daily.items())
    (counted,) = measured.counted(opened(tmp_path, late, text=SPRING))
    (said,) = sentences.measured((counted,), words.Reader())
    assert counted.counts == (what not in measured.BEGINS_ONLY)
    assert "Make the plan again from that day on" in said


def test_less_feed_than_the_fish_want_is_fed_from_its_day_on_and_they_grow_by_it(
    untouched: SeasonRun, tmp_path: Path
):
    weighed = lived(tmp_path, entry("feed", "9 g/day", WITHIN))
    day = weighed.day(date.fromisoformat(WITHIN))
    full, part = untouched.daily["feed_g"][0], weighed.daily["feed_g"][0]
    assert np.array_equal(part[:day], full[:day])
    weeks = slice(day, day + 14)  # later the full ration is held back by the filter
    assert np.all((part[weeks] > 0.0) & (part[weeks] < 0.7 * full[weeks]))
    assert weighed.fish["weight_g"][0, 0, -1] < untouched.fish["weight_g"][0, 0, -1]


def test_more_feed_than_the_fish_want_is_not_planned_and_said(untouched: SeasonRun, tmp_path: Path):
    much = entry("feed", "60 g/day", WITHIN)
    assert np.array_equal(lived(tmp_path, much).daily["feed_g"], untouched.daily["feed_g"])
    (counted,) = measured.counted(opened(tmp_path, much, text=SPRING))
    (said,) = sentences.measured((counted,), words.Reader())
    assert "the season feeds what they eat and no more" in said


def test_counted_litres_are_what_the_season_tops_up(tmp_path: Path):
    use = 21.0
    told = lived(tmp_path, entry("water_use", f"{use} L/day", WITHIN))
    # Counted for May, and the season's second month is June.
    assert np.mean(told.daily["top_up_l"][0, 1:31]) == pytest.approx(use, rel=0.15)


def test_more_litres_than_a_loop_can_use_in_a_day_are_refused(tmp_path: Path):
    with pytest.raises(InputError) as caught:
        opened(tmp_path, entry("water_use", "400 L/day", WITHIN))
    (problem,) = caught.value.problems
    assert (problem.key, problem.where) == ("problem-range", "measured 1 value")


def test_fish_weighed_within_the_season_grow_on_from_there(untouched: SeasonRun, tmp_path: Path):
    moved = lived(tmp_path, entry("fish_weight", "90 g", WITHIN))
    day = moved.day(date.fromisoformat(WITHIN))
    before, after = untouched.fish["weight_g"][0, 0], moved.fish["weight_g"][0, 0]
    assert np.array_equal(after[:day], before[:day])
    assert after[day] == 90.0
    assert 90.0 < after[-1] < before[-1]


# --- the thermometer


def water(garden: Garden, members: int = 200) -> np.ndarray:
    sampled = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members)
    return surroundings.water_c(garden, sampled)


def test_more_readings_move_the_water_further_and_narrow_it_more(tmp_path: Path):
    may = 22.0
    none = water(opened(tmp_path))
    one = water(opened(tmp_path, entry("water_temperature", f"{may} C", "2027-05-10")))
    many = water(
        opened(
            tmp_path,
            *(entry("water_temperature", f"{may} C", f"2027-05-{day:02}") for day in (3, 10, 17, 24)),
        )
    )
    miss = [abs(np.median(found[:, 4]) - may) for found in (none, one, many)]
    wide = [np.std(found[:, 4]) for found in (none, one, many)]
    assert miss[0] > miss[1] > miss[2]
    assert wide[0] > wide[1] > wide[2]


def test_readings_of_one_week_count_once(tmp_path: Path):
    one = water(opened(tmp_path, entry("water_temperature", "24 C", "2027-05-12")))
    same = water(
        opened(tmp_path, *(entry("water_temperature", "24 C", f"2027-05-{day}") for day in (11, 12, 13)))
    )
    assert same == pytest.approx(one, abs=0.1)


def test_what_the_heater_holds_does_not_count_and_says_so(tmp_path: Path):
    heated = FILE + '\n[heat]\nheater = "300 W"\nsetpoint = "24 C"\n'
    garden = opened(tmp_path, entry("water_temperature", "24 C", "2027-03-10"), text=heated)
    assert water(garden) == pytest.approx(water(opened(tmp_path, text=heated)))
    (counted,) = measured.counted(garden)
    assert not counted.counts
    (said,) = sentences.measured((counted,), words.Reader())
    assert "does not count" in said


# --- the fish


def test_fish_grow_on_from_their_weighing_and_are_as_before_until_then(tmp_path: Path):
    day = date(2027, 6, 20)
    before = opened(tmp_path)
    after = opened(tmp_path, entry("fish_weight", "90 g", day.isoformat()))
    months = balance.balance(before, 1), balance.balance(after, 1)
    first, second = (found.demand.weight_g.middle for found in months)
    assert second[:3] == pytest.approx(first[:3])
    assert (second[4:] < first[4:]).all()
    sampled = draw(balance.triangles(after), 1)
    usual = np.broadcast_to(24.0, (1, 365))
    name = after.fish[0].name
    assert float(stock.weight_g(after, name, day, usual, sampled)[0]) == pytest.approx(90.0)


@pytest.mark.parametrize("day", ["2027-02-20", "2027-03-01"])
def test_the_season_begins_with_the_weighed_fish(day: str, tmp_path: Path):
    text = FILE.replace('weight = "100 g"', 'weight = "100 g"\nstocked = 2026-09-01') + (
        "\n[season]\nstart = 2027-03-01\n"
    )
    garden = opened(tmp_path, entry("fish_weight", "130 g", day), text=text)
    _, _, now = first_water(garden)
    # February is too cold for these fish to grow.
    assert start.stock(now, from_log.start(garden, None, None)).weight_g[0, 0] == pytest.approx(
        130.0, abs=1.0
    )


def test_weighed_feed_is_what_the_fish_get_from_that_day_on(tmp_path: Path):
    plain = opened(tmp_path)
    garden = opened(tmp_path, entry("feed", "20 g/day", "2027-06-30"))
    (counted,) = measured.counted(garden)
    assert demand(garden) / demand(plain) == pytest.approx(20.0 / counted.reckoned, rel=0.1)
    assert weight(garden) < weight(plain)
    more = opened(tmp_path, entry("feed", "100 g/day", "2027-06-30"))
    assert weight(more) == pytest.approx(weight(plain))  # nobody grows by what is left over
    assert demand(more) == pytest.approx(demand(plain) * 100.0 / counted.reckoned, rel=0.01)


def test_feed_on_a_day_without_fish_does_not_count_and_says_why(tmp_path: Path):
    garden = opened(tmp_path, entry("feed", "20 g/day", "2026-12-15"))
    assert demand(garden) == pytest.approx(demand(opened(tmp_path)))
    (counted,) = measured.counted(garden)
    assert not counted.counts


# --- water that is used, and the sump


def test_counted_litres_set_the_month_of_counting(tmp_path: Path):
    july = opened(tmp_path, entry("water_use", "31 L/day", "2027-07-10"))
    found, usual = water_use.of_garden(july).whole_l_d, water_use.of_garden(opened(tmp_path)).whole_l_d
    assert found.low[6] < 31.0 < found.high[6]
    assert found.middle[0] / found.middle[6] == pytest.approx(usual.middle[0] / usual.middle[6], rel=0.1)


def test_the_sump_has_to_take_the_tanks_own_drop(tmp_path: Path):
    text = FILE.replace('rim = "240 L"', 'rim = "600 L"')
    told = {
        drop: [
            (one.key, [amount.number for amount in one.amounts if amount.name == "drains"])
            for one in findings.of_both(garden, balance.balance(garden, 1))
            if one.key.startswith("finding-sump")
        ]
        for drop in ("0 mm", "300 mm")
        for garden in [
            opened(tmp_path, text=text.replace('depth = "0.8 m"', f'depth = "0.8 m"\ndrop = "{drop}"'))
        ]
    }
    assert told["0 mm"] == []
    ((key, (drains,)),) = told["300 mm"]
    assert key == "finding-sump-overflows"
    assert drains > 1250.0 * 0.3  # 1000 L, 0.8 m deep: 1.25 m2


def test_the_sump_takes_the_water_of_the_bed_as_measured(tmp_path: Path):
    few = opened(tmp_path, entry("bed_water", "60 L"))
    assert not [one for one in build.of_garden(few) if one.key == "finding-sump-overflows"]
    assert [one for one in build.of_garden(opened(tmp_path)) if one.key == "finding-sump-overflows"]
