"""Pages of docs/ that repeat what the tables hold: `python tests/docs_from_tables.py` writes them anew.

A test compares the pages with the tables, so that neither can change alone.
"""

import csv
import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from aquacalc import tables  # noqa: E402  (the script may run without an installed package)

DOCS = ROOT / "docs"
MARKS = {
    "read": "read in the source's own text (for papers often the abstract)",
    "read-2nd": "read in another text that quotes the source",
    "computed": "computed from values of the source, by the formula or library that the note names",
    "memory": "from memory: known, but the source was not opened",
    "practice": "common practice of the trade, no source, or a choice of this project",
}
PLAIN = {"OWN", "TRADE"}
"""Keys that stand nearly everywhere; where is not listed."""
PRINTED = ("authors", "year", "title", "publisher")


def sources_page() -> str:
    """Every source, how much of it was seen, and where it is used; before them the marks."""
    places = used_in()
    lines = [
        "# Sources",
        "",
        "This page is written from the tables by `python tests/docs_from_tables.py`.",
        "",
        "## Marks",
        "",
        "Every value of a table has a mark that says how it is known. The order below is from strongest to",
        "weakest; a value with several marks has the weakest.",
        "",
        *table(("mark", "meaning"), ((f"`{mark}`", MARKS[mark]) for mark in tables.MARKS)),
        "",
        "A title in square brackets is a description: the text was seen, or is remembered, without its",
        "exact title. Authors, years and series were in part set down from memory; the column *seen* says",
        "how much of the text itself was read. Background means that no table, check or room cites the",
        "source by its key.",
        "",
        f"## The {len(tables.load('sources'))} sources",
        "",
        *table(
            ("key", "source", "seen", "used in"),
            (
                (
                    f"`{row.key}`",
                    ". ".join(filter(None, (row.text(column).rstrip(".") for column in PRINTED))),
                    row.text("seen"),
                    "throughout" if row.key in PLAIN else ", ".join(places.get(row.key, ["background"])),
                )
                for row in sorted(tables.load("sources"), key=lambda row: row.key)
            ),
        ),
    ]
    return "\n".join(lines) + "\n"


def nomenclature_page() -> str:
    """Names of the uncertain parameters and of the columns: meaning, unit, plausible range."""
    lines = [
        "# Names, meanings, units, ranges",
        "",
        "This page is written from the tables by `python tests/docs_from_tables.py`. Concentrations of TAN,",
        "nitrite and nitrate are as N. A name ends with its unit where it has one.",
        "",
        "## Uncertain parameters",
        "",
        "Low, typical and high are the corners of a triangle from which tries are drawn",
        "(`aquacalc/data/coefficients.csv`).",
        "",
        *table(
            ("name", "meaning", "unit", "low / typical / high", "mark", "source"),
            (
                (
                    f"`{row.key}`",
                    row.text("note") or row.key.replace("_", " "),
                    row.text("unit"),
                    " / ".join(row.text(end) for end in ("low", "typical", "high")),
                    row.text("mark"),
                    row.text("source"),
                )
                for row in tables.load("coefficients")
            ),
        ),
        "",
        "## Columns of the tables",
        "",
        "A value outside the range is refused when a table is read. Blank means not found, never zero.",
    ]
    for name in sorted({row.text("table") for row in tables.load("columns")}):
        rows = [row for row in tables.load("columns") if row.text("table") == name]
        lines += ["", f"### {name}", ""]
        lines += table(
            ("column", "meaning", "unit", "range or choices"),
            ((f"`{row.text('column')}`", row.text("meaning"), row.text("unit"), span(row)) for row in rows),
        )
    return "\n".join(lines) + "\n"


def span(row: tables.Row) -> str:
    """What a column may hold, in words."""
    low, high = row.text("low"), row.text("high")
    if low or high:
        return f"{low or 'any'} to {high or 'any'}"
    return row.text("choices") or {"mark": "a mark", "source": "keys of sources"}.get(row.text("kind"), "")


def table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """Lines of a Markdown table."""
    for cells in (head, tuple("---" for _ in head), *rows):
        yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def used_in() -> dict[str, list[str]]:
    """Places that cite a source: tables, files of published checks, rooms."""
    keys = set(tables.load("sources").keys())
    found: dict[str, set[str]] = {}

    def note(cited: Iterable[str], place: str) -> None:
        for key in cited:
            found.setdefault(key, set()).add(place)

    for path in sorted(tables.DATA.glob("*.csv")):
        if path.stem in {"sources", "columns"}:
            continue
        data = tables.load(path.stem)
        cells = [row.text(column) for row in data for column in data.columns if column.endswith("source")]
        note((tables.source_key(part) for cell in cells for part in tables.parts(cell)), f"table {path.stem}")
    for path in sorted((ROOT / "tests" / "published").glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            cells = [row["source"] for row in csv.DictReader(file)]
        note((tables.source_key(part) for cell in cells for part in tables.parts(cell)), f"check {path.stem}")
    for path in sorted((ROOT / "aquacalc").rglob("*.py")):
        room = ".".join(path.relative_to(ROOT / "aquacalc").with_suffix("").parts)
        note(keys & set(re.findall(r"\b[A-Z][A-Z0-9]{2,}\b", path.read_text("utf-8"))) - PLAIN, f"`{room}`")
    return {key: sorted(places) for key, places in found.items()}


PAGES = {"sources.md": sources_page, "nomenclature.md": nomenclature_page}

if __name__ == "__main__":
    for name, page in PAGES.items():
        (DOCS / name).write_text(page(), "utf-8", newline="\n")
