"""The fish through the season: room in the tank, fish that stay small, fish that are left over."""

from __future__ import annotations

import numpy as np

from aquacalc import fish
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Spell, Stretch, at_day, spells, whole
from aquacalc.garden.model import Tank
from aquacalc.judge import share
from aquacalc.uncertainty import Band, band

OVER = "finding-density-season-over"
NEAR = "finding-density-season-near"
MAY = "finding-density-season-may-be-over"
SMALL = "finding-fish-season-small"
LEFT = "finding-fish-season-left"
SOURCES = ("FAO589", "OWN")

REACHED_SHARE = 0.95
"""A mean weight from here on counts as the final one: weights within a batch spread wider than that."""
A_FISH = 1.0
HALF = 0.5
"""A batch of which fewer reach their size has failed to."""


def findings_of(look: Look) -> list[Finding]:
    """Density of each tank; what becomes of each batch that is eaten."""
    return [
        *(one for tank in look.garden.tanks for one in _density(look, tank)),
        *(one for alike in look.alike for one in _outcome(look, alike)),
    ]


def _density(look: Look, tank: Tank) -> list[Finding]:
    places = [
        n for n, batch in enumerate(look.garden.fish) if batch.tank == tank.name and look.there[n].any()
    ]
    if not places:
        return []
    m3 = look.garden.water_scale * tank.volume_l / 1000.0
    kinds = [fish.species(look.garden.fish[n].species) for n in places]
    line = min(kind.density_max_kg_m3 for kind in kinds)
    kg = np.nansum(look.run.fish["count"][places] * look.run.fish["weight_g"][places], axis=0) / 1000.0
    density = band(kg / m3, axis=0)
    middle = [share.level(float(one) / line) for one in density.middle]
    tenth = [share.level(float(one) / line) for one in density.high]
    return [_crowded(look, tank, spell, density, line, places) for spell in spells(middle, tenth)]


def _crowded(look: Look, tank: Tank, spell: Spell, density: Band, line: float, places: list[int]) -> Finding:
    edge = density.high if spell.may else density.middle
    at = spell.stretch.first + int(np.argmax(edge[spell.stretch.slice]))
    amounts = [
        at_day("density", density, at, "density"),
        look.on("worst", at),
        Amount("line", line, "density"),
    ]
    if spell.level == "act today":
        kg = (float(density.middle[at]) - line) * look.garden.water_scale * tank.volume_l / 1000.0
        weights = band(look.run.fish["weight_g"][places][:, :, at], axis=1)
        heaviest = float(np.nanmax(weights.middle))
        amounts += [Amount("kg", kg, "biomass"), Amount("count", np.ceil(1000.0 * kg / heaviest), "count")]
    key = MAY if spell.may else OVER if spell.level == "act today" else NEAR
    return look.finding(key, spell.level, spell.stretch, amounts, SOURCES, tank.name)


def _outcome(look: Look, alike: tuple[int, ...]) -> list[Finding]:
    """Fish for the kitchen that are under their size, or left, at the end or when they have to leave."""
    run, batch = look.run, look.garden.fish[alike[0]]
    days = np.flatnonzero(look.there[list(alike)].any(axis=0))
    if not (batch.eaten and fish.species(batch.species).eaten) or days.size == 0:
        return []
    last = int(days[-1])
    weight = run.fish["weight_g"][alike[0]]
    count = np.sum([run.evening_count(place) for place in alike], axis=0)
    # Fish that leave as a whole batch do so on the day after the last one on which they are there.
    by_size = band(run.fish["taken"][list(alike)].sum(axis=0)[:, : last + 1].sum(axis=1))
    weights, left = band(weight, axis=0), band(count[:, last])
    amounts = [
        Amount("species", batch.species, "species"),
        at_day("weight", weights, last, "mass"),
        Amount("final", batch.final_weight_g, "mass"),
        look.on("day", last),
        whole("left", left, "count"),
        whole("taken", by_size, "count"),
    ]
    small = float(weights.middle[last]) < REACHED_SHARE * batch.final_weight_g
    if small and float(by_size.middle) < HALF * sum(look.garden.fish[place].count for place in alike):
        first = max(run.day(batch.stocked), 0)
        return [look.finding(SMALL, "watch", Stretch(first, last), amounts, ("OWN",), look.names(alike))]
    if last < run.days - 1 or float(left.middle) < A_FISH:
        return []
    amounts.append(whole("kg", band(np.nan_to_num(weight[:, last]) * count[:, last] / 1000.0), "biomass"))
    return [look.finding(LEFT, "watch", Stretch(last, last), amounts, ("OWN",), look.names(alike))]
