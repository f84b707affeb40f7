"""What if? One thing done to the water of a reading: its pH at once and settled, and its ammonia.

pH is never averaged: alkalinity, inorganic carbon, heat and total ammonia are what mixes and what is dosed.
Where the water is closed, `at once`; `settled` once free carbon dioxide is back where it was, or where the
air leaves it. Un-ionised ammonia counts at the higher pH of both.
"""

from dataclasses import dataclass, replace
from typing import Literal

from aquacalc import kits
from aquacalc.advice.reading import derived, judge
from aquacalc.advice.reading.given import Given
from aquacalc.advice.reading.judge import Judgement
from aquacalc.advice.reading.measure import Measure
from aquacalc.judge.levels import URGENCY, Level
from aquacalc.judge.water import fits
from aquacalc.water import ammonia, carbonate, dosing, salts
from aquacalc.water.carbonate import Water

Deed = Literal["base", "air", "heat", "change", "all"]

DEEDS: tuple[Deed, ...] = ("base", "air", "heat", "change")
"""What can be done, in the order in which it is asked."""

MOVED = ("unionised_ammonia", "tan", "ph", "alkalinity", "carbon_dioxide", "temperature")
"""Parameters that a deed moves; the others stay as they were read."""

A_VOLUME_L = 1000.0
"""Objections to a portion hang on what it does to the water, not on how much water there is."""

LOWEST_C, HIGHEST_C = 0.0, 40.0
"""Between which the equilibrium is known."""


@dataclass(frozen=True)
class Wish:
    """What would be done. chemical: key of a base; rise_mg_l: of alkalinity, mg/L CaCO3.

    aired_mg_l: free carbon dioxide that strong air leaves. warmer_k: degrees more. share: of the water that
    is changed for new water, as warm as the tank, of `new_ph`, `new_alkalinity_mg_l`, `new_tan_mg_l` (as N).
    """

    chemical: str = dosing.MILDEST_BASE
    rise_mg_l: float = 20.0
    aired_mg_l: float = dosing.STRIPPED_CARBON_DIOXIDE_MG_L
    warmer_k: float = 5.0
    share: float = 0.25
    new_ph: float = 7.8
    new_alkalinity_mg_l: float = 100.0
    new_tan_mg_l: float = 0.0


@dataclass(frozen=True)
class State:
    """A water and its total ammonia as N, NaN where not known. settled_mg_l: carbon dioxide that stays."""

    water: Water
    tan_mg_l: float
    settled_mg_l: float

    @property
    def ph_at_once(self) -> float:
        """pH while no carbon dioxide is exchanged with the air."""
        return float(self.water.ph)

    @property
    def ph_settled(self) -> float:
        """pH once free carbon dioxide is where it stays."""
        water = self.water
        return float(
            carbonate.ph_at_carbon_dioxide(
                water.alkalinity_mg_l, self.settled_mg_l, water.temperature_c, water.ionic_strength
            )
        )

    @property
    def ph_highest(self) -> float:
        """The higher pH of both: the one at which ammonia counts."""
        return max(self.ph_at_once, self.ph_settled)

    @property
    def carbon_dioxide_mg_l(self) -> float:
        """Free carbon dioxide at once."""
        return float(self.water.carbon_dioxide_mg_l)

    @property
    def unionised_mg_l(self) -> float:
        """Un-ionised ammonia as N at the higher pH; NaN where total ammonia is not known."""
        return self.tan_mg_l * float(ammonia.unionised_fraction(self.ph_highest, self.water.temperature_c))


# --- one deed on one water ---------------------------------------------------------------------------------


def dosed(now: State, chemical: str, rise_mg_l: float) -> State:
    """After a base: settled where the usual air leaves carbon dioxide, as doses are reckoned elsewhere.

    >>> now = State(carbonate.water(6.4, 20.0, 25.0, 0.00889), 1.0, 14.0)
    >>> round(dosed(now, "potassium_bicarbonate", 40.0).ph_settled, 2)
    7.33
    """
    after = dosing.after_rise(now.water, dosing.chemical(chemical), rise_mg_l)
    return State(after, now.tan_mg_l, dosing.aired_mg_l(now.settled_mg_l))


def aired(now: State, carbon_dioxide_mg_l: float) -> State:
    """After air has driven carbon dioxide out; water that holds less already stays as it is.

    >>> now = State(carbonate.water(6.8, 40.0, 25.0, 0.009), 1.0, 11.0)
    >>> round(aired(now, 3.0).ph_at_once, 2)
    7.38
    """
    left, water = min(carbon_dioxide_mg_l, now.carbon_dioxide_mg_l), now.water
    ph = carbonate.ph_at_carbon_dioxide(
        water.alkalinity_mg_l, left, water.temperature_c, water.ionic_strength
    )
    after = carbonate.water(float(ph), water.alkalinity_mg_l, water.temperature_c, water.ionic_strength)
    return State(after, now.tan_mg_l, left)


def heated(now: State, warmer_k: float) -> State:
    """After a change of temperature; carbon dioxide stays where it was."""
    warm = min(max(float(now.water.temperature_c) + warmer_k, LOWEST_C), HIGHEST_C)
    return replace(now, water=replace(now.water, temperature_c=warm))


def changed(now: State, new: Water, new_tan_mg_l: float, share: float) -> State:
    """After a share of the water was changed for new water.

    >>> old = State(carbonate.water(6.4, 20.0, 25.0, 0.0089), 2.0, 14.0)
    >>> tap = carbonate.water(7.8, 200.0, 25.0, 0.0089)
    >>> after = changed(old, tap, 0.0, 0.3)
    >>> round(after.ph_at_once, 2), round(after.tan_mg_l, 1)
    (7.06, 1.4)
    """
    tan = float(salts.after_change_mg_l(now.tan_mg_l, new_tan_mg_l, share))
    return State(carbonate.mix(now.water, new, share), tan, now.settled_mg_l)


# --- a reading and what it comes to ------------------------------------------------------------------------


@dataclass(frozen=True)
class After:
    """One deed: the water after it, the level it leads to, and what sets the level.

    passes: whether un-ionised ammonia reaches the line from which fish ask to act today. or_worse: a reading
    at the end of its kit only bounds the level. against: objections to a base (see `water.dosing`).
    """

    deed: Deed
    state: State
    level: Level
    set_by: tuple[str, ...]
    passes: bool
    or_worse: bool = False
    against: tuple[dosing.Objection, ...] = ()


@dataclass(frozen=True)
class WhatIf:
    """The water as read, what each deed makes of it by itself, and all of them one after the other.

    line: un-ionised ammonia, mg N/L, from which the most sensitive fish asks to act today. level, set_by: of
    what was read, as far as deeds can move it. missing: parameters without which nothing can be reckoned.
    """

    now: State | None
    level: Level
    set_by: tuple[str, ...]
    line: float
    after: tuple[After, ...]
    missing: tuple[str, ...] = ()
    or_worse: bool = False


def answer_of(found: Judgement, wish: Wish) -> WhatIf:
    """What each deed makes of the water of a reading."""
    given = found.given
    level, set_by, or_worse = _of_moved(found)
    line = given.act_line_mg_l
    water = derived.water(given, found.temperature_c)
    missing = tuple(
        name for name in ("ph", "alkalinity") if name not in given.measures or not given.measures[name].told
    )
    if missing or water is None or not fits(float(water.carbon_dioxide_mg_l)):
        return WhatIf(None, level, set_by, line, (), missing, or_worse)
    now = State(water, given.value("tan"), float(water.carbon_dioxide_mg_l))
    deeds: list[Deed] = wished(wish)
    if len(deeds) > 1:
        deeds.append("all")
    after = tuple(_after(found, now, deed, wish) for deed in deeds)
    return WhatIf(now, level, set_by, line, after, or_worse=or_worse)


def wished(wish: Wish) -> list[Deed]:
    """The deeds of which there is anything to do, in the order in which they are asked.

    >>> wished(Wish(rise_mg_l=0.0, share=0.0))
    ['air', 'heat']
    """
    amounts = {"base": wish.rise_mg_l, "air": 1.0, "heat": wish.warmer_k, "change": wish.share}
    return [deed for deed in DEEDS if amounts[deed] != 0.0]


def _after(found: Judgement, now: State, deed: Deed, wish: Wish) -> After:
    state = now
    done = wished(wish) if deed == "all" else [deed]
    if "change" in done:
        state = changed(state, _new_water(now, wish), wish.new_tan_mg_l, wish.share)
    if "heat" in done:
        state = heated(state, wish.warmer_k)
    if "base" in done:
        state = dosed(state, wish.chemical, wish.rise_mg_l)
    if "air" in done:
        state = aired(state, wish.aired_mg_l)
    level, set_by, or_worse = _of_moved(judge.judge(_given_after(found, state)))
    against: tuple[dosing.Objection, ...] = ()
    if deed == "base":
        place = dosing.Place(now.water, A_VOLUME_L, state.settled_mg_l)
        against = dosing.objections(dosing.dose(place, dosing.chemical(wish.chemical), wish.rise_mg_l))
    passes = state.unionised_mg_l >= found.given.act_line_mg_l
    return After(deed, state, level, set_by, passes, or_worse, against)


def _new_water(now: State, wish: Wish) -> Water:
    """The new water, as warm as the tank; water that holds nothing has no carbon either."""
    new = carbonate.water(
        wish.new_ph, wish.new_alkalinity_mg_l, now.water.temperature_c, now.water.ionic_strength
    )
    return replace(new, inorganic_carbon_mmol_l=max(float(new.inorganic_carbon_mmol_l), 0.0))


def _of_moved(found: Judgement) -> tuple[Level, tuple[str, ...], bool]:
    """The most urgent level of what a deed moves, which parameters stand at it, and whether one is open."""
    moved = [one for one in found.judged if one.parameter in MOVED]
    levels: list[Level] = [one.level for one in moved] or ["not known"]
    level = min(levels, key=URGENCY.index)
    return (
        level,
        tuple(one.parameter for one in moved if one.level == level),
        any(one.or_worse for one in moved),
    )


def _given_after(found: Judgement, state: State) -> Given:
    """The reading as it would be after a deed, judged at the higher pH of both."""
    measures = dict(found.given.measures)
    moved = {
        "ph": state.ph_highest,
        "alkalinity": float(state.water.alkalinity_mg_l),
        "temperature": float(state.water.temperature_c),
        "tan": state.tan_mg_l,
    }
    for name, value in moved.items():
        if name in measures or name in ("ph", "alkalinity"):
            measures[name] = _moved_to(measures[name], value)
    return replace(found.given, measures=measures)


def _moved_to(one: Measure, value: float) -> Measure:
    """A measure at another value: what its kit leaves open moves along, ammonia in proportion."""
    if one.parameter in kits.NITROGEN:
        times = value / one.value if one.value > 0.0 else 1.0
        return replace(one, value=value, low=one.low * times, high=one.high * times)
    by = value - one.value
    return replace(one, value=value, low=one.low + by, high=one.high + by)
