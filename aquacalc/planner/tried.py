"""Plans that are tried: which position each lever has, and what comes of it, each worked out once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from aquacalc.agenda import living
from aquacalc.agenda.living import TakenOut
from aquacalc.errors import InputError
from aquacalc.outcome import musts
from aquacalc.outcome.musts import Judged, MustKey
from aquacalc.outcome.outcome import Outcome, outcome, wanted
from aquacalc.planner import aim
from aquacalc.planner.aim import Goal
from aquacalc.planner.levers import Lever, Option
from aquacalc.schedule import crops
from aquacalc.season.start import Start
from aquacalc.season.together import Candidate, together
from aquacalc.sizing import balance, caps
from aquacalc.sizing.result import Balance

if TYPE_CHECKING:
    from aquacalc.garden.file import GardenFile
    from aquacalc.garden.model import Garden

Plan = tuple[int, ...]
"""Position of each lever; all 0 is the garden as written."""
BALANCE_MEMBERS = 20
BUILT_OF = ("beds", "air", "biofilter", "heat", "power", "targets")
COLUMNS = 800
"""Members of all candidates that are run side by side."""

Progress = Callable[[float], None]


def _untold(columns: float) -> None:
    """Nobody waits."""


@dataclass(eq=False)
class Tried:
    """A garden file with its levers, and every plan whose season has been run, by plan and members.

    out: fish that would not live in the garden as written; they are out before, as in its plan on paper.
    """

    file: GardenFile
    levers: tuple[Lever, ...]
    seed: int
    read: Start
    out: tuple[TakenOut, ...] = ()
    spent: Progress = _untold
    _found: dict[tuple[Plan, int], Outcome | None] = field(default_factory=dict)
    _balances: dict[object, Balance] = field(default_factory=dict)
    _goals: dict[int, Goal] = field(default_factory=dict)

    @property
    def as_written(self) -> Plan:
        """The plan that changes nothing."""
        return (0,) * len(self.levers)

    def options(self, plan: Plan) -> list[Option]:
        """The positions that are not as written."""
        return [lever.options[at] for lever, at in zip(self.levers, plan, strict=True) if at]

    def values(self, plan: Plan) -> dict[str, object]:
        """What is typed into the file for a plan, by dotted key."""
        return {key: value for option in self.options(plan) for key, value in option.values.items()}

    def price(self, plan: Plan) -> float:
        """What is bought for it."""
        return sum(option.price for option in self.options(plan))

    def outcomes(self, plans: Sequence[Plan], members: int) -> list[Outcome | None]:
        """What comes of each plan; None for one that the file refuses."""
        wanting = [plan for plan in dict.fromkeys(plans) if (plan, members) not in self._found]
        width = max(COLUMNS // members, 1)
        for first in range(0, len(wanting), width):
            self._run(wanting[first : first + width], members)
        return [self._found[plan, members] for plan in plans]

    def goal(self, members: int) -> Goal:
        """What the plans are for, by the garden as written."""
        if members not in self._goals:
            (written,) = self.outcomes([self.as_written], members)
            assert written is not None
            money = None if written.money_year is None else float(np.median(written.money_year))
            wishes = self.file.garden.wishes
            self._goals[members] = Goal(
                wanted(self.file.garden), aim.sure(written.picked_kg), money, wishes.to_buy_at_most or 0.0
            )
        return self._goals[members]

    def points(self, plans: Sequence[Plan], members: int, asked: float) -> list[float]:
        """Points of each plan; one that the file refuses has none to offer."""
        goal = self.goal(members)
        return [
            -np.inf
            if found is None
            else aim.points(self.with_money(found, goal), goal, sum(1 for at in plan if at), asked)
            for plan, found in zip(plans, self.outcomes(plans, members), strict=True)
        ]

    def with_money(self, found: Outcome, goal: Goal) -> Outcome:
        """An outcome with the musts of money, which hang on the garden as written."""
        wishes, judged = self.file.garden.wishes, dict(found.judged)
        members = found.fish_of_size.size
        if found.to_buy > 0.0:
            judged["to_buy"] = _within(np.full(members, found.to_buy), wishes.to_buy_at_most or 0.0)
        if wishes.more_a_year is not None and found.money_year is not None and goal.money_year is not None:
            judged["more_a_year"] = _within(found.money_year - goal.money_year, wishes.more_a_year)
        return replace(found, judged=judged)

    def _run(self, plans: Sequence[Plan], members: int) -> None:
        candidates: dict[Plan, Candidate] = {}
        for plan in plans:
            try:
                (garden,) = self.file.gardens([self.values(plan)])
                garden = living.version_of(garden, self.file.garden, self.out)
                carried = caps.by_month_g_day(self._balance(garden)) if garden.fish else caps.UNCAPPED
                candidates[plan] = Candidate(garden, crops.batches(garden), carried)
            except InputError:
                self._found[plan, members] = None
        goal = wanted(self.file.garden)
        all_tries = together(list(candidates.values()), members, self.seed, self.read)
        for (plan, one), tries in zip(candidates.items(), all_tries, strict=True):
            found = outcome(one.garden, tries, self._balance(one.garden), goal)
            self._found[plan, members] = replace(found, to_buy=self.price(plan))
        self.spent(len(candidates) * members)

    def _balance(self, garden: Garden) -> Balance:
        """What a garden carries, by what it is built of and what its water aims at; it hardly hangs on the
        stock: that is as written."""
        built = {name: getattr(garden, name) for name in BUILT_OF}
        key = tuple(built.values())
        if key not in self._balances:
            self._balances[key] = balance.balance(replace(self.file.garden, **built), BALANCE_MEMBERS)
        return self._balances[key]


def _within(spent: np.ndarray, limit: float) -> Judged:
    return Judged(spent, limit, np.maximum(spent - limit, 0.0) / max(limit, 1.0))


def broken(found: Outcome, asked: float = musts.HELD_SHARE) -> tuple[MustKey, ...]:
    """Musts that hold in too few of the tries."""
    return tuple(key for key, one in found.judged.items() if one.held < asked)
