"""The page of the demo gardens before and after their plans.

`python tests/before_and_after.py` makes it anew.

A garden that has a `before.toml` beside its file is shown twice: what its year brings, on the same tries, and
its year as a strip.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from aquacalc.charts import season_strip  # noqa: E402  (the script may run without an installed package)
from aquacalc.charts.picture import svg  # noqa: E402
from aquacalc.cli.compare import all_wishes  # noqa: E402
from aquacalc.cli.plan import cells  # noqa: E402
from aquacalc.compare.side_by_side import compared  # noqa: E402
from aquacalc.garden import places  # noqa: E402
from aquacalc.garden.file import GardenFile  # noqa: E402
from aquacalc.season import plan  # noqa: E402
from aquacalc.words import NO_BREAK_SPACE  # noqa: E402

DOCS = ROOT / "docs"
PAGE = DOCS / "before-and-after.md"
TRIES = 40
HEAD = f"""# Before and after

Demo gardens as they were first written (`before.toml`) and as they are now (`garden.toml`, what
`demo:NAME` opens). Both are invented, their prices too. Each range leaves out the lowest and the
highest tenth of {TRIES} tries of the same weather; an asterisk marks what fails in more than two of
ten. A plan is a forecast, no promise. This page is made by `python tests/before_and_after.py`.
"""
CHANGED = {
    "yard": """Forty small catfish were never of size before the water was too cold for them. Now twenty come,
large ones, and are out in the middle of November. The air pump is larger, so that August's oxygen
just carries them; that is the limit that is near. Potassium is brought up after a test, water is
changed while nitrate is high, lettuce fills a bed in the cool months, and the tank is no longer
filled by a float valve on untreated water. `aquacalc plan demo:yard/before` found the larger fish,
the day of taking out and the smaller final weight; the number, the air and the beds were settled by
hand.""",
}


def both(name: str) -> tuple[str, ...]:
    """A demo garden's names, before and now."""
    return f"demo:{name}/before", f"demo:{name}"


def told() -> tuple[str, ...]:
    """Names of the demo gardens that have a file of before."""
    return tuple(name for name in places.demos() if (places.demo(name) / "before.toml").exists())


def numbers(name: str) -> str:
    """What the two years bring, as a table."""
    found = [compared(GardenFile.open(one).garden, members=TRIES) for one in both(name)]
    reader = found[0].garden.reader
    rows = cells([one.found for one in found], all_wishes(found), reader)
    lines = ["| | before | now |", "| --- | --- | --- |"]
    lines += ["| " + " | ".join(cell.replace("*", r"\*") for cell in row) + " |" for row in rows]
    return "\n".join(lines).replace(NO_BREAK_SPACE, " ")


def page() -> str:
    """The whole page."""
    parts = [HEAD]
    for name in told():
        pictures = "\n\n".join(
            f"![{GardenFile.open(one).garden.name}, the year {when}]({picture(name, when).name})"
            for one, when in zip(both(name), ("before", "now"), strict=True)
        )
        title = f"## {GardenFile.open(both(name)[1]).garden.name} (`demo:{name}`)"
        parts += [title, CHANGED[name], numbers(name), pictures]
    return "\n\n".join(part.strip() for part in parts) + "\n"


def picture(name: str, when: str) -> Path:
    """Where the strip of a year lies."""
    return DOCS / f"{name}-{when}.svg"


def main() -> None:
    for name in told():
        for one, when in zip(both(name), ("before", "now"), strict=True):
            garden = GardenFile.open(one).garden
            strip = season_strip.strip(plan.of_garden(garden, TRIES), garden, garden.reader, "")
            picture(name, when).write_text(svg(strip), "utf-8")
    PAGE.write_text(page(), "utf-8")


if __name__ == "__main__":
    main()
