"""Many gardens through one season, side by side along the members' axis.

A season costs much the same for eight members as for eight hundred, because most of its time goes into the
steps and not into the numbers. So candidates of a plan run as columns of one array. Each gets the draw, the
weather and, to the last bit, the season that it would get by itself; only what cannot stand in one array
(other bases on the shelf, another number of film surfaces) makes a run of its own.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

from aquacalc.constants import Numbers
from aquacalc.schedule.batch import CropBatch
from aquacalc.season import beds, fishes, record, run, setting, start
from aquacalc.season.result import Tries
from aquacalc.season.rules import NEVER
from aquacalc.season.setting import Setting
from aquacalc.season.start import Begun, Start
from aquacalc.sizing import balance
from aquacalc.sizing.caps import UNCAPPED, ByMonth
from aquacalc.uncertainty import SEED, Draw, Floats, Triangle, draw

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

CROPS = ("picked_kg", "stands")
"""What is kept of each crop batch by day: a wide run has no room for all."""


@dataclass(frozen=True, eq=False)
class Candidate:
    """A garden with the crop batches that its schedule plans; carried_g_day: feed that its plan never goes
    beyond, (12,), January first."""

    garden: Garden
    batches: Sequence[CropBatch]
    carried_g_day: ByMonth = UNCAPPED


def together(
    candidates: Sequence[Candidate],
    members: int,
    seed: int = SEED,
    begin: Start | None = None,
    days: int | None = None,
) -> list[Tries]:
    """The season of each candidate, in their order, bit for bit as it would be by itself.

    Candidates share site, season, absences and day of start-up. begin: what the log says of the first
    morning; days: stop after so many.
    """
    drawn = cache(_drawn)
    mornings = [
        _morning(one, drawn(_uncertain(one.garden), members, seed), seed, begin or Start(), days)
        for one in candidates
    ]
    found: dict[int, Tries] = {}
    for places in _alike([one.fixed for one in mornings]):
        width = max(run.CHUNK // members, 1)
        for first in range(0, len(places), width):
            side = places[first : first + width]
            found |= zip(side, _lived([mornings[place] for place in side], members), strict=True)
    return [found[place] for place in range(len(candidates))]


_Uncertain = tuple[tuple[tuple[str, Triangle], ...], tuple[tuple[tuple[str, str], float], ...]]


def _uncertain(garden: Garden) -> _Uncertain:
    """What is drawn for a garden, and how it is correlated: most candidates share it."""
    return tuple(setting.triangles(garden).items()), tuple(balance.correlations(garden).items())


def _drawn(uncertain: _Uncertain, members: int, seed: int) -> Draw:
    triangles, correlated = uncertain
    return draw(dict(triangles), members, seed, dict(correlated))


def _morning(one: Candidate, drawn: Draw, seed: int, begin: Start, days: int | None) -> Begun:
    standing = sum(batch.state in beds.STANDING for batch in one.batches)
    members = drawn["splash_share_per_d"].size
    sampled = {**drawn, **beds.luck(standing, members, seed)}
    fixed = setting.setting_of(
        one.garden,
        one.batches,
        sampled,
        seed,
        anomalies=True,
        days=days,
        carried_g_day=one.carried_g_day,
    )
    return start.first_morning(fixed, begin)


def _alike(settings: Sequence[Setting]) -> list[list[int]]:
    """Places of the settings that can stand in one array."""
    stocks = sorted({_stock(one) for one in settings}, key=len, reverse=True)
    groups: dict[Hashable, list[int]] = {}
    for place, one in enumerate(settings):
        own = _stock(one)
        # Fewer batches of the same fish leave places empty in the array of more.
        longest = next(stock for stock in stocks if stock[: len(own)] == own)
        care = one.garden.care
        key = (
            longest,
            tuple(base.key for base in one.shelf),
            (care.base_how, care.look_every_d, one.chelate_holds, bool(one.beds.batches)),
            tuple(surface.flow_m3_d is None for surface in one.gases.surfaces),
            (one.first, one.before, one.days, one.garden.start_up.state),
        )
        groups.setdefault(key, []).append(place)
    return list(groups.values())


def _stock(one: Setting) -> tuple[tuple[str, bool], ...]:
    return tuple((kind.batch.species, kind.eaten) for kind in one.kinds)


def _lived(mornings: Sequence[Begun], members: int) -> list[Tries]:
    """Several mornings through the season in one array, and each its own columns back."""
    whole = joined(mornings)
    fixed = whole.fixed
    days = fixed.days - fixed.before
    slots = len(fixed.kinds), fixed.beds.plant.shape[0]
    written = record.empty(days, fixed.members, *slots, dtype=np.float32, crops=CROPS)
    run.lived(whole, written=written)
    found = []
    for at, one in enumerate(mornings):
        own = record.part(written, at * members, (at + 1) * members)
        crops = len(one.fixed.beds.batches)
        found.append(
            Tries(
                first=one.fixed.garden.season.start,
                batches=one.fixed.beds.batches,
                daily={name: values.T for name, values in own.daily.items()},
                fish=_by_batch(own.fish, len(one.fixed.kinds)),
                crops=_by_batch(own.crops, crops),
            )
        )
    return found


def _by_batch(values: Mapping[str, Floats], batches: int) -> dict[str, Floats]:
    return {name: np.moveaxis(one[:batches], -1, 1) for name, one in values.items()}


def joined(mornings: Sequence[Begun]) -> Begun:
    """The mornings of several gardens as one, their members behind each other."""
    settings = [one.fixed for one in mornings]
    sizes = [one.members for one in settings]
    first = settings[0]
    names = set.intersection(*(set(one.draw) for one in settings))
    slots = max(len(one.kinds) for one in settings)
    stocks = [_filled_stock(one.stocked, slots) for one in mornings]
    return Begun(
        fixed=Setting(
            garden=first.garden,
            draw={name: _side_by_side([one.draw[name] for one in settings], sizes) for name in names},
            members=sum(sizes),
            first=first.first,
            before=first.before,
            days=first.days,
            kinds=_kinds(settings, slots, sizes),
            beds=_beds([one.beds for one in settings], sizes),
            shelf=first.shelf,
            base_shape=first.base_shape,
            chelate_holds=first.chelate_holds,
            **{
                name: _side_by_side([getattr(one, name) for one in settings], sizes)
                for name in (
                    "sky",
                    "gases",
                    "rates",
                    "tap",
                    "ionic_strength",
                    "full_l",
                    "protein",
                    "drawn",
                    "sludge_l",
                    "sludge_per_feed_l_g",
                    "weekly",
                    "weighed_share",
                    "weighed_from",
                    "water_times",
                )
            },
        ),
        stocked=_side_by_side(stocks, sizes),
        water=_side_by_side([one.water for one in mornings], sizes),
        ions=_side_by_side([one.ions for one in mornings], sizes),
        held=_side_by_side([one.held for one in mornings], sizes),
        read=mornings[0].read,
    )


def _side_by_side(values: Sequence[Any], sizes: Sequence[int]) -> Any:
    """Values of the same build behind each other on their last axis; a number that is everywhere the same
    stays one."""
    first = values[0]
    if isinstance(first, Mapping):
        return {name: _side_by_side([one[name] for one in values], sizes) for name in first}
    if is_dataclass(first) and not isinstance(first, type):
        parts = {
            field.name: _side_by_side([getattr(one, field.name) for one in values], sizes)
            for field in fields(first)
        }
        return replace(first, **parts)
    if isinstance(first, tuple):
        places = [_side_by_side(parts, sizes) for parts in zip(*values, strict=True)]
        return type(first)(*places) if hasattr(first, "_fields") else tuple(places)
    if any(np.ndim(one) > 0 for one in values):
        return _columns(values, sizes)
    if all(one == first for one in values):
        return first
    return np.repeat(np.array(values, dtype=np.float64), sizes)


def _columns(values: Sequence[Numbers], sizes: Sequence[int]) -> Floats:
    arrays = [np.asarray(one) for one in values]
    wide = [np.broadcast_to(one, (*one.shape[:-1], size)) for one, size in zip(arrays, sizes, strict=True)]
    return np.concatenate(wide, axis=-1)


def _filled_stock(stocked: fishes.Fishes, slots: int) -> fishes.Fishes:
    return fishes.Fishes(
        _more_rows(stocked.count, slots),
        _more_rows(stocked.weight_g, slots),
        _more_rows(stocked.ration_g, slots),
        stocked.ladder,
    )


def _more_rows(values: Any, rows: int, fill: float = 0.0) -> Any:
    """Rows of nothing below, up to so many."""
    missing = np.full((rows - values.shape[0], *values.shape[1:]), fill, dtype=values.dtype)
    return np.concatenate([values, missing])


def _kinds(settings: Sequence[Setting], slots: int, sizes: Sequence[int]) -> tuple[fishes.Kind, ...]:
    """Batches of fish by their place; who has none there gets one that never comes."""
    found = []
    for place in range(slots):
        giver = next(one.kinds[place] for one in settings if len(one.kinds) > place)
        none = replace(giver, arrives=NEVER, leaves=NEVER, count=0.0, week_take=0.0)
        own = [one.kinds[place] if len(one.kinds) > place else none for one in settings]
        joint = {
            field.name: _side_by_side([getattr(kind, field.name) for kind in own], sizes)
            for field in fields(fishes.Kind)
            if field.name not in ("batch", "species", "row")
        }
        found.append(replace(giver, **joint))
    return tuple(found)


def _beds(own: Sequence[beds.Beds], sizes: Sequence[int]) -> beds.Beds:
    """Batches of crops by their place; an empty place never stands."""
    slots = max(one.plant.shape[0] for one in own)
    plans = max(one.age_rate.shape[0] for one in own)
    longest = max(own, key=lambda one: len(one.batches))

    def rows(name: str, fill: float = 0.0) -> Floats:
        return _columns([_more_rows(getattr(one, name), slots, fill) for one in own], sizes)

    def by_nutrient(name: str, fill: float) -> dict[str, Floats]:
        return {
            nutrient: _columns([_more_rows(getattr(one, name)[nutrient], slots, fill) for one in own], sizes)
            for nutrient in beds.NUTRIENTS
        }

    def rates(name: str) -> Floats:
        return _columns([_more_rows(getattr(one, name), plans) for one in own], sizes)

    return beds.Beds(
        batches=longest.batches,
        plan_of=rows("plan_of").astype(np.int64),
        age_rate=rates("age_rate"),
        mass_rate=rates("mass_rate"),
        worth=rates("worth"),
        deadly=rates("deadly"),
        plant=rows("plant", NEVER).astype(np.int64),
        leaves=rows("leaves", -1).astype(np.int64),
        ready_d=rows("ready_d", 1.0),
        window_d=rows("window_d", 1.0),
        start_d=rows("start_d"),
        yield_kg=rows("yield_kg"),
        uptake_g_kg=by_nutrient("uptake_g_kg", 0.0),
        half_mg_l=by_nutrient("half_mg_l", 1.0),
        kc=rows("kc"),
        area_m2=rows("area_m2"),
    )
