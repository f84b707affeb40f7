"""When readings and the model contradict each other: what is likely wrong, and what to test next.

Each doubt is another story of the same readings: a variant of the case, of the readings, or something that
happened. Told by the same ensemble, it is as good as the readings are likely under it, on the mean of all its
members, against the plain story. What the log says outright (alkalinity used up, a pH at the bottom of its
card, water colder than expected) counts as it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import exp, inf, log
from typing import Literal

import numpy as np

from aquacalc import units
from aquacalc.startup import members as ensemble
from aquacalc.startup.case import Case, on_day
from aquacalc.startup.members import Course, Event, Members
from aquacalc.startup.readings import JUDGED, SPREAD, Parameter, Reading, log_likelihoods, log_of, measured
from aquacalc.uncertainty import SEED, Floats

DoubtKey = Literal["basis", "stuck", "chlorine", "acid", "soft", "cold", "unexplained"]
TestKey = Literal["standard", "chlorine", "ph", "alkalinity", "temperature", "all"]

NEXT_TEST: dict[DoubtKey, TestKey] = {
    "basis": "standard",
    "stuck": "standard",
    "chlorine": "chlorine",
    "acid": "ph",
    "soft": "alkalinity",
    "cold": "temperature",
    "unexplained": "all",
}
"""What tells a doubt from the plain story. standard: a solution of known content, read with the same kit."""

MEMBERS = 1000
"""Fewer leave holes between the members, into which another story fits by chance."""
FEWEST_READINGS, SHORTEST_DAYS = 6, 6
"""Fewer readings of ammonia and nitrite, or a shorter span of days, contradict nothing."""
SLIP = 0.01
"""No single reading counts for less: one in a hundred is a slip of pen or eye, whatever it says."""

LEAST: dict[DoubtKey, float] = {
    "basis": 6.0,
    "stuck": 6.0,
    "chlorine": 7.0,
    "acid": 7.0,
    "cold": 7.0,
    "soft": 7.0,
    "unexplained": 12.0,
}
"""Scores from which a doubt is told: set on invented logs, of which at most one in ten without any trouble is
doubted (a slow test counts them; our own choice)."""
LEAST_AFTER_WATER = 1.5
"""The same for chlorine on the morning of a change of water from a tap that may hold some."""
DIRECT = 10.0
"""Score of what the log says outright."""

SOFT_MG_L = 55.0
"""Alkalinity at which the steps slow down by three tenths, by the half saturation of 25 mg/L; practice keeps
80 to 150."""
ACID_PH = 6.4
"""At it the steps run at seven tenths, and at 6.0 at half."""
COLD_K, COLD_DAYS = 3.0, 5
"""Water so much colder than expected through so many days."""
LAST_READINGS = 3

IONS: dict[Parameter, str] = {"tan": "NH4", "nitrite": "NO2"}
"""Readings that weigh the members, and the ion that a card may count instead of nitrogen."""

SURVIVORS = (0.3, 0.05)
"""Shares of the bacteria that chlorine may leave."""
EVERY_DAYS = 4
"""Mornings that are tried for something that nobody wrote down."""
ACID_STEPS = (-0.8, -1.4)
COLD_STEPS_K = (-4.0, -8.0)
SAME_SHARE, OTHER_SHARE = 0.9, 0.02
"""Chance that a kit which is stuck shows what it always shows, and any other step."""


@dataclass(frozen=True)
class Doubt:
    """One story that explains the readings better.

    score: by how much, as the logarithm of the ratio of likelihoods, or `DIRECT`. direct: the log says so
    outright. parameter: of the readings that are in doubt; day: on which it happened or began; amount: factor
    on the readings (`basis`), the reading that does not move (`stuck`), the share that survived (`chlorine`),
    pH (`acid`), mg/L (`soft`), K (`cold`); None where there is none.
    """

    key: DoubtKey
    score: float
    next_test: TestKey
    direct: bool = False
    parameter: Parameter | None = None
    day: int | None = None
    amount: float | None = None


Story = tuple[Doubt, Floats]
"""A doubt without its score, and the likelihoods of every reading under it, (readings, members)."""


def doubts_of(
    case: Case,
    readings: Sequence[Reading],
    events: Sequence[Event],
    today: int,
    *,
    chlorinated: bool = True,
    members: int = MEMBERS,
    seed: int = SEED,
) -> tuple[Doubt, ...]:
    """What may be wrong, the likeliest first; empty where nothing contradicts.

    case: as it was expected, before temperatures and pH were read. chlorinated: whether the water that is
    added may hold chlorine.
    """
    known = [one for one in readings if one.day <= today]
    happened = tuple(one for one in events if one.day <= today)
    found = list(_direct(case, known))
    judged = [one for one in known if one.parameter in JUDGED]
    days = [one.day for one in judged]
    if len(judged) >= FEWEST_READINGS and max(days) - min(days) >= SHORTEST_DAYS:
        said = {one.key for one in found}
        by_fit = _by_fit(case, known, judged, happened, chlorinated, members, seed)
        found += [one for one in by_fit if one.key not in said]
    return tuple(sorted(found, key=lambda one: -one.score))


# --- what the log says outright ----------------------------------------------------------------------------


def _direct(case: Case, readings: Sequence[Reading]) -> list[Doubt]:
    found = []
    soft = [one for one in readings if one.parameter == "alkalinity"]
    if soft and soft[-1].value <= SOFT_MG_L:
        found.append(_outright("soft", "alkalinity", soft[-1].day, soft[-1].value))
    acid = [one for one in readings if one.parameter == "ph"][-LAST_READINGS:]
    low = [one for one in acid if one.low == -inf or one.value <= ACID_PH]
    if acid and 2 * len(low) > len(acid):
        found.append(_outright("acid", "ph", low[0].day, low[-1].value))
    cold = _colder(case, readings)
    if cold is not None:
        found.append(cold)
    return found


def _outright(key: DoubtKey, parameter: Parameter, day: int, amount: float) -> Doubt:
    return Doubt(key, DIRECT, NEXT_TEST[key], direct=True, parameter=parameter, day=day, amount=amount)


def _colder(case: Case, readings: Sequence[Reading]) -> Doubt | None:
    """The coldest span of readings against the water that was expected."""
    read = [one for one in readings if one.parameter == "temperature"]
    less = [on_day(case.water_c, one.day) - one.value for one in read]
    spans = []
    for first in range(len(read)):
        last = next(
            (at for at in range(first, len(read)) if read[at].day - read[first].day >= COLD_DAYS), None
        )
        if last is not None:
            spans.append((float(np.mean(less[first : last + 1])), read[first].day))
    if not spans or max(spans)[0] < COLD_K:
        return None
    kelvin, day = max(spans)
    return _outright("cold", "temperature", day, kelvin)


# --- other stories -----------------------------------------------------------------------------------------


def _by_fit(
    case: Case,
    readings: Sequence[Reading],
    judged: Sequence[Reading],
    events: tuple[Event, ...],
    chlorinated: bool,
    members: int,
    seed: int,
) -> list[Doubt]:
    """Doubts by how likely the readings are under them."""
    case = measured(case, readings)
    drawn = ensemble.draw(case, members, seed)
    until = max(one.day for one in judged)

    def run(other: Case, extra: tuple[Event, ...] = (), before: Course | None = None, day: int = 0) -> Course:
        whole = sorted((*events, *extra), key=lambda one: one.day)
        return ensemble.run(other, drawn, whole, until, before=before, from_day=day)

    plain = run(case)
    told = log_likelihoods(plain, judged)
    base = evidence(told)
    found = [
        *_best(base, _wrong_bases(plain, judged), "basis"),
        *_stuck(base, told, judged),
        *_chlorine(base, plain, case, judged, events, chlorinated, run),
    ]
    logged = {one.parameter for one in readings}
    if "ph" not in logged:
        found += _best(base, _more_acid(case, plain, drawn, judged, run), "acid")
    if "temperature" not in logged:
        found += _best(base, _colder_throughout(case, judged, run), "cold")
    if not found:
        found += _unexplained(base, judged)
    return found


def evidence(told: Floats) -> float:
    """Logarithm of the likelihood of all readings, on the mean of the members; slips are allowed for."""
    each = np.maximum(told, log(SLIP)).sum(axis=0)
    top = float(each.max())
    return top + log(float(np.exp(each - top).mean()))


def _best(base: float, stories: Sequence[Story], key: DoubtKey) -> list[Doubt]:
    """The best of the stories, if it is told at all. All of them share the key's own prior alike."""
    scores = [evidence(told) - base for _, told in stories]
    best = max(range(len(scores)), key=scores.__getitem__)
    if scores[best] < LEAST[key]:
        return []
    return [replace(stories[best][0], score=scores[best])]


def _wrong_bases(plain: Course, judged: Sequence[Reading]) -> list[Story]:
    """Readings that count something else than was taken: an ion for nitrogen, or the other way round."""
    stories = []
    for parameter, ion in IONS.items():
        for factor in (units.as_n(1.0, ion), units.from_n(1.0, ion)):
            stories.append(
                (
                    Doubt("basis", 0.0, NEXT_TEST["basis"], parameter=parameter, amount=factor),
                    log_likelihoods(plain, _times(judged, parameter, factor)),
                )
            )
    return stories


def _times(judged: Sequence[Reading], parameter: str, factor: float) -> list[Reading]:
    return [
        replace(one, low=one.low * factor, high=one.high * factor, value=one.value * factor)
        if one.parameter == parameter
        else one
        for one in judged
    ]


def _stuck(base: float, told: Floats, judged: Sequence[Reading]) -> list[Doubt]:
    """A kit that shows the same whatever there is; the other one alone tells of the water."""
    found = []
    for parameter in IONS:
        of_it = np.array([one.parameter == parameter for one in judged])
        values = [one.value for one in judged if one.parameter == parameter]
        if len(values) < FEWEST_READINGS // 2 or not (~of_it).any():
            continue
        usual = max(sorted(set(values)), key=values.count)
        same = values.count(usual)
        by_kit = same * log(SAME_SHARE) + (len(values) - same) * log(OTHER_SHARE)
        score = evidence(told[~of_it]) + by_kit - base
        if score >= LEAST["stuck"]:
            found.append(Doubt("stuck", score, NEXT_TEST["stuck"], parameter=parameter, amount=usual))
    return found


def _chlorine(
    base: float,
    plain: Course,
    case: Case,
    judged: Sequence[Reading],
    events: tuple[Event, ...],
    chlorinated: bool,
    run: Callable[[Case, tuple[Event, ...], Course | None, int], Course],
) -> list[Doubt]:
    """Bacteria that were killed on some morning: on one with new water first of all."""
    first, last = min(one.day for one in judged), max(one.day for one in judged)
    watered = sorted({one.day for one in events if one.key == "change" and one.day < last})
    # Water may have been added on any morning, and not every one is written down.
    for days, least in (
        (watered if chlorinated else [], LEAST_AFTER_WATER),
        (list(range(first + EVERY_DAYS, last - 1, EVERY_DAYS)), LEAST["chlorine"]),
    ):
        tried = []
        for day in days:
            for left in SURVIVORS:
                killed = run(case, (Event(day, "kill", left),), plain, day)
                tried.append((evidence(log_likelihoods(killed, judged)) - base, day, left))
        if not tried:
            continue
        best = max(tried)
        # All of them share one prior.
        score = best[0] + log(sum(exp(one[0] - best[0]) for one in tried) / len(tried))
        if score >= least:
            return [Doubt("chlorine", score, NEXT_TEST["chlorine"], day=best[1], amount=best[2])]
    return []


def _more_acid(
    case: Case, plain: Course, drawn: Members, judged: Sequence[Reading], run: Callable[[Case], Course]
) -> list[Story]:
    """A pH below what follows from alkalinity and carbon dioxide."""
    usual = np.median(plain.ph, axis=1)
    return [
        (
            Doubt("acid", 0.0, NEXT_TEST["acid"], amount=float(np.mean(usual + step))),
            log_likelihoods(run(replace(case, ph=usual + step)), judged),
        )
        for step in ACID_STEPS
    ]


def _colder_throughout(case: Case, judged: Sequence[Reading], run: Callable[[Case], Course]) -> list[Story]:
    """Water that is colder than expected from the first day on."""
    return [
        (
            Doubt("cold", 0.0, NEXT_TEST["cold"], amount=-step),
            log_likelihoods(run(replace(case, water_c=np.maximum(case.water_c + step, 1.0))), judged),
        )
        for step in COLD_STEPS_K
    ]


def _unexplained(base: float, judged: Sequence[Reading]) -> list[Doubt]:
    """Readings that no story makes likely: against the most that any water could make of them."""
    score = float(np.sum(best_likelihoods(judged))) - base - USUAL_MISFIT * len(judged)
    if score < LEAST["unexplained"]:
        return []
    return [Doubt("unexplained", score, NEXT_TEST["unexplained"])]


USUAL_MISFIT = 0.5
"""What a reading falls short of the most that it could be, in logs without trouble."""


def best_likelihoods(judged: Sequence[Reading]) -> Floats:
    """Logarithm of the likelihood of each reading in the water that makes it likeliest, (readings,)."""
    from scipy.special import ndtr

    half = np.array([0.5 * (log_of(one.high) - log_of(one.low)) for one in judged]) / SPREAD
    found: Floats = np.log(np.maximum(2.0 * ndtr(half) - 1.0, SLIP))
    return found
