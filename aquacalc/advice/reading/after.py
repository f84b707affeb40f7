"""The water after what was advised so far: each value to expect rests on all that is done before it.

A change of water mixes what the new water brings, too: its nitrate, its alkalinity, the ammonia of its
chloramine, the acid of what treated it.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from aquacalc.advice.reading import derived
from aquacalc.advice.reading.judge import Judgement
from aquacalc.advice.reading.new_water import NewWater
from aquacalc.water import ammonia, carbonate, dosing, salts
from aquacalc.water.dosing import Chemical

MIXED = ("tan", "nitrite", "nitrate", "chloride", "added_salt")
"""What a change of water thins."""


@dataclass(frozen=True)
class After:
    """values: named by parameter, as the workbook counts them, NaN where not known. carbonates: None where pH
    and alkalinity are not both known. changed: share of the water that has been changed. ph_most: where new
    water of a higher pH was mixed in and the mixture cannot be reckoned, that higher pH; else NaN.
    usual_mg_l: free carbon dioxide as it was read, NaN where not known."""

    values: Mapping[str, float]
    ph: float
    temperature_c: float
    carbonates: carbonate.Water | None = None
    changed: float = 0.0
    ph_most: float = math.nan
    usual_mg_l: float = math.nan

    def value(self, parameter: str) -> float:
        """A value; NaN where not known."""
        return self.values.get(parameter, math.nan)

    @property
    def unionised(self) -> float:
        """Un-ionised ammonia, mg N/L."""
        return self._unionised(self.ph)

    @property
    def unionised_most(self) -> float:
        """The same at the highest pH that the mixture can have; NaN where its pH is known."""
        return self._unionised(self.ph_most)

    def _unionised(self, ph: float) -> float:
        return self.value("tan") * float(ammonia.unionised_fraction(ph, self.temperature_c))

    @property
    def ph_closed(self) -> float:
        """The highest pH that it may have before any carbon dioxide has left."""
        if self.carbonates is None:
            return self.ph if math.isnan(self.ph_most) else max(self.ph, self.ph_most)
        return float(self.carbonates.ph)

    def ph_at(self, dioxide_mg_l: float) -> float:
        """pH once so much free carbon dioxide is left; the highest that a dose may reach, where nobody knows
        alkalinity."""
        if self.carbonates is None:
            return max(self.ph_closed, dosing.HIGHEST_PH)
        water = self.carbonates
        return float(
            carbonate.ph_at_carbon_dioxide(
                water.alkalinity_mg_l, dioxide_mg_l, water.temperature_c, water.ionic_strength
            )
        )


def state_after(found: Judgement) -> After:
    """The water as it was read, before anything is done; chloride that is not known counts as none."""
    given = found.given
    values = {name: given.value(name) for name in MIXED}
    chloride = given.facts.chloride_mg_l
    values["chloride"] = 0.0 if math.isnan(chloride) else chloride
    water = derived.water(given, found.temperature_c)
    if water is not None and given.measures["alkalinity"].beyond == "above":
        water = None
    usual = math.nan if water is None else float(water.carbon_dioxide_mg_l)
    return After(values, found.ph, found.temperature_c, water, usual_mg_l=usual)


def changed(now: After, share: float, new: NewWater, acid_mg_l: float = 0.0) -> After:
    """A share of the water for new water of the tank's own warmth.

    acid_mg_l: alkalinity of the new water, mg/L CaCO3, that what takes its chlorine out uses up. New water of
    which pH and alkalinity are not told is asked for with no more of either than the tank has.
    """
    values = {
        name: float(salts.after_change_mg_l(now.value(name), new.brings(name), share)) for name in MIXED
    }
    mixed = _mixed(now, share, new, acid_mg_l)
    higher = new.value("ph") > now.ph
    untold = not higher and math.isnan(new.value("ph")) and math.isnan(new.value("alkalinity"))
    known = now.carbonates if untold else mixed
    return replace(
        now,
        values=values,
        ph=now.ph if mixed is None else _ph_counted(now, mixed),
        carbonates=known,
        changed=now.changed + (1.0 - now.changed) * share,
        ph_most=new.value("ph") if known is None and higher else math.nan,
    )


def thinned(now: After, share: float) -> After:
    """A share of the water for soft water that brings nothing, of the tank's own pH."""
    return changed(now, share, NewWater("none", told=True))


def salted(now: After, chloride_mg_l: float) -> After:
    """With chloride added."""
    return replace(now, values={**now.values, "chloride": now.value("chloride") + chloride_mg_l})


def based(now: After, of: Chemical, rise_mg_l: float) -> After:
    """With a base, or with an acid where alkalinity falls."""
    if now.carbonates is None:
        return now
    mixed = dosing.after_rise(now.carbonates, of, rise_mg_l)
    return replace(now, ph=_ph_counted(now, mixed), carbonates=mixed)


def soured(now: After, alkalinity_mg_l: float) -> After:
    """With so much alkalinity used up by an acid."""
    if now.carbonates is None:
        return now
    mixed = now.carbonates.plus(-alkalinity_mg_l, 0.0)
    return replace(now, ph=float(mixed.ph), carbonates=mixed)


def _mixed(now: After, share: float, new: NewWater, acid_mg_l: float) -> carbonate.Water | None:
    """Alkalinity and inorganic carbon mix, pH does not; None where either water is not known."""
    ph, alkalinity = new.value("ph"), new.value("alkalinity")
    if now.carbonates is None or math.isnan(ph) or math.isnan(alkalinity):
        return None
    water = now.carbonates
    other = carbonate.water(ph, alkalinity, float(water.temperature_c), float(water.ionic_strength))
    if float(other.inorganic_carbon_mmol_l) <= 0.0:
        return None
    return carbonate.mix(water, other.plus(-acid_mg_l, 0.0), share)


def _ph_counted(now: After, mixed: carbonate.Water) -> float:
    """The higher of the pH at once and that with the carbon dioxide which the tank held before."""
    then = replace(now, carbonates=mixed)
    return max(then.ph_closed, then.ph_at(now.usual_mg_l))
