"""Each answer to a reading, replayed step after step in PHREEQC: no step makes a water worse than it was.

Random waters; after every step the library tells pH closed, at the carbon dioxide that the water held at
first, and well aired. Un-ionised ammonia at that pH (Emerson and others 1975) never comes past a line that
the water had not passed, and where it had passed one never above the start. Kind: library.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
import phreeqpython
import pytest

from aquacalc.advice.reading import actions, given
from aquacalc.advice.reading.action import Action
from aquacalc.advice.reading.actions import Answer

CACO3_MG_MEQ = 50.043
STRONG_AIR = ("air", "nitrite-air", "dioxide", "cool", "chlorine")
"""Actions after which carbon dioxide may be down at what hard bubbling leaves."""
BY_OXYGEN = ("oxygen", "oxygen-watch", "signs-air")
"""All air for want of oxygen is done whatever else it does, and said so."""
STRONG_MG_L, USUAL_MG_L = 3.0, 5.0
BASES = {"potassium_bicarbonate": "KHCO3", "potassium_carbonate": "K2CO3", "calcium_hydroxide": "Ca(OH)2"}
EQUIVALENTS = {"KHCO3": 1, "K2CO3": 2, "Ca(OH)2": 2}
ERROR = 1.04
"""The library's pH differs by 0.01 to 0.015, which is worth so much ammonia."""
PH_LINE, PH_ERROR = 7.8, 0.05
"""From there pH is acted on; so far the library may differ in hard water."""

QUICK, LARGE = 300, 2000


LADDER = ((3.0, 0.0), (2.0, 0.25), (1.5, 0.5), (1.0, 0.8))
"""Most of the ration where un-ionised ammonia stands above so many times its line."""


@cache
def phreeqc() -> phreeqpython.PhreeqPython:
    return phreeqpython.PhreeqPython()


def unionised(tan: float, ph: float, celsius: float) -> float:
    return tan / (1.0 + 10.0 ** (0.09018 + 2729.92 / (celsius + 273.15) - ph))


def solution(celsius: float, ph: float, alkalinity: float) -> phreeqpython.Solution:
    meq = alkalinity / CACO3_MG_MEQ
    ions = {"units": "mmol/kgw", "temp": celsius, "pH": ph, "Alkalinity": f"{meq}", "Na": f"{meq} charge"}
    return phreeqc().add_solution(ions)


@dataclass(frozen=True)
class Case:
    """A water, the new water at hand, and the line of the fish."""

    celsius: float
    ph: float
    alkalinity: float
    tan: float
    nitrite: float
    chlorine: float
    fish: str
    line: float
    new_ph: float
    new_alkalinity: float

    @property
    def typed(self) -> list[str]:
        pairs = [
            f"temp={self.celsius:.2f}C",
            f"ph={self.ph:.3f}",
            f"kh={self.alkalinity:.3f} mg/L CaCO3",
            f"tan={self.tan:.4f} N",
            f"fish={self.fish}",
            "litres=1000",
        ]
        if self.nitrite > 0.0:
            pairs.append(f"nitrite={self.nitrite:.3f} N")
        if self.chlorine > 0.0:
            pairs.append(f"chlorine={self.chlorine:.3f}")
        if self.new_ph > 0.0:
            pairs.append(f"new-water=none, ph {self.new_ph:.2f}, kh {self.new_alkalinity:.1f} mg/L CaCO3")
        return pairs


def cases(count: int, seed: int) -> Iterator[Case]:
    rng = np.random.default_rng(seed)
    made = 0
    while made < count:
        ph, alkalinity = rng.uniform(5.0, 8.8), 10.0 ** rng.uniform(0.3, 2.4)
        dioxide = alkalinity / CACO3_MG_MEQ * 44.0 * 10.0 ** (6.38 - ph)
        if not 0.5 < dioxide < 78.0:
            continue
        made += 1
        fish = str(rng.choice(["warm", "cold", "nile_tilapia", "rainbow_trout", "goldfish"]))
        told = rng.random() < 0.7
        yield Case(
            celsius=rng.uniform(6.0, 32.0),
            ph=ph,
            alkalinity=alkalinity,
            tan=10.0 ** rng.uniform(-1.5, 1.6),
            nitrite=10.0 ** rng.uniform(-1.0, 1.0) if rng.random() < 0.3 else 0.0,
            chlorine=rng.uniform(0.1, 4.0) if rng.random() < 0.1 else 0.0,
            fish=fish,
            line=0.025 if fish in ("cold", "rainbow_trout") else 0.05,
            new_ph=rng.uniform(6.0, 8.5) if told else 0.0,
            new_alkalinity=10.0 ** rng.uniform(0.7, 2.4),
        )


def named(action: Action, name: str) -> float:
    return next(one.number for one in (*action.amounts, *action.expected) if one.name == name)


def ph_at(water: phreeqpython.Solution, dioxide_mg_l: float) -> float:
    """pH once so much free carbon dioxide is left, found by taking carbon dioxide in or out."""
    # Free carbon dioxide goes with its pressure.
    pressure = water.si("CO2(g)") + np.log10(dioxide_mg_l / (water.species["CO2"] * 44009.0))
    copy = water.copy()
    copy.equalize(["CO2(g)"], [pressure])
    assert copy.species["CO2"] * 44009.0 == pytest.approx(dioxide_mg_l, rel=0.01)
    ph = float(copy.pH)
    copy.forget()
    return ph


def stepped(case: Case, action: Action, water: phreeqpython.Solution, tan: float) -> float:
    """Do what an action says to the water of the library; the total ammonia after it."""
    if action.key in ("change", "change-litres", "change-other", "change-other-ph"):
        share = named(action, "share")
        other = action.key.startswith("change-other")
        if case.new_ph > 0.0 and not other:
            new = solution(case.celsius, case.new_ph, case.new_alkalinity)
        else:
            # Asked for: no more pH and alkalinity than the tank has.
            new = solution(case.celsius, case.ph, case.alkalinity)
        mixed = phreeqc().mix_solutions({water: 1.0 - share, new: share})
        water.mixed = mixed  # type: ignore[attr-defined]
        return tan * (1.0 - share)
    if action.key == "base":
        assert action.goods is not None
        formula = BASES[action.goods.chemical]
        water.add(formula, named(action, "rise") / CACO3_MG_MEQ / EQUIVALENTS[formula])
    return tan


def beyond(case: Case, answer: Answer) -> list[str]:
    """Steps after which the water stood past what it may, as the library has it."""
    water = solution(case.celsius, case.ph, case.alkalinity)
    usual = water.species["CO2"] * 44009.0
    aired = {left: min(left, usual) for left in (STRONG_MG_L, USUAL_MG_L)}
    start = unionised(case.tan, case.ph, case.celsius)
    start_at = {left: unionised(case.tan, ph_at(water, left), case.celsius) for left in aired.values()}
    tan, strong, forced, wrong = case.tan, False, False, []
    for action in answer.actions:
        strong |= action.key in STRONG_AIR
        forced |= action.key in BY_OXYGEN
        tan = stepped(case, action, water, tan)
        water = getattr(water, "mixed", water)
        most = max(case.line, start)
        there = {"closed": (water.pH, most), "usual": (ph_at(water, usual), most)}
        wrong += [
            f"{action.key} at {name}: pH {ph:.2f}"
            for name, (ph, _) in there.items()
            if ph > max(PH_LINE, case.ph) + PH_ERROR
        ]
        for left in aired.values():
            # The air that a tank has anyway is no step; all the air on is one.
            drifts = forced or not (strong and left <= STRONG_MG_L)
            there[f"{left:.1f}"] = (ph_at(water, left), max(most, start_at[left]) if drifts else most)
        wrong += [
            f"{action.key} at {name}: {unionised(tan, ph, case.celsius):.4f} past {allowed:.4f}, pH {ph:.2f}"
            for name, (ph, allowed) in there.items()
            if unionised(tan, ph, case.celsius) > allowed * ERROR
        ]
    return wrong


def fed_too_much(case: Case, answer: Answer) -> list[str]:
    """Feed beyond the ladder's level for un-ionised ammonia as reckoned here, kit's error apart."""
    x = unionised(case.tan, case.ph, case.celsius) / case.line / ERROR
    most = next((share for above, share in LADDER if x > above), 1.0)
    return [] if answer.feed.share <= most else [f"feed {answer.feed.share} at X {x:.2f}"]


def replayed(count: int, seed: int) -> tuple[list[str], dict[str, int]]:
    wrong, seen = [], dict[str, int]()
    for case in cases(count, seed):
        answer = actions.answer(given.read(case.typed), draws=1)
        for action in answer.actions:
            seen[action.key] = seen.get(action.key, 0) + 1
        seen["less feed"] = seen.get("less feed", 0) + (answer.feed.share < 1.0)
        found = [*beyond(case, answer), *fed_too_much(case, answer)]
        wrong += [f"{case.typed}: {text}" for text in found]
    return wrong, seen


def test_no_step_of_an_answer_takes_a_water_past_a_line_that_it_had_not_passed():
    wrong, seen = replayed(QUICK, seed=11)
    assert wrong == []
    # The steps that move pH are all among them.
    for key in (
        "change-litres",
        "change-other",
        "air",
        "air-gently",
        "base",
        "base-later",
        "dioxide",
        "less feed",
    ):
        assert seen.get(key, 0) >= 2, (key, seen)


@pytest.mark.slow
def test_no_step_of_many_answers_takes_a_water_past_a_line_that_it_had_not_passed():
    wrong, _ = replayed(LARGE, seed=12)
    assert wrong == []
