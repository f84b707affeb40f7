"""How far an answer may take a water on its way: an answer is judged as a whole, step after step.

No step may take it past a line that it had not passed, nor, where it had passed one, above where it stood at
the start. Each state is looked at closed, with the carbon dioxide that it usually holds, and well aired.
"""

import math
from dataclasses import dataclass

from aquacalc.advice.doses import refusals
from aquacalc.advice.reading.after import After
from aquacalc.advice.reading.judge import Judgement
from aquacalc.judge import ammonia, lines
from aquacalc.judge.levels import WATCH
from aquacalc.water import ammonia as chemistry
from aquacalc.water import dosing

AIRED_MG_L = (dosing.WELL_AIRED_CARBON_DIOXIDE_MG_L, dosing.STRIPPED_CARBON_DIOXIDE_MG_L)
"""Free carbon dioxide, mg/L, that usual and strong air leave."""

FEW_IONS_PH = 0.05
"""How much higher pH comes at one alkalinity and carbon dioxide in water of few salts than in usual loop
water; own reckoning by equilibrium."""

ROUNDING = 1e-9


@dataclass(frozen=True)
class Bounds:
    """Where a water stood before anything was done to it. found: its judgement; start: the water."""

    found: Judgement
    start: After

    def hold(self, then: After) -> bool:
        """Whether a step may lead to a water, however much carbon dioxide it then holds.

        A pH or an ammonia that the start itself comes to by losing as much carbon dioxide is no fault of the
        step.
        """
        usual = self.start.usual_mg_l
        aired = [min(left, usual) if usual > 0.0 else left for left in (usual, *AIRED_MG_L) if left > 0.0]
        pairs = [(then.ph_closed, self.start.ph)]
        pairs += [
            (self._ph_at(then, left), max(self.start.ph, self._ph_at(self.start, left))) for left in aired
        ]
        return all(self._holds(then, ph, before) for ph, before in pairs)

    def hold_aired(self, now: After) -> bool:
        """Whether all the air may go on: carbon dioxide falls to what strong air leaves.

        It is on before the rest is done, too, so that the start has to stand it as well.
        """
        both = (self.start, now)
        holds = all(self._ph_holds(one, self._ph_aired(one), self.start.ph) for one in both)
        return holds and self.hold_aired_but_for_ph(now)

    def hold_aired_but_for_ph(self, now: After) -> bool:
        """Whether ammonia stands all the air, however high pH rises with it."""
        both = (self.start, now)
        return all(self._ammonia_holds(one, self._ph_aired(one), self.start.ph) for one in both)

    def _ph_aired(self, now: After) -> float:
        left = dosing.STRIPPED_CARBON_DIOXIDE_MG_L
        if now.usual_mg_l > 0.0:
            left = min(left, now.usual_mg_l)
        return max(now.ph, self._ph_at(now, left))

    def _ph_at(self, of: After, dioxide_mg_l: float) -> float:
        """pH once so much carbon dioxide is left; where nobody knows the ions of the water, few of them."""
        few = 0.0 if "conductivity" in self.found.given.measures else FEW_IONS_PH
        return of.ph_at(dioxide_mg_l) + (0.0 if of.carbonates is None else few)

    def hold_warmed(self, now: After, warmer_k: float) -> bool:
        """Whether the water may be warmed by some degrees."""
        there = now.value("tan") * float(
            chemistry.unionised_fraction(now.ph_closed, now.temperature_c + warmer_k)
        )
        return not there > self._unionised_most(self.start.ph)

    def hold_soured(self, then: After) -> bool:
        """Whether an acid leaves pH and alkalinity on the side of each line on which they were."""
        if then.carbonates is None or self.start.carbonates is None:
            return False
        return refusals.stands_acid(self.start.carbonates, then.carbonates)

    def _holds(self, then: After, ph: float, ph_before: float) -> bool:
        return self._ph_holds(then, ph, ph_before) and self._ammonia_holds(then, ph, ph_before)

    def _ph_holds(self, then: After, ph: float, ph_before: float) -> bool:
        return then.carbonates is None or ph <= max(ph_before, self.most_ph) + ROUNDING

    def _ammonia_holds(self, then: After, ph: float, ph_before: float) -> bool:
        tan = self._most_tan(then)
        if math.isnan(tan):
            return True
        there = tan * float(chemistry.unionised_fraction(ph, then.temperature_c))
        if there > self._unionised_most(ph_before) * (1.0 + ROUNDING):
            return False
        return self._rank(tan, ph) <= max(
            WATCH, self._rank(self._most_tan(self.start), self._read(ph_before))
        )

    @property
    def most_ph(self) -> float:
        """pH from which to act."""
        return lines.begins_at("ph", "act today")

    def _rank(self, tan_mg_l: float, ph: float) -> int:
        found = self.found
        return int(ammonia.ranks(tan_mg_l, ph, found.temperature_c, found.given.species))

    def _unionised_most(self, ph_before: float) -> float:
        """Un-ionised ammonia, mg N/L, up to which a step may go."""
        tan = self.found.given.measures.get("tan")
        line = self.found.given.act_line_mg_l
        before = self._most_tan(self.start) * float(
            chemistry.unionised_fraction(self._read(ph_before), self.start.temperature_c)
        )
        # However much there is beyond an open end, less of it than before is never more.
        return before if tan is not None and tan.beyond == "above" else max(line, before)

    def _read(self, ph_before: float) -> float:
        """The pH of the start; beyond an open lower end it may have been any."""
        acid = self.found.given.measures.get("ph")
        is_open = acid is not None and acid.beyond == "below" and ph_before == self.start.ph
        return acid.least_and_most[0] if acid is not None and is_open else ph_before

    def _most_tan(self, then: After) -> float:
        """Total ammonia with what the kit leaves open."""
        tan = self.found.given.measures.get("tan")
        if tan is None or not tan.value > 0.0:
            return then.value("tan")
        return then.value("tan") * tan.highest / tan.value
