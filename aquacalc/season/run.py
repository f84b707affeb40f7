"""A garden through its season: every morning the look and the events, 24 hours of water, every evening
growth."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

import numpy as np

from aquacalc import __version__, minerals
from aquacalc.constants import (
    ATOMIC_MASS_CL_G_MOL,
    ATOMIC_MASS_NA_G_MOL,
    MG_PER_G,
    MOLAR_MASS_CO2_G_MOL,
    Numbers,
)
from aquacalc.garden.litres import MOST_USED_SHARE
from aquacalc.schedule import absences
from aquacalc.schedule.batch import CropBatch
from aquacalc.season import basing, beds, drivers, fishes, record, rules, setting, start, wastes, weather
from aquacalc.season.hour import Hour, Rates, Speeds, Water, advance, speeds
from aquacalc.season.record import Record
from aquacalc.season.result import SeasonRun
from aquacalc.season.rules import Event
from aquacalc.season.setting import Setting, triangles
from aquacalc.season.start import Begun, Start
from aquacalc.sizing import balance
from aquacalc.sizing.caps import UNCAPPED, ByMonth
from aquacalc.sizing.hours import meal_shape, water_by_hour_c
from aquacalc.uncertainty import MEMBERS, SEED, Floats, draw
from aquacalc.water import ammonia, carbonate

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

CHUNK = 1000
"""Members that are run side by side: arrays of this length stay in the processor's cache."""
BLOCK_DAYS = 4
"""Days whose temperature factors are worked out at once for an ensemble."""
TELL_EVERY_D = 30
"""Days between two reports of how far a run is."""
SEED_STEP = 1_000_003
"""Between the weather of two chunks."""
CHELATE_HOLDS_PH = 7.2
"""Above it iron leaves a chelate of EDTA or DTPA, tenfold a unit of pH; EDDHA holds it. Common practice, no
source."""
CHLORIDE_PER_SODIUM = ATOMIC_MASS_CL_G_MOL / ATOMIC_MASS_NA_G_MOL
"""Sodium of feed is salt (practice)."""
PROGRESS_MIDDLE = 0.05
"""Share of the work that the middle run is."""

Progress = Callable[[float], None]


def run(
    garden: Garden,
    batches: Sequence[CropBatch],
    members: int = MEMBERS,
    seed: int = SEED,
    begin: Start | None = None,
    digest: str = "",
    progress: Progress | None = None,
    carried_g_day: ByMonth = UNCAPPED,
    executor: Executor | None = None,
) -> SeasonRun:
    """The season of a garden: the middle run on floats, and `members` sampled ones.

    batches: what `schedule.crops.batches` plans. begin: what the log says of the first morning. With one
    member the band is the middle run itself. The same seed gives the same result. progress: is told the
    share that is done, 0 to 1. carried_g_day: feed that the plan never goes beyond, (12,), January first.
    executor: does every thousand members as a piece of work of its own; the result is that of one process.
    """
    tell = progress or (lambda share: None)
    uncertain, begin = triangles(garden), begin or Start()
    middle = simulate(
        garden, batches, draw(uncertain, 1), seed, begin, single=True, carried_g_day=carried_g_day
    )
    tell(PROGRESS_MIDDLE)
    whole = record.part(middle.written, 0, 1)
    if members > 1:
        sampled = {
            **draw(uncertain, members, seed, balance.correlations(garden)),
            **beds.luck(len(middle.beds.batches), members, seed),
        }
        # Single precision holds every digit that is known, and ten thousand members in a home computer.
        days, standing = middle.days, len(middle.beds.batches)
        whole = record.empty(days, members, len(garden.fish), standing, dtype=np.float32)
        parts = [
            _Part(
                garden,
                batches,
                {name: values[first : first + CHUNK] for name, values in sampled.items()},
                seed + SEED_STEP * chunk,
                begin,
                carried_g_day,
                days,
                standing,
            )
            for chunk, first in enumerate(range(0, members, CHUNK))
        ]
        if executor is None or len(parts) == 1:
            _one_by_one(parts, whole, lambda share: tell(PROGRESS_MIDDLE + (1.0 - PROGRESS_MIDDLE) * share))
        else:
            _side_by_side(parts, whole, executor)
    own = middle.written
    typical = {
        **{name: values[..., 0] for name, values in own.daily.items()},
        **{f"fish.{name}": values[..., 0] for name, values in own.fish.items()},
        **{f"crops.{name}": values[..., 0] for name, values in own.crops.items()},
    }
    return SeasonRun(
        garden=garden.name,
        digest=digest,
        version=__version__,
        seed=seed,
        members=members,
        first=garden.season.start,
        fish_names=tuple(batch.name for batch in garden.fish),
        batches=middle.beds.batches,
        daily={name: values.T for name, values in whole.daily.items()},
        fish={name: np.moveaxis(values, -1, 1) for name, values in whole.fish.items()},
        crops={name: np.moveaxis(values, -1, 1) for name, values in whole.crops.items()},
        typical=typical,
        hourly=middle.hourly,
        events=tuple(own.events),
        most_feed_g_day=_by_day(garden, setting.most_feed_g_day(garden, carried_g_day), middle.days),
    )


@dataclass(frozen=True, eq=False)
class _Part:
    """A thousand members at most, with all that another process needs to run them.

    days: of the season; standing: batches of crops that stand in it.
    """

    garden: Garden
    batches: Sequence[CropBatch]
    sampled: Mapping[str, Floats]
    seed: int
    begin: Start
    carried_g_day: ByMonth
    days: int
    standing: int

    @property
    def members(self) -> int:
        return len(next(iter(self.sampled.values())))

    def record(self) -> Record:
        return record.empty(self.days, self.members, len(self.garden.fish), self.standing, dtype=np.float32)

    def run(self, written: Record | None = None, progress: Progress | None = None) -> Simulated:
        return simulate(
            self.garden,
            self.batches,
            self.sampled,
            self.seed,
            self.begin,
            single=False,
            written=written,
            progress=progress,
            carried_g_day=self.carried_g_day,
        )


def _one_by_one(parts: Sequence[_Part], whole: Record, tell: Progress) -> None:
    members, first = sum(part.members for part in parts), 0
    for part in parts:

        def told(share: float, done: int = first, here: int = part.members) -> None:
            tell((done + share * here) / members)

        part.run(record.part(whole, first, first + part.members), told)
        first += part.members


def _side_by_side(parts: Sequence[_Part], whole: Record, executor: Executor) -> None:
    first = 0
    for part, found in zip(parts, executor.map(_worked, parts), strict=True):
        record.copy(found, record.part(whole, first, first + part.members))
        first += part.members


def _worked(part: _Part) -> Record:
    """What a part leaves behind; run in another process."""
    kept = part.record()
    part.run(kept)
    return kept


def _by_day(garden: Garden, by_month: Floats, days: int) -> tuple[float, ...]:
    first = garden.season.start
    return tuple(float(by_month[(first + timedelta(days=day)).month - 1]) for day in range(days))


@dataclass(eq=False)
class Simulated:
    """What one chunk of members leaves behind.

    written: by day, the last axis that of the members; hours: every hour's drivers by simulated day, waters:
    every morning's water after its events, and that of the end; both only where they were asked for. days:
    of the season; before: simulated days ahead of it.
    """

    beds: beds.Beds
    rates: Rates
    written: Record
    hourly: dict[str, Floats]
    days: int
    before: int
    hours: list[list[Hour]]
    waters: list[Water]

    @property
    def events(self) -> list[Event]:
        """Events of a single member."""
        return self.written.events


def simulate(
    garden: Garden,
    batches: Sequence[CropBatch],
    sampled: Mapping[str, Floats],
    seed: int,
    begin: Start,
    single: bool,
    keep: bool = False,
    days: int | None = None,
    written: Record | None = None,
    progress: Progress | None = None,
    carried_g_day: ByMonth = UNCAPPED,
) -> Simulated:
    """Run the members of a draw side by side; with `single` the one member on floats, in a usual year.

    keep: also keep every hour's drivers and every morning's water, for a check by another solver. days: stop
    after so many days of the season. written: a record to fill, else a new one. progress: is told the share
    that is done. carried_g_day: as in `run`.
    """
    fixed = setting.setting_of(
        garden, batches, sampled, seed, anomalies=not single, days=days, carried_g_day=carried_g_day
    )
    return lived(start.first_morning(fixed, begin), single, keep, written, progress)


def lived(
    begun: Begun,
    single: bool = False,
    keep: bool = False,
    written: Record | None = None,
    progress: Progress | None = None,
) -> Simulated:
    """Live through the days from the first morning; the rest as in `simulate`.

    Every member goes by its own numbers, whoever runs beside it. It ends what it was given: `begun` is spent.
    """
    fixed, stocked, water, ions, held = begun.fixed, begun.stocked, begun.water, begun.ions, begun.held
    garden = fixed.garden
    rates = drivers.as_floats(fixed.rates) if single else fixed.rates
    growing = beds.at_start(fixed.beds)
    settled: Floats = np.zeros(fixed.members)
    lying_l: Floats = np.zeros(fixed.members)
    days = fixed.days - fixed.before
    if written is None:
        written = record.empty(days, fixed.members, len(fixed.kinds), len(fixed.beds.batches))
    shape = meal_shape()
    kept = basing.nothing_kept(fixed.members)
    previous: Speeds | None = None
    kept_hours: list[list[Hour]] = []
    waters: list[Water] = []

    for block, at, index in _days(fixed, whole=single):
        if progress and index % TELL_EVERY_D == TELL_EVERY_D - 1:
            progress((index + 1) / fixed.days)
        day, today = index - fixed.before, fixed.first + timedelta(days=index)
        garden_day = today.weekday() == absences.garden_day(garden)
        oxygen_mg_l, morning_l = MG_PER_G * water.oxygen_g / water.water_l, water.water_l
        morning = _look(fixed, block, at, index, water, ions, stocked, written)

        taken, taken_kg = fishes.take(day, garden_day, fixed.kinds, stocked)
        fishes.arrive(day, fixed.kinds, stocked)
        fishes.weigh(day, fixed.kinds, stocked)
        settles = rules.phosphate(
            day,
            water,
            ions,
            settled,
            morning.ph,
            fixed.sky.water_c[index],
            fixed.ionic_strength,
            fixed.draw["calcium_phosphate_log_k"],
            fixed.draw["phosphate_settled_per_d"],
        )
        # Of what settles the sludge takes its share out.
        settled = settled + settles.solid_mol * np.where(settles.solid_mol > 0.0, 1.0 - fixed.drawn, 1.0)
        happened = [*_water_events(fixed, index, garden_day, lying_l, water, ions), settles]
        water, ions = _applied(water, ions, happened)
        doses, kept = _doses(fixed, day, garden_day, water, ions, stocked, morning, kept)
        if day == 0 and fixed.before and begun.read.water:
            doses.append(start.reading(begun.read, water))
        water, ions = _applied(water, ions, doses)

        share = fishes.away_share(absences.who(today, garden))
        yesterday = fixed.sky.water_c[max(index - 1, 0)]
        given = fishes.fed(
            day,
            garden_day,
            share,
            fixed.kinds,
            stocked,
            fixed.sky.water_c[index],
            yesterday,
            np.asarray(oxygen_mg_l),
            fixed.weekly.most_feed_g_day[today.month - 1],
            fixed.weighed_on(index),
        )
        lying_l = lying_l * (not garden_day) + fixed.sludge_per_feed_l_g * given.feed_g.sum(axis=0)
        waste = wastes.of_day(fixed.kinds, stocked, given, fixed.protein, fixed.drawn, fixed.draw)
        gained = beds.today(
            day, fixed.beds, growing, _found_mg_l(water, ions, morning.ph, fixed.chelate_holds)
        )
        daily = _drivers(fixed, index, stocked, given, waste, gained, doses)
        hours = drivers.hours(at, block, daily, shape, fixed.draw["oxygen_use_factor"], single)
        # Twenty-four hours of water.
        water = _floats(water) if single else water
        if keep:
            waters.append(water)
            kept_hours.append(hours)
        sums = record.Day()
        for number, hour in enumerate(hours):
            now = speeds(water, hour, rates)
            if single and day >= 0:
                record.hour(written, water, now)
            sums.look(water, now, hour, single)
            before = _hour_before(now, previous, () if number else doses)
            water, flows = advance(water, now, before, hour, rates)
            sums.add(flows)
            previous = now
        water = Water(*(np.asarray(amount).reshape(-1) for amount in water))

        if day >= 0:
            _write(written, day, stocked, growing, given, taken, taken_kg, gained)
            record.events(written, day, [*happened, *doses], fixed.shelf, single)
            record.day(written, day, sums)
            written.daily["excreted_g"][day] = daily.excreted_n_g
            written.daily["bed_used_m2"][day] = (gained.stands * fixed.beds.area_m2).sum(axis=0)
            written.daily["lost_l"][day] = (1.0 - happened[0].keep) * morning_l
        dead = fishes.evening(day, fixed.kinds, stocked, given, fixed.sky.water_c[index])
        picked = beds.grown(day, fixed.beds, growing, gained)
        if day >= 0:
            written.fish["dead"][:, day] = dead
            written.crops["picked_kg"][:, day] = picked
        ions, held = _evening(fixed, index, ions, held, waste, gained, sums.denitrified_g)

    if keep:
        waters.append(_floats(water) if single else water)
    if progress:
        progress(1.0)
    return Simulated(
        beds=fixed.beds,
        rates=rates,
        written=written,
        hourly=_hourly(written, fixed) if single else {},
        days=days,
        before=fixed.before,
        hours=kept_hours,
        waters=waters,
    )


def _hour_before(now: Speeds, previous: Speeds | None, doses: Sequence[Event]) -> Speeds:
    """Speeds of an hour ago: those of now for each member whose water was dosed, for a dose is a jump."""
    if previous is None:
        return now
    if not doses:
        return previous
    added = [np.asarray(amount) for event in doses for amount in event.added.values()]
    jumped = np.any(np.array(added) != 0.0, axis=0)
    if not jumped.any():
        return previous
    if jumped.all():
        return now
    return Speeds(*(np.where(jumped, new, old) for new, old in zip(now, previous, strict=True)))


def _days(fixed: Setting, whole: bool) -> Iterator[tuple[drivers.Warmth, int, int]]:
    """Every simulated day with the block of temperature factors that it lies in, and its place there."""
    length = fixed.days if whole else BLOCK_DAYS
    for first in range(0, fixed.days, length):
        span = slice(first, min(first + length, fixed.days))
        block = drivers.warmth(
            fixed.sky.water_c[span],
            fixed.sky.swing_c[span],
            fixed.rates,
            fixed.gases,
            fixed.draw,
            fixed.ionic_strength,
            fixed.models,
        )
        for index in range(span.start, span.stop):
            yield block, index - first, index


@dataclass(frozen=True, eq=False)
class Morning:
    """The water of a morning, arrays of members: its pH and the pKa of ammonia in it."""

    ph: Floats
    pka: Floats


def _look(
    fixed: Setting,
    block: drivers.Warmth,
    at: int,
    index: int,
    water: Water,
    ions: Mapping[str, Numbers],
    stocked: fishes.Fishes,
    written: Record,
) -> Morning:
    """The morning's look: the water as the night has left it, and which level of feed it allows."""
    whole = block.constants
    constants = carbonate.Constants(
        *(np.asarray(one)[at, 0] for one in (whole.k1, whole.k2, whole.kw_gamma, whole.gamma))
    )
    hydrogen = np.asarray(
        carbonate.hydrogen_closed(
            water.alkalinity_eq / water.water_l, water.carbon_mol / water.water_l, constants
        )
    )
    per_l = MG_PER_G / water.water_l
    unionised = ammonia.unionised_fraction_at(hydrogen, block.by_name["ammonia_ka"][at, 0])
    fishes.look(
        fixed.kinds,
        stocked,
        np.asarray(water.tan_g * per_l * unionised),
        np.asarray(water.nitrite_g * per_l),
        np.asarray(ions["chloride"] * per_l),
    )
    day = index - fixed.before
    if day >= 0:
        record.morning(written, day, water, ions, hydrogen, constants)
        for name in ("water_c", "air_c", "light_mol_m2_d"):
            written.daily[name][day] = getattr(fixed.sky, name)[index]
    return Morning(-np.log10(hydrogen), -np.log10(block.by_name["ammonia_ka"][at, 0]))


def _water_events(
    fixed: Setting,
    index: int,
    garden_day: bool,
    lying_l: Floats,
    water: Water,
    ions: Mapping[str, Numbers],
) -> list[Event]:
    """Water that left since yesterday, water that fills up, lime that settled; the loss comes first.

    lying_l: wet sludge since the last draw.
    """
    day = index - fixed.before
    drawn = np.minimum(np.maximum(fixed.sludge_l, lying_l) / fixed.full_l, MOST_USED_SHARE) * garden_day
    gone = np.minimum(fixed.draw["splash_share_per_d"] * fixed.water_times, MOST_USED_SHARE) + drawn
    missing = np.maximum(fixed.full_l - water.water_l * (1.0 - gone), 0.0)
    settled = rules.scale(day, water, ions["calcium"], fixed.sky.water_c[index], fixed.ionic_strength)
    events = [rules.lost(day, gone), rules.topped_up(day, missing, fixed.tap), settled]
    weekly = fixed.weekly
    if garden_day:
        events += rules.changed(day, water, weekly.change_share, weekly.change_above_mg_l, fixed.tap) or ()
    return events


def _doses(
    fixed: Setting,
    day: int,
    garden_day: bool,
    water: Water,
    ions: Mapping[str, Numbers],
    stocked: fishes.Fishes,
    morning: Morning,
    kept: basing.Kept,
) -> tuple[list[Event], basing.Kept]:
    """What the grower puts in this morning: a base, ammonia for an empty filter, iron, potassium."""
    doses: list[Event] = []
    new = fixed.garden.start_up.state == "new"
    empty = np.asarray(~stocked.count.any(axis=0))
    if fixed.shelf:
        eq, kept = _base_eq(fixed, day, water, stocked, morning, kept)
        if np.any(eq > 0.0):
            per_l = MG_PER_G / water.water_l
            share = basing.first_share(fixed.shelf, ions["calcium"] * per_l, ions["potassium"] * per_l)
            # Bicarbonate of a start-up without fish goes in at once.
            once = empty | (fixed.garden.care.base_how == "once")
            doses.append(basing.given(day, eq, fixed.shelf, share, once))
    asked = empty & rules.feeds_filter(new, garden_day, fishes.days_to_next(day, fixed.kinds))
    if np.any(asked):
        food = rules.filter_food(day, water, rules.FOOD_TAN_MG_L if new else rules.WAKE_TAN_MG_L, asked)
        if np.any(food.added["tan_g"] > 0.0):
            doses.append(food)
    if garden_day and fixed.beds.batches:
        more = rules.potassium(day, ions["potassium"], water.water_l, fixed.weekly.potassium_mg_l)
        if np.any(more.ions["potassium"] > 0.0):
            doses.append(more)
        iron = rules.iron(day, ions["iron"], water.water_l)
        if np.any(iron.ions["iron"] > 0.0):
            doses.append(iron)
    return doses, kept


def _base_eq(
    fixed: Setting,
    day: int,
    water: Water,
    stocked: fishes.Fishes,
    morning: Morning,
    kept: basing.Kept,
) -> tuple[Floats, basing.Kept]:
    """Base of a morning, eq: to the target pH, or to the alkalinity of a start-up while it has no fish."""
    per_mg = water.water_l / carbonate.MG_L_CACO3_PER_EQ_L
    alkalinity = np.asarray(water.alkalinity_eq / per_mg)
    act = [
        np.where(stocked.count[place] > 0.0, kind.unionised_act_mg_l, np.inf)
        for place, kind in enumerate(fixed.kinds)
    ]
    seen = basing.Seen(
        alkalinity,
        morning.ph,
        np.asarray(water.tan_g * MG_PER_G / water.water_l),
        morning.pka,
        np.min(act, axis=0) if act else np.full(fixed.members, np.inf),
    )
    every = fixed.garden.care.look_every_d
    portion, after = basing.portion_mg_l(seen, kept, fixed.weekly.base_to_ph, every, looks=day % every == 0)
    fishless = np.asarray(~stocked.count.any(axis=0) & (fixed.garden.start_up.state == "new"))
    portion = np.where(fishless, basing.fishless_mg_l(alkalinity), portion)
    return portion * per_mg, basing.kept_where(fishless, kept, after)


def _drivers(
    fixed: Setting,
    index: int,
    stocked: fishes.Fishes,
    given: fishes.Fed,
    waste: wastes.Wastes,
    gained: beds.Today,
    doses: Sequence[Event],
) -> drivers.Daily:
    """What fish and beds make of the day's water."""
    drunk = (gained.stands * fixed.beds.kc * fixed.beds.area_m2).sum(axis=0) * fixed.sky.et0_mm_d[index]
    base = next((event.spread for event in doses if event.key == "base"), {})
    nothing = np.zeros(fixed.members)
    return drivers.Daily(
        excreted_n_g=waste.excreted_n_g,
        solids_n_g=waste.solids_n_g,
        breathing=fishes.breathing(fixed.kinds, stocked, given.share),
        uptake_n_g=gained.wanted_g["nitrogen"].sum(axis=0),
        evaporated_l=np.minimum(
            (fixed.sky.tank_l_d[index] + drunk) * fixed.water_times, MOST_USED_SHARE * fixed.full_l
        ),
        base_eq=np.asarray(base.get("alkalinity_eq", nothing)),
        base_carbon_mol=np.asarray(base.get("carbon_mol", nothing)),
        base_shape=fixed.base_shape,
        roots_carbon_mol=(gained.stands * fixed.beds.area_m2).sum(axis=0)
        * fixed.draw["root_carbon_dioxide_g_m2_d"]
        / MOLAR_MASS_CO2_G_MOL,
    )


def _found_mg_l(
    water: Water, ions: Mapping[str, Numbers], ph: Numbers, chelate_holds: bool
) -> dict[str, Floats]:
    """Nutrients as roots find them, mg/L: ammonia counts as nitrogen, iron as far as its chelate holds it."""
    per_l = MG_PER_G / water.water_l
    found = {name: np.asarray(ions[name] * per_l) for name in beds.NUTRIENTS if name in ions}
    found["nitrogen"] = np.asarray((water.nitrate_g + water.tan_g) * per_l)
    if not chelate_holds:
        found["iron"] = found["iron"] * 10.0 ** np.minimum(CHELATE_HOLDS_PH - ph, 0.0)
    return found


def _evening(
    fixed: Setting,
    index: int,
    ions: Mapping[str, Numbers],
    held: Mapping[str, Floats],
    waste: wastes.Wastes,
    gained: beds.Today,
    denitrified_g: Numbers,
) -> tuple[dict[str, Numbers], dict[str, Floats]]:
    """Ions and what solids hold after a day: fish and solids give, crops take, bacteria that live on nitrate
    build phosphorus in, sodium is salt, iron fades."""
    rate = fixed.draw["solids_n_mineralised_per_d"] * fixed.draw["theta_mineralisation"] ** (
        fixed.sky.water_c[index] - 20.0
    )
    settled = wastes.settled(held, ions, waste, rate, fixed.draw)
    after: dict[str, Numbers] = dict(settled.ions_g)
    after["chloride"] = after["chloride"] + CHLORIDE_PER_SODIUM * (settled.ions_g["sodium"] - ions["sodium"])
    for name, wanted in gained.wanted_g.items():
        if name in after:
            after[name] = after[name] - minerals.taken_up(after[name], wanted.sum(axis=0))
    after["iron"] = after["iron"] * (1.0 - fixed.draw["iron_loss_per_d"])
    built = wastes.built_in(
        settled.held_g, after, denitrified_g, fixed.draw["phosphorus_per_denitrified_g_g"]
    )
    return built[1], built[0]


def _write(
    written: Record,
    day: int,
    stocked: fishes.Fishes,
    growing: beds.Growing,
    given: fishes.Fed,
    taken: Floats,
    taken_kg: Floats,
    gained: beds.Today,
) -> None:
    """Fish and crops of a day as the morning left them."""
    there = stocked.count > 1e-6
    written.fish["count"][:, day] = stocked.count
    written.fish["weight_g"][:, day] = np.where(there, stocked.weight_g, np.nan)
    written.fish["feed_g"][:, day] = given.feed_g
    written.fish["taken"][:, day], written.fish["taken_kg"][:, day] = taken, taken_kg
    crops = {
        "age_d": growing.age_d,
        "stands": gained.stands,
        "heat_killed": gained.killed,
        "supply": gained.supply,
        "scarce": gained.scarce,
        "growth": gained.growth,
    }
    record.of_crops(written, day, crops)
    written.daily["fish_kg"][day] = (stocked.count * stocked.weight_g).sum(axis=0) / 1000.0
    written.daily["feed_g"][day] = given.feed_g.sum(axis=0)
    there_at_all = stocked.count.sum(axis=0) > 1e-6
    written.daily["ration"][day] = np.where(there_at_all, stocked.ladder.share, 1.0)


def _hourly(written: Record, fixed: Setting) -> dict[str, Floats]:
    sky: weather.Weather = fixed.sky.later(fixed.before)
    return {
        "water_c": water_by_hour_c(sky.water_c, sky.swing_c)[:, :, 0].reshape(-1),
        **{name: np.array(values) for name, values in written.hourly.items()},
    }


def _applied(
    water: Water, ions: dict[str, Numbers], happened: Sequence[Event]
) -> tuple[Water, dict[str, Numbers]]:
    for event in happened:
        water, ions = rules.apply(water, ions, event)
    return water, ions


def _floats(water: Water) -> Water:
    return Water(*(float(np.asarray(amount)[0]) for amount in water))
