"""A judged reading against the reference's table of levels, a regulation's criteria and a handbook's table.

Each row is one call and what it must give; a level counts 0 for fine, 1 watch, 2 act today, 3 emergency and
-1 for not known; a yes counts 1.
"""

import pytest
from published_rows import hold, ids, rows

from aquacalc.advice.reading import actions, dangers, given, poisons
from aquacalc.advice.reading.action import Action
from aquacalc.advice.reading.actions import Answer
from aquacalc.advice.reading.judge import Judgement
from aquacalc.garden import surroundings
from aquacalc.garden.file import GardenFile
from aquacalc.uncertainty import coefficient, draw

ROWS = rows("reading")
LEVELS = ("not known", "fine", "watch", "act today", "emergency")


def answer(*typed: str, garden: str = "") -> Answer:
    return actions.answer(given.read(typed, GardenFile.open(f"demo:{garden}").garden if garden else None))


def found(*typed: str, garden: str = "") -> Judgement:
    return answer(*typed, garden=garden).judgement


def level(parameter: str, *typed: str) -> int:
    one = found(*typed).of(parameter)
    assert one is not None
    return LEVELS.index(one.level) - 1


def value(parameter: str, *typed: str) -> float:
    one = found(*typed).of(parameter)
    assert one is not None
    return one.value


def warmest(garden: str) -> float:
    """The garden's warmest month of water, by typical coefficients."""
    sampled = draw({name: coefficient(name) for name in surroundings.COEFFICIENTS}, members=1)
    return float(surroundings.water_c(GardenFile.open(f"demo:{garden}").garden, sampled).max())


def action(key: str, *typed: str) -> Action:
    return next(one for one in answer(*typed).actions if one.key == key)


def place(key: str, *typed: str) -> int:
    keys = [one.key for one in answer(*typed).actions]
    return keys.index(key) if key in keys else -1


def before(first: str, second: str, *typed: str) -> bool:
    return 0 <= place(first, *typed) < place(second, *typed)


def expected(name: str, key: str, *typed: str) -> float:
    return next(one.number for one in action(key, *typed).expected if one.name == name)


def grams(key: str, *typed: str) -> float:
    goods = action(key, *typed).goods
    assert goods is not None
    return goods.grams


def share(*typed: str) -> float:
    return poisons.change_share(found(*typed))


def danger(name: str, *typed: str) -> dangers.Warned:
    return next(one for one in answer(*typed).warned if one.danger == name)


def blocked(name: str, *typed: str) -> bool:
    return danger(name, *typed).blocked


def warned(name: str, *typed: str) -> bool:
    return danger(name, *typed).danger == name


def told(name: str, amount: str, *typed: str) -> float:
    return next(one.number for one in danger(name, *typed).finding.amounts if one.name == amount)


def asked(key: str, *typed: str) -> bool:
    return key in [note.key for note in found(*typed).asked]


NAMES = {
    one.__name__: one
    for one in (
        *(level, value, found, warmest, place, before, expected, grams, share),
        *(blocked, warned, told, asked),
    )
}


@pytest.mark.parametrize(("name", "row"), ROWS, ids=ids(ROWS))
def test_row(name: str, row: dict[str, str]):
    hold(row, NAMES)


def test_each_dangerous_action_has_a_row():
    assert {row["id"].split("-")[0] for _, row in ROWS if row["id"].startswith("X")} == {
        f"X{number}" for number in range(1, 10)
    }


def test_each_judged_parameter_has_rows_for_warm_and_for_cold_water():
    for fish in ("warm", "cold"):
        calls = " ".join(row["call"] for _, row in ROWS if f"fish={fish}" in row["call"])
        for parameter in (
            *(
                "oxygen",
                "unionised_ammonia",
                "tan",
                "nitrite",
                "nitrate",
                "ph",
                "alkalinity",
                "carbon_dioxide",
            ),
            *("chlorine", "added_salt"),
        ):
            assert f"level('{parameter}'" in calls, (fish, parameter)
