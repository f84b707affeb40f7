"""What to change first, and how much it brings: each change is made and the balance computed again."""

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace

import numpy as np

from aquacalc.garden.model import Air, Biofilter, Garden, SolidsFilter
from aquacalc.sizing.balance import balance
from aquacalc.sizing.limits import surface
from aquacalc.sizing.nitrification import RESERVE_MEDIUM
from aquacalc.sizing.result import Balance, Binding, Change, LimitKey
from aquacalc.uncertainty import MEMBERS, SEED, Band

SPARE = 1.1
"""A change is made a tenth larger than the gap it closes. Common practice, no source."""
MOST_TRIALS = 6


@dataclass(frozen=True)
class Step:
    """One way to lift a limit: `make(garden, amount)` returns the changed garden.

    most(garden): the largest amount that is still the same garden.
    """

    key: str
    unit: str
    trial: float
    make: Callable[[Garden, float], Garden]
    most: Callable[[Garden], float]


def more_air(garden: Garden, amount: float) -> Garden:
    """Air at the stones, L/min as rated."""
    air = garden.air or Air(
        flow_l_min=0.0, depth_m=min(t.depth_m for t in garden.tanks), stones="small", power_w=0.0
    )
    return replace(garden, air=replace(air, flow_l_min=air.flow_l_min + amount))


def more_flow(garden: Garden, amount: float) -> Garden:
    """Water round the loop, L/h more than now, by larger pumps or by the measured flow."""
    if garden.last_measured("flow") is not None:
        newest = garden.last_measured("flow")
        measured = tuple(
            replace(one, value=one.value + amount) if one is newest else one for one in garden.measured
        )
        return replace(garden, measured=measured)
    whole = sum(pump.count * pump.share_on * pump.box_flow_l_h for pump in garden.pumps)
    if not whole:
        return garden
    share = 1.0 + amount / whole
    pumps = tuple(pump.scaled(share) for pump in garden.pumps)
    return replace(garden, pumps=pumps)


def more_biofilter(garden: Garden, amount: float) -> Garden:
    """Litres of medium in a separate filter."""
    filter_ = garden.biofilter or Biofilter(
        medium=RESERVE_MEDIUM, media_l=0.0, surface_m2_m3=surface(RESERVE_MEDIUM).typical
    )
    return replace(garden, biofilter=replace(filter_, media_l=filter_.media_l + amount))


def more_bed(garden: Garden, amount: float) -> Garden:
    """Square metres on the largest bed, planted as the rest of it."""
    largest = max(garden.beds, key=lambda bed: bed.area_m2)
    return _with_beds(garden, (largest.name,), 1.0 + amount / largest.area_m2)


def share_of_beds(garden: Garden, share: float) -> Garden:
    """Every bed with this share of its area, its water and its plants."""
    return _with_beds(garden, [bed.name for bed in garden.beds], share)


def _with_beds(garden: Garden, names: Collection[str], share: float) -> Garden:
    beds = tuple(
        replace(
            bed,
            area_m2=bed.area_m2 * share,
            water_l=None if bed.water_l is None else bed.water_l * share,
        )
        if bed.name in names
        else bed
        for bed in garden.beds
    )
    crops = tuple(
        replace(plan, area_m2=plan.area_m2 * share) if plan.bed in names else plan for plan in garden.crops
    )
    return replace(garden, beds=beds, crops=crops)


def larger_tank(garden: Garden, amount: float) -> Garden:
    """Litres on the largest fish tank."""
    largest = max(garden.tanks, key=lambda tank: tank.volume_l)
    share = 1.0 + amount / largest.volume_l
    tanks = tuple(
        replace(tank, volume_l=tank.volume_l * share, surface_m2=tank.surface_m2 * share)
        if tank is largest
        else tank
        for tank in garden.tanks
    )
    return replace(garden, tanks=tanks)


def settler(garden: Garden, amount: float) -> Garden:
    """A settler ahead of the beds, where there is none."""
    if garden.solids_filter.kind != "none":
        return garden
    return replace(garden, solids_filter=SolidsFilter(kind="radial", volume_l=amount))


def fewer_fish(garden: Garden, amount: float) -> Garden:
    """Fish less, taken from every batch in proportion."""
    whole = sum(batch.count for batch in garden.fish)
    share = max(whole - amount, 1.0) / whole
    return replace(
        garden, fish=tuple(replace(b, count=max(math.floor(b.count * share), 1)) for b in garden.fish)
    )


def backup_air(garden: Garden, amount: float) -> Garden:
    """Air that starts by itself when the mains fails, L/min, for as long as nobody is there."""
    power = replace(
        garden.power,
        backup="battery air",
        backup_air_l_min=amount,
        backup_hours=garden.site.hours_until_help,
        starts_by_itself=True,
    )
    return replace(garden, power=power)


MOST_FOLD = 3.0
"""More than three times what is there is another garden."""


def _fold(have: Callable[[Garden], float], least: float) -> Callable[[Garden], float]:
    return lambda garden: max(MOST_FOLD * have(garden), least)


AIR = Step("change-air", "L/min", 20.0, more_air, _fold(lambda g: g.air.flow_l_min if g.air else 0.0, 100.0))
FLOW = Step(
    "change-flow",
    "L/h",
    500.0,
    more_flow,
    _fold(lambda g: sum(pump.count * pump.box_flow_l_h for pump in g.pumps), 2000.0),
)
FILTER = Step("change-biofilter", "L", 20.0, more_biofilter, lambda g: 1000.0)
BED = Step("change-bed", "m2", 1.0, more_bed, _fold(lambda g: sum(bed.area_m2 for bed in g.beds), 2.0))
TANK = Step("change-tank", "L", 200.0, larger_tank, _fold(lambda g: sum(t.volume_l for t in g.tanks), 500.0))
SETTLER = Step("change-settler", "L", 60.0, settler, lambda g: 60.0)

STEPS: dict[LimitKey, tuple[Step, ...]] = {
    "oxygen": (AIR, FLOW),
    "nitrification": (FILTER, BED),
    "density": (TANK,),
    "power_cut": (),
    "solids": (SETTLER, BED),
    "plants": (BED,),
    "turnover": (FLOW,),
}


def with_changes(garden: Garden, found: Balance) -> Balance:
    """The same balance with what to change first, largest gain first, fewer fish last.

    Where the power cut binds, backup air comes first and then what lifts the next limit.
    """
    changes: list[Change] = []
    binding = found.binding
    if binding is not None:
        if binding.key == "power_cut":
            changes += _backup(garden, found, binding)
        first = binding.next_key if binding.key == "power_cut" else binding.key
        if first is not None:
            changes += _lifts(garden, found, first, binding.month)
        changes += _fewer(garden, found, binding)
    if found.better is not None:
        changes += _lifts(garden, found, found.better.key, found.better.month)
    return replace(found, changes=tuple(changes))


def balance_with_changes(garden: Garden, members: int = MEMBERS, seed: int = SEED) -> Balance:
    """The balance and what to change first, in one."""
    return with_changes(garden, balance(garden, members, seed))


def _lifts(garden: Garden, found: Balance, key: LimitKey, month: int) -> list[Change]:
    at = found.months.index(month)
    before = _limit_at(found, key, at)
    gap = (float(found.demand.feed_g_day.middle[at]) - float(before.middle)) * SPARE
    made = []
    for step in STEPS[key]:
        amount = step.trial
        after = _limit_at(_again(step.make(garden, amount), found), key, at)
        gain = float(after.middle - before.middle)
        if not gain > 0.0:
            continue
        if gap > 0.0:
            amount = min(two_digits_up(step.trial * gap / gain), two_digits_up(step.most(garden)))
            after = _limit_at(_again(step.make(garden, amount), found), key, at)
        made.append(Change(step.key, amount, step.unit, key, before, after))
    return sorted(made, key=lambda change: -float(change.after_g_day.middle))


def _backup(garden: Garden, found: Balance, binding: Binding) -> list[Change]:
    if found.outage is None or binding.next_key is None:
        return []
    at = found.months.index(binding.month)
    amount = two_digits_up(max(float(found.outage.air_l_min.middle), 1.0))
    again = _again(backup_air(garden, amount), found)
    return [
        Change(
            "change-backup-air",
            amount,
            "L/min",
            "power_cut",
            _limit_at(found, "power_cut", at),
            _limit_at(again, binding.next_key, at),
        )
    ]


def _fewer(garden: Garden, found: Balance, binding: Binding) -> list[Change]:
    """Fish to take out so that the demand meets the limit (where the power cut binds, the next limit)."""
    at = found.months.index(binding.month)
    key = (binding.next_key or binding.key) if binding.key == "power_cut" else binding.key
    demand = float(found.demand.feed_g_day.middle[at])
    limit = float(_limit_at(found, key, at).middle)
    if not demand > limit:
        return []
    whole = sum(batch.count for batch in garden.fish)
    amount = min(math.ceil(whole * (1.0 - limit / demand)), whole - 1)
    after = _again(fewer_fish(garden, float(amount)), found)
    for _ in range(MOST_TRIALS):
        lifted = float(_limit_at(after, key, at).middle)
        if float(after.demand.feed_g_day.middle[at]) <= lifted or amount >= whole - 1:
            break
        amount = min(amount + max(math.ceil(0.03 * whole), 1), whole - 1)
        after = _again(fewer_fish(garden, float(amount)), found)
    return [
        Change(
            "change-fewer-fish",
            float(amount),
            "",
            key,
            _at(found.demand.feed_g_day, at),
            _at(after.demand.feed_g_day, at),
        )
    ]


def _again(garden: Garden, found: Balance) -> Balance:
    return balance(garden, found.members, found.seed)


def _limit_at(found: Balance, key: LimitKey, at: int) -> Band:
    return _at(found.limit(key).feed_g_day, at)


def _at(whole: Band, at: int) -> Band:
    return Band(np.asarray(whole.low[at]), np.asarray(whole.middle[at]), np.asarray(whole.high[at]))


def two_digits_up(amount: float) -> float:
    """Rounded up to two significant digits.

    >>> two_digits_up(123.0), two_digits_up(7.31)
    (130.0, 7.4)
    """
    power = 10.0 ** (math.floor(math.log10(amount)) - 1)
    return round(math.ceil(round(amount / power, 6)) * power, 6)
