"""What holds for any reading: off scale is open, and never milder than at the end of the scale."""

import math

from hypothesis import given as for_all
from hypothesis import settings
from hypothesis import strategies as st

from aquacalc.advice.finding import URGENCY
from aquacalc.advice.reading import actions, given, judge
from aquacalc.cli import reading
from aquacalc.water import ammonia
from aquacalc.words import Reader

RANGES = {
    "tan": (0.01, 50.0),
    "nitrite": (0.01, 20.0),
    "nitrate": (0.1, 500.0),
    "ph": (4.0, 10.0),
    "oxygen": (0.5, 15.0),
    "kh": (0.1, 300.0),
    "chlorine": (0.01, 5.0),
}
BASIS = {"tan": " N", "nitrite": " N", "nitrate": " N", "kh": " mg/L CaCO3"}

fish = st.sampled_from(("warm", "cold", "nile_tilapia", "rainbow_trout", "goldfish"))
readings = st.fixed_dictionaries({}, optional={name: st.floats(*ends) for name, ends in RANGES.items()})


def typed(name: str, value: float, sign: str = "") -> str:
    return f"{name}={sign}{value:.6g}{BASIS.get(name, '')}"


@settings(max_examples=150, deadline=None)
@for_all(st.sampled_from(sorted(RANGES)), st.data(), fish, st.sampled_from("<>"))
def test_off_scale_is_open_and_never_milder(name: str, data: st.DataObject, kind: str, sign: str):
    value = data.draw(st.floats(*RANGES[name]))
    if name == "chlorine" and sign == "<":
        return  # nothing was found: not known, and said so
    at_end = judge.judge(given.read([typed(name, value), f"fish={kind}"]))
    beyond = judge.judge(given.read([typed(name, value, sign), f"fish={kind}"]))
    (one,) = beyond.given.measures.values()
    assert (one.low if sign == "<" else one.high) == (-math.inf if sign == "<" else math.inf)
    for before, after in zip(at_end.judged, beyond.judged, strict=True):
        assert URGENCY.index(after.level) <= URGENCY.index(before.level)


@settings(max_examples=150, deadline=None)
@for_all(readings, fish, st.floats(4.0, 32.0))
def test_any_reading_gets_an_answer_and_no_base_passes_the_line(
    values: dict[str, float], kind: str, temperature: float
):
    pairs = [typed(name, value) for name, value in values.items()]
    answer = actions.answer(given.read([*pairs, f"temp={temperature:.2f}C", f"fish={kind}", "litres=1000"]))
    found = answer.judgement
    assert not {"nan", "inf"} & set(" ".join(reading.lines(answer, Reader())).split())
    for action in answer.actions:
        if action.goods is not None:
            assert action.goods.grams >= 0.0
        if action.key == "base":
            told = {one.name: one.number for one in (*action.amounts, *action.expected)}
            highest = max(told["ph"], told["settled"])
            there = values["tan"] * float(ammonia.unionised_fraction(highest, found.temperature_c))
            assert there <= judge.act_line(found.given) * 1.001
            assert found.given.value("ph") < told["ph"] <= found.given.value("ph") + 0.5
