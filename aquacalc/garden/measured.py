"""What the grower measured, put in the place of what is reckoned: water of the loop and of a bed, weights.

The rest of `garden.measured` is asked for where it counts: flow and feed in `sizing`, water temperature in
`garden.surroundings`, feed and water use in `season`, the loop's water in the targets and in a season's first
day.
"""

from dataclasses import replace

from aquacalc.constants import HOURS_PER_DAY
from aquacalc.errors import InputError, Problem
from aquacalc.garden import aimed, litres, model, sections
from aquacalc.garden.fields import bounds
from aquacalc.garden.place import place

DAY_NEEDED = ("water_temperature", "fish_weight", "feed")
"""Measurements that say nothing without their day."""


def problems_of(file: sections.File, made: model.Garden) -> list[Problem]:
    """What stands against counting a measurement: no day, no subject, water that the bed cannot hold."""
    found = []
    beds = {bed.name: bed for bed in made.beds}
    batches = {batch.name: batch for batch in made.fish}
    for position, one in enumerate(file.measured):
        if one.what in DAY_NEEDED and one.day is None:
            found.append(Problem("problem-missing", place(("measured", position, "day"))))
        if one.what == "water_use":
            found += _of_use(one, position, made)
        if one.what == "bed_water":
            found += _of_bed(one, position, beds)
        if one.what == "fish_weight":
            found += _of_fish(one, position, batches)
    return found


def _of_bed(one: sections.Measured, position: int, beds: dict[str, model.Bed]) -> list[Problem]:
    bed = beds.get(one.subject or "", next(iter(beds.values())) if len(beds) == 1 else None)
    if bed is None:
        return [Problem("problem-missing", place(("measured", position, "subject")))]
    void = bounds("bed_porosity")
    most = void.high if bed.holds_medium else 1.0
    wet_l = litres.LITRES_PER_M3 * bed.area_m2 * bed.flood_m
    if void.low * wet_l <= one.amount() <= most * wet_l:
        return []
    ends = (f"{void.low * wet_l:.3g}", f"{most * wet_l:.3g}", "L")
    return [Problem("problem-range", place(("measured", position, "value")), str(one.value), ends)]


def _of_use(one: sections.Measured, position: int, made: model.Garden) -> list[Problem]:
    """More litres a day than a loop can use and still run: a leak, or a change of water that was counted."""
    most = litres.MOST_USED_SHARE * litres.litres_of(_loop(made)).whole
    if one.amount() * HOURS_PER_DAY <= most:
        return []
    ends = ("0", f"{most:.3g}", "L/day")
    return [Problem("problem-range", place(("measured", position, "value")), str(one.value), ends)]


def _of_fish(one: sections.Measured, position: int, batches: dict[str, model.FishBatch]) -> list[Problem]:
    batch = batches.get(one.subject or "", next(iter(batches.values())) if len(batches) == 1 else None)
    if batch is None:
        return [Problem("problem-missing", place(("measured", position, "subject")))]
    if one.day is not None and one.day < batch.stocked:
        where = place(("measured", position, "day"))
        return [Problem("problem-weighed-early", where, one.day.isoformat(), (batch.stocked.isoformat(),))]
    return []


def counted(file: sections.File, made: model.Garden) -> model.Garden:
    """The garden with the water of its loop and beds and the weights of its fish as they were measured.

    Raises `InputError` with every measurement that cannot count.
    """
    if problems := problems_of(file, made):
        raise InputError(problems)
    beds = tuple(_bed(made, bed) for bed in made.beds)
    fish = tuple(_batch(made, batch) for batch in made.fish)
    return _loop(replace(made, beds=beds, fish=fish))


def _newest(made: model.Garden, what: str, subject: str, alone: bool) -> model.Measured | None:
    """Of a subject; a measurement without one counts where there is only one thing that it may be of."""
    named = made.last_measured(what, subject)
    return made.last_measured(what) if named is None and alone else named


def _bed(made: model.Garden, bed: model.Bed) -> model.Bed:
    newest = _newest(made, "bed_water", bed.name, len(made.beds) == 1)
    return bed if newest is None else replace(bed, water_l=newest.value)


def _batch(made: model.Garden, batch: model.FishBatch) -> model.FishBatch:
    newest = _newest(made, "fish_weight", batch.name, len(made.fish) == 1)
    return batch if newest is None else replace(batch, weighed=newest.day, weighed_g=newest.value)


def _loop(made: model.Garden) -> model.Garden:
    newest = made.last_measured("loop_volume")
    if newest is None:
        return made
    return replace(made, water_scale=newest.value / litres.litres_of(made).whole)


def without(garden: model.Garden, what: str, subject: str = "") -> model.Garden:
    """The garden as if this had not been measured: what is reckoned then stands beside the measurement."""
    rest = tuple(
        one
        for one in garden.measured
        if one.what != what or (subject and one.subject and one.subject != subject)
    )
    usual = model.Targets()
    targets = {
        "ph": replace(garden.targets, ph=usual.ph),
        "oxygen": replace(garden.targets, oxygen_mg_l=usual.oxygen_mg_l),
        "alkalinity": replace(
            garden.targets,
            alkalinity_mg_l=float(
                aimed.alkalinity_mg_l(garden.targets.base_to_ph, garden.top_up.alkalinity_mg_l)
            ),
        ),
    }
    made = replace(garden, measured=rest, targets=targets.get(what, garden.targets))
    if what == "loop_volume":
        return replace(made, water_scale=1.0)
    if what == "bed_water":
        beds = (replace(bed, water_l=None) if subject in ("", bed.name) else bed for bed in made.beds)
        return replace(made, beds=tuple(beds))
    if what == "fish_weight":
        fish = (
            replace(batch, weighed=None, weighed_g=None) if subject in ("", batch.name) else batch
            for batch in made.fish
        )
        return replace(made, fish=tuple(fish))
    return made
