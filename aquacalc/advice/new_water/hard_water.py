"""Hard top-up water: what it leaves behind in a year, which exchange holds it.

Alkalinity comes in with the top-up and is used by nitrification. How much is used hangs on the feed; how far
that is known hangs on plants, gas and solids, so that each stands as its own uncertain share and the answer
can name the one that moves it most. All months run January first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from aquacalc import nitrogen
from aquacalc.climate import months
from aquacalc.constants import MONTHS_PER_YEAR
from aquacalc.errors import InputError, Problem
from aquacalc.judge import lines
from aquacalc.uncertainty import MEMBERS, SEED, Band, Floats, Triangle, band, coefficient, draw
from aquacalc.water import salts, supplements, top_up

Moves = Literal["fish", "plants", "gas", "solids", "water"]
Quantity = Literal["alkalinity", "hardness", "sodium", "conductivity"]

LINES: Mapping[Quantity, float] = {
    "alkalinity": lines.begins_at("alkalinity", "watch"),
    "hardness": 300.0,
    "sodium": supplements.SODIUM_LIMIT_MG_L,
    "conductivity": 1500.0,
}
"""What to stay below, where nothing else is wished. Alkalinity: upper end with plants;
sodium: SRAC 454; hardness, mg/L CaCO3, and conductivity, uS/cm: common practice, no source."""
SOLIDS_LEFT = Triangle(0.1, 0.3, 0.8)
"""Share of the nitrogen in faeces and lost feed that rots in the loop, the rest is drawn out. Practice."""
WATER_SHARE = Triangle(0.85, 1.0, 1.2)
"""Litres that the grower gives against what they will be (practice)."""
LIME_FROM = Triangle(0.7, 0.9, 1.1)
"""Line from which lime settles in a loop against that at the top-up's hardness and 5 mg/L of carbon dioxide.

Both differ in a loop. Common practice, no source; what the season makes of a hard garden lies inside.
"""
LIME_SHARE_PER_D = Triangle(0.01, 0.03, 0.08)
"""Share of the alkalinity above that line that settles in a day. Common practice, no source."""


@dataclass(frozen=True)
class Hard:
    """Top-up water by its report, and the loop that it goes into.

    top_up_l_d: by month; let_out_l_d: of that, what leaves with its salts (splash, leaks, exchange);
    feed_g_d: by month; planted_m2, uptake_n_g_m2_d: what its crops take up; water_share: how well the litres
    are known.
    conductivity_us_cm: NaN where not known. now_mg_l: alkalinity of the loop, NaN for that of the top-up.
    seen_mg_l_week: fall that the grower's own tests show, NaN where none.
    """

    volume_l: float
    top_up_l_d: tuple[float, ...]
    let_out_l_d: float
    feed_g_d: tuple[float, ...]
    protein_share: float
    planted_m2: float
    alkalinity_mg_l: float
    hardness_mg_l: float
    sodium_mg_l: float
    temperature_c: float
    conductivity_us_cm: float = float("nan")
    now_mg_l: float = float("nan")
    seen_mg_l_week: float = float("nan")
    uptake_n_g_m2_d: Triangle = coefficient("uptake_n_leafy_g_m2_d")  # noqa: RUF009  (frozen)
    water_share: Triangle = WATER_SHARE

    @property
    def begins_mg_l(self) -> float:
        """Alkalinity of the loop now."""
        return self.alkalinity_mg_l if np.isnan(self.now_mg_l) else self.now_mg_l


def check(asked: Hard) -> None:
    """Raise `InputError` where the numbers do not fit together."""
    if len(asked.top_up_l_d) != MONTHS_PER_YEAR or len(asked.feed_g_d) != MONTHS_PER_YEAR:
        raise ValueError("twelve months belong here")
    most = max(asked.top_up_l_d)
    if asked.let_out_l_d > most:
        raise InputError(Problem("problem-let-out-above", "", f"{asked.let_out_l_d:g}", (f"{most:g}",)))
    if most > asked.volume_l:
        raise InputError(Problem("problem-top-up-above-loop", "", f"{most:g}", (f"{asked.volume_l:g}",)))


# What nitrification takes


def sampled_from(asked: Hard) -> dict[str, Triangle]:
    """What is drawn for each member, by name."""
    return {
        "feed_n_retained_share": coefficient("feed_n_retained_share"),
        "feed_n_faecal_share": coefficient("feed_n_faecal_share"),
        "feed_n_uneaten_share": coefficient("feed_n_uneaten_share"),
        "denitrified_share": coefficient("denitrified_share"),
        "root_base_return": coefficient("root_base_return"),
        "hard_water.uptake": asked.uptake_n_g_m2_d,
        "hard_water.solids": SOLIDS_LEFT,
        "hard_water.water": asked.water_share,
        "hard_water.lime_from": LIME_FROM,
        "hard_water.lime": LIME_SHARE_PER_D,
    }


def used_g_d(asked: Hard, of: Mapping[str, Floats]) -> Floats:
    """Alkalinity that the loop uses, g CaCO3/d, (members, 12).

    Fish give off ammonia, which brings a base of its own, so that a gram of their nitrogen turned into
    nitrate takes 3.57 g and not the often quoted 7.1. What becomes gas gives all of that back, what roots
    take up the share `root_base_return`. Source: charge balance (water reference, section 9).
    """
    feed_n = nitrogen.feed_nitrogen_g_day(np.asarray(asked.feed_g_d), asked.protein_share)
    solids = of["feed_n_faecal_share"] + of["feed_n_uneaten_share"]
    share = 1.0 - of["feed_n_retained_share"] - solids + of["hard_water.solids"] * solids
    made = share[:, None] * feed_n
    gas = of["denitrified_share"][:, None] * made
    taken = np.minimum((of["hard_water.uptake"] * asked.planted_m2)[:, None], made - gas)
    changed = (
        nitrogen.alkalinity_change_mg("ammonia_added", made)
        + nitrogen.alkalinity_change_mg("ammonia_oxidised", made)
        + nitrogen.alkalinity_change_mg("nitrate_denitrified", gas)
        + nitrogen.alkalinity_change_mg("nitrate_taken_up", taken) * of["root_base_return"][:, None]
    )
    used: Floats = -np.asarray(changed)
    return used


def use_g_d(asked: Hard, members: int = MEMBERS, seed: int = SEED) -> Floats:
    """Alkalinity that nitrification takes in each month, g CaCO3/d, (members, 12); never below zero."""
    return used_g_d(asked, draw(sampled_from(asked), members, seed))


_MOVERS: Mapping[Moves, tuple[str, ...]] = {
    "fish": ("feed_n_retained_share",),
    "plants": ("hard_water.uptake", "root_base_return"),
    "gas": ("denitrified_share",),
    "solids": ("hard_water.solids", "feed_n_faecal_share", "feed_n_uneaten_share"),
    "water": ("hard_water.water",),
}


def moved_by(asked: Hard, members: int = MEMBERS, seed: int = SEED) -> tuple[tuple[Moves, float], ...]:
    """What makes the yearly balance of alkalinity uncertain, the most first, with the width that it alone
    has.

    The width is that between the 10th and the 90th percentile, g CaCO3 a day, with all else typical.
    """
    triangles = sampled_from(asked)
    sampled = draw(triangles, members, seed)
    still = {name: np.full(members, one.typical) for name, one in triangles.items()}
    widths: list[tuple[Moves, float]] = []
    for mover, names in _MOVERS.items():
        moved = _net_g_d(asked, {**still, **{name: sampled[name] for name in names}}).mean(axis=1)
        found = band(moved)
        widths.append((mover, float(found.high - found.low)))
    return tuple(sorted(widths, key=lambda one: -one[1]))


def flows_l_d(asked: Hard, of: Mapping[str, Floats]) -> tuple[Floats, Floats]:
    """Water lost to sun and plants, and let out, L/d, (members, 12)."""
    whole = np.asarray(asked.top_up_l_d) * of["hard_water.water"][:, None]
    out = np.minimum(asked.let_out_l_d, whole)
    return whole - out, out


def lime_settles(asked: Hard, of: Mapping[str, Floats]) -> tuple[Floats, Floats]:
    """From where lime settles, and how fast, (members,)."""
    line = top_up.scale_from_mg_l(asked.hardness_mg_l, asked.temperature_c)
    return of["hard_water.lime_from"] * line, of["hard_water.lime"]


def _net_g_d(asked: Hard, of: Mapping[str, Floats]) -> Floats:
    """Brought by the top-up less used, g CaCO3/d, (members, 12)."""
    evaporation, out = flows_l_d(asked, of)
    return asked.alkalinity_mg_l * (evaporation + out) / 1000.0 - used_g_d(asked, of)


# After a year


@dataclass(frozen=True)
class End:
    """Where one quantity comes to.

    tap: in the top-up; after: a year, low, middle, high; hold_l_d: water to let out each day that holds the
    line in the end, low, middle, high, infinite where no exchange does.
    """

    tap: float
    after: tuple[float, float, float]
    line: float
    hold_l_d: tuple[float, float, float]


@dataclass(frozen=True)
class Year:
    """After a year of the same water.

    ends: by quantity, without conductivity where it is not known. least_mg_l: lowest alkalinity on the way.
    in_g_d, use_g_d: alkalinity that comes with the top-up and that is used, g CaCO3/d over the year (low,
    middle, high). scale_from_mg_l: alkalinity from which lime settles. let_out_l_d: as it is now. moved_by:
    as of the function.
    """

    ends: Mapping[Quantity, End]
    least_mg_l: tuple[float, float, float]
    in_g_d: tuple[float, float, float]
    use_g_d: tuple[float, float, float]
    scale_from_mg_l: float
    let_out_l_d: float
    moved_by: tuple[tuple[Moves, float], ...]


def after_a_year(
    asked: Hard, lines: Mapping[Quantity, float] = LINES, members: int = MEMBERS, seed: int = SEED
) -> Year:
    """Alkalinity, hardness, sodium and conductivity after a year, and what holds each at a line.

    Bands over the members. Hardness and conductivity count what the top-up brings and nothing that plants
    take up or that settles: the high side. Sodium comes with feed, too (weak). Alkalinity is kept above zero,
    and lime settles from it; the exchange that holds it counts no lime.
    """
    check(asked)
    sampled = draw({**sampled_from(asked), "salt": coefficient("feed_sodium_g_kg")}, members, seed)
    evaporation, out = flows_l_d(asked, sampled)
    use = used_g_d(asked, sampled)
    feed_kg_d = np.asarray(asked.feed_g_d) / 1000.0
    given: dict[Quantity, tuple[float, float, Floats]] = {
        "alkalinity": (asked.alkalinity_mg_l, asked.begins_mg_l, -use),
        "hardness": (asked.hardness_mg_l, asked.hardness_mg_l, np.zeros_like(use)),
        "sodium": (asked.sodium_mg_l, asked.sodium_mg_l, sampled["salt"][:, None] * feed_kg_d),
    }
    if not np.isnan(asked.conductivity_us_cm):
        given["conductivity"] = (asked.conductivity_us_cm, asked.conductivity_us_cm, np.zeros_like(use))
    month = months.month_of_day()
    ends: dict[Quantity, End] = {}
    least = np.zeros(members)
    for name, (tap, start, input_g_d) in given.items():
        settles = lime_settles(asked, sampled) if name == "alkalinity" else (np.inf, 0.0)
        flows = (evaporation[:, month], out[:, month])
        levels = top_up.by_day_mg_l(asked.volume_l, start, tap, flows, input_g_d[:, month], settles)
        if name == "alkalinity":
            least = levels.min(axis=1)
        hold = salts.discharge_needed_l_d(
            lines[name], tap, evaporation.mean(axis=1), 1000.0 * input_g_d.mean(axis=1)
        )
        ends[name] = End(tap, ends_of(band(levels[:, -1])), lines[name], ends_of(band(np.maximum(hold, 0.0))))
    brought = asked.alkalinity_mg_l * (evaporation + out).mean(axis=1) / 1000.0
    return Year(
        ends=ends,
        least_mg_l=ends_of(band(least)),
        in_g_d=ends_of(band(brought)),
        use_g_d=ends_of(band(use.mean(axis=1))),
        scale_from_mg_l=top_up.scale_from_mg_l(asked.hardness_mg_l, asked.temperature_c),
        let_out_l_d=asked.let_out_l_d,
        moved_by=moved_by(asked, members, seed),
    )


def ends_of(of: Band) -> tuple[float, float, float]:
    """Low, middle and high of a band."""
    return float(of.low), float(of.middle), float(of.high)
