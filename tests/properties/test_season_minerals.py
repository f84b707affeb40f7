"""The books of minerals through a season: what feed, bases, doses and new water bring is found again in the
water, in solids, in fish and crops, or has left."""

from collections import defaultdict

import numpy as np
import pytest
import seasons

from aquacalc import minerals
from aquacalc.season import rules, run, wastes

CLOSED = 1e-9
taken_up = minerals.taken_up
ELEMENTS = ("potassium", "calcium", "magnesium", "phosphorus", "iron")


def errors(monkeypatch: pytest.MonkeyPatch, name: str, days: int | None) -> dict[str, float]:
    """By element, what the books of a run are out by against all that went through them.

    The feed's content, what crops want and the iron that fades are reckoned here again; what was bound in
    solids and kept by fish is as the run says.
    """
    came, left = defaultdict(float), defaultdict(float)
    first, last = {}, {}
    evening, apply, settled = run._evening, rules.apply, wastes.settled

    def grams(ions, held):
        return {one: float(ions[one][0] + held[one][0]) for one in ELEMENTS}

    def kept_evening(fixed, index, ions, held, waste, gained, gone_n):
        if not first:
            # The morning's events of the first day are in the books already.
            first.update({one: total - came[one] + left[one] for one, total in grams(ions, held).items()})
        rate = fixed.draw["solids_n_mineralised_per_d"] * fixed.draw["theta_mineralisation"] ** (
            fixed.sky.water_c[index] - 20.0
        )
        found = settled(held, ions, waste, rate, fixed.draw)
        after, still = evening(fixed, index, ions, held, waste, gained, gone_n)
        for one in ELEMENTS:
            eaten = fixed.fed_g * (1.0 - fixed.draw["feed_n_uneaten_share"])
            drawn = eaten * (1.0 - fixed.draw[f"digested_{one}_share"]) * fixed.drawn
            there = found.ions_g[one]
            taken = taken_up(there, gained.wanted_g[one].sum(axis=0))
            faded = (there - taken) * fixed.draw["iron_loss_per_d"] * (one == "iron")
            came[one] += float((fixed.draw[f"feed_{one}_g_kg"] * (fixed.fed_g - drawn) / 1000.0)[0])
            left[one] += float((found.bound_g[one] + found.kept_g[one] + taken + faded)[0])
        last.update(grams(after, still))
        return after, still

    def kept_apply(water, ions, event):
        for one in ELEMENTS:
            came[one] += float(np.asarray(event.ions.get(one, 0.0)).reshape(-1)[0])
            left[one] += float(np.asarray(ions[one] * (1.0 - event.keep)).reshape(-1)[0])
        return apply(water, ions, event)

    def fed(fixed, index, stocked, given, *others):
        object.__setattr__(fixed, "fed_g", given.feed_g.sum(axis=0))
        return drivers(fixed, index, stocked, given, *others)

    drivers = run._drivers
    monkeypatch.setattr(run, "_evening", kept_evening)
    monkeypatch.setattr(run, "_drivers", fed)
    monkeypatch.setattr(rules, "apply", kept_apply)
    seasons.simulated(seasons.garden(name), days)
    return {
        one: abs(last[one] - first[one] - came[one] + left[one]) / (first[one] + came[one])
        for one in ELEMENTS
    }


@pytest.mark.parametrize("name", seasons.DEMOS)
def test_every_mineral_is_found_again(monkeypatch: pytest.MonkeyPatch, name: str):
    assert max(errors(monkeypatch, name, 120).values()) < CLOSED


def more(of, field, times=1.1):
    """The same with one flux changed in what it says."""

    def changed(*args, **options):
        found = of(*args, **options)
        return found._replace(**{field: getattr(found, field) * times})

    return changed


@pytest.mark.parametrize("field", ["dissolved_g", "solid_g", "kept_g"])
def test_a_feed_that_does_not_close_is_found_out(monkeypatch: pytest.MonkeyPatch, field: str):
    monkeypatch.setattr(minerals, "released", more(minerals.released, field))
    found = errors(monkeypatch, "greenhouse", 60)
    assert max(found.values()) > 1e-6


def test_solids_that_give_more_than_they_hold_are_found_out(monkeypatch: pytest.MonkeyPatch):
    freed = minerals.freed

    def doubled(*args):
        held, out, bound = freed(*args)
        return held, 2.0 * out, bound

    monkeypatch.setattr(minerals, "freed", doubled)
    assert errors(monkeypatch, "greenhouse", 60)["potassium"] > 1e-6


def test_bacteria_that_build_in_what_was_not_there_are_found_out(monkeypatch: pytest.MonkeyPatch):
    built = wastes.built_in

    def doubled(held, *others):
        more_held, ions = built(held, *others)
        moved = more_held["phosphorus"] - held["phosphorus"]
        return more_held | {"phosphorus": more_held["phosphorus"] + moved}, ions

    monkeypatch.setattr(wastes, "built_in", doubled)
    assert errors(monkeypatch, "greenhouse", 60)["phosphorus"] > 1e-6


def test_crops_that_take_other_than_they_want_are_found_out(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(minerals, "taken_up", lambda *args: 0.5 * taken_up(*args))
    assert errors(monkeypatch, "greenhouse", 60)["potassium"] > 1e-6
