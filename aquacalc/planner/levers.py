"""What of a garden may be moved, and to what: few round positions each, that a grower can buy or do.

Ranges come from the balance and the climate, not from what is written. What the grower has not allowed (a
size that is not sold, a thing without a price, a sum that was not named) is no position.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal

import numpy as np

from aquacalc import fish, tables, units
from aquacalc.garden import usual_year
from aquacalc.judge import lines
from aquacalc.schedule import absences
from aquacalc.season import basing
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Floats

if TYPE_CHECKING:
    from aquacalc.garden.model import FishBatch, Garden, Offer

LeverKey = Literal[
    "number",
    "bought_at",
    "stocked",
    "until",
    "final_weight",
    "most_feed",
    "change",
    "potassium",
    "base_ph",
    "air",
    "biofilter",
    "bed",
    "cover",
    "battery_air",
    "roof",
    "barrel",
    "crops",
]

NUMBER_SHARES = (0.15, 0.25, 0.35, 0.5, 0.7, 1.0)
"""Numbers of fish that are tried, as shares of what the garden carries. Our own choice, no source."""
MOST_OF_FINAL = 0.35
"""Fish are bought at this share of their final weight at most, so that they grow here. Our own choice."""
FINAL_SHARES = (0.8, 0.9, 1.1, 1.2)
SHIFT_WEEKS = (-6, -4, -2, 2, 4, 6)
BEFORE_DANGER_WEEKS = (1, 3, 5, 8)
"""Weeks before the water becomes too cold or too warm in which the last fish may be taken out."""
UNUSUAL_C = 6.0
"""How far a day may lie from a usual one, for the days of taking out that are tried. Our own choice."""
LEAST_STAY = timedelta(days=60)
MOST_FEED_SHARES = (0.3, 0.5, 0.7, 0.9)
"""Most feed of a day, as shares of what the smallest limit carries at its best (our own choice)."""
CHANGES = (0.1, 0.2)
CHANGE_FROM = 0.6
"""Shares of the water changed in a week, and from which share of nitrate's act line (our own choice)."""
POTASSIUM_MG_L = (20.0, 40.0)
BASE_PH = (6.4, 6.8, 7.0)
"""Positions of the grower's weekly lines. Our own choice, no source."""
ROUND_TO = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0)
"""Round numbers of a decade for what is counted or weighed out."""


@dataclass(frozen=True, eq=False)
class Option:
    """One position of a lever.

    amount: in the base unit of its quantity, None where there is none yet; quantity: a key of
    `data/quantities.csv`, `date`, or empty for what is or is not there; values: dotted keys of the garden
    file and what is typed there, none for what is written; price: to buy, once.
    """

    amount: float | date | None
    quantity: str
    values: Mapping[str, object] = field(default_factory=dict)
    price: float = 0.0


@dataclass(frozen=True, eq=False)
class Lever:
    """Something that may be moved. subject: name of the batch or bed; options: the first is as written."""

    key: LeverKey
    subject: str
    options: tuple[Option, ...]


def levers_of(garden: Garden, balance: Balance) -> tuple[Lever, ...]:
    """Every lever of a garden that has a position beside the one written."""
    found: list[Lever] = []
    for place, batch in enumerate(garden.fish):
        found += _batch(garden, place, batch, balance)
    found += _weekly(garden, balance)
    found += _one_a_kind(_offer(garden, one) for one in _useful(garden) if _affordable(garden, one))
    return tuple(one for one in found if len(one.options) > 1)


def beyond_the_sum(garden: Garden) -> tuple[Lever, ...]:
    """What is offered and costs more than the grower named; all of it where no sum is named."""
    return tuple(_offer(garden, one) for one in _useful(garden) if not _affordable(garden, one))


# What is typed


def typed(garden: Garden, amount: float, metric: str, us: str) -> str:
    """An amount of a base unit as it is typed in the reader's units."""
    unit = units.unit(us if garden.reader.units == "us" else metric)
    return f"{units.to(amount, unit.key):.3g} {unit.label}"


def rounded(amount: float) -> float:
    """The nearest round number.

    >>> rounded(87.0), rounded(0.0347)
    (80.0, 0.03)
    """
    decade = 10.0 ** math.floor(math.log10(amount))
    nearest = min(ROUND_TO, key=lambda one: abs(one - amount / decade))
    return float(f"{decade * nearest:.3g}")


# Fish


def _batch(garden: Garden, place: int, batch: FishBatch, balance: Balance) -> Iterator[Lever]:
    """Levers of one batch; what is in the water already stays as it is."""

    def lever(key: LeverKey, now: Option, options: Iterable[Option]) -> Lever:
        return Lever(key, batch.name, (now, *options))

    if batch.stocked >= garden.season.start:
        number, weight = Option(float(batch.count), "number"), Option(batch.weight_g, "mass")
        yield lever("number", number, _numbers(garden, place, balance))
        yield lever("bought_at", weight, _sold(garden, place))
        yield lever("stocked", Option(batch.stocked, "date"), _stocked(garden, place))
    if batch.eaten and fish.species(batch.species).eaten:
        yield lever("final_weight", Option(batch.final_weight_g, "mass"), _final(garden, place))
        yield lever("until", Option(batch.until, "date"), _until(garden, place))


def _numbers(garden: Garden, place: int, balance: Balance) -> Iterator[Option]:
    batch = garden.fish[place]
    most = carried_number(balance) * batch.count / sum(one.count for one in garden.fish)
    row = tables.load("species").row(batch.species)
    least = np.nan_to_num(row.number("companions_min"), nan=2.0)
    found = {round(rounded(max(most * share, float(least)))) for share in NUMBER_SHARES if most > 0.0}
    for number in sorted(found - {batch.count}):
        yield Option(float(number), "number", {f"fish.{place}.count": number})


def carried_number(balance: Balance) -> float:
    """Fish that the smallest limit carries in the month in which the stock as written is nearest to it.

    Own reckoning: the number written, over the largest share of a limit that its appetite takes.
    """
    demand = balance.demand.feed_g_day.middle
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(demand > 0.0, demand / smallest_g_day(balance), 0.0)
    worst = float(np.nanmax(share))
    return float(balance.demand.count.max()) / worst if worst > 0.0 else 0.0


def smallest_g_day(balance: Balance) -> Floats:
    """Feed that the smallest limit which must hold carries, by month, middle."""
    counted = [one.feed_g_day.middle for one in balance.limits if one.must and one.counts]
    least: Floats = np.nanmin(counted, axis=0)
    return least


def _sold(garden: Garden, place: int) -> Iterator[Option]:
    batch = garden.fish[place]
    for grams in garden.wishes.sold_at_g:
        other = abs(grams - batch.weight_g) > 0.02 * grams
        if grams <= MOST_OF_FINAL * batch.final_weight_g and other:
            yield Option(grams, "mass", {f"fish.{place}.weight": typed(garden, grams, "g", "oz")})


def _stocked(garden: Garden, place: int) -> Iterator[Option]:
    """Garden days in weather in which the species feeds; in a start-up none before the one written."""
    batch, season = garden.fish[place], garden.season
    species, water_c = fish.species(batch.species), _usual_water_c(garden)
    for weeks in SHIFT_WEEKS:
        day = garden_day(garden, batch.stocked + timedelta(weeks=weeks))
        if garden.start_up.state == "new" and day < batch.stocked:
            continue
        fits = season.start < day and day + LEAST_STAY < (batch.until or season.end)
        if fits and species.corners.feed_stop_low_c < water_c[_place(day)] < species.warm_limit_c:
            yield Option(day, "date", {f"fish.{place}.stocked": day})


def _final(garden: Garden, place: int) -> Iterator[Option]:
    batch = garden.fish[place]
    table = fish.species(batch.species).table_weight_g
    for share in FINAL_SHARES:
        grams = batch.final_weight_g * share
        if table.low <= grams <= table.high and grams > batch.weight_g:
            yield Option(grams, "mass", {f"fish.{place}.final_weight": typed(garden, grams, "g", "oz")})


def _until(garden: Garden, place: int) -> Iterator[Option]:
    """Days on which the last are taken out: before the water may become too cold or too warm for them."""
    batch, season = garden.fish[place], garden.season
    species, water_c = fish.species(batch.species), _usual_water_c(garden)
    first = max(batch.stocked, season.start) + LEAST_STAY
    days = [first + timedelta(days=n) for n in range(max((season.end - first).days, 0))]
    low, high = species.lethal_low_c + UNUSUAL_C, species.lethal_high_c - UNUSUAL_C
    safe = [low < water_c[_place(day)] < high for day in days]
    turns = [
        day for day, before, now in zip(days[1:], safe[:-1], safe[1:], strict=True) if before and not now
    ]
    for weeks in BEFORE_DANGER_WEEKS if turns else ():
        day = garden_day(garden, turns[0] - timedelta(weeks=weeks))
        if first < day < season.end and day != batch.until:
            yield Option(day, "date", {f"fish.{place}.until": day})


def garden_day(garden: Garden, day: date) -> date:
    """The garden day of a week, out of an absence."""
    shifted = day + timedelta(days=(absences.garden_day(garden) - day.weekday()) % 7)
    return absences.moved(shifted, garden)[0]


def _usual_water_c(garden: Garden) -> Floats:
    return usual_year.usual_year_of(garden).water_c


def _place(day: date) -> int:
    return min(day.timetuple().tm_yday, 365) - 1


# What is done every week


def _weekly(garden: Garden, balance: Balance) -> Iterator[Lever]:
    care, aim = garden.care, garden.targets.base_to_ph
    now = None if math.isinf(care.most_feed_g_day) else care.most_feed_g_day
    yield Lever("most_feed", "", (Option(now, "feed"), *_most_feed(garden, balance)))
    yield Lever("change", "", (Option(care.change_share, "share"), *_changes(garden)))
    if garden.crops:
        now = None if math.isnan(care.potassium_mg_l) else care.potassium_mg_l
        others = (
            Option(mg_l, "concentration", {"care.potassium": f"{mg_l:g} mg/L"})
            for mg_l in POTASSIUM_MG_L
            if mg_l != now
        )
        yield Lever("potassium", "", (Option(now, "concentration"), *others))
    if basing.bases(garden):
        options = (Option(ph, "ph", {"targets.ph": ph}) for ph in BASE_PH if abs(ph - aim) > 0.05)
        yield Lever("base_ph", "", (Option(aim, "ph"), *options))


def _most_feed(garden: Garden, balance: Balance) -> Iterator[Option]:
    most = float(np.nanmax(np.nan_to_num(smallest_g_day(balance), posinf=0.0)))
    if garden.fish and most > 0.0:
        for grams in sorted({rounded(most * share) for share in MOST_FEED_SHARES}):
            yield Option(grams, "feed", {"care.most_feed": f"{grams:g} g/day"})


def _changes(garden: Garden) -> Iterator[Option]:
    rows = [tables.load("species").row(batch.species) for batch in garden.fish]
    act = lines.begins_at("nitrate", "act today", rows)
    for share in () if math.isnan(act) else CHANGES:
        values = {
            "care.change": f"{100.0 * share:g} %",
            "care.change_above": f"{rounded(act * CHANGE_FROM):g} mg/L",
            "care.change_basis": "N",
        }
        yield Option(share, "share", values)


# The beds


def planted(values: Mapping[str, object]) -> Lever:
    """Another plan of the beds: its entries under `crop`, in place of those that are written."""
    entries = values["crop"]
    assert isinstance(entries, Sequence)
    return Lever("crops", "", (Option(None, "number"), Option(float(len(entries)), "number", values)))


# What is bought


def _useful(garden: Garden) -> Iterator[Offer]:
    """Offers that are more than what is there, and for rain only where rain fills up."""
    for offer in garden.offers:
        now, becomes, _, _ = _bought(garden, offer)
        if becomes > now and (offer.what not in ("roof", "barrel") or garden.top_up.source == "rain"):
            yield offer


def _affordable(garden: Garden, offer: Offer) -> bool:
    most = garden.wishes.to_buy_at_most
    return most is not None and offer.price <= most


def _one_a_kind(offered: Iterable[Lever]) -> Iterator[Lever]:
    """Offers of one kind and place are positions of one lever."""
    found: dict[tuple[str, str], Lever] = {}
    for one in offered:
        place = one.key, one.subject
        before = found.get(place)
        found[place] = one if before is None else replace(before, options=before.options + one.options[1:])
    yield from found.values()


def _offer(garden: Garden, offer: Offer) -> Lever:
    now, becomes, quantity, values = _bought(garden, offer)
    options = (Option(now, quantity), Option(becomes, quantity, values, offer.price))
    return Lever(offer.what, offer.bed, options)


def _bought(garden: Garden, offer: Offer) -> tuple[float, float, str, dict[str, object]]:
    """What is there now, what there is with the offer, in which quantity, and what is typed."""
    rain = garden.rain
    match offer.what:
        case "air":
            power = {} if offer.power_w is None else {"air.power": f"{offer.power_w:g} W"}
            flow = {"air.flow": f"{offer.size:g} L/min"}
            return (
                garden.air.flow_l_min if garden.air else 0.0,
                offer.size,
                "air_flow",
                {**flow, **power},
            )
        case "biofilter":
            values = {"biofilter.medium": offer.medium, "biofilter.media": f"{offer.size:g} L"}
            return garden.biofilter.media_l if garden.biofilter else 0.0, offer.size, "volume", {**values}
        case "bed":
            return _larger_bed(garden, offer)
        case "cover":
            return float(garden.heat.cover), 1.0, "", {"heat.cover": True}
        case "battery_air":
            backed = float(garden.power.backup != "none")
            return backed, 1.0, "", {"power.backup": "battery air", "power.starts_by_itself": True}
        case "roof":
            roof = rain.roof_m2 + offer.size
            return rain.roof_m2, roof, "area", {"rain.roof": typed(garden, roof, "m2", "ft2")}
        case "barrel":
            litres = rain.barrel_l + offer.size
            return rain.barrel_l, litres, "volume", {"rain.barrel": typed(garden, litres, "l", "us_gal")}


def _larger_bed(garden: Garden, offer: Offer) -> tuple[float, float, str, dict[str, object]]:
    """A larger bed, with its crops spread over it; areas are cut off, so that they still fit."""
    names: Sequence[str] = [one.name for one in garden.beds]
    place = names.index(offer.bed)
    now = garden.beds[place].area_m2
    becomes = now + offer.size
    values: dict[str, object] = {f"bed.{place}.area": typed(garden, becomes, "m2", "ft2")}
    for n, one in enumerate(garden.crops):
        if one.bed == offer.bed:
            values[f"crop.{n}.area"] = typed(garden, 0.99 * one.area_m2 * becomes / now, "m2", "ft2")
    return now, becomes, "area", values
