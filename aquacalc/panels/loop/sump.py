"""Does the sump hold what drains back, does the pump stay under water? Both worst cases, and the heights."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from aquacalc import words
from aquacalc.charts.heights import Level, Vessel, section
from aquacalc.garden import litres
from aquacalc.garden.fields import bounds
from aquacalc.hydraulics.beds import LITRES_PER_M3, back_siphon_l
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Values, answer, figure, wide
from aquacalc.panels.loop.writing import Dotted, WritingPanel, choice, number
from aquacalc.sizing import levels
from aquacalc.sizing.levels import Levels, Sump
from aquacalc.uncertainty import coefficient

TANK_OVER_SUMP_M, BED_OVER_SUMP_M = 0.5, 0.9
"""Floors over the sump's floor, until they are typed. Common practice, no source."""
BED_DEEP_M = 0.30
COVER_M = 0.12
"""Water that must stay over the sump's floor for its pump. Common practice, no source."""

MAIN = ("running", "rim", "footprint", "beds", "drain", "turn")
"""What is asked first."""


@dataclass(frozen=True)
class Found:
    """The sump, its levels, and the heights of what stands over it, m over its floor."""

    sump: Sump
    levels: Levels
    beds: int
    tank_floor_m: float
    tank_water_m: float
    tank_brim_m: float
    drop_m: float
    bed_floor_m: float
    bed_brim_m: float
    flood_m: float

    def depth_m(self, water_l: float) -> float:
        """Depth of a volume on the sump's footprint."""
        return water_l / LITRES_PER_M3 / self.sump.footprint_m2


def controls(reader: words.Reader) -> dict[str, Field]:
    """The sump; what drains into it; what the pump needs; heights."""
    of = partial(number, reader=reader)
    volume, lift = bounds("sump_volume"), bounds("static_head")
    return {
        "running": of(
            "panel-sump-running", "volume", 150.0, volume.low, volume.high, slide=(0.0, 800.0, 10.0)
        ),
        "rim": of("panel-sump-rim", "volume", 300.0, volume.low, volume.high, slide=(50.0, 1500.0, 10.0)),
        "footprint": of("panel-sump-footprint", "area", 0.6, 0.02, 500.0),
        "beds": of("panel-sump-beds", "", 2.0, 1.0, 60.0),
        "drain": of("panel-sump-drain", "volume", 90.0, 0.0, 1e5),
        "turn": choice("panel-sump-turn", ("together", "turn"), reader),
        "surface": of("panel-sump-surface", "area", 1.1, 0.0, 500.0),
        "drop": of("panel-sump-drop", "length", 0.02, 0.0, 0.3),
        "pipes": of("panel-sump-pipes", "volume", 5.0, 0.0, 1e4),
        "under": of("panel-sump-under", "length", 0.0, 0.0, 2.0),
        "losses": of("panel-sump-losses", "volume", 40.0, 0.0, 1e5),
        "cover": of("panel-sump-cover", "length", COVER_M, 0.0, 1.0),
        "free": of("panel-sump-free", "share", coefficient("freeboard_share").typical, 0.0, 0.9),
        "tank_floor": of("panel-sump-tank-floor", "length", TANK_OVER_SUMP_M, 0.0, lift.high),
        "tank_depth": of("panel-sump-tank-depth", "length", 0.80, 0.1, 3.0),
        "tank_brim": of("panel-sump-tank-brim", "length", 0.90, 0.1, 3.5),
        "bed_floor": of("panel-sump-bed-floor", "length", BED_OVER_SUMP_M, 0.0, lift.high),
        "flood": of("panel-sump-flood", "length", 0.25, 0.02, 0.95),
    }


def compute(values: Values) -> Found:
    """Both worst cases."""
    count = max(int(values["beds"]), 1)
    sump = Sump(
        running_l=values["running"],
        rim_l=values["rim"],
        footprint_m2=values["footprint"],
        beds_l=count * values["drain"],
        at_once=1.0,
        tanks_l=LITRES_PER_M3 * values["surface"] * values["drop"],
        pipes_l=values["pipes"],
        back_l=float(back_siphon_l(values["surface"], values["under"])),
        losses_l=values["losses"],
        cover_m=values["cover"],
        free_share=values["free"],
    )
    if values["turn"] == "turn":
        sump = levels.in_turn(sump, count)
    water = values["tank_floor"] + values["tank_depth"]
    return Found(
        sump=sump,
        levels=levels.levels(sump),
        beds=count,
        tank_floor_m=values["tank_floor"],
        tank_water_m=water,
        tank_brim_m=max(values["tank_floor"] + values["tank_brim"], water),
        drop_m=values["drop"],
        bed_floor_m=values["bed_floor"],
        bed_brim_m=values["bed_floor"] + max(BED_DEEP_M, values["flood"]),
        flood_m=values["flood"],
    )


def draw(reader: words.Reader, found: Found) -> html.Html:
    """Whether it holds, what to change, the sums, the heights."""
    said = partial(words.quantity, kind="volume", reader=reader)
    at, sump = found.levels, found.sump
    if at.over_l > 0.0 and at.stopped_l > sump.rim_l:
        title = words.say("panel-sump-runs-over", reader, over=said(at.stopped_l - sump.rim_l))
    elif at.over_l > 0.0:
        title = words.say("panel-sump-tight", reader, free=said(sump.rim_l - at.stopped_l))
    elif at.dry_l > 0.0:
        title = words.say("panel-sump-runs-dry", reader, missing=said(at.dry_l))
    else:
        title = words.say(
            "panel-sump-holds", reader, free=said(sump.rim_l - at.stopped_l), usable=said(at.usable_l)
        )
    need = words.quantity(found.depth_m(at.rim_l), "length", reader)
    lines = [words.say("panel-sump-smallest", reader, volume=said(at.rim_l), depth=need)]
    if not at.holds:
        key = "panel-sump-do-turn" if found.beds > 1 and sump.at_once == 1.0 else "panel-sump-do"
        lines.append(words.say(key, reader))
    if sump.back_l > 0.0:
        lines.append(words.say("panel-sump-back", reader, back=said(sump.back_l)))
    head = [words.say(f"panel-sump-head-{one}", reader) for one in ("state", "water", "depth")]
    rows = [
        (
            words.say(f"panel-sump-state-{name}", reader),
            said(litres_),
            words.quantity(found.depth_m(litres_), "length", reader),
        )
        for name, litres_ in (
            ("running", sump.running_l),
            ("stopped", at.stopped_l),
            ("lowest", at.lowest_l),
            ("rim", sump.rim_l),
        )
    ]
    after = [html.paragraph(words.say(f"panel-sump-{one}", reader)) for one in ("float", "bench")]
    return answer(title, lines, figure(picture(reader, found)), wide(html.table(head, rows)), *after)


def picture(reader: words.Reader, found: Found) -> str:
    """Tank, bed and sump to one scale."""
    said = partial(words.quantity, kind="length", reader=reader)

    def level(key: str, height_m: float, dash: bool = False) -> Level:
        return Level(height_m, words.say(f"drawing-level-{key}", reader, height=said(height_m)), dash)

    sump, at = found.sump, found.levels
    vessels = [
        Vessel(
            words.say("drawing-level-tank", reader),
            found.tank_floor_m,
            found.tank_brim_m,
            (
                level("running", found.tank_water_m),
                level("stopped", found.tank_water_m - found.drop_m, True),
                level("brim", found.tank_brim_m),
            ),
        ),
        Vessel(
            words.say("drawing-level-bed", reader),
            found.bed_floor_m,
            found.bed_brim_m,
            (level("full", found.bed_floor_m + found.flood_m), level("brim", found.bed_brim_m)),
        ),
        Vessel(
            words.say("drawing-level-sump", reader),
            0.0,
            found.depth_m(sump.rim_l),
            (
                level("running", found.depth_m(sump.running_l)),
                level("stopped", found.depth_m(at.stopped_l), True),
                level("lowest", found.depth_m(max(at.lowest_l, 0.0)), True),
                level("pump", sump.cover_m, True),
                level("brim", found.depth_m(sump.rim_l)),
            ),
        ),
    ]
    texts = [f"{one.name}: {', '.join(at.text for at in one.levels)}" for one in vessels]
    return section(vessels, "; ".join(texts), reader)


def written(desk: Desk, found: Found, fields: Mapping[str, Field]) -> Dotted:
    """Water and brim of the sump, and the drop of the first tank."""
    del fields
    if desk.garden.sump is None:
        return {}
    return {
        "sump.volume": f"{found.sump.running_l:.4g} L",
        "sump.rim": f"{found.sump.rim_l:.4g} L",
        "tank.0.drop": f"{1000.0 * found.drop_m:.4g} mm",
    }


def known(desk: Desk) -> dict[str, object]:
    """The garden's sump, all its media beds as equal ones, the drop of its tanks, its pipes."""
    garden = desk.garden
    water = litres.litres_of(garden)
    media = [bed for bed in garden.beds if bed.holds_medium]
    surface = sum(tank.surface_m2 for tank in garden.tanks)
    told: dict[str, object] = {
        "beds": float(max(len(media), 1)),
        "drain": levels.beds_l(garden) / max(len(media), 1),
        "surface": surface,
        "drop": levels.tanks_l(garden) / LITRES_PER_M3 / surface,
        "pipes": water.pipes,
        "tank_depth": garden.tanks[0].depth_m,
        "tank_brim": garden.tanks[0].depth_m + 0.1,
    }
    if media:
        told["flood"] = media[0].flood_m
    if garden.sump is not None:
        deep = max(garden.tanks[0].depth_m * 0.6, 0.2)
        told |= {
            "running": garden.sump.volume_l,
            "rim": garden.sump.rim_l,
            "footprint": garden.sump.rim_l / LITRES_PER_M3 / deep,
        }
    return told


def panel(desk: Desk | None = None) -> WritingPanel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)
    made = WritingPanel("sump", desk, controls(reader), compute, partial(draw, reader), written, main=MAIN)
    if desk is not None:
        desk.fill(made, known)
    return made
