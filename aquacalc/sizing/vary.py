"""What if? A garden with other numbers of fish, bed, flow, air, filter and backup, by a few knobs."""

from dataclasses import dataclass, replace

from aquacalc.garden.model import Garden, Measured, Power
from aquacalc.sizing import changes
from aquacalc.sizing.result import Balance


@dataclass(frozen=True)
class Knobs:
    """What can be turned. flow_l_h: round the loop, as a bucket would measure it."""

    fish_count: float
    final_weight_g: float
    bed_m2: float
    flow_l_h: float
    air_l_min: float
    biofilter_l: float
    backup: bool


def knobs(garden: Garden, balance: Balance) -> Knobs:
    """Where the knobs of a garden stand; `balance` is its own."""
    return Knobs(
        fish_count=float(sum(batch.count for batch in garden.fish)),
        final_weight_g=balance.final_weight_g,
        bed_m2=sum(bed.area_m2 for bed in garden.beds),
        flow_l_h=float(balance.flow_l_h.middle),
        air_l_min=garden.air.flow_l_min if garden.air else 0.0,
        biofilter_l=garden.biofilter.media_l if garden.biofilter else 0.0,
        backup=garden.power.backup != "none",
    )


def turned(garden: Garden, now: Knobs, wanted: Knobs, backup_air_l_min: float) -> Garden:
    """The garden with its knobs turned from `now` to `wanted`; one that stays leaves the garden as it is.

    Fish and their final weight change in every batch in proportion, bed area is added to the largest bed
    and taken off all. A flow is taken as measured. backup_air_l_min: air of a backup where one is added.
    """
    fish = garden.fish
    if wanted.fish_count != now.fish_count and now.fish_count > 0.0:
        share = wanted.fish_count / now.fish_count
        fish = tuple(replace(batch, count=max(round(batch.count * share), 1)) for batch in fish)
    if wanted.final_weight_g != now.final_weight_g and now.final_weight_g > 0.0:
        share = wanted.final_weight_g / now.final_weight_g
        fish = tuple(replace(batch, final_weight_g=batch.final_weight_g * share) for batch in fish)
    garden = replace(garden, fish=fish)
    if wanted.bed_m2 > now.bed_m2 and garden.beds:
        garden = changes.more_bed(garden, wanted.bed_m2 - now.bed_m2)
    elif wanted.bed_m2 < now.bed_m2:
        garden = changes.share_of_beds(garden, wanted.bed_m2 / now.bed_m2)
    if wanted.air_l_min != now.air_l_min:
        garden = changes.more_air(garden, wanted.air_l_min - now.air_l_min)
    if wanted.biofilter_l != now.biofilter_l:
        garden = changes.more_biofilter(garden, wanted.biofilter_l - now.biofilter_l)
    if wanted.flow_l_h != now.flow_l_h:
        others = tuple(one for one in garden.measured if one.what != "flow")
        garden = replace(garden, measured=(*others, Measured("flow", wanted.flow_l_h, "L/h")))
    if wanted.backup and not now.backup:
        garden = changes.backup_air(garden, backup_air_l_min)
    if now.backup and not wanted.backup:
        garden = replace(garden, power=Power(backup="none", devices=garden.power.devices))
    return garden
