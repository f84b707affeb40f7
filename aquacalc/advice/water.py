"""Findings about the water that comes in and about what is known of the water that is there."""

from aquacalc.advice import shelf
from aquacalc.advice.finding import Amount, Finding
from aquacalc.garden import litres
from aquacalc.garden.model import Garden, Kit
from aquacalc.hydraulics import beds
from aquacalc.water import chlorine

HARD_FROM_MG_L = 150.0
SOFT_BELOW_MG_L = 50.0
"""Alkalinity of top-up water, mg/L CaCO3. Common practice, no source."""

LOW_HARDNESS_MG_L = 60.0
"""Hardness below which water is called soft, mg/L CaCO3; the classes of water suppliers, from memory."""

NEW_WATER_L = 100.0

COUNTED = ("tan", "nitrite", "nitrate")
"""Readings whose basis a kit has to tell."""

READINGS = ("ph", "alkalinity", "oxygen")
"""Readings that the balance rests on and replaces by targets."""


def of_garden(garden: Garden) -> list[Finding]:
    """Disinfectant, float valve, hard and soft top-up, kits, missing readings."""
    return [*_disinfectant(garden), *_hardness(garden), *_kits(garden), *_readings(garden)]


def can_dechlorinate(garden: Garden) -> bool:
    """Whether a product on the shelf removes chlorine and chloramine."""
    return shelf.dechlorinator(garden.products) is not None


def _disinfectant(garden: Garden) -> list[Finding]:
    top_up = garden.top_up
    if top_up.disinfectant == "none":
        return []
    sent = Amount("chlorine", top_up.chlorine_max_mg_l, "concentration")
    per_gram = shelf.removes_g_g(chlorine.USUAL_REAGENT)
    grams = float(chlorine.reagent_g(top_up.chlorine_max_mg_l, NEW_WATER_L, per_gram))
    dose = Amount("dose", grams, "dose")
    told = (sent, dose, Amount("new_water", NEW_WATER_L, "volume"))
    found = []
    if top_up.disinfectant == "not known":
        found.append(Finding("finding-chlorine-not-known", "", "not known", told, (), ("LABTHIO", "TRADE")))
    elif not can_dechlorinate(garden):
        key, source = {
            "chlorine": ("finding-chlorine-untreated-chlorine", "NOWHOI92"),
            "chloramine": ("finding-chlorine-untreated-chloramine", "GARAND17"),
        }[top_up.disinfectant]
        sources = (source, "LABTHIO", "EPACL84", "TRADE")
        found.append(Finding(key, "", "act today", told, (), sources))
    if top_up.float_valve and top_up.source in {"mains", "mixed"} and top_up.chlorine_max_mg_l > 0.0:
        limit_l = beds.top_up_limit_l(top_up.chlorine_max_mg_l, litres.litres_of(garden).whole)
        most = Amount("most", float(limit_l), "volume")
        found.append(
            Finding("finding-chlorine-float-valve", "", "act today", (sent, most), (), ("EPACL84", "OWN"))
        )
    return found


def _hardness(garden: Garden) -> list[Finding]:
    alkalinity, hardness = garden.top_up.alkalinity_mg_l, garden.top_up.hardness_mg_l
    found = []
    if alkalinity is None:
        found.append(Finding("finding-top-up-alkalinity-not-known", "", "not known", (), (), ("TRADE",)))
    else:
        amount = Amount("alkalinity", alkalinity, "alkalinity")
        if alkalinity >= HARD_FROM_MG_L:
            found.append(Finding("finding-top-up-hard", "", "watch", (amount,), (), ("TRADE", "OWN")))
        elif alkalinity < SOFT_BELOW_MG_L:
            found.append(Finding("finding-top-up-soft", "", "watch", (amount,), (), ("TRADE", "OWN")))
    if hardness is not None and hardness < LOW_HARDNESS_MG_L:
        amount = Amount("hardness", hardness, "hardness")
        found.append(Finding("finding-top-up-low-calcium", "", "watch", (amount,), (), ("YANG20", "TRADE")))
    return found


def _kits(garden: Garden) -> list[Finding]:
    if not garden.kits:
        return [Finding("finding-kit-none", "", "not known", (), (), ("TRADE",))]
    found = []
    for kit in garden.kits:
        unknown = [parameter for parameter in COUNTED if _counts_unknown(kit, parameter)]
        if unknown:
            readings = Amount("readings", " ".join(unknown), "words")
            found.append(
                Finding(
                    "finding-kit-basis-not-known",
                    kit.name,
                    "not known",
                    (readings,),
                    (),
                    ("IUPAC21", "TRADE"),
                )
            )
    return found


def _counts_unknown(kit: Kit, parameter: str) -> bool:
    return any(scale.parameter == parameter and scale.basis == "not known" for scale in kit.scales)


def _readings(garden: Garden) -> list[Finding]:
    missing = [what for what in READINGS if garden.last_measured(what) is None]
    if not missing:
        return []
    readings = Amount("readings", " ".join(missing), "words")
    return [Finding("finding-reading-none", "", "not known", (readings,), (), ("TRADE",))]
