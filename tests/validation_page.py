"""docs/validation.md and its pictures: `python tests/validation_page.py` makes them anew, in some minutes.

The words of the page stay, its blocks are written anew. It is dated: it holds what was found when it was
made. A slow test holds what must stay true of it.
"""

import re
import sys
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import partial
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

import published_systems as published  # noqa: E402
from docs_from_tables import table  # noqa: E402
from published_systems import Beside, Row  # noqa: E402

from aquacalc import __version__  # noqa: E402  (the script may run without an installed package)
from aquacalc.charts.axes import PLAIN_NUMBER  # noqa: E402
from aquacalc.charts.picture import FILL, GRID, INK, Chart, alt, finish, plot, svg  # noqa: E402

PAGE = ROOT / "docs" / "validation.md"
PICTURES = ROOT / "docs" / "validation"

GROUPS = {"film": "Films", "fish": "Fish", "crops": "Crops", "water": "Water", "ions": "Ions"}
QUANTITIES = {
    "fish_harvest_g": "mean weight at harvest",
    "fish_end_g": "mean weight at the end",
    "fish_at_g": "mean weight on a day",
    "fish_taken_kg_year": "live weight taken a year",
    "fcr": "feed over gain",
    "survival": "share that lives to harvest",
    "feed_g_m2_day": "feed over bed area",
    "fed_share": "share of days at full ration",
    "carries_g_day": "feed that the films carry",
    "crop_kg_m2_year": "picked a year",
    "water_pct_day": "new water over all water",
    "base_eq_per_kg_feed": "base over feed",
    "film": "rate",
    "film_ratio": "rate",
    "start": "day",
    "mean:tan_mg_l": "TAN",
    "mean:nitrite_mg_l": "nitrite",
    "mean:nitrate_mg_l": "nitrate",
    "mean:potassium_mg_l": "potassium",
    "mean:calcium_mg_l": "calcium",
    "mean:phosphorus_mg_l": "phosphorus",
    "mean:ph": "pH",
}
WITHOUT_GARDEN = {
    "film": "Film",
    "start_carp": "New loop with carp",
    "start_salts": "New loop on salts",
    "start_handbook": "New loop, handbook",
}
SHORT = {
    "uvi_nile_basil": "Rafts, basil",
    "uvi_red_okra": "Rafts, okra",
    "uvi_lettuce": "Rafts, lettuce",
    "trout_mexico": "Trout, cool tanks",
    "trout_low_exchange": "Trout, cold loop",
    "catfish_year": "Catfish",
    "fao_media": "Media unit",
}
"""Names beside the lines of a picture."""
RATIO_TICKS = (0.1, 0.2, 0.5, 1, 2, 5, 10)
ROW_PX, PLOT_PX, DOT = 26, 460, 70


def name_of(system: str) -> str:
    """A system by its garden's name."""
    return WITHOUT_GARDEN.get(system) or re.search(r'^name = "(.*)"$', published.text_of(system), re.M)[1]


def quantity_of(row: Row) -> str:
    """What a row is about, in words."""
    head, _, rest = row.quantity.partition(":")
    words = QUANTITIES.get(row.quantity) or QUANTITIES[head]
    if head == "crop_kg_m2_year":
        return f"{rest.replace('_', ' ')}, {words}"
    if head == "fish_at_g":
        return f"mean weight on {rest.split(':')[1]}"
    if head in ("film", "film_ratio", "start"):
        asked = dict(part.split("=") for part in rest.split()[1:])
        first = rest.split()[0].replace("_", " ")
        if head == "start":
            return f"{words}: {first}, {asked['celsius']} °C"
        also = f" over {asked['over']} °C" if "over" in asked else f", TAN {asked['tan']}"
        return f"{words}: {asked['celsius']} °C{also}"
    return words


def number(value: float) -> str:
    """Three digits at most, none that is not known."""
    if not np.isfinite(value):
        return f"over {published.FINISHED_BY_D}"
    return f"{float(f'{value:.2g}'):g}" if abs(value) < 10.0 else f"{float(f'{value:.3g}'):.0f}"


def unit_of(row: Row) -> str:
    """Its unit; nothing for a share."""
    return row.unit if row.unit not in ("1", "pH", "kg/kg") else ""


def span(low: float, middle: float, high: float) -> str:
    """A middle with its range, or alone where there is none."""
    return number(middle) if low == high else f"{number(middle)} ({number(low)} to {number(high)})"


def verdict(one: Beside) -> str:
    """Inside, or on which side it misses."""
    if one.inside:
        return "inside"
    return "**too low**" if one.model.high < one.row.low else "**too high**"


def picture(group: str, found: Sequence[Beside]) -> Chart:
    """One line a row: the source's spread as a grey bar, the model's band with its middle, over published."""
    rows = [
        {
            "name": f"{SHORT.get(one.row.system) or name_of(one.row.system)}: {quantity_of(one.row)}",
            "low": one.row.low / one.row.published,
            "high": one.row.high / one.row.published,
            "least": float(one.model.low) / one.row.published,
            "middle": float(one.model.middle) / one.row.published,
            "most": min(float(one.model.high) / one.row.published, RATIO_TICKS[-1]),
            "fill": "white" if one.row.fitted else INK,
        }
        for one in found
    ]
    rows = [row | {"least": max(row["least"], RATIO_TICKS[0])} for row in rows]
    axis = alt.Axis(values=list(RATIO_TICKS), format=PLAIN_NUMBER, title="model over published", grid=True)
    scale = alt.Scale(type="log", domain=[RATIO_TICKS[0], RATIO_TICKS[-1]])
    up = alt.Y(
        "name:N", sort=None, title=None, axis=alt.Axis(labelLimit=460, ticks=False, grid=True, gridColor=GRID)
    )
    at = [
        alt.X(f"{name}:Q", scale=scale, axis=axis, title="model over published")
        for name in ("low", "least", "middle")
    ]
    layers = [
        plot(rows).mark_bar(color=FILL, height=ROW_PX - 10).encode(x=at[0], x2="high", y=up),
        plot([{"one": 1.0}]).mark_rule(color=INK, strokeDash=[4, 3]).encode(x=alt.X("one:Q", scale=scale)),
        plot(rows).mark_rule(color=INK, strokeWidth=2).encode(x=at[1], x2="most", y=up),
        plot(rows)
        .mark_point(shape="circle", size=DOT, filled=True, stroke=INK, opacity=1, clip=True)
        .encode(x=at[2], y=up, fill=alt.Fill("fill:N", scale=None)),
    ]
    return finish(layers, GROUPS[group], [], described(group, found), (PLOT_PX, ROW_PX * len(rows)))


def described(group: str, found: Sequence[Beside]) -> str:
    """The picture in a sentence."""
    inside = sum(one.inside for one in found)
    return f"{GROUPS[group]}: of {len(found)} published values {inside} meet the band of the model."


def rows_of(found: Sequence[Beside]) -> Iterator[tuple[str, ...]]:
    """The lines of a group's table."""
    for one in found:
        row, model = one.row, one.model
        yield (
            name_of(row.system),
            quantity_of(row),
            unit_of(row),
            span(row.low, row.published, row.high),
            span(float(model.low), float(model.middle), float(model.high)),
            verdict(one),
            "" if np.isnan(one.ratio) else f"{one.ratio:.2f}",
            "fitted" if row.fitted else "",
            f"{row.source} ({row.mark})",
            row.note,
        )


def summary(found: Sequence[Beside]) -> Iterator[tuple[str, ...]]:
    """A line for each group, and one for all."""
    counted = published.evidence(found)
    everything, ratios = published.median_ratios(found), published.median_ratios(counted)
    for group, title in (*GROUPS.items(), ("", "**all**")):
        own = [one for one in found if group in ("", one.row.group)]
        kept = published.evidence(own)
        yield (
            title,
            str(len(own)),
            str(len(kept)),
            f"{sum(one.inside for one in kept)} ({100.0 * published.share_inside(kept):.0f} %)",
            f"{ratios[group]:.2f}" if group in ratios else "",
            f"{sum(one.inside for one in own)} ({100.0 * published.share_inside(own):.0f} %)",
            f"{everything[group]:.2f}" if group in everything else "",
        )


def heads() -> Iterator[tuple[str, ...]]:
    """What each garden's source states and what is guessed, from the head of its file."""
    for path in sorted(published.FOLDER.glob("*.toml")):
        text = path.read_text("utf-8")
        stated, guessed = (
            re.search(rf"^# {key}: (.*)$", text, re.M)[1] for key in ("The source states", "Guessed")
        )
        yield name_of(path.stem), stated, guessed, f"`{path.stem}.toml`"


def made(found: Sequence[Beside]) -> list[str]:
    """When, and with what."""
    tries = published.GROUPS * published.IN_GROUP
    return [f"Made on {date.today():%d %B %Y} with version {__version__}: {tries} tries of each garden."]


def summed(found: Sequence[Beside]) -> list[str]:
    """The groups."""
    heads = ("rows", "evidence", "of it inside", "median ratio", "all inside", "median ratio of all")
    return list(table(("group", *heads), summary(found)))


def missed(found: Sequence[Beside]) -> list[str]:
    """The rows that miss, by name."""
    out = [one for one in found if not one.inside]
    lines = [f"{len(out)} of {len(found)} rows miss.", ""]
    for one in out:
        row, model = one.row, one.model
        says = span(float(model.low), float(model.middle), float(model.high))
        told = f"{says} for {span(row.low, row.published, row.high)} {unit_of(row)}".rstrip()
        lines.append(f"- {name_of(row.system)}: {quantity_of(row)} {verdict(one)}, {told}")
    return lines


def told(group: str, found: Sequence[Beside]) -> list[str]:
    """Picture and table of a group."""
    own = [one for one in found if one.row.group == group]
    heads = ("quantity", "unit", "published", "model", "", "ratio", "", "source", "note")
    return [
        f"![{described(group, own)}](validation/{group}.svg)",
        "",
        *table(("system", *heads), rows_of(own)),
    ]


BLOCKS: dict[str, Callable[[Sequence[Beside]], list[str]]] = {
    "made": made,
    "summary": summed,
    **{group: partial(told, group) for group in GROUPS},
    "missed": missed,
    "gardens": lambda found: list(table(("system", "the source states", "guessed", "file"), heads())),
}
BLOCK = re.compile(rf"(<!-- ({'|'.join(BLOCKS)}) -->\n).*?(?=<!-- end -->)", re.DOTALL)


def page(found: Sequence[Beside]) -> str:
    """The page with fresh figures; its words stay."""

    def filled(at: re.Match[str]) -> str:
        return "\n".join([at[1], *BLOCKS[at[2]](found), "", ""])

    return BLOCK.sub(filled, PAGE.read_text("utf-8"))


def write() -> None:
    """Page and pictures."""
    found = published.all_beside()
    PICTURES.mkdir(exist_ok=True)
    for group in GROUPS:
        own = [one for one in found if one.row.group == group]
        (PICTURES / f"{group}.svg").write_text(svg(picture(group, own)), "utf-8", newline="\n")
    PAGE.write_text(page(found), "utf-8", newline="\n")


if __name__ == "__main__":
    write()
