"""Findings about how the garden is built: beds, filters, sump, floors, people, absences."""

from aquacalc import tables
from aquacalc.advice.finding import Amount, Finding
from aquacalc.advice.new_water import water_use
from aquacalc.garden.model import Bed, Garden
from aquacalc.hydraulics import loads
from aquacalc.judge.levels import Level, worst
from aquacalc.sizing import absence, levels
from aquacalc.sizing.absence import Lasting
from aquacalc.uncertainty import coefficient

BOX_KG_M2 = 15.0
"""A bed's own box. Common practice, no source."""


def of_garden(garden: Garden) -> list[Finding]:
    """Missing filters, limestone, loads, the sump, water and chemicals near children, absences."""
    return [
        *_filters(garden),
        *_limestone(garden),
        *_loads(garden),
        *_sump(garden),
        *_people(garden),
        *_absences(garden),
    ]


def _filters(garden: Garden) -> list[Finding]:
    area = sum(bed.area_m2 for bed in garden.beds if not bed.holds_medium)
    media = any(bed.holds_medium for bed in garden.beds)
    found = []
    if area > 0.0 and not media:
        amounts = (Amount("area", area, "area"),)
        if garden.biofilter is None:
            sources = ("FAO589", "OWN")
            found.append(Finding("finding-ammonia-no-biofilter", "", "act today", amounts, (), sources))
        if garden.solids_filter.kind == "none":
            found.append(Finding("finding-solids-no-filter", "", "watch", amounts, (), ("HAGER21", "TRADE")))
    return found


def _limestone(garden: Garden) -> list[Finding]:
    found = []
    for bed in garden.beds:
        if not bed.holds_medium:
            continue
        row = tables.load("media").row(bed.medium)
        amounts = (Amount("medium", bed.medium, "medium"),)
        sources = row.listed("source")
        if row.text("ph_effect") == "raises":
            found.append(Finding("finding-ph-limestone", bed.name, "watch", amounts, (), sources))
        elif row.text("ph_effect") == "often raises":
            found.append(Finding("finding-ph-medium-untested", bed.name, "not known", amounts, (), sources))
    return found


def _loads(garden: Garden) -> list[Finding]:
    if not garden.site.upper_floor:
        return []
    floor_kpa = tables.load("input_bounds").row("floor_load").number("warn_high")
    floor_kg_m2 = floor_kpa / float(loads.load_kpa(1.0))
    weights = [(tank.name, loads.WATER_DENSITY_KG_M3 * tank.depth_m) for tank in garden.tanks]
    weights += [(bed.name, _bed_kg_m2(bed)) for bed in garden.beds]
    found = []
    for name, kg_m2 in weights:
        level: Level = "act today" if kg_m2 > floor_kg_m2 else "watch"
        amounts = (Amount("load", kg_m2, "load"), Amount("line", floor_kg_m2, "load"))
        found.append(Finding("finding-load-upper-floor", name, level, amounts, (), ("FLOORS",)))
    return found


def _bed_kg_m2(bed: Bed) -> float:
    if not bed.holds_medium:
        return loads.WATER_DENSITY_KG_M3 * bed.flood_m + BOX_KG_M2
    row = tables.load("media").row(bed.medium)
    dry, void = row.number("bulk_density_dry_high_kg_m3"), row.number("void_fraction_typical")
    return float(loads.bed_load_kg_m2(bed.depth_m, dry, void, bed.flood_m, BOX_KG_M2))


def _sump(garden: Garden) -> list[Finding]:
    """All media beds at once, for siphons fall in step sooner or later; the pipes; the tanks' own drop."""
    if garden.sump is None:
        return []
    drains = levels.drains_l(garden)
    room = garden.sump.rim_l - garden.sump.volume_l
    free = coefficient("freeboard_share").typical * garden.sump.rim_l
    water = (Amount("drains", drains, "volume"), Amount("room", room, "volume"))
    sources = ("SRAC454", "TRADE")
    if drains > room:
        missing = Amount("missing", drains + free - room, "volume")
        return [Finding("finding-sump-overflows", "", "act today", (*water, missing), (), sources)]
    if drains > room - free:
        return [
            Finding("finding-sump-tight", "", "watch", (*water, Amount("free", free, "volume")), (), sources)
        ]
    return []


def _people(garden: Garden) -> list[Finding]:
    if garden.site.setting != "school" and not garden.site.children:
        return []
    found = [
        Finding("finding-people-open-tank", tank.name, "act today", (), (), ("KIDSWATER",))
        for tank in garden.tanks
        if not tank.lid
    ]
    chemicals = tables.load("chemicals")
    adults_only = any("adults" in chemicals.row(one.chemical).listed("caution") for one in garden.products)
    level: Level = "watch" if adults_only else "fine"
    return [*found, Finding("finding-people-school-chemicals", "", level, (), (), ("TRADE",))]


def _absences(garden: Garden) -> list[Finding]:
    """What climate and crops take then, against the water in the sump and in a barrel on a float valve."""
    if garden.top_up.float_valve and garden.rain.barrel_l == 0.0:
        # The valve draws from a pipe that does not run empty; what is in that water is another finding.
        return []
    spare_l = absence.reserve_l(garden)
    short: list[tuple[int, Lasting, Level]] = []
    for away in garden.away:
        days = (away.end - away.start).days + 1
        found = absence.lasting(water_use.of_absence(garden, away), spare_l)
        if days > found.days.low:
            short.append((days, found, "act today" if days > found.days.high and not away.who else "watch"))
    if not short:
        return []
    longest, found, _ = max(short, key=lambda one: one[0] / one[1].days.low)
    loss = Amount("loss", found.loss_l_day.typical, "volume", found.loss_l_day.low, found.loss_l_day.high)
    lasts = Amount("lasts", found.days.typical, "days", found.days.low, found.days.high)
    days_away = Amount("days", longest, "days")
    level = worst(one for _, _, one in short)
    return [Finding("finding-away-water", "", level, (days_away, lasts, loss), (), ("FAO56", "TRADE"))]
