"""What changes from day to day: one quantity, the fish, the water."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from aquacalc import words
from aquacalc.charts.picture import Chart, finish, quick
from aquacalc.charts.season_limits import limits
from aquacalc.charts.season_panels import PHONE, Curve, Limit, Panel, panels_canvas
from aquacalc.garden.model import Garden
from aquacalc.season.result import SeasonRun
from aquacalc.uncertainty import Band, Floats, band


@dataclass(frozen=True)
class Shown:
    """How a daily quantity is shown: its kind in `quantities.csv`, whether its axis begins at zero, and the
    least span of its axis, so that noise does not fill the plot."""

    kind: str
    from_zero: bool = True
    least_span: float = 0.0


SHOWN: Mapping[str, Shown] = {
    "water_c": Shown("temperature", False, 8.0),
    "air_c": Shown("temperature", False, 8.0),
    "tan_mg_l": Shown("nitrogen", True, 0.5),
    "nitrite_mg_l": Shown("nitrogen", True, 0.2),
    "nitrate_mg_l": Shown("nitrogen", True, 10.0),
    "tan_max_mg_l": Shown("nitrogen", True, 0.5),
    "nitrite_max_mg_l": Shown("nitrogen", True, 0.2),
    "unionised_max_mg_l": Shown("nitrogen", True, 0.02),
    "alkalinity_mg_l": Shown("alkalinity", True, 50.0),
    "ph": Shown("ph", False, 1.0),
    "carbon_dioxide_mg_l": Shown("concentration", True, 5.0),
    "oxygen_mg_l": Shown("concentration", False, 3.0),
    "oxygen_min_mg_l": Shown("concentration", False, 3.0),
    "feed_g": Shown("feed"),
    "fish_kg": Shown("biomass"),
    "top_up_l": Shown("volume"),
    "bed_used_m2": Shown("area"),
    "calcium_mg_l": Shown("concentration"),
    "magnesium_mg_l": Shown("concentration"),
    "potassium_mg_l": Shown("concentration"),
    "phosphorus_mg_l": Shown("concentration"),
    "iron_mg_l": Shown("concentration"),
    "sodium_mg_l": Shown("concentration"),
    "chloride_mg_l": Shown("concentration"),
}
"""Daily quantities of a run that can be drawn."""

WATER = (
    "water_c",
    "oxygen_min_mg_l",
    "tan_max_mg_l",
    "nitrite_max_mg_l",
    "nitrate_mg_l",
    "alkalinity_mg_l",
    "ph",
)


@quick
def fish(run: SeasonRun, garden: Garden, reader: words.Reader, title: str) -> Chart:
    """Mean weight of a fish of each batch with its final weight, and the fish in each tank."""
    return _finished(
        run, _fish(run, garden, reader), reader, title, describe_fish(run, garden, reader), garden
    )


def fish_on_phone(run: SeasonRun, garden: Garden, reader: words.Reader) -> str:
    """The same without a title, as wide as a phone, as SVG."""
    return _on_phone(run, _fish(run, garden, reader), reader, describe_fish(run, garden, reader), garden)


@quick
def water(run: SeasonRun, garden: Garden, reader: words.Reader, title: str) -> Chart:
    """The water through the season, one plot a quantity, with the lines at which to act."""
    return _finished(run, _water(run, garden, reader), reader, title, _describe_water(run, reader), garden)


def water_on_phone(run: SeasonRun, garden: Garden, reader: words.Reader) -> str:
    """The same without a title, as wide as a phone, as SVG."""
    return _on_phone(run, _water(run, garden, reader), reader, _describe_water(run, reader), garden)


def _fish(run: SeasonRun, garden: Garden, reader: words.Reader) -> list[Panel]:
    weights = [Curve(_of_members(run.fish["weight_g"][k]), batch.name) for k, batch in enumerate(garden.fish)]
    finals = {batch.final_weight_g: batch.eaten for batch in garden.fish}
    lines = [
        Limit(
            weight_g,
            words.say(
                "season-final" if eaten else "season-kept",
                reader,
                weight=words.quantity(weight_g, "fish_weight", reader),
            ),
        )
        for weight_g, eaten in finals.items()
    ]
    stocked = [tank for tank in garden.tanks if any(batch.tank == tank.name for batch in garden.fish)]
    kg = [Curve(tank_kg(run, garden, tank.name), tank.name) for tank in stocked]
    return [
        Panel(
            _heading("season-fish-weight", "fish_weight", reader), "fish_weight", weights, lines, height=150.0
        ),
        Panel(_heading("season-tank-kg", "biomass", reader), "biomass", kg, height=110.0),
    ]


def _water(run: SeasonRun, garden: Garden, reader: words.Reader) -> list[Panel]:
    found = limits(garden, run, reader)
    return [_panel(run, name, reader, found.get(name, ())) for name in WATER]


def _describe_water(run: SeasonRun, reader: words.Reader) -> str:
    return " ".join(describe(run, name, reader) for name in WATER)


def tank_kg(run: SeasonRun, garden: Garden, tank: str) -> Band:
    """Fish in a tank through the season, kg; NaN while there are none."""
    inside = [k for k, batch in enumerate(garden.fish) if batch.tank == tank]
    weights = np.nan_to_num(run.fish["weight_g"][inside])
    kg: Floats = (run.fish["count"][inside] * weights).sum(axis=0) / 1000.0
    return _of_members(np.where(kg > 0.0, kg, np.nan))


def _of_members(values: Floats) -> Band:
    """Band over the members of values of shape (members, days)."""
    return band(values, axis=0)


def _panel(
    run: SeasonRun,
    name: str,
    reader: words.Reader,
    lines: Sequence[Limit],
    ends: tuple[float, float] | None = None,
    height: float = 66.0,
) -> Panel:
    shown = SHOWN[name]
    key = f"season-axis-{name.replace('_', '-')}"
    return Panel(
        heading=_heading(key, shown.kind, reader),
        kind=shown.kind,
        curves=[Curve(run.band(name))],
        limits=lines,
        from_zero=shown.from_zero,
        ends=ends,
        height=height,
        least_span=shown.least_span,
    )


def _heading(key: str, kind: str, reader: words.Reader) -> str:
    """Heading of an axis with its unit behind it."""
    unit = words.unit(kind, reader)
    name = words.say(key, reader)
    return words.say("season-axis", reader, name=name, unit=unit) if unit else name


def _finished(
    run: SeasonRun,
    panels: Sequence[Panel],
    reader: words.Reader,
    title: str,
    description: str,
    garden: Garden | None,
) -> Chart:
    canvas = panels_canvas(run, panels, reader, garden)
    return finish(canvas.layers(), title, _key(run, reader), description, canvas.size)


def _on_phone(
    run: SeasonRun, panels: Sequence[Panel], reader: words.Reader, description: str, garden: Garden
) -> str:
    return panels_canvas(run, panels, reader, garden, PHONE).svg(description, notes=_key(run, reader))


def _key(run: SeasonRun, reader: words.Reader) -> list[str]:
    return [words.say("season-key" if run.members > 1 else "strip-key-single", reader)]


# --- in words --------------------------------------------------------------------------------------------


def describe(run: SeasonRun, name: str, reader: words.Reader) -> str:
    """Where a quantity is lowest and highest."""
    shown, found = SHOWN[name], run.band(name)
    least, most = int(np.argmin(found.middle)), int(np.argmax(found.middle))

    def amount(day: int) -> str:
        return words.span(float(found.low[day]), float(found.high[day]), shown.kind, reader)

    return words.say(
        "season-alt",
        reader,
        name=words.say(f"season-axis-{name.replace('_', '-')}", reader),
        low=amount(least),
        low_day=words.date(run.date(least), reader),
        high=amount(most),
        high_day=words.date(run.date(most), reader),
    )


def describe_fish(run: SeasonRun, garden: Garden, reader: words.Reader) -> str:
    """What the picture of the fish shows."""
    parts = []
    for k, batch in enumerate(garden.fish):
        weight = _of_members(run.fish["weight_g"][k])
        there = np.flatnonzero(np.isfinite(weight.middle))
        if there.size:
            last = int(there[-1])
            parts.append(
                words.say(
                    "season-alt-fish",
                    reader,
                    name=batch.name,
                    weight=words.span(float(weight.low[last]), float(weight.high[last]), "mass", reader),
                    day=words.date(run.date(last), reader),
                )
            )
    return words.say("season-alt-fishes", reader, fish=" ".join(parts))
