"""What would make a good year in a garden: the proposal, or why there is none."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from aquacalc.agenda import living
from aquacalc.outcome.musts import Judged, MustKey
from aquacalc.outcome.outcome import Outcome
from aquacalc.planner import aim, levers, order, search
from aquacalc.planner.aim import Goal
from aquacalc.planner.levers import Lever
from aquacalc.planner.order import Step
from aquacalc.planner.tried import Plan, Progress, Tried, broken
from aquacalc.season import plan as season_plan
from aquacalc.season.start import Start
from aquacalc.sizing import balance
from aquacalc.uncertainty import MEMBERS, SEED

if TYPE_CHECKING:
    from aquacalc.garden.file import GardenFile

WishKey = Literal["fish_kg", "heads", "picked"]
LEAST_OF_WISH = 0.5
"""A must is never bought with a wish that falls below this share of what is got as written (own choice)."""
HARDER = 0.05
USUAL_COLUMNS = 11_000
"""Members that a search runs, for the share that is done."""


@dataclass(frozen=True, eq=False)
class Reason:
    """Why no plan holds: a must that breaks in the nearest one, and what of the offers would lift it; None
    where none does."""

    must: MustKey
    judged: Judged
    lifted_by: Lever | None


@dataclass(frozen=True, eq=False)
class Proposal:
    """What would make a good year.

    as_written, proposed: on the same tries; steps: the changes in their order; reasons: musts that break in
    `proposed`, which is then the nearest and not advised; lost: wishes that it would give up; untouched:
    levers that stay; beyond: offers that cost more than was named; digest: of the file.
    """

    as_written: Outcome
    proposed: Outcome
    steps: tuple[Step, ...]
    reasons: tuple[Reason, ...]
    lost: tuple[WishKey, ...]
    untouched: tuple[Lever, ...]
    beyond: tuple[Lever, ...]
    goal: Goal
    seed: int
    members: int
    digest: str

    @property
    def holds(self) -> bool:
        """Whether it may be accepted."""
        return not self.reasons and not self.lost


def propose(
    file: GardenFile,
    members: int = MEMBERS,
    seed: int = SEED,
    read: Start | None = None,
    progress: Progress | None = None,
) -> Proposal:
    """Search for a good year of a garden; the same file, members and seed give the same proposal.

    read: what the log says of the first morning. progress: is told the share that is done, 0 to 1.
    """
    garden = file.garden
    own = levers.levers_of(garden, balance.balance(garden))
    season = season_plan.of_garden(garden, members, seed, read)
    out = living.taken_out(season, garden)
    tried = Tried(file, own, seed, read or Start(), out, _counted(progress))
    plan = _held(tried, search.search(tried), members)
    (written,) = _outcomes(tried, [tried.as_written], members)
    steps = order.steps_of(tried, plan, members)
    proposed = steps[-1].after if steps else written
    return Proposal(
        as_written=written,
        proposed=proposed,
        steps=steps,
        reasons=_reasons(tried, plan, proposed, members),
        lost=tuple(_lost(written, proposed)) if steps else (),
        untouched=tuple(lever for lever, at in zip(own, plan, strict=True) if not at),
        beyond=levers.beyond_the_sum(garden),
        goal=tried.goal(members),
        seed=seed,
        members=members,
        digest=file.digest or "",
    )


def _held(tried: Tried, plan: Plan, members: int) -> Plan:
    """The plan, or one that was searched harder where it does not hold on all tries; never a worse one than
    what is written."""
    plans = [plan]
    if broken(_outcomes(tried, [plan], members)[0]):
        plans.append(search.search(tried, HARDER))
    plans.append(tried.as_written)
    goal = tried.goal(members)
    found = _outcomes(tried, plans, members)

    def rank(at: int) -> tuple[int, float]:
        changes = sum(1 for one in plans[at] if one)
        return -len(broken(found[at])), aim.points(found[at], goal, changes)

    return plans[max(range(len(plans)), key=rank)]


def _outcomes(tried: Tried, plans: list[Plan], members: int) -> list[Outcome]:
    goal = tried.goal(members)
    return [tried.with_money(one, goal) for one in tried.outcomes(plans, members) if one is not None]


def _reasons(tried: Tried, plan: Plan, proposed: Outcome, members: int) -> tuple[Reason, ...]:
    """The musts that break, each with the cheapest offer beyond the sum that would lift it."""
    failing = broken(proposed)
    if not failing:
        return ()
    dear = sorted(levers.beyond_the_sum(tried.file.garden), key=lambda lever: lever.options[1].price)
    more = Tried(tried.file, (*tried.levers, *dear), tried.seed, tried.read, tried.out)
    plans = [(*plan, *(1 if place == at else 0 for place in range(len(dear)))) for at in range(len(dear))]
    found = more.outcomes(plans, members) if plans else []
    reasons = []
    for key in failing:
        lifts = (
            lever
            for lever, one in zip(dear, found, strict=True)
            if one is not None and key in one.judged and key not in broken(one)
        )
        reasons.append(Reason(key, proposed.judged[key], next(lifts, None)))
    return tuple(reasons)


def _lost(written: Outcome, proposed: Outcome) -> Iterable[WishKey]:
    """Wishes of which the proposal gives less than half of what is got as written."""
    pairs: tuple[tuple[WishKey, str], ...] = (
        ("fish_kg", "fish_kg"),
        ("heads", "heads_share"),
        ("picked", "picked_kg"),
    )
    for key, name in pairs:
        before, after = aim.sure(getattr(written, name)), aim.sure(getattr(proposed, name))
        if after < LEAST_OF_WISH * before:
            yield key


def _counted(progress: Progress | None) -> Progress:
    """Tells the share that is done from the members that were run."""
    done = 0.0

    def spent(columns: float) -> None:
        nonlocal done
        done += columns
        if progress is not None:
            progress(min(done / USUAL_COLUMNS, 0.99))

    return spent
