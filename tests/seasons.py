"""Seasons for tests: each worked out once, and the books of what crossed the border of their water."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from typing import NamedTuple

import numpy as np
from shared import shared

from aquacalc.constants import ATOMIC_MASS_N_G_MOL, Numbers
from aquacalc.garden import file
from aquacalc.garden.model import Garden
from aquacalc.schedule import crops
from aquacalc.season import plan, run
from aquacalc.season.hour import Flows, Hour, Rates, Water, cell_nitrogen_g
from aquacalc.season.result import SeasonRun
from aquacalc.season.run import Simulated
from aquacalc.season.start import Start
from aquacalc.uncertainty import draw

DEMOS = ("yard", "greenhouse", "classroom", "southern")


@cache
def garden(name: str) -> Garden:
    """A demo garden by its name."""
    return file.find(f"demo:{name}").garden


@shared
def season(name: str, members: int = 20) -> SeasonRun:
    """The season of a demo garden."""
    return plan.of_garden(garden(name), members)


@cache
def middle(name: str, days: int | None = None) -> Simulated:
    """The middle run of a demo garden with every hour's drivers and every morning's water."""
    return simulated(garden(name), days)


def simulated(of: Garden, days: int | None = None, members: int = 1, **changed: float) -> Simulated:
    """A kept run of any garden; one member runs on floats. changed: values of the draw by name."""
    sampled: dict[str, np.ndarray] = dict(draw(run.triangles(of), members))
    sampled |= {name: np.full(members, value) for name, value in changed.items()}
    single = members == 1
    return run.simulate(of, crops.batches(of), sampled, 1, Start(), single, keep=True, days=days)


def by_day(kept: Simulated, name: str) -> np.ndarray:
    """A daily quantity of a single member."""
    return kept.written.daily[name][:, 0]


# The books


class Step(NamedTuple):
    """One hour as it was run."""

    before: Water
    after: Water
    flows: Flows
    hour: Hour


@contextmanager
def recorded() -> Iterator[list[Step]]:
    """Every hour that is run inside."""
    found: list[Step] = []
    advance = run.advance

    def written(water, now, before, hour, rates):
        after, flows = advance(water, now, before, hour, rates)
        found.append(Step(water, after, flows, hour))
        return after, flows

    run.advance = written
    try:
        yield found
    finally:
        run.advance = advance


def held(water: Water, rates: Rates) -> dict[str, Numbers]:
    """What no process inside the water changes: N in g, alkalinity in eq, carbon in mol, water in L.

    Alkalinity is counted with the charges that its nitrogen has left behind: two a mol for what is oxidised,
    one for what is still in solids or has become cells.
    """
    cells = cell_nitrogen_g(water, rates)
    oxidised = water.nitrite_g + water.nitrate_g
    charges = 2.0 * oxidised + water.solids_n_g + cells
    return {
        "nitrogen": water.tan_g + oxidised + water.solids_n_g + cells,
        "alkalinity": water.alkalinity_eq + charges / ATOMIC_MASS_N_G_MOL,
        "carbon": water.carbon_mol,
        "water": water.water_l,
    }


def crossed(step: Step, rates: Rates) -> dict[str, Numbers]:
    """What an hour brought in, less what it took out: feed, crops, gas, air."""
    flows = step.flows
    charges = flows.nitrogen_in_g + (rates.root_return - 2.0) * flows.taken_up_g - flows.denitrified_g
    return {
        "nitrogen": flows.nitrogen_in_g - flows.taken_up_g - flows.denitrified_g,
        "alkalinity": step.hour.base_eq + charges / ATOMIC_MASS_N_G_MOL,
        "carbon": flows.breathed_mol + flows.exchanged_mol,
        "water": -step.hour.evaporated_l,
    }


def hour_errors(step: Step, rates: Rates) -> dict[str, float]:
    """By how much the books of one hour do not close, relative to what is there and moved."""
    before, after, between = held(step.before, rates), held(step.after, rates), crossed(step, rates)
    return {
        name: _relative(after[name] - before[name] - between[name], before[name], between[name])
        for name in before
    }


def _relative(error: Numbers, *amounts: Numbers) -> float:
    scale = sum(np.abs(amount) for amount in amounts)
    return float(np.max(np.abs(error) / np.maximum(scale, 1e-9)))


def run_errors(kept: Simulated, steps: list[Step]) -> Mapping[str, float]:
    """By how much the books of a whole season do not close, relative to all that went in.

    steps: the hours as `recorded` wrote them. From the first morning's water, by what crossed in each hour
    and by each event, to the last evening's.
    """
    from season_replay import jumped

    steps = steps[24 * kept.before :]
    events: dict[int, list] = {}
    for event in kept.events:
        events.setdefault(event.day, []).append(event)
    first, last = held(kept.waters[kept.before], kept.rates), held(kept.waters[-1], kept.rates)
    change = dict.fromkeys(first, 0.0)
    turned_over = {name: abs(amount) for name, amount in first.items()}

    def book(amounts: Mapping[str, Numbers]) -> None:
        for name, amount in amounts.items():
            change[name] += amount
            turned_over[name] += abs(amount)

    for number, step in enumerate(steps):
        day, at = divmod(number, 24)
        if at == 0 and day:
            evening = steps[number - 1].after
            morning = Water(*jumped(list(evening), events.get(day, [])))
            was, became = held(evening, kept.rates), held(morning, kept.rates)
            book({name: became[name] - was[name] for name in was})
        book(crossed(step, kept.rates))
    return {
        name: abs(float(last[name] - first[name] - change[name])) / float(turned_over[name]) for name in first
    }
