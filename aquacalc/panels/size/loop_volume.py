"""How much water circulates? From levels that were read in one state, or from salt that was stirred in.

Litres found by salt can be written into the garden file; everything that counts litres follows them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from math import hypot, inf, isfinite, log

import ipywidgets as widgets

from aquacalc import kits, words
from aquacalc.constants import ATOMIC_MASS_CL_G_MOL, MOLAR_MASS_NACL_G_MOL
from aquacalc.errors import InputError, Problem
from aquacalc.garden import litres
from aquacalc.garden.litres import Levels, Litres
from aquacalc.garden.model import Garden
from aquacalc.hydraulics import turnover
from aquacalc.judge import salt
from aquacalc.pages import html
from aquacalc.panels.frame.conflict import Conflict
from aquacalc.panels.frame.desk import Desk, measurement, reader_of
from aquacalc.panels.frame.fields import ChoiceField, Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.frame.salt import SaltField
from aquacalc.water import salts

VESSELS = ("tanks", "sump", "filter", "bed_area", "bed_flood", "void", "beds")
ASKED = {
    "levels": ("state", *VESSELS),
    "conductivity": ("salt", "purity", "before", "after", "stirred", "flow"),
    "chloride": ("salt", "purity", "chloride_before", "chloride_after", "resolution", "stirred", "flow"),
}
"""Ways to find the litres, and what each asks."""

MIXED_SHARE = 0.95
"""Of the water that must have gone round before the second reading counts. Common practice, no source."""

LEFT_OF_BOX = 0.5
"""Of the flow on a pump's box, after lift and bends. Common practice, no source."""

BED_SHARE = {"full": 1.0, "drained": 0.0}
"""How full beds are; any other share is asked for."""


@dataclass(frozen=True)
class Found:
    """Circulating water, L: middle and range, and its parts where levels were read.

    low, high: as the errors of both readings let it be; the middle itself where levels were read.
    added_g_l: salt that stands in the water now. mixed: share of the water that went round since it went in.
    wait_h: how long it takes until enough of it has.
    """

    middle: float
    low: float
    high: float
    parts: Litres | None = None
    added_g_l: float = 0.0
    mixed: float = 1.0
    wait_h: float = 0.0

    @property
    def counts(self) -> bool:
        """Whether litres by salt are worth writing down: mixed, and with an end on both sides."""
        return self.parts is None and self.mixed >= MIXED_SHARE and isfinite(self.high)


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
        "salt": SaltField(say("panel-litres-salt", reader), 150.0, reader, 0.1, 1e6),
        "purity": number("panel-litres-purity", "share", 1.0, 1.0, 0.05),
        "before": number("panel-litres-before", "conductivity", 500.0, 10_000.0),
        "after": number("panel-litres-after", "conductivity", 700.0, 10_000.0),
        "chloride_before": number("panel-litres-chloride-before", "concentration", 20.0, 10_000.0),
        "chloride_after": number("panel-litres-chloride-after", "concentration", 80.0, 10_000.0),
        "resolution": number("panel-litres-resolution", "concentration", 5.0, 1000.0),
        "stirred": number("panel-litres-stirred", "time", 24.0, 1000.0),
        "flow": number("panel-litres-flow", "flow", 1000.0, 1e6, 1.0),
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
    round_h = values["flow"] / middle
    return Found(
        middle=middle,
        low=middle / (1.0 + share),
        # A rise that its own error can swallow has no upper end.
        high=middle / (1.0 - share) if share < 1.0 else inf,
        added_g_l=salt_g / middle,
        mixed=float(turnover.replaced_share(round_h, values["stirred"])),
        wait_h=-log(1.0 - MIXED_SHARE) / round_h,
    )


def _rise(before: float, after: float, unit: str) -> float:
    if after <= before:
        raise InputError(Problem("problem-no-rise", "", f"{after:.4g} {unit}", (f"{before:.4g} {unit}",)))
    return after - before


def salt_cap_g_l(garden: Garden | None) -> tuple[float, str]:
    """The most added salt that a garden's plants bear, g/L, and the crop that bears least, where one is told.

    The low working cap of its crops; the common line for those without one, and without a garden.
    """
    planted = [plan.crop for plan in garden.crops] if garden is not None else []
    own = [(salt.caps_g_l((crop,))[0], crop) for crop in planted]
    return min([(salt.caps_g_l(())[0], ""), *own], key=lambda pair: pair[0])


def draw(reader: words.Reader, desk: Desk | None, found: Found) -> html.Html:
    """The litres, how they compare with the garden file, and what they rest on."""
    say = partial(words.quantity, kind="volume", reader=reader)
    title = words.say("panel-litres-answer", reader, volume=say(found.middle, digits=3))
    lines, tables_ = [], []
    if desk is not None:
        whole = say(litres.litres_of(desk.garden).whole, digits=3)
        lines.append(words.say("panel-litres-garden", reader, volume=whole))
    if found.parts is None:
        lines += _of_salt(reader, desk, found)
    else:
        lines.append(words.say("panel-litres-levels-hint", reader))
        head = (words.say("panel-litres-part", reader), words.say("panel-volume", reader))
        names = ("tanks", "sump", "beds", "pipes", "filter")
        rows = [
            (words.say(f"panel-litres-part-{one}", reader), say(getattr(found.parts, one))) for one in names
        ]
        tables_.append(html.table(head, rows))
    return answer(title, lines, *tables_)


def _of_salt(reader: words.Reader, desk: Desk | None, found: Found) -> list[str]:
    """How sure it is, whether the salt had mixed, what the crops bear of it."""
    lines = []
    if found.mixed < MIXED_SHARE:
        amounts = {
            "mixed": words.quantity(found.mixed, "share", reader),
            "wait": words.quantity(found.wait_h, "time", reader),
        }
        lines.append(words.say("panel-litres-not-mixed", reader, **amounts))
    if isfinite(found.high):
        span = words.span(found.low, found.high, "volume", reader)
        lines.append(words.say("panel-litres-range", reader, range=span))
    else:
        lines.append(words.say("panel-litres-no-range", reader))
    cap, crop = salt_cap_g_l(None if desk is None else desk.garden)
    amounts = {
        "added": words.number(found.added_g_l, 2),
        "cap": words.number(cap, 2),
        "most": words.quantity(cap * found.middle, "dose", reader),
        "crop": words.name("crop", crop) if crop else words.say("panel-litres-any-crop", reader),
    }
    key = "panel-litres-cap-over" if found.added_g_l > cap else "panel-litres-cap"
    return [*lines, words.say(key, reader, **amounts), words.say("panel-litres-salt-hint", reader)]


class LoopVolume(Panel):
    """The panel with a button that writes litres by salt into the garden file; never into a demo garden."""

    def __init__(self, desk: Desk | None) -> None:
        self.desk = desk
        reader = reader_of(desk)
        self.write = widgets.Button(
            description=words.say("panel-litres-write", reader), layout=widgets.Layout(width="auto")
        )
        self.write.on_click(self.save)
        self.said = widgets.HTML()
        self.conflict = None if desk is None else Conflict(desk)
        self.found: Found | None = None

        def computed(values: Values) -> Found:
            self.found = compute(values)
            self.write.disabled = desk is None or desk.file.read_only or not self.found.counts
            self.write.layout.display = "none" if self.found.parts is not None else None
            demo = desk is not None and desk.file.read_only and self.found.parts is None
            self.said.value = html.paragraph(words.say("panel-demo-stays", reader)) if demo else ""
            return self.found

        drawn = partial(draw, reader, desk)
        below = [self.write, self.said, *([] if self.conflict is None else [self.conflict])]
        super().__init__("loop-volume", controls(reader), computed, drawn, reader, below, asked)

    def save(self, _button: object = None) -> None:
        """Write what was found as the circulating water that was measured today."""
        if self.desk is None or self.conflict is None or self.found is None or not self.found.counts:
            return
        values = measurement(self.desk, "loop_volume", f"{words.number(self.found.middle, 3)} L")
        chosen = self.values
        try:
            made = self.desk.write(values)
        except InputError as error:
            self.conflict.show(error.problems)
            return
        self.conflict.clear()
        self.fill(chosen)  # the salt test stays in sight beside what the file makes of it
        self.said.value = html.paragraph(
            words.say("panel-kit-written", self.reader, file=str(made.path.name))
        )


def known(desk: Desk) -> dict[str, object]:
    """The garden's vessels as they are while it runs: all beds as one, of their mean depth and void."""
    garden = desk.garden
    area = sum(bed.area_m2 for bed in garden.beds)
    wet_m3 = sum(bed.area_m2 * bed.flood_m for bed in garden.beds)
    full_l = sum(litres.full_l(bed) for bed in garden.beds)
    mean_l = sum(litres.standing_l(bed) for bed in garden.beds)
    pipes_l = sum(litres.pipe_l(pipe.length_m, pipe.bore_mm) for pipe in garden.pipes)
    bore = max((pipe.bore_mm for pipe in garden.pipes), default=25.0)
    flow = garden.last_measured("flow")
    box_l_h = sum(pump.count * pump.share_on * pump.box_flow_l_h for pump in garden.pumps)
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
        "flow": flow.value if flow else LEFT_OF_BOX * box_l_h,
    }


def panel(desk: Desk | None = None) -> LoopVolume:
    """The panel, filled from the garden where there is one."""
    made = LoopVolume(desk)
    if desk is not None:
        desk.fill(made, known)
    return made
