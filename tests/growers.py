"""Invented growers who start a filter up: bacteria that the forecast does not know, and kits read badly.

Half saturations and decay differ from the typical ones as well, which no member of the forecast has. Kits are
made up.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

import numpy as np

from aquacalc import kits, nitrogen, units
from aquacalc.garden.model import KitScale
from aquacalc.startup import case, members, milestones
from aquacalc.startup.case import Case
from aquacalc.startup.members import Course, Event, Members
from aquacalc.startup.readings import Reading, of_kit
from aquacalc.startup.rule import P1, Rule

FIRST = date(2027, 3, 1)
CASE = case.typed(
    1000.0, 24.0, FIRST, film_m2=125.0, ph=7.6, alkalinity_mg_l=150.0, oxygen_mg_l=7.0, seed="unseeded"
)
"""That of the worked example of the nitrogen reference, section 8."""
FIRST_DOSE = Event(0, "ammonium_salt", 2.8)
SCALES: Mapping[str, KitScale] = {
    "tan": KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2, 2.5, 6.0)),
    "nitrite": KitScale("nitrite", "NO2", (0.0, 0.15, 0.4, 1.0, 3.0)),
}
HIDDEN_SPREAD = 0.35
NOISE = 0.20


def one_of(crowd: Members, place: int) -> Members:
    """One grower of a crowd."""

    def only(value):
        return value[place : place + 1] if np.ndim(value) else value

    k = crowd.kinetics
    steps = {
        name: replace(getattr(k, name), **{key: only(value) for key, value in vars(getattr(k, name)).items()})
        for name in ("ammonia", "nitrite")
    }
    return Members(
        only(crowd.ammonia_start),
        only(crowd.nitrite_start),
        only(crowd.carbon_dioxide_mg_l),
        replace(k, **steps),
    )


def hidden(count: int, seed: int, of: Case = CASE) -> Members:
    """Growers whose half saturations, decay and thirst for oxygen differ as well."""
    drawn = members.draw(of, count, seed)
    typical = nitrogen.Kinetics.typical()
    stream = np.random.default_rng([seed, 17])

    def factor() -> np.ndarray:
        return np.exp(HIDDEN_SPREAD * stream.standard_normal(count))

    a, n = typical.ammonia, typical.nitrite
    ammonia = replace(
        a,
        growth_1_d=drawn.kinetics.ammonia.growth_1_d,
        half_saturation_mg_l=a.half_saturation_mg_l * factor(),
        decay_1_d=a.decay_1_d * factor(),
    )
    nitrite = replace(
        n,
        growth_1_d=drawn.kinetics.nitrite.growth_1_d,
        half_saturation_mg_l=n.half_saturation_mg_l * factor(),
        decay_1_d=n.decay_1_d * factor(),
        half_saturation_oxygen_mg_l=n.half_saturation_oxygen_mg_l * factor(),
    )
    return replace(drawn, kinetics=replace(typical, ammonia=ammonia, nitrite=nitrite))


def read(
    day: int, parameter: str, true_mg_l: float, stream: np.random.Generator, scale: KitScale | None = None
) -> Reading:
    """A kit's reading of a water, 20 % off at a guess, at the nearest step, diluted where it needs to be."""
    scale = scale or SCALES[parameter]
    seen = true_mg_l * np.exp(NOISE * stream.standard_normal())
    dilution = kits.dilution_to_read(seen, scale) or 20
    steps = np.array(scale.steps)
    shown = float(steps[np.abs(steps - kits.as_shown(seen, scale) / dilution).argmin()])
    found = of_kit(day, parameter, shown, scale, dilution)
    assert found is not None
    return found


def readings(course: Course, grower: int, days: Sequence[int], seed: int) -> list[Reading]:
    """What a grower reads of ammonia and nitrite on some days."""
    stream = np.random.default_rng([seed, grower])
    return [
        read(day, name, float(values[day, grower]), stream)
        for day in days
        for name, values in (("tan", course.tan_mg_l), ("nitrite", course.nitrite_mg_l))
    ]


# --- whole logs, some of which hide something ---------------------------------------------------------------

PH_SCALE = KitScale("ph", steps=(6.4, 6.8, 7.2, 7.6, 8.0))
ALKALINITY_SCALE = KitScale("alkalinity", "dkh", drop=1.0)
USUAL = replace(CASE, ph=None, alkalinity_mg_l=120.0)
"""The case as a grower has it: the pH follows from alkalinity."""
EARLIEST_DAY, LATEST_DAY = 20, 45
"""A log is looked at on the day on which it would have been complete without the trouble, within these."""
DELAY_D = 7.0


@dataclass(frozen=True)
class Log:
    """What a grower has written down up to `today`, and what hides behind it."""

    kind: str
    today: int
    readings: tuple[Reading, ...]
    events: tuple[Event, ...]
    delay_d: float


@dataclass(frozen=True)
class Trouble:
    """One strength of a trouble: what is true besides, and what the grower does not do."""

    case: Case = USUAL
    events: tuple[Event, ...] = ()
    rule: Rule = P1


def troubles(kind: str, day: int) -> list[Trouble]:
    """Strengths of a trouble that begins on a day, from weak to strong."""
    water = Event(day, "change", 0.15)
    if kind == "watered":
        return [Trouble(events=(water,))]
    if kind == "chlorine":
        return [
            Trouble(events=(water, Event(day, "kill", left))) for left in (0.5, 0.3, 0.15, 0.08, 0.04, 0.02)
        ]
    if kind == "cold":
        found = []
        for colder_k in (4.0, 6.0, 8.0, 10.0, 12.0, 14.0):
            water_c = np.full(200, 24.0)
            water_c[day : day + 14] -= colder_k
            found.append(Trouble(replace(USUAL, water_c=water_c)))
        return found
    if kind == "acid":
        return [Trouble(replace(USUAL, ph=np.full(1, ph))) for ph in (6.4, 6.2, 6.0, 5.8, 5.6, 5.4)]
    if kind == "soft":
        never = replace(P1, low_alkalinity_mg_l=0.0)
        return [
            Trouble(replace(USUAL, alkalinity_mg_l=left), rule=never)
            for left in (60.0, 45.0, 35.0, 25.0, 15.0)
        ]
    return [Trouble()]


@cache
def crowd() -> Members:
    """From whom the writers of the logs are taken."""
    return hidden(200, 3, USUAL)


def log(kind: str, grower: int) -> Log:
    """A log of a kind.

    `plain`; `watered`: with a change of clean water; `chlorine`: with one that kills; `cold`: two weeks of
    cold water; `acid`: carbon dioxide keeps the pH down; `soft`: alkalinity is used up and nobody adds any;
    `stuck`: a kit that always shows the same; `basis`: nitrite as NO2 written down as N. The troubles of the
    water are as strong as delays completion by seven days or more.
    """
    stream = np.random.default_rng([grower, 29])
    drawn = one_of(crowd(), grower)
    day = int(stream.integers(8, 16))
    alone = _completed(members.run(USUAL, drawn, [FIRST_DOSE], MOST_DAYS, rule=P1))
    today = int(np.clip(alone, EARLIEST_DAY, LATEST_DAY))
    tried = troubles(kind, day)
    for trouble in tried:
        course = members.run(trouble.case, drawn, [FIRST_DOSE, *trouble.events], MOST_DAYS, rule=trouble.rule)
        delay_d = _completed(course) - alone if np.isfinite(alone) else 0.0
        if delay_d >= DELAY_D:
            break
    written = _readings(kind, grower, course, trouble.case, stream, today)
    return Log(kind, today, written, _events(course, trouble, written, today), delay_d)


def _completed(course: Course) -> float:
    return float(milestones.milestones_of(course).complete[0])


def _readings(
    kind: str, grower: int, course: Course, true: Case, stream: np.random.Generator, today: int
) -> tuple[Reading, ...]:
    """Ammonia, nitrite, pH, alkalinity and temperature every other day."""
    stuck = ("tan", 1.2) if grower % 2 else ("nitrite", 0.0)
    written: list[Reading | None] = []
    for day in range(1, today + 1, 2):
        for name, values in (("tan", course.tan_mg_l), ("nitrite", course.nitrite_mg_l)):
            as_shown = units.from_n(1.0, "NO2") if (kind, name) == ("basis", "nitrite") else 1.0
            reading = read(day, name, as_shown * float(values[day, 0]), stream)
            if kind == "stuck" and name == stuck[0]:
                reading = of_kit(day, name, stuck[1], SCALES[name])
            written.append(reading)
        ph = float(course.ph[day, 0]) + 0.15 * stream.standard_normal()
        step = min(PH_SCALE.steps, key=lambda one, ph=ph: abs(one - ph))
        written.append(of_kit(day, "ph", step, PH_SCALE))
        drops = np.ceil(course.alkalinity_mg_l[day, 0] / MG_L_DROP + 0.4 * stream.standard_normal())
        written.append(of_kit(day, "alkalinity", float(max(drops, 0.0)), ALKALINITY_SCALE))
        warm_c = round(case.on_day(true.water_c, day) + 0.3 * stream.standard_normal(), 1)
        written.append(Reading(day, "temperature", warm_c, warm_c, warm_c))
    return tuple(one for one in written if one is not None)


MG_L_DROP = 17.85
MOST_DAYS = 100


def _events(course: Course, trouble: Trouble, written: Sequence[Reading], today: int) -> tuple[Event, ...]:
    """What a log tells: alkalinity that was read, doses, changes of water; never what killed."""
    found = [
        Event(one.day, "alkalinity", max(one.low, 0.0), one.high)
        for one in written
        if one.parameter == "alkalinity"
    ]
    for key, doses in (("ammonium_salt", course.tan_dosed), ("carbonate", course.alkalinity_dosed)):
        found += [Event(day, key, float(dose)) for day, dose in enumerate(doses[: today + 1, 0]) if dose > 0]
    found += [one for one in trouble.events if one.key == "change"]
    return tuple(sorted(found, key=lambda one: one.day))
