"""What holds crops back: the nutrient that they find least of, by name, from when, and how far."""

from __future__ import annotations

import numpy as np

from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.season.days import Look, Stretch, stretches
from aquacalc.season import beds

KEYS = {
    "nitrogen": "finding-growth-season-nitrogen",
    "phosphorus": "finding-growth-season-phosphorus",
    "potassium": "finding-growth-season-potassium",
    "calcium": "finding-growth-season-calcium",
    "magnesium": "finding-growth-season-magnesium",
    "iron": "finding-growth-season-iron",
}
SOURCES = ("MATPET", "HS796", "WILD74", "GENT03", "OWN")

HELD_BACK = 0.8
"""Share of the growth that warmth and light allow, under which a crop is told as held back. Common practice,
no source."""
LEAST_DAYS = 3
HALF = 0.5


def findings_of(look: Look) -> list[Finding]:
    """One finding a nutrient: the crop that it holds back most, and the days on which it does so to any."""
    if not look.run.batches:
        return []
    supply = np.median(look.run.crops["supply"], axis=1)
    stands = np.median(look.run.crops["stands"], axis=1) > 0.0
    scarce = look.run.crops["scarce"]
    found = []
    for place, nutrient in enumerate(beds.NUTRIENTS):
        is_scarcest = (scarce == place).mean(axis=1) >= HALF
        held = stands & is_scarcest & (supply < HELD_BACK)
        spans = stretches(held.any(axis=0), least=LEAST_DAYS)
        if not spans:
            continue
        least = np.where(held, supply, np.inf)
        batch, day = np.unravel_index(int(np.argmin(least)), least.shape)
        amounts = (
            Amount("crop", look.run.batches[int(batch)].crop, "crop"),
            Amount("share", float(least.min()), "share"),
            look.on("worst", int(day)),
            Amount("days", float(sum(span.days for span in spans)), "days"),
        )
        whole = Stretch(spans[0].first, spans[-1].last)
        found.append(look.finding(KEYS[nutrient], "watch", whole, amounts, SOURCES))
    return found
