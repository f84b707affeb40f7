"""Parts of a garden file against each other: names, areas, heights, dates."""

import difflib
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import get_args

from aquacalc import tables
from aquacalc.constants import DAYS_PER_YEAR
from aquacalc.errors import Problem
from aquacalc.garden import vessels
from aquacalc.garden.model import BedKind
from aquacalc.garden.place import Place, place
from aquacalc.garden.sections import Bed, Climate, Crop, File, Fish, Pump, Season, Sump, Tank
from aquacalc.hydraulics.pump import check_points

ROUNDING = 1.001
"""Areas that a grower adds up may miss the whole by this much."""

BULGING_TANK = 1.1
"""A tank holds at most this times surface by depth; walls that lean outwards hold less."""

SUBJECTS = {"bed_water": ("bed",), "fish_weight": ("fish",), "water_temperature": ("tank",)}
"""Kinds of things that some measurements are of; all others may name any part."""


def problems_of(file: File, today: date) -> list[Problem]:
    """Every problem between the parts of a file; today: a season that is not given is counted from it."""
    return [
        *_nothing_there(file),
        *_names(file),
        *_site(file),
        *_vessels(file),
        *_fish(file),
        *_crops(file, today),
        *_beds_of_crops(file),
        *_days(file),
        *_season(file, today),
        *_rest(file),
    ]


def span(file: File, today: date) -> tuple[date, date]:
    """First and last day of the plan: as given, else twelve months from the first of this month."""
    given = file.season or Season()
    start = given.start or today.replace(day=1)
    return start, given.end or start + timedelta(days=DAYS_PER_YEAR - 1)


def name(kind: str, position: int, given: str | None) -> str:
    """The name of an entry of a list; `tank 1` where it has none of its own."""
    return given or place((kind, position))


def names(kind: str, entries: Sequence[object]) -> list[str]:
    """The names of all entries of a list."""
    return [name(kind, position, getattr(one, "name", None)) for position, one in enumerate(entries)]


def _nothing_there(file: File) -> Iterator[Problem]:
    if not file.tank:
        yield Problem("problem-no-tank", "tank")
    if not file.bed:
        yield Problem("problem-no-bed", "bed")
    if not file.fish:
        yield Problem("problem-no-fish", "fish")


def _names(file: File) -> Iterator[Problem]:
    for kind in ("tank", "bed", "pump", "pipe", "drain", "feed", "fish", "kit", "product"):
        first: dict[str, int] = {}
        for position, one in enumerate(names(kind, getattr(file, kind))):
            if one.casefold() in first:
                where = place((kind, position, "name"))
                yield Problem("problem-name-twice", where, one, (place((kind, first[one.casefold()])),))
            first.setdefault(one.casefold(), position)
    for position, kit in enumerate(file.kit):
        measured = [scale.parameter for scale in kit.scale]
        for index, parameter in enumerate(measured):
            if parameter in measured[:index]:
                where = place(("kit", position, "scale", index, "parameter"))
                other = place(("kit", position, "scale", measured.index(parameter)))
                yield Problem("problem-name-twice", where, parameter, (other,))


def _known(found: str, known: Sequence[str], at: Place) -> Iterator[Problem]:
    if found not in known:
        nearest = difflib.get_close_matches(found, known, n=1)
        yield Problem("problem-unknown-name", place(at), found, tuple(known), nearest[0] if nearest else "")


def _site(file: File) -> Iterator[Problem]:
    site = file.site
    if site.climate is not None and site.weather_file is not None:
        yield Problem("problem-given-twice", "site", "climate and weather_file")
    elif site.climate is not None:
        yield from _climate(site.climate)
    elif site.weather_file is None and site.cover != "indoors":
        yield Problem("problem-climate-missing", "site climate")


def _climate(climate: Climate) -> Iterator[Problem]:
    if climate.air_max is None or climate.air_min is None:
        for key in ("air_max", "air_min"):
            if getattr(climate, key) is None:
                yield Problem("problem-missing", f"site climate {key}")
        return
    for month, (low, high) in enumerate(zip(climate.air_min, climate.air_max, strict=True), start=1):
        if low > high:
            where = f"site climate air_min {month}"
            yield Problem("problem-min-above-max", where, f"{low:.3g}", (f"{high:.3g}",))


def _vessels(file: File) -> Iterator[Problem]:
    for position, tank in enumerate(file.tank):
        yield from _tank(position, tank)
    for position, bed in enumerate(file.bed):
        if bed.flood is not None and bed.depth is not None and bed.flood > bed.depth:
            where = place(("bed", position, "flood"))
            yield Problem("problem-flood-above-rim", where, f"{bed.flood:.3g} m", (f"{bed.depth:.3g} m",))
        if bed.kind == "media" and bed.medium is not None:
            usable = tuple(
                row.key for row in tables.load("media") if not math.isnan(row.number("void_fraction_typical"))
            )
            if bed.medium not in usable:
                yield Problem("problem-choice", place(("bed", position, "medium")), bed.medium, usable)
    if file.sump is not None:
        yield from _sump(file.sump)
    for n, pump in enumerate(file.pump):
        yield from _curve(n, pump)


def _curve(n: int, pump: Pump) -> Iterator[Problem]:
    if pump.curve:
        points = [(point.flow, point.head) for point in pump.curve]
        for problem in check_points(points):
            yield replace(problem, where=place(("pump", n, "curve")))


def _sump(sump: Sump) -> Iterator[Problem]:
    yield from vessels.problems(sump, ("sump",))
    volume_l = vessels.volume_l(sump) if sump.volume is None else sump.volume
    if sump.rim is not None and volume_l is not None and volume_l > sump.rim:
        yield Problem("problem-sump-above-rim", "sump volume", f"{volume_l:.4g} L", (f"{sump.rim:.4g} L",))


def _tank(position: int, tank: Tank) -> Iterator[Problem]:
    yield from vessels.problems(tank, ("tank", position))
    volume_l = vessels.volume_l(tank) if tank.volume is None else tank.volume
    if tank.surface is None or tank.depth is None or volume_l is None or tank.shape == "lying":
        return  # a lying barrel is widest in the middle
    most_l = 1000.0 * tank.surface * tank.depth
    if volume_l > BULGING_TANK * most_l:
        where = place(("tank", position, "volume"))
        yield Problem("problem-tank-too-full", where, f"{volume_l:.4g} L", (f"{most_l:.4g} L",))


def _fish(file: File) -> Iterator[Problem]:
    tanks = names("tank", file.tank)
    for position, batch in enumerate(file.fish):
        if batch.tank is not None and tanks:
            yield from _known(batch.tank, tanks, ("fish", position, "tank"))
        elif len(tanks) > 1:
            yield Problem("problem-missing", place(("fish", position, "tank")))
        yield from _weights(position, batch)


def _weights(position: int, batch: Fish) -> Iterator[Problem]:
    if batch.species is None:  # it could not be read
        return
    row = tables.load("species").row(batch.species)
    start = row.number("start_weight_g") if batch.weight is None else batch.weight
    final = row.number("table_weight_typical_g") if batch.final_weight is None else batch.final_weight
    if final < start:
        where = place(("fish", position, "weight" if batch.final_weight is None else "final_weight"))
        yield Problem("problem-final-below-start", where, f"{final:.4g} g", (f"{start:.4g} g",))


def _crops(file: File, today: date) -> Iterator[Problem]:
    beds = names("bed", file.bed)
    if not beds:
        return
    for position, crop in enumerate(file.crop):
        if crop.bed is not None:
            yield from _known(crop.bed, beds, ("crop", position, "bed"))
        elif len(beds) > 1:
            yield Problem("problem-missing", place(("crop", position, "bed")))
    for bed, one in zip(beds, file.bed, strict=True):
        planted = [crop for crop in file.crop if crop.bed == bed or (crop.bed is None and len(beds) == 1)]
        most = max(planted_m2(planted, day) for day in days_of_change(planted, *span(file, today)))
        if most > one.area * ROUNDING:
            where = place(("bed", beds.index(bed), "area"))
            yield Problem("problem-crops-beyond-bed", where, f"{most:.3g} m2", (f"{one.area:.3g} m2",))


def _beds_of_crops(file: File) -> Iterator[Problem]:
    beds = dict(zip(names("bed", file.bed), file.bed, strict=True))
    for position, one in enumerate(file.crop):
        bed = beds.get(one.bed) if one.bed else file.bed[0] if len(file.bed) == 1 else None
        if bed is None or bed.kind is None or one.crop is None:  # not known, which another problem tells
            continue
        row = tables.load("crops").row(one.crop)
        suiting = [kind for kind in get_args(BedKind) if row.number(f"suit_{kind}") > 0.0]
        if bed.kind not in suiting:
            yield Problem(
                "problem-crop-bed",
                place(("crop", position, "bed")),
                f"{row.text('name')}, {bed.kind}",
                tuple(_named(called, held) for called, held in beds.items() if held.kind in suiting)
                or tuple(suiting),
            )


def _named(called: str, bed: Bed) -> str:
    return f"{called} ({bed.kind})"


def planted_m2(crops: Sequence[Crop], day: date) -> float:
    """Area of all crops that may stand on a day, as far as it is given."""
    return sum(crop.area or 0.0 for crop in crops if may_stand(crop, day))


def may_stand(crop: Crop, day: date) -> bool:
    """Whether a crop's months and its first and last day let it stand on a day."""
    inside = (crop.first is None or crop.first <= day) and (crop.last is None or day <= crop.last)
    return inside and (crop.months is None or day.month in crop.months)


def days_of_change(crops: Sequence[Crop], start: date, end: date) -> list[date]:
    """Days of a plan on which the area that is planted may grow: its first, those of months and of crops.

    A plan whose end lies before its start, which another problem tells, has its first day alone.
    """
    firsts = [crop.first for crop in crops if crop.first is not None]
    whole = range((end - start).days + 1)
    months = [day for day in (start + timedelta(days=n) for n in whole) if day.day == 1]
    return [start, *months, *(day for day in firsts if start <= day <= end)]


def _days(file: File) -> Iterator[Problem]:
    spans: list[tuple[Place, date | None, date | None]] = [
        *((("away", n, "end"), one.start, one.end) for n, one in enumerate(file.away)),
        *((("fish", n, "until"), one.stocked, one.until) for n, one in enumerate(file.fish)),
        *((("crop", n, "last"), one.first, one.last) for n, one in enumerate(file.crop)),
        *((("kit", n, "expires"), one.start, one.expires) for n, one in enumerate(file.kit)),
    ]
    if file.season is not None:
        spans.append((("season", "end"), file.season.start, file.season.end))
    for at, start, end in spans:
        if start is not None and end is not None and end < start:
            yield Problem("problem-dates-reversed", place(at), end.isoformat(), (start.isoformat(),))


def _season(file: File, today: date) -> Iterator[Problem]:
    start, end = span(file, today)
    if end < start:
        return
    for position, batch in enumerate(file.fish):
        if batch.stocked is not None and batch.stocked > end:
            where = place(("fish", position, "stocked"))
            yield Problem("problem-stocked-late", where, batch.stocked.isoformat(), (end.isoformat(),))
    # A plan that begins with the month of the day leaves old plantings behind: they are no slip.
    begins = file.season is not None and file.season.start is not None
    for position, crop in enumerate(file.crop):
        if crop.first is None:
            continue
        where = place(("crop", position, "first"))
        if crop.first > end or (begins and crop.first < start):
            nearest = min(max(crop.first, start), end)
            ends = (start.isoformat(), end.isoformat(), nearest.isoformat())
            yield Problem("problem-first-outside", where, crop.first.isoformat(), ends)
        elif crop.months is not None and crop.first.month not in crop.months:
            nearest = _nearest_in(crop.first, crop.months)
            yield Problem("problem-first-month", where, crop.first.isoformat(), (nearest.isoformat(),))


def _nearest_in(day: date, months: Sequence[int]) -> date:
    """The nearest day of these months, the later one of two as near."""
    days = (day + timedelta(days=sign * n) for n in range(DAYS_PER_YEAR) for sign in (1, -1))
    return next(one for one in days if one.month in months)


def _rest(file: File) -> Iterator[Problem]:
    heat = file.heat
    if heat is not None and (heat.heater is None) != (heat.setpoint is None):
        yield Problem("problem-missing", f"heat {'heater' if heat.heater is None else 'setpoint'}")
    power = file.power
    if power is not None and (power.battery_charge is None) != (power.battery_voltage is None):
        key = "battery_charge" if power.battery_charge is None else "battery_voltage"
        yield Problem("problem-missing", f"power {key}")
    wishes = file.wishes
    if wishes is not None and wishes.heads is not None and wishes.crop is None:
        yield Problem("problem-missing", "wishes crop")
    if wishes is not None and wishes.fish_per_year is not None and wishes.species is None:
        yield Problem("problem-missing", "wishes species")
    beds = names("bed", file.bed)
    for position, offer in enumerate(file.offer):
        if offer.bed is not None:
            yield from _known(offer.bed, beds, ("offer", position, "bed"))
    for position, one in enumerate(file.measured):
        if one.subject:
            kinds = SUBJECTS.get(one.what, ("tank", "bed", "fish", "pump"))
            subjects = [name for kind in kinds for name in names(kind, getattr(file, kind))]
            yield from _known(one.subject, subjects, ("measured", position, "subject"))
