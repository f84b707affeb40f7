"""Exercises with a garden's own numbers: what is asked, what comes out, and how it is worked.

Numbers are drawn by a seed and rounded as they are printed before anything is computed with them, so that
whoever works by hand gets what stands on the sheet of answers. The package's own functions answer.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from aquacalc import crops, fish, nitrogen, power, tables, units, words
from aquacalc.advice.finding import Amount
from aquacalc.constants import ATOMIC_MASS_N_G_MOL, HOURS_PER_DAY, MOLAR_MASS_NO3_G_MOL
from aquacalc.garden import litres
from aquacalc.hydraulics import beds, shapes, turnover
from aquacalc.sizing.result import Balance
from aquacalc.water import ammonia, chlorine, salts
from aquacalc.words import Reader
from aquacalc.workshop import spread
from aquacalc.workshop.audience import AUDIENCES, YOUNG, Audience

if TYPE_CHECKING:
    from aquacalc.garden.model import Garden

RIGHT, NEAR = 0.05, 0.25
"""Shares by which an answer may be off: rounded on the way, and a slip somewhere. Our own choice."""
TENFOLD = (0.001, 0.01, 0.1, 10.0, 100.0, 1000.0)

OLDER: tuple[Audience, ...] = ("12-15", "16", "adults")
GROWN: tuple[Audience, ...] = ("16", "adults")
FIRST: tuple[Audience, ...] = ("8-11",)

SECONDS_PER_H = 3600.0
DAYS_OF_MONTH = 30
STOP_MG_L = 3.0
"""Oxygen down to which the exercises count; the plan takes each species' own. Common practice, no source."""
USE_MG_KG_H = (200, 250, 300, 350, 400)
"""Oxygen that a kilogram of fed fish breathes in an hour, in round numbers. Common practice, no source."""
WHOLE_HOURS = ((7.0, 1.0), (7.0, 2.0), (9.0, 2.0), (9.0, 3.0))
"""Oxygen at first and its fall in an hour, mg/L, by which the time is whole hours."""
LOSS_SHARE = 0.1
LEAST_G = 40.0
"""Fish that weigh less are counted as so heavy: they have grown when the class meets them. Our own choice."""

Mark = Literal["right", "near", "tenfold", "other"]


@dataclass(frozen=True)
class Given:
    """What exercises are drawn from."""

    garden: Garden
    balance: Balance
    audience: Audience
    reader: Reader
    chance: random.Random

    def told(self, value: float, kind: str, digits: int = 2) -> float:
        """A value rounded as its reader sees it."""
        zero = words.convert(0.0, kind, self.reader)
        one = words.convert(1.0, kind, self.reader) - zero
        shown = words.convert(value, kind, self.reader)
        return (float(f"{shown:.{digits - 1}e}") - zero) / one

    @property
    def units(self) -> tuple[str, str, str]:
        """By which a working tells cubic metres from cubic feet."""
        return "units", self.reader.units, "text"

    def cubic(self, *values: float, kinds: Sequence[str] = ("length",) * 3) -> Amount:
        """A volume in the cube of the reader's unit of length, as it comes out on the way."""
        sides = (words.convert(one, kind, self.reader) for one, kind in zip(values, kinds, strict=True))
        return Amount("cubic", math.prod(sides), "ratio")

    def drawn(self, kind: str, values: Sequence[float]) -> float:
        """One of several values, as its reader sees it."""
        return self.told(self.chance.choice(values), kind)


@dataclass(frozen=True)
class Exercise:
    """key: of its texts; amounts: what is told; steps: what comes out on the way; answer: what is asked."""

    key: str
    lesson: str
    amounts: tuple[Amount, ...]
    answer: Amount
    steps: tuple[Amount, ...] = ()


def mark(exercise: Exercise, typed: float) -> Mark:
    """What an answer is worth, in the unit of the answer's kind: right, near, off by tens, or none of these.

    >>> one = Exercise("box", "litres", (), Amount("answer", 700.0, "volume"))
    >>> [mark(one, value) for value in (690.0, 800.0, 7000.0, 20.0)]
    ['right', 'near', 'tenfold', 'other']
    """
    answer = exercise.answer.number
    if not answer:
        return "right" if typed == answer else "other"
    share = typed / answer
    if abs(share - 1.0) <= RIGHT:
        return "right"
    if any(abs(share / tens - 1.0) <= RIGHT for tens in TENFOLD):
        return "tenfold"
    return "near" if abs(share - 1.0) <= NEAR else "other"


def draw(
    garden: Garden, balance: Balance, audience: Audience, reader: Reader, seed: int = 1
) -> tuple[Exercise, ...]:
    """The exercises of an audience, in the order of the lessons. What a garden lacks is not asked.

    Each is drawn by the seed and its own key, so that one more leaves the others as they are.
    """
    found = (
        kind.make(Given(garden, balance, audience, reader, random.Random(f"{seed} {kind.key}")))
        for kind in KINDS
        if audience in kind.audiences
    )
    return tuple(one for one in found if one is not None)


# --- litres ----------------------------------------------------------------------------------------------


def _cans(of: Given) -> Exercise:
    tank = of.told(of.garden.tanks[0].volume_l, "volume")
    can = of.told(of.chance.choice((8.0, 10.0, 12.0)), "volume", 1)
    return _exercise("cans", "litres", ("tank", tank, "volume"), ("can", can, "volume"))(
        math.ceil(tank / can - 1e-9), "count"
    )


def _box(of: Given) -> Exercise:
    sides = tuple(of.drawn("length", values) for values in ((1.2, 1.5, 1.8), (0.6, 0.8), (0.4, 0.5)))
    told = tuple((name, one, "length") for name, one in zip(("length", "width", "depth"), sides, strict=True))
    return _exercise("box", "litres", *told, of.units)(
        float(shapes.box_l(*sides)), "volume", (of.cubic(*sides),)
    )


def _loop(of: Given) -> Exercise | None:
    parts = litres.litres_of(of.garden)
    rest = parts.sump + parts.pipes + parts.filter
    tanks, stand, more = (of.told(one, "volume") if one else 0.0 for one in (parts.tanks, parts.beds, rest))
    if not stand + more:
        return None
    told = (("tanks", tanks, "volume"), ("beds", stand, "volume"), ("rest", more, "volume"))
    return _exercise("loop", "litres", *told)(tanks + stand + more, "volume")


def _bucket(of: Given) -> Exercise:
    bucket, seconds = of.drawn("volume", (10.0, 12.0)), of.chance.choice((20, 24, 30, 40))
    told = (("bucket", bucket, "volume"), ("seconds", seconds, "number"))
    return _exercise("bucket", "litres", *told)(SECONDS_PER_H * bucket / seconds, "flow")


def _turnover(of: Given) -> Exercise:
    tank = of.told(of.garden.tanks[0].volume_l, "volume")
    flow = of.told(tank * of.chance.choice((0.5, 1.0, 1.5)), "flow")
    told = (("tank", tank, "volume"), ("flow", flow, "flow"))
    return _exercise("turnover", "litres", *told)(1.0 / float(turnover.turnover_per_h(flow, tank)), "time")


# --- nitrogen --------------------------------------------------------------------------------------------


def _change(of: Given) -> Exercise:
    reading = of.chance.choice((40.0, 60.0, 80.0))
    share = 0.5 if of.audience == "8-11" else of.chance.choice((0.2, 0.25, 0.3))
    told = (("reading", reading, "concentration"), ("share", share, "share"))
    left = salts.after_changes_mg_l(reading, 0.0, share, 1)
    return _exercise("change", "nitrogen", *told)(left, "concentration")


def _share(of: Given) -> Exercise:
    tan, warm = of.chance.choice((1.0, 1.5, 2.0)), of.drawn("temperature", (18.0, 22.0, 26.0))
    ph = of.chance.choice((7.4, 7.8, 8.2))
    part = float(f"{float(ammonia.unionised_fraction(ph, warm)):.1e}")
    told = (
        ("tan", tan, "nitrogen"),
        ("ph", ph, "ph"),
        ("warm", warm, "temperature"),
        ("part", part, "share"),
    )
    return _exercise("share", "nitrogen", *told)(tan * part, "nitrogen")


def _two_ph(of: Given) -> Exercise:
    warm, low = of.drawn("temperature", (18.0, 22.0, 26.0)), of.chance.choice((6.6, 6.8, 7.0))
    high = low + 1.0
    least, most = (float(ammonia.unionised_fraction(ph, warm)) for ph in (low, high))
    told = (("low", low, "ph"), ("high", high, "ph"), ("warm", warm, "temperature"))
    pka = Amount("pka", float(ammonia.pka(warm)), "ratio")
    steps = (pka, Amount("least", least, "share"), Amount("most", most, "share"))
    return _exercise("two-ph", "nitrogen", *told)(most / least, "ratio", steps)


def _basis(of: Given) -> Exercise:
    reading = of.chance.choice((30.0, 45.0, 90.0))
    steps = (
        Amount("whole", MOLAR_MASS_NO3_G_MOL, "ratio"),
        Amount("part", ATOMIC_MASS_N_G_MOL, "ratio"),
    )
    told = ("reading", reading, "concentration")
    return _exercise("basis", "nitrogen", told)(units.as_n(reading, "NO3"), "nitrogen", steps)


def _chlorine(of: Given) -> Exercise:
    strength, water = of.chance.choice((0.8, 1.2, 2.0)), of.chance.choice((150.0, 200.0, 300.0))
    grams = tables.load("chemicals").row(chlorine.USUAL_REAGENT).number("dechlorination_default_g_g")
    told = (("strength", strength, "concentration"), ("water", water, "number"), ("grams", grams, "number"))
    steps = (Amount("chlorine", strength * water / 1000.0, "dose"),)
    return _exercise("chlorine", "nitrogen", *told)(
        float(chlorine.reagent_g(strength, water, grams)), "dose", steps
    )


# --- feeding ---------------------------------------------------------------------------------------------


def _pinch(of: Given) -> Exercise:
    count, each = of.garden.fish[0].count, of.chance.choice((1, 2, 3))
    return _exercise("pinch", "feeding", ("count", count, "number"), ("each", each, "dose"))(
        count * each, "dose"
    )


def _feed(of: Given) -> Exercise:
    count = of.garden.fish[0].count
    weight = of.told(max(of.garden.fish[0].weight_g, LEAST_G), "dose")
    percent = of.chance.choice((1.5, 2.0, 2.5))
    told = (("count", count, "number"), ("weight", weight, "dose"), ("percent", percent, "percent"))
    steps = (Amount("stock", count * weight, "dose"),)
    return _exercise("feed", "feeding", *told)(count * weight * percent / 100.0, "feed", steps)


def _waste(of: Given) -> Exercise:
    feed = of.chance.choice((40.0, 60.0, 90.0, 120.0))
    protein = of.told(100.0 * of.garden.protein_fraction(), "percent")
    share = nitrogen.SIZING_SHARE
    told = (("feed", feed, "feed"), ("protein", protein, "percent"), ("part", share, "ratio"))
    return _exercise("waste", "feeding", *told)(
        float(nitrogen.tan_production_g_day(feed, protein / 100.0)), "feed"
    )


def _weighed(of: Given) -> Exercise:
    middle = max(of.garden.fish[0].weight_g, LEAST_G)
    sample = [of.told(middle * of.chance.uniform(0.75, 1.25), "fish_weight") for _ in range(6)]
    found = spread.spread(sample)
    listed = ", ".join(words.number(words.convert(one, "fish_weight", of.reader)) for one in sample)
    told = (("sample", f"{listed} {words.unit('fish_weight', of.reader)}", "text"),)
    steps = (Amount("sum", sum(sample), "fish_weight"), Amount("half", found.half_width, "fish_weight"))
    return _exercise("weighed", "feeding", *told)(found.mean, "fish_weight", steps)


# --- energy ----------------------------------------------------------------------------------------------


def _left(of: Given) -> Exercise:
    line, gone = of.chance.choice((40, 50, 60)), of.chance.choice((15, 20, 25))
    return _exercise("left", "energy", ("line", line, "number"), ("gone", gone, "number"))(
        line - gone, "number"
    )


def _energy(of: Given) -> Exercise:
    watts = [one.power_w for one in of.garden.power.devices if one.power_w > 0.0]
    watt = of.told(watts[0] if watts else of.chance.choice((20.0, 35.0, 45.0)), "power")
    hours = HOURS_PER_DAY * DAYS_OF_MONTH
    told = (("power", watt, "power"), ("days", DAYS_OF_MONTH, "number"))
    steps = (Amount("hours", hours, "number"),)
    return _exercise("energy", "energy", *told)(1000.0 * power.energy_kwh(watt, hours), "energy", steps)


def _outage(of: Given) -> Exercise:
    # In litres and kilograms for all readers, because what fish breathe is told in milligrams.
    tank = of.told(of.garden.tanks[0].volume_l, "number")
    kilograms = of.told(tank / 1000.0 * of.chance.choice((4.0, 6.0, 8.0)), "number")
    start, use = of.chance.choice((7.0, 7.5, 8.0)), of.chance.choice(USE_MG_KG_H)
    hours = fish.hours_to_critical(start, STOP_MG_L, use, kilograms / tank * 1000.0)
    told = (
        ("tank", tank, "number"),
        ("kilograms", kilograms, "number"),
        ("start", start, "concentration"),
        ("stop", STOP_MG_L, "concentration"),
        ("use", use, "number"),
    )
    steps = (Amount("fall", use * kilograms / tank, "concentration"),)
    return _exercise("outage", "energy", *told)(float(hours), "time", steps)


def _fall(of: Given) -> Exercise:
    start, fall = of.chance.choice(WHOLE_HOURS)
    told = (
        ("start", start, "concentration"),
        ("stop", STOP_MG_L, "concentration"),
        ("fall", fall, "concentration"),
    )
    return _exercise("fall", "energy", *told)((start - STOP_MG_L) / fall, "time")


# --- the choice ------------------------------------------------------------------------------------------


def _seeds(of: Given) -> Exercise:
    plants, good = of.chance.choice((8, 12, 16, 24)), of.chance.choice((6, 7, 8, 9))
    told = (("plants", plants, "number"), ("good", good, "number"))
    return _exercise("seeds", "choice", *told)(crops.seeds_for(plants, good / 10.0, cull=0.0), "number")


def _places(of: Given) -> Exercise:
    heads, weeks = of.chance.choice((4, 6, 8, 10)), of.chance.choice((4, 5, 6))
    set_out = crops.transplants_for(heads, LOSS_SHARE)
    told = (("heads", heads, "number"), ("loss", LOSS_SHARE, "share"), ("weeks", weeks, "number"))
    steps = (Amount("plants", set_out, "number"),)
    return _exercise("places", "choice", *told)(int(crops.plants_in_bed(set_out, weeks)), "count", steps)


def _flood(of: Given) -> Exercise | None:
    medium = [bed for bed in of.garden.beds if bed.holds_medium]
    if not medium:
        return None
    area, flood = of.told(medium[0].area_m2, "area"), of.told(medium[0].flood_m, "length")
    void = tables.load("media").row(medium[0].medium).number("void_fraction_typical")
    told = (("area", area, "area"), ("flood", flood, "length"), ("void", void, "share"))
    return _exercise("flood", "choice", *told, of.units)(
        float(beds.bed_water_l(area, flood, void)),
        "volume",
        (of.cubic(area, flood, kinds=("area", "length")),),
    )


def _fits(of: Given) -> Exercise | None:
    binding = of.balance.binding
    if binding is None or not math.isfinite(binding.limit_g_day):
        return None
    wanted, carried = of.told(binding.demand_g_day, "feed"), of.told(binding.limit_g_day, "feed")
    count = of.garden.fish[0].count
    told = (
        ("count", count, "number"),
        ("wanted", wanted, "feed"),
        ("month", binding.month, "month"),
        ("part", binding.key, "limit"),
        ("carried", carried, "feed"),
    )
    fits = math.floor(min(carried / wanted, 1.0) * count + 1e-9)
    return _exercise("fits", "choice", *told)(fits, "number")


# --- all of them -----------------------------------------------------------------------------------------


def _exercise(key: str, lesson: str, *told: tuple[str, float | str, str]) -> Callable[..., Exercise]:
    """What is told; called with the answer, its kind and the steps, it is the exercise."""

    def made(answer: float, kind: str, steps: tuple[Amount, ...] = ()) -> Exercise:
        amounts = tuple(Amount(*one) for one in told)
        return Exercise(key, lesson, amounts, Amount("answer", float(answer), kind), steps)

    return made


@dataclass(frozen=True)
class Kind:
    """An exercise before it is drawn, and who gets it."""

    key: str
    audiences: Collection[Audience]
    make: Callable[[Given], Exercise | None]


KINDS = (
    Kind("cans", FIRST, _cans),
    Kind("loop", AUDIENCES, _loop),
    Kind("box", OLDER, _box),
    Kind("bucket", OLDER, _bucket),
    Kind("turnover", GROWN, _turnover),
    Kind("change", AUDIENCES, _change),
    Kind("share", OLDER, _share),
    Kind("two-ph", GROWN, _two_ph),
    Kind("basis", GROWN, _basis),
    Kind("chlorine", GROWN, _chlorine),
    Kind("pinch", FIRST, _pinch),
    Kind("feed", OLDER, _feed),
    Kind("weighed", OLDER, _weighed),
    Kind("waste", GROWN, _waste),
    Kind("left", FIRST, _left),
    Kind("energy", OLDER, _energy),
    Kind("fall", YOUNG, _fall),
    Kind("outage", GROWN, _outage),
    Kind("seeds", AUDIENCES, _seeds),
    Kind("places", OLDER, _places),
    Kind("flood", GROWN, _flood),
    Kind("fits", OLDER, _fits),
)
