"""What feed does not bring in full: potassium, calcium, magnesium, iron; and sodium, which stays."""

from __future__ import annotations

import numpy as np

from aquacalc import crops, tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Stretch, at_day, stretches, weekly, whole
from aquacalc.judge.levels import Level
from aquacalc.season import beds
from aquacalc.uncertainty import Band, Floats, band
from aquacalc.water.supplements import SODIUM_LIMIT_MG_L

SHORT = {
    "potassium": "finding-potassium-season-short",
    "calcium": "finding-calcium-season-short",
    "magnesium": "finding-magnesium-season-short",
    "iron": "finding-iron-season-short",
}
WITH_BASES = ("potassium", "calcium")
"""Those that the garden's bases bring."""
BASES = "finding-potassium-season-bases"
SODIUM = "finding-sodium-season-rising"
SOURCES = ("MATPET", "HS796", "OWN")

SHORT_DAYS = 14
"""Crops show what they lack after about two weeks. Common practice, no source."""
NEAR = 1.25
"""A span ends where there is a quarter more than the floor: what hovers about it is one span."""
SODIUM_RISE_MG_L_MONTH = 1.0
MONTH_DAYS = 30.0


def findings_of(look: Look) -> list[Finding]:
    """Spans under the floor at which to act, what bases bring against what crops take, and sodium."""
    return [*_short(look), *_bases(look), *_sodium(look)]


def wanted_g_day(look: Look, ion: str) -> Floats:
    """What the crops that stand would take up of `potassium` or `calcium`, g/day, (days,).

    The season's own rule: a batch takes its whole need in step with its mass, as warmth and light let it
    grow. At the typical yield and content, by the middle of the tries.
    """
    total = np.zeros(look.run.days)
    for place, batch in enumerate(look.run.batches):
        crop, plan = crops.crop(batch.crop), look.garden.crops[batch.plan]
        own = crop.yield_kg_m2.typical if plan.yield_kg_m2 is None else plan.yield_kg_m2
        kg = own * batch.area_m2 * (1.0 - (plan.loss_pct or 0.0) / 100.0)
        growing = look.run.crops["growth"][place] * look.run.crops["stands"][place]
        total += beds.content_g_kg(crop, ion) * kg / crop.bed_days * np.median(growing, axis=0)
    return total


def _short(look: Look) -> list[Finding]:
    found = []
    for ion, key in SHORT.items():
        floor = tables.load("crop_nutrients").row(ion).number("action_floor_mg_l")
        amount = _readable(look.band(f"{ion}_mg_l"))
        short, near = amount.middle < floor, amount.middle < NEAR * floor
        for span in stretches(short & look.planted, least=SHORT_DAYS, near=near):
            at = span.first + int(np.argmin(amount.middle[span.slice]))
            amounts = [
                at_day(ion, amount, at, "concentration"),
                look.on("worst", at),
                Amount("floor", floor, "concentration"),
            ]
            if ion in WITH_BASES:
                amounts += [
                    Amount("taken", _week(wanted_g_day(look, ion), span), "dose"),
                    whole("brought", weekly(look.run.daily[f"base_{ion}_g"], span), "dose"),
                ]
            found.append(look.finding(key, "watch", span, amounts, SOURCES))
    return found


def _readable(of: Band) -> Band:
    """No test reads less than hundredths of a mg/L."""
    return Band(np.round(of.low, 2), np.round(of.middle, 2), np.round(of.high, 2))


def _week(daily: Floats, span: Stretch) -> float:
    return float(7.0 * daily[span.slice].mean())


def _bases(look: Look) -> list[Finding]:
    """Potassium and calcium that come with the season's bases; too much of the first blocks others."""
    daily = look.run.daily
    if float(np.median(daily["base_eq"].sum(axis=1))) <= 0.0:
        return []
    most = tables.load("crop_nutrients").row("potassium").number("loop_target_high_mg_l")
    potassium = look.band("potassium_mg_l")
    amounts = (
        whole("brought", band(daily["base_potassium_g"].sum(axis=1)), "dose"),
        Amount("taken", float(wanted_g_day(look, "potassium").sum()), "dose"),
        whole("calcium_brought", band(daily["base_calcium_g"].sum(axis=1)), "dose"),
        Amount("calcium_taken", float(wanted_g_day(look, "calcium").sum()), "dose"),
        at_day("ends", _readable(potassium), look.run.days - 1, "concentration"),
        Amount("line", most, "concentration"),
    )
    level: Level = "watch" if float(potassium.middle.max()) >= most else "fine"
    season = Stretch(0, look.run.days - 1)
    return [look.finding(BASES, level, season, amounts, SOURCES)]


def _sodium(look: Look) -> list[Finding]:
    values = look.run.daily["sodium_mg_l"]
    end = look.run.days - 1
    month = band((values[:, end] - values[:, 0]) * MONTH_DAYS / max(end, 1))
    sodium = look.band("sodium_mg_l")
    if float(sodium.middle[end]) < SODIUM_LIMIT_MG_L or float(month.middle) < SODIUM_RISE_MG_L_MONTH:
        return []
    amounts = (
        at_day("sodium", sodium, end, "concentration"),
        Amount("begins", float(sodium.middle[0]), "concentration"),
        whole("month", month, "concentration"),
        Amount("line", SODIUM_LIMIT_MG_L, "concentration"),
    )
    return [look.finding(SODIUM, "watch", Stretch(0, end), amounts, ("OWN", "SRAC454"))]
