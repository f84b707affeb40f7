"""What holds for any reading: off scale, a worse reading and a sign of the fish are never milder; bases and
counts go there and back."""

import math

from hypothesis import given as for_all
from hypothesis import settings
from hypothesis import strategies as st

from aquacalc import kits
from aquacalc.advice.reading import actions, given, judge
from aquacalc.advice.reading.fish import SIGNS_OFFERED
from aquacalc.cli import reading
from aquacalc.garden.model import KitScale
from aquacalc.judge.levels import URGENCY, reaches, worst
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
    "salt": (0.001, 10.0),
}
BASIS = {"tan": " N", "nitrite": " N", "nitrate": " N", "kh": " mg/L CaCO3"}

fish = st.sampled_from(("warm", "cold", "nile_tilapia", "rainbow_trout", "goldfish"))
readings = st.fixed_dictionaries({}, optional={name: st.floats(*ends) for name, ends in RANGES.items()})


signs = st.lists(st.sampled_from(SIGNS_OFFERED), min_size=1, unique=True)

WORSE = {"tan": 1, "nitrite": 1, "chlorine": 1, "salt": 1, "oxygen": -1, "kh": -1}
"""Parameters that only have one bad side, and which it is."""


CLEAR_BELOW = ("tan", "nitrite", "nitrate", "salt")
"""Of which there is nothing at the lower end, which is fine or short for plants."""


def typed(name: str, value: float, sign: str = "") -> str:
    return f"{name}={sign}{value:.6g}{BASIS.get(name, '')}"


@settings(max_examples=150, deadline=None)
@for_all(st.sampled_from(sorted(RANGES)), st.data(), fish, st.sampled_from("<>"))
def test_off_scale_is_open_and_never_milder_towards_the_worse(
    name: str, data: st.DataObject, kind: str, sign: str
):
    value = data.draw(st.floats(*RANGES[name]))
    if name == "chlorine" and sign == "<":
        return  # nothing was found: not known, and said so
    at_end = judge.judge(given.read([typed(name, value), f"fish={kind}"]))
    beyond = judge.judge(given.read([typed(name, value, sign), f"fish={kind}"]))
    (one,) = beyond.given.measures.values()
    assert (one.low if sign == "<" else one.high) == (-math.inf if sign == "<" else math.inf)
    worse = (1 if sign == ">" else -1) == WORSE.get(name) and not (name == "kh" and value >= 80.0)
    for before, after in zip(at_end.judged, beyond.judged, strict=True):
        # Towards the better side the water may be clean: nobody doses for it, and nobody calls it fine.
        milder = before.level if worse else worst(("not known",) if before.level != "fine" else ())
        assert reaches(after.level, milder) or (name in CLEAR_BELOW and sign == "<")


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
            assert there <= found.given.act_line_mg_l * 1.001
            assert found.given.value("ph") < told["ph"] <= found.given.value("ph") + 0.5


def urgency(pairs: list[str]) -> int:
    """How mild: 0 is an emergency."""
    return URGENCY.index(judge.judge(given.read(pairs)).level)


@settings(max_examples=150, deadline=None)
@for_all(readings, fish, signs, st.floats(4.0, 32.0))
def test_a_sign_never_makes_the_status_milder(
    values: dict[str, float], kind: str, shown: list[str], temperature: float
):
    pairs = [
        *(typed(name, value) for name, value in values.items()),
        f"temp={temperature:.2f}C",
        f"fish={kind}",
    ]
    before = judge.judge(given.read(pairs))
    after = judge.judge(given.read([*pairs, f"signs={','.join(shown)}"]))
    assert URGENCY.index(after.level) <= URGENCY.index(before.level)
    assert URGENCY.index(after.level) <= URGENCY.index("act today")
    for one in before.judged:
        raised = after.of(one.parameter)
        assert raised is not None
        assert URGENCY.index(raised.level) <= URGENCY.index(one.level)
    # One more sign is no milder than fewer of them.
    for fewer in range(1, len(shown)):
        assert URGENCY.index(after.level) <= urgency([*pairs, f"signs={','.join(shown[:fewer])}"])


@settings(max_examples=200, deadline=None)
@for_all(st.sampled_from(sorted(WORSE)), st.data(), readings, fish)
def test_a_worse_reading_is_never_milder(name: str, data: st.DataObject, others: dict[str, float], kind: str):
    # Much alkalinity is a matter of its own.
    ends = (0.1, 79.0) if name == "kh" else RANGES[name]
    low, high = sorted(data.draw(st.floats(*ends)) for _ in range(2))
    better, worse = (low, high) if WORSE[name] > 0 else (high, low)
    if name == "salt" or "salt" in others:
        others.pop("nitrite", None)  # its chloride keeps nitrite from fish
    if name == "kh":
        others.pop("ph", None)  # with pH it tells of carbon dioxide, which falls with it
    rest = [typed(other, value) for other, value in others.items() if other != name]
    pairs = [*rest, "temp=25C", f"fish={kind}"]
    assert urgency([*pairs, typed(name, worse)]) <= urgency([*pairs, typed(name, better)])


@settings(max_examples=150, deadline=None)
@for_all(st.floats(4.0, 10.0), st.floats(4.0, 10.0), fish)
def test_ph_is_never_milder_farther_from_the_working_range(first: float, second: float, kind: str):
    for side in (1, -1):
        near, far = sorted(abs(one - 6.8) for one in (first, second))
        assert urgency([typed("ph", 6.8 + side * far), f"fish={kind}"]) <= urgency(
            [typed("ph", 6.8 + side * near), f"fish={kind}"]
        )


@settings(max_examples=150, deadline=None)
@for_all(st.floats(0.05, 20.0), st.floats(6.0, 9.0), st.floats(0.0, 1.0), st.floats(10.0, 30.0), fish)
def test_ammonia_is_never_milder_at_a_higher_ph_or_in_warmer_water(
    tan: float, ph: float, step: float, temperature: float, kind: str
):
    def found(ph: float, temperature: float) -> int:
        judged = judge.judge(
            given.read([typed("tan", tan), f"ph={ph:.3f}", f"temp={temperature:.2f}C", f"fish={kind}"])
        )
        one = judged.of("unionised_ammonia")
        assert one is not None
        return URGENCY.index(one.level)

    assert found(ph + step, temperature) <= found(ph, temperature)
    assert found(ph, temperature + 10.0 * step) <= found(ph, temperature)


@settings(max_examples=150, deadline=None)
@for_all(
    st.sampled_from((("tan", "NH3"), ("tan", "NH4"), ("nitrite", "NO2"), ("nitrate", "NO3"), ("kh", "dKH"))),
    st.floats(0.01, 50.0),
    fish,
)
def test_a_basis_that_is_typed_goes_there_and_back(basis: tuple[str, str], shown: float, kind: str):
    name, counts = basis
    (one,) = given.read([f"{name}={shown:.6g} {counts}", f"fish={kind}"]).measures.values()
    assert one.scale is not None
    back = kits.as_shown(one.value, one.scale)
    assert back is not None
    assert math.isclose(back, float(f"{shown:.6g}"), rel_tol=1e-9)
    # As N it is the same water, hence the same level.
    inside = f"{one.value:.12g} N" if name != "kh" else f"{one.value:.12g} mg/L CaCO3"
    again = given.read([f"{name}={inside}", f"fish={kind}"])
    assert (
        judge.judge(again).level
        == judge.judge(given.read([f"{name}={shown:.6g} {counts}", f"fish={kind}"])).level
    )


@settings(max_examples=150, deadline=None)
@for_all(
    st.lists(st.floats(0.1, 100.0), min_size=2, max_size=7, unique=True).map(sorted),
    st.sampled_from(("N", "NH3", "NH4")),
    st.data(),
)
def test_a_step_of_a_card_lies_in_what_its_reading_leaves_open(
    steps: list[float], basis: str, data: st.DataObject
):
    scale = KitScale("tan", basis, tuple(steps))
    shown = data.draw(st.sampled_from(steps))
    span, inside = kits.interval_inside(shown, scale), kits.as_inside(shown, scale)
    assert span is not None
    assert inside is not None
    assert span.low <= inside <= span.high
    assert math.isclose(kits.as_shown(inside, scale) or 0.0, shown, rel_tol=1e-9)
    assert span.at_end == (shown in (steps[0], steps[-1]))
