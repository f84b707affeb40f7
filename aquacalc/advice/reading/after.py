"""The water after what was advised so far: each value to expect rests on all that is done before it.

A change of water mixes what the new water brings, too: its nitrate, and the ammonia of its chloramine.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from aquacalc.advice.reading import derived
from aquacalc.advice.reading.judge import Judgement
from aquacalc.advice.reading.new_water import NewWater
from aquacalc.water import ammonia, carbonate, salts

MIXED = ("tan", "nitrite", "nitrate", "chloride", "added_salt")
"""What a change of water thins."""


@dataclass(frozen=True)
class After:
    """values: named by parameter, as the workbook counts them, NaN where not known. carbonates: None where pH
    and alkalinity are not both known. changed: share of the water that has been changed. ph_most: where new
    water of a higher pH was mixed in and the mixture cannot be reckoned, that higher pH; else NaN."""

    values: Mapping[str, float]
    ph: float
    temperature_c: float
    carbonates: carbonate.Water | None = None
    changed: float = 0.0
    ph_most: float = math.nan

    def value(self, parameter: str) -> float:
        """A value; NaN where not known."""
        return self.values.get(parameter, math.nan)

    @property
    def unionised(self) -> float:
        """Un-ionised ammonia, mg N/L."""
        return self.value("tan") * float(ammonia.unionised_fraction(self.ph, self.temperature_c))

    @property
    def unionised_most(self) -> float:
        """The same at the highest pH that the mixture can have; NaN where its pH is known."""
        return self.value("tan") * float(ammonia.unionised_fraction(self.ph_most, self.temperature_c))


def state_after(found: Judgement) -> After:
    """The water as it was read, before anything is done; chloride that is not known counts as none."""
    given = found.given
    values = {name: given.value(name) for name in MIXED}
    chloride = given.facts.chloride_mg_l
    values["chloride"] = 0.0 if math.isnan(chloride) else chloride
    return After(values, found.ph, found.temperature_c, derived.water(given, found.temperature_c))


def changed(now: After, share: float, new: NewWater) -> After:
    """A share of the water for new water of the tank's own warmth."""
    values = {
        name: float(salts.after_change_mg_l(now.value(name), new.brings(name), share)) for name in MIXED
    }
    mixed = _mixed(now, share, new)
    most = new.value("ph") if mixed is None and new.value("ph") > now.ph else math.nan
    return replace(
        now,
        values=values,
        ph=now.ph if mixed is None else _ph_mixed(now, mixed),
        carbonates=mixed,
        changed=now.changed + (1.0 - now.changed) * share,
        ph_most=most,
    )


def salted(now: After, chloride_mg_l: float) -> After:
    """With chloride added."""
    return replace(now, values={**now.values, "chloride": now.value("chloride") + chloride_mg_l})


def _mixed(now: After, share: float, new: NewWater) -> carbonate.Water | None:
    """Alkalinity and inorganic carbon mix, pH does not; None where either water is not known."""
    ph, alkalinity = new.value("ph"), new.value("alkalinity")
    if now.carbonates is None or math.isnan(ph) or math.isnan(alkalinity):
        return None
    water = now.carbonates
    other = carbonate.water(ph, alkalinity, float(water.temperature_c), float(water.ionic_strength))
    return carbonate.mix(water, other, share) if float(other.inorganic_carbon_mmol_l) > 0.0 else None


def _ph_mixed(now: After, mixed: carbonate.Water) -> float:
    """The higher of the pH at once and that with the carbon dioxide which the tank held before."""
    before = mixed if now.carbonates is None else now.carbonates
    settled = carbonate.ph_at_carbon_dioxide(
        mixed.alkalinity_mg_l, before.carbon_dioxide_mg_l, mixed.temperature_c, mixed.ionic_strength
    )
    return max(float(mixed.ph), float(settled))
