"""All members of a start-up at once: what is not known of them, and their course day by day.

The kinetics and the hourly step are those of the season. A cubic metre stands for the loop, so that grams are
mg/L; its film is the loop's by the litre. Oxygen is held where the case has it, and the pH is logged or
follows from alkalinity and carbon dioxide. Everything is mg/L, nitrogen as N, alkalinity as CaCO3.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from statistics import NormalDist
from typing import Literal

import numpy as np

from aquacalc import film, nitrogen
from aquacalc.constants import Numbers
from aquacalc.season import hour
from aquacalc.season.hour import HOURS, Hour, Rates, Water
from aquacalc.startup.case import SEEDS, Case, on_day
from aquacalc.startup.rule import Rule, look
from aquacalc.uncertainty import SEED, Floats, coefficient, probabilities, quantile
from aquacalc.water import ammonia, carbonate

MEMBERS = 2000
GROWTH_SPREAD = {"ammonia": 0.20, "nitrite": 0.25}
"""Spread of the logarithm of the factor on growth, by step (nitrogen reference, section 8; practice)."""
HIDDEN_SPREAD = 0.25
"""Spread of the logarithm of what no reading tells apart: half saturations, decay, the second step's need of
oxygen. Without it a forecast is too sure of itself: of growers whose own constants differ by 0.35 its 80 %
band holds 73 of a hundred, with it 80 (a slow test counts them; our own choice)."""

_M3_L = 1000.0
_EQ_PER_MG_L = _M3_L / carbonate.MG_L_CACO3_PER_EQ_L
_HELD_M3 = 1e9
"""Exchange that holds the oxygen: nothing can move it."""
_CARBON_MOL = 5.0
"""Stands in the state and does nothing: no gas is exchanged, and the pH does not hang on it."""
IONIC_STRENGTH = 0.003
"""Of the water, mol/kg: the least that the season reckons with."""


@dataclass(frozen=True, eq=False)
class Members:
    """What is not known of a start-up; arrays (members,).

    ammonia_start, nitrite_start: capacities on day 0, mg N/L/d. carbon_dioxide_mg_l: where the pH follows
    from it. kinetics: of both steps, arrays where they differ between members. log_prior: unequal prior
    weights, as on a grid; None where all members count alike.
    """

    ammonia_start: Floats
    nitrite_start: Floats
    carbon_dioxide_mg_l: Floats
    kinetics: nitrogen.Kinetics
    log_prior: Floats | None = None

    @property
    def count(self) -> int:
        """How many."""
        return int(self.ammonia_start.size)


def draw(case: Case, members: int = MEMBERS, seed: int = SEED) -> Members:
    """Latin hypercube over capacities at the start, growth, what is hidden, and carbon dioxide.

    One member has the middle of all of them.
    """
    prior = SEEDS[case.seed]

    def normal(name: str) -> Floats:
        if members == 1:
            return np.zeros(1)
        inverse = NormalDist().inv_cdf
        return np.array([inverse(one) for one in probabilities(f"start-up {name}", members, seed)])

    def hidden(value: Numbers, name: str) -> Floats:
        found: Floats = value * np.exp(HIDDEN_SPREAD * normal(name))
        return found

    name = "start_up_carbon_dioxide_mg_l"
    dioxide = coefficient(name)
    k = nitrogen.Kinetics.typical()
    a, n = k.ammonia, k.nitrite
    ammonia = replace(
        a,
        half_saturation_mg_l=hidden(a.half_saturation_mg_l, "half saturation of ammonia"),
        decay_1_d=hidden(a.decay_1_d, "decay of ammonia oxidisers"),
    )
    nitrite = replace(
        n,
        half_saturation_mg_l=hidden(n.half_saturation_mg_l, "half saturation of nitrite"),
        decay_1_d=hidden(n.decay_1_d, "decay of nitrite oxidisers"),
        half_saturation_oxygen_mg_l=hidden(n.half_saturation_oxygen_mg_l, "half saturation of oxygen"),
    )
    return members_of(
        ammonia_start=10.0 ** (prior.mean + prior.spread * normal("ammonia start")),
        nitrite_start=10.0 ** (prior.mean + prior.spread * normal("nitrite start")),
        ammonia_growth=np.exp(GROWTH_SPREAD["ammonia"] * normal("ammonia growth")),
        nitrite_growth=np.exp(GROWTH_SPREAD["nitrite"] * normal("nitrite growth")),
        carbon_dioxide_mg_l=(
            np.array([dioxide.typical])
            if members == 1
            else quantile(dioxide, probabilities(name, members, seed))
        ),
        kinetics=replace(k, ammonia=ammonia, nitrite=nitrite),
    )


def members_of(
    ammonia_start: Floats,
    nitrite_start: Floats,
    ammonia_growth: Numbers = 1.0,
    nitrite_growth: Numbers = 1.0,
    carbon_dioxide_mg_l: Numbers | None = None,
    log_prior: Floats | None = None,
    kinetics: nitrogen.Kinetics | None = None,
) -> Members:
    """Members by their values; growth as factors on the typical one (or on that of `kinetics`)."""
    k = kinetics or nitrogen.Kinetics.typical()
    same = np.zeros_like(ammonia_start)
    usual = coefficient("start_up_carbon_dioxide_mg_l").typical
    return Members(
        ammonia_start=ammonia_start,
        nitrite_start=nitrite_start,
        carbon_dioxide_mg_l=same + (usual if carbon_dioxide_mg_l is None else carbon_dioxide_mg_l),
        kinetics=replace(
            k,
            ammonia=replace(k.ammonia, growth_1_d=k.ammonia.growth_1_d * (ammonia_growth + same)),
            nitrite=replace(k.nitrite, growth_1_d=k.nitrite.growth_1_d * (nitrite_growth + same)),
        ),
        log_prior=log_prior,
    )


EventKey = Literal[
    "ammonium_salt", "ammonia_water", "source", "carbonate", "alkalinity", "change", "seed", "kill"
]


@dataclass(frozen=True, eq=False)
class Event:
    """Something that happens on a morning, in the order in which events stand.

    amount: mg N/L (`ammonium_salt`, `ammonia_water`, and `source`: given off through the day, as by fed fish
    or urea); mg/L CaCO3 (`carbonate`); the share of water changed (`change`); capacity added to both steps,
    mg N/L/d (`seed`); the share that survives (`kill`). `alkalinity` was read: members below `amount` or
    above `high` are moved to that end. Floats, or one a member.
    """

    day: int
    key: EventKey
    amount: Numbers
    high: float = np.inf


@dataclass(frozen=True, eq=False)
class Course:
    """Every member's water by day, (days + 1, members), just before the doses of the day.

    ammonia_capacity, nitrite_capacity: mg N/L/d at 20 C. tan_dosed, alkalinity_dosed: what was given on each
    day, by events and by the rule; by_rule: whether the rule gave anything to anyone, (days + 1,).
    Any row is a state from which the course can be run on.
    """

    tan_mg_l: Floats
    nitrite_mg_l: Floats
    nitrate_mg_l: Floats
    alkalinity_mg_l: Floats
    ph: Floats
    ammonia_capacity: Floats
    nitrite_capacity: Floats
    tan_dosed: Floats
    alkalinity_dosed: Floats
    by_rule: Floats

    @property
    def days(self) -> int:
        """The last day."""
        return int(self.tan_mg_l.shape[0]) - 1

    def until(self, day: int) -> Course:
        """The course up to a day."""
        return Course(**{one.name: getattr(self, one.name)[: day + 1] for one in fields(self)})


@dataclass(frozen=True, eq=False)
class State:
    """One row of a course: what carries over from day to day, (members,)."""

    tan_mg_l: Floats
    nitrite_mg_l: Floats
    nitrate_mg_l: Floats
    alkalinity_mg_l: Floats
    ammonia_capacity: Floats
    nitrite_capacity: Floats


_STATE = tuple(one.name for one in fields(State))


def begin(case: Case, members: Members) -> State:
    """The water of day 0 before its doses: no ammonia and nitrite, nitrate and alkalinity as given."""
    nothing = np.zeros(members.count)
    return State(
        tan_mg_l=nothing,
        nitrite_mg_l=nothing,
        nitrate_mg_l=nothing + case.tap.nitrate_mg_l,
        alkalinity_mg_l=nothing + case.alkalinity_mg_l,
        ammonia_capacity=members.ammonia_start + nothing,
        nitrite_capacity=members.nitrite_start + nothing,
    )


def run(
    case: Case,
    members: Members,
    events: Sequence[Event],
    until_day: int,
    *,
    rule: Rule | None = None,
    rule_from: int = 0,
    before: Course | None = None,
    from_day: int = 0,
    progress: Callable[[int, int], None] | None = None,
) -> Course:
    """The course of all members up to a day.

    rule: what is dosed by itself from `rule_from` on, after the events of the morning. before, from_day: a
    course of the same members that holds up to and with row `from_day`; only what follows is run. progress:
    told the day and the last one.
    """
    by_day: dict[int, list[Event]] = {}
    for event in events:
        by_day.setdefault(event.day, []).append(event)
    rates = _rates(members.kinetics)
    rows = until_day + 1
    made: Mapping[str, Floats] = {one.name: np.zeros((rows, members.count)) for one in fields(Course)[:-1]}
    by_rule = np.zeros(rows)
    state = begin(case, members)
    if before is not None:
        for name, values in made.items():
            values[:from_day] = getattr(before, name)[:from_day]
        by_rule[:from_day] = before.by_rule[:from_day]
        state = State(**{name: getattr(before, name)[from_day] for name in _STATE})
    for day in range(from_day if before is not None else 0, rows):
        for name in _STATE:
            made[name][day] = getattr(state, name)
        driven = _hour(case, members.kinetics, day)
        made["ph"][day] = -np.log10(_hydrogen(case, members, day, driven, state.alkalinity_mg_l))
        if day == until_day:
            break
        source: Numbers = on_day(case.source_mg_l_d, day)
        for event in by_day.get(day, ()):
            if event.key == "source":
                source = source + event.amount
                made["tan_dosed"][day] += event.amount
                continue
            after = _after(state, event, case)
            if event.key in ("ammonium_salt", "ammonia_water"):
                made["tan_dosed"][day] += event.amount
            made["alkalinity_dosed"][day] += after.alkalinity_mg_l - state.alkalinity_mg_l
            state = after
        if rule is not None and day >= rule_from:
            doses = look(state.tan_mg_l, state.nitrite_mg_l, state.alkalinity_mg_l, rule)
            made["tan_dosed"][day] += doses.tan_mg_l
            made["alkalinity_dosed"][day] += doses.alkalinity_mg_l
            by_rule[day] = float(np.any(doses.tan_mg_l > 0.0) or np.any(doses.alkalinity_mg_l > 0.0))
            state = replace(
                state,
                tan_mg_l=state.tan_mg_l + doses.tan_mg_l,
                alkalinity_mg_l=state.alkalinity_mg_l + doses.alkalinity_mg_l,
            )
        driven = driven._replace(excreted_g=source / HOURS)
        state = _day(case, members, day, driven, rates, state)
        if progress is not None:
            progress(day + 1, until_day)
    return Course(by_rule=by_rule, **made)


def nitrogen_mg_l(course: Course, members: Members) -> Floats:
    """All nitrogen of the water and its bacteria, mg N/L; (days + 1, members)."""
    rates = _rates(members.kinetics)
    rows = [
        _water(State(**{name: getattr(course, name)[day] for name in _STATE}), 0.0)
        for day in range(course.days + 1)
    ]
    cells = np.array([hour.cell_nitrogen_g(one, rates) for one in rows])
    found: Floats = course.tan_mg_l + course.nitrite_mg_l + course.nitrate_mg_l + cells
    return found


# --- a day -------------------------------------------------------------------------------------------------


def _day(case: Case, members: Members, day: int, driven: Hour, rates: Rates, state: State) -> State:
    """The state after the hours of a day."""
    water = _water(state, case.oxygen_mg_l)
    before: hour.Speeds | None = None
    for _ in range(HOURS):
        held = water.alkalinity_eq / _EQ_PER_MG_L
        now = hour.speeds(water, driven, rates, _hydrogen(case, members, day, driven, held))
        if before is None:
            before = _an_hour_ago(water, now, case, members, day, driven, rates)
        water, _ = hour.advance(water, now, before, driven, rates)
        before = now
    return State(
        tan_mg_l=np.asarray(water.tan_g),
        nitrite_mg_l=np.asarray(water.nitrite_g),
        nitrate_mg_l=np.asarray(water.nitrate_g),
        alkalinity_mg_l=np.asarray(water.alkalinity_eq / _EQ_PER_MG_L),
        ammonia_capacity=np.asarray(water.ammonia_oxidisers_g_d),
        nitrite_capacity=np.asarray(water.nitrite_oxidisers_g_d),
    )


def _an_hour_ago(
    water: Water, now: hour.Speeds, case: Case, members: Members, day: int, driven: Hour, rates: Rates
) -> hour.Speeds:
    """Speeds as they would have been an hour ago, had they gone on as they do in the coming hour.

    A day begins anew, so that any row can be run on; `hour.middle` of these is the harmonic mean of both ends
    of the hour, which keeps the step's second order.
    """
    trial, _ = hour.advance(water, now, now, driven, rates)
    held = trial.alkalinity_eq / _EQ_PER_MG_L
    coming = hour.speeds(trial, driven, rates, _hydrogen(case, members, day, driven, held))
    return hour.Speeds(*(one * one / (other + 1e-30) for one, other in zip(now, coming, strict=True)))


def _water(state: State, oxygen_mg_l: float) -> Water:
    """A cubic metre of it, as the hourly step wants it."""
    return Water(
        tan_g=state.tan_mg_l,
        nitrite_g=state.nitrite_mg_l,
        nitrate_g=state.nitrate_mg_l,
        solids_n_g=0.0,
        alkalinity_eq=state.alkalinity_mg_l * _EQ_PER_MG_L,
        carbon_mol=_CARBON_MOL,
        oxygen_g=oxygen_mg_l,
        ammonia_oxidisers_g_d=state.ammonia_capacity,
        nitrite_oxidisers_g_d=state.nitrite_capacity,
        water_l=_M3_L,
    )


def _rates(kinetics: nitrogen.Kinetics) -> Rates:
    """The two steps alone: no gas, no crops, no solids."""
    return Rates(
        kinetics=kinetics,
        half_acid=10.0 ** (-kinetics.ph_half_low),
        half_basic=10.0 ** (-kinetics.ph_half_high),
        denitrified_in_films=0.0,
        denitrified_per_mineralised=0.0,
        oxygen_spared_g_g=0.0,
        root_return=0.0,
        breathed_carbon_mol_g=0.0,
        solids_oxygen_g_g_n=0.0,
        low_oxygen_decay=coefficient("low_oxygen_decay_factor").typical,
    )


def _hour(case: Case, kinetics: nitrogen.Kinetics, day: int) -> Hour:
    """What drives each hour of a day, in a cubic metre."""
    celsius = on_day(case.water_c, day)
    first, second = (film.film_of(step, case.surfaces, celsius, kinetics) for step in nitrogen.STEPS)
    per_m3 = _M3_L / case.litres
    return Hour(
        ammonia_warmth=nitrogen.temperature_factor(kinetics.ammonia.theta_growth, celsius),
        nitrite_warmth=nitrogen.temperature_factor(kinetics.nitrite.theta_growth, celsius),
        ammonia_decay_1_h=nitrogen.decay_1_d("ammonia", celsius, kinetics) / HOURS,
        nitrite_decay_1_h=nitrogen.decay_1_d("nitrite", celsius, kinetics) / HOURS,
        ammonia_most_g_d=first.most_g_d * per_m3,
        nitrite_most_g_d=second.most_g_d * per_m3,
        ammonia_transfer_m3_d=first.transfer_m3_d * per_m3,
        nitrite_transfer_m3_d=second.transfer_m3_d * per_m3,
        mineralisation_1_h=0.0,
        constants=carbonate.constants_at(celsius, IONIC_STRENGTH),
        ammonia_ka=10.0 ** -ammonia.pka(celsius),
        nitrous_ka=nitrogen.nitrous_acid_ka(celsius),
        excreted_g=0.0,
        solids_in_g=0.0,
        fish_oxygen_g=0.0,
        uptake_g=0.0,
        oxygen_gain_g=case.oxygen_mg_l * _HELD_M3,
        oxygen_exchange_m3=_HELD_M3,
        carbon_exchange_m3=0.0,
        carbon_in_air_mol_m3=0.0,
        base_eq=0.0,
        carbon_in_mol=0.0,
        evaporated_l=0.0,
    )


def _hydrogen(case: Case, members: Members, day: int, driven: Hour, alkalinity_mg_l: Numbers) -> Numbers:
    """Hydrogen activity, mol/kg: of the logged pH, else by alkalinity and carbon dioxide."""
    ph = case.ph_on(day)
    if ph is not None:
        return np.full(members.count, 10.0**-ph)
    dioxide = members.carbon_dioxide_mg_l if case.carbon_dioxide_mg_l is None else case.carbon_dioxide_mg_l
    return carbonate.hydrogen_at_carbon_dioxide(
        alkalinity_mg_l / carbonate.MG_L_CACO3_PER_EQ_L,
        dioxide / carbonate.MG_L_CO2_PER_MOL_L,
        driven.constants,
    )


# --- a morning ---------------------------------------------------------------------------------------------


def _after(state: State, event: Event, case: Case) -> State:
    """The state after an event."""
    amount = event.amount
    match event.key:
        case "ammonium_salt":
            return replace(state, tan_mg_l=state.tan_mg_l + amount)
        case "ammonia_water":
            raised = nitrogen.alkalinity_change_mg("ammonia_added", amount)
            return replace(
                state, tan_mg_l=state.tan_mg_l + amount, alkalinity_mg_l=state.alkalinity_mg_l + raised
            )
        case "carbonate":
            return replace(state, alkalinity_mg_l=state.alkalinity_mg_l + amount)
        case "alkalinity":
            moved = np.clip(state.alkalinity_mg_l, amount, event.high)
            return replace(state, alkalinity_mg_l=moved)
        case "change":
            kept = 1.0 - amount
            return replace(
                state,
                tan_mg_l=state.tan_mg_l * kept,
                nitrite_mg_l=state.nitrite_mg_l * kept,
                nitrate_mg_l=state.nitrate_mg_l * kept + amount * case.tap.nitrate_mg_l,
                alkalinity_mg_l=state.alkalinity_mg_l * kept + amount * case.tap.alkalinity_mg_l,
            )
        case "seed":
            return replace(
                state,
                ammonia_capacity=state.ammonia_capacity + amount,
                nitrite_capacity=state.nitrite_capacity + amount,
            )
        case "kill":
            return replace(
                state,
                ammonia_capacity=state.ammonia_capacity * amount,
                nitrite_capacity=state.nitrite_capacity * amount,
            )
    raise ValueError(event.key)
