"""How much water circulates? From levels that were read in one state, or from salt that was stirred in."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from math import hypot, inf

from aquacalc import kits, words
from aquacalc.constants import ATOMIC_MASS_CL_G_MOL, MOLAR_MASS_NACL_G_MOL
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.litres import Levels, Litres
from aquacalc.pages import html
from aquacalc.panels.desk import Desk, reader_of
from aquacalc.panels.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame import Panel, Values, answer
from aquacalc.water import salts

VESSELS = ("tanks", "sump", "filter", "bed_area", "bed_flood", "void", "beds")
ASKED = {
    "levels": ("state", *VESSELS),
    "conductivity": ("salt", "purity", "before", "after"),
    "chloride": ("salt", "purity", "chloride_before", "chloride_after", "resolution"),
}
"""Ways to find the litres, and what each asks."""

BED_SHARE = {"full": 1.0, "drained": 0.0}
"""How full beds are; any other share is asked for."""


@dataclass(frozen=True)
class Found:
    """Circulating water, L: middle and range, and its parts where levels were read.

    low, high: as the errors of both readings let it be; the middle itself where levels were read.
    """

    middle: float
    low: float
    high: float
    parts: Litres | None = None


def controls(reader: words.Reader) -> dict[str, Field]:
    """The way, the state, the parts; or the salt and both readings."""
    say = words.say

    def choice(key: str, options: tuple[str, ...], value: str) -> ChoiceField:
        return ChoiceField(
            say(key, reader), [(say(f"{key}-{one}", reader), one) for one in options], value, reader
        )

    def number(key: str, kind: str, value: float, high: float, low: float = 0.0) -> NumberField:
        return NumberField(say(key, reader), kind, value, reader, low, high)

    return {
        "way": choice("panel-litres-way", tuple(ASKED), "levels"),
        "state": choice("panel-litres-state", ("running", "stopped"), "running"),
        "tanks": number("panel-litres-tanks", "volume", 900.0, 1e6),
        "sump": number("panel-litres-sump", "volume", 150.0, 1e6),
        "filter": number("panel-litres-filter", "volume", 0.0, 1e6),
        "bed_area": number("panel-litres-bed-area", "area", 2.4, 5000.0),
        "bed_flood": number("panel-litres-bed-flood", "length", 0.25, 2.0),
        "void": number("panel-litres-void", "share", 0.42, 1.0),
        "beds": choice("panel-litres-beds", ("part", "full", "drained"), "part"),
        "bed_share": number("panel-litres-bed-share", "share", litres.MEAN_FLOOD_SHARE, 1.0),
        "pipe": number("panel-litres-pipe", "length", 4.0, 1000.0),
        "bore": number("panel-litres-bore", "bore", 25.0, 200.0, 1.0),
        "salt": number("panel-litres-salt", "mass", 150.0, 1e6, 0.1),
        "purity": number("panel-litres-purity", "share", 1.0, 1.0, 0.05),
        "before": number("panel-litres-before", "conductivity", 500.0, 10_000.0),
        "after": number("panel-litres-after", "conductivity", 700.0, 10_000.0),
        "chloride_before": number("panel-litres-chloride-before", "concentration", 20.0, 10_000.0),
        "chloride_after": number("panel-litres-chloride-after", "concentration", 80.0, 10_000.0),
        "resolution": number("panel-litres-resolution", "concentration", 5.0, 1000.0),
    }


def asked(values: Mapping[str, object]) -> tuple[str, ...]:
    """What the way, and the state, ask for."""
    names = ("way", *ASKED[str(values["way"])])
    if values["way"] != "levels":
        return names
    pipes = ("pipe", "bore") if values["state"] == "running" else ()
    return (*names, *(("bed_share",) if values["beds"] == "part" else ()), *pipes)


def compute(values: Values) -> Found:
    """Litres; `InputError` where the second reading is not above the first."""
    if values["way"] == "levels":
        parts = litres.of_levels(
            Levels(
                tanks=values["tanks"],
                sump=values["sump"],
                beds_full=litres.LITRES_PER_M3 * values["bed_area"] * values["bed_flood"] * values["void"],
                pipes=litres.pipe_l(values["pipe"], values["bore"]),
                filter=values["filter"],
                bed_share=values["bed_share"] if values["beds"] == "part" else BED_SHARE[values["beds"]],
                running=values["state"] == "running",
            )
        )
        return Found(parts.whole, parts.whole, parts.whole, parts)
    salt_g = values["salt"] * values["purity"]
    if values["way"] == "conductivity":
        before, after = values["before"], values["after"]
        error = hypot(*(kits.error_of("conductivity_meter", one) for one in (before, after)))
        _rise(before, after, "uS/cm")
        middle = float(salts.diluted_by_conductivity_l(salt_g, before, after))
    else:
        before, after = values["chloride_before"], values["chloride_after"]
        error = hypot(values["resolution"], values["resolution"])
        chloride_g = salt_g * ATOMIC_MASS_CL_G_MOL / MOLAR_MASS_NACL_G_MOL
        middle = float(salts.diluted_l(chloride_g, _rise(before, after, "mg/L")))
    share = error / (after - before)
    # A rise that its own error can swallow has no upper end.
    return Found(middle, middle / (1.0 + share), middle / (1.0 - share) if share < 1.0 else inf)


def _rise(before: float, after: float, unit: str) -> float:
    if after <= before:
        raise InputError(Problem("problem-no-rise", "", f"{after:.4g} {unit}", (f"{before:.4g} {unit}",)))
    return after - before


def draw(reader: words.Reader, desk: Desk | None, found: Found) -> html.Html:
    """The litres, how they compare with the garden file, and how to write them into it."""
    say = partial(words.quantity, kind="volume", reader=reader)
    title = words.say("panel-litres-answer", reader, volume=say(found.middle, digits=3))
    lines, tables = [], []
    if found.parts is None:
        lines += [
            words.say(
                "panel-litres-range", reader, range=words.span(found.low, found.high, "volume", reader)
            ),
            words.say("panel-litres-write", reader, litres=words.number(found.middle, 3)),
            words.say("panel-litres-salt-hint", reader),
        ]
    else:
        lines.append(words.say("panel-litres-levels-hint", reader))
        head = (words.say("panel-litres-part", reader), words.say("panel-volume", reader))
        names = ("tanks", "sump", "beds", "pipes", "filter")
        rows = [
            (words.say(f"panel-litres-part-{one}", reader), say(getattr(found.parts, one))) for one in names
        ]
        tables.append(html.table(head, rows))
    if desk is not None:
        lines.insert(
            0, words.say("panel-litres-garden", reader, volume=say(litres.of(desk.garden).whole, digits=3))
        )
    return answer(title, lines, *tables)


def known(desk: Desk) -> dict[str, object]:
    """The garden's vessels as they are while it runs: all beds as one, of their mean depth and void."""
    garden = desk.garden
    area = sum(bed.area_m2 for bed in garden.beds)
    wet_m3 = sum(bed.area_m2 * bed.flood_m for bed in garden.beds)
    full_l = sum(litres.full_l(bed) for bed in garden.beds)
    mean_l = sum(litres.standing_l(bed) for bed in garden.beds)
    pipes_l = sum(litres.pipe_l(pipe.length_m, pipe.bore_mm) for pipe in garden.pipes)
    bore = max((pipe.bore_mm for pipe in garden.pipes), default=25.0)
    solids = garden.solids_filter.volume_l if garden.solids_filter.kind != "none" else 0.0
    return {
        "state": "running",
        "tanks": sum(tank.volume_l for tank in garden.tanks),
        "sump": garden.sump.volume_l if garden.sump else 0.0,
        "filter": solids + (garden.biofilter.water_l if garden.biofilter else 0.0),
        "bed_area": area,
        "bed_flood": wet_m3 / area,
        "void": full_l / (litres.LITRES_PER_M3 * wet_m3),
        "beds": "part",
        "bed_share": mean_l / full_l,
        "pipe": pipes_l / litres.pipe_l(1.0, bore),
        "bore": bore,
    }


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = Panel("loop-volume", controls(reader), compute, partial(draw, reader, desk), reader, asked=asked)
    if desk is not None:
        desk.fill(made, known)
    return made
