"""docs/values.md prints the tables that decide: `python tests/docs_from_values.py` writes it anew.

A test compares the page with the tables, so that neither can change alone.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

from docs_from_tables import table  # noqa: E402

from aquacalc import tables, words  # noqa: E402  (the script may run without an installed package)
from aquacalc.advice.finding import Amount  # noqa: E402
from aquacalc.advice.triage import triage_of  # noqa: E402
from aquacalc.words import Reader  # noqa: E402

PAGE = ROOT / "docs" / "values.md"
READER = Reader()

DECIDING = {
    "water_limits": (
        "Lines of the water",
        "Where `watch`, `act today` and `emergency` begin. The group says what a line is for: all, water "
        "with or without plants, fish of warm or cold water, or of a class of tolerance. A side of *below* "
        "means that smaller values are worse. The two ratios are chloride against nitrite as "
        "N: under the ratio the line counts.",
    ),
    "species": ("Fish", "Ranges, growth, feed and density by species."),
    "crops": ("Crops", "Days, temperatures, light, yield, uptake and salt by crop."),
    "chemicals": ("Chemicals", "What a gram of each gives, how pure it is, and what it does to people."),
    "told": (
        "Amounts that advice tells",
        "What sentences name beside the garden's own numbers. Where another table holds the amount, it is "
        "printed there.",
    ),
    "media": ("Media", "Voids, surface and density of what beds and filters are filled with."),
}
SYMPTOMS = (
    "Signs of trouble",
    "What a sign leads to, in this order. Where a garden is known, its own amounts stand in the steps.",
)
SHORT = {"read": "read", "read-2nd": "second hand", "computed": "computed", "memory": "memory"}
"""Marks as the page says them; the rest is practice."""


def page() -> str:
    """The whole page."""
    lines = [
        "# The values that decide",
        "",
        "This page is written from the tables by `python tests/docs_from_values.py`. Each value stands with "
        "its source and with how it is known: `read` in the source, `second hand`, `computed`, from "
        "`memory`, or `practice`: common practice without a source, or a choice of this project that leans "
        "on the sources named. Keys are spelled out on the [page of sources](sources.md), columns on the "
        "[page of names and units](nomenclature.md). An empty cell means not found, never zero.",
        "",
        *table(("table", "values by how they are known"), known()),
    ]
    for name, (title, told) in DECIDING.items():
        lines += ["", f"## {title}", "", told]
        for group in tables.groups(name):
            lines += ["", *printed(name, group)]
    lines += ["", f"## {SYMPTOMS[0]}", "", SYMPTOMS[1], *signs()]
    return "\n".join(lines) + "\n"


def known() -> Iterator[tuple[str, str]]:
    """Of each table, how many of its marked values are known in which way."""
    for name in (*DECIDING, "symptoms"):
        yield f"`{name}`", counted(name)


def counted(name: str) -> str:
    """The marks of a table, counted, strongest first."""
    marks = counts(name)
    total = sum(marks.values())
    told = [f"{marks[mark]} {SHORT.get(mark, 'practice')}" for mark in tables.MARKS if marks[mark]]
    return f"{', '.join(told)}, of {total}"


def counts(name: str) -> Counter[str]:
    """How often each mark stands in a table."""
    columns = [column for group in tables.groups(name) for column in group.marks]
    return Counter(row.text(column) for row in tables.load(name) for column in columns if row.text(column))


def printed(name: str, group: tables.Group) -> Iterator[str]:
    """The lines of one group of columns: rows in which it holds anything, columns that hold anything."""
    rows = [row for row in tables.load(name) if any(row.text(column) for column in group.marks)]
    values = [column for column in group.values if any(row.text(column) for row in rows)]
    yield from table(
        ("key", *values, "known", "source"),
        (
            (
                f"`{row.key}`",
                *(row.text(column) for column in values),
                known_as(row, group),
                "; ".join(row.text(column) for column in group.sources),
            )
            for row in rows
        ),
    )


def known_as(row: tables.Row, group: tables.Group) -> str:
    """How the values of a group are known; where parts are known differently, each by its name."""
    found = {column: row.text(column) for column in group.marks if row.text(column)}
    said = {column: SHORT.get(mark, "practice") for column, mark in found.items()}
    if len(set(said.values())) == 1:
        return next(iter(said.values()))
    return ", ".join(
        f"{column.removesuffix('_mark').replace('_', ' ')} {mark}" for column, mark in said.items()
    )


def signs() -> Iterator[str]:
    """Each sign of trouble: what to do, what to measure, what it may be, what never."""
    for row in tables.load("symptoms"):
        answer = triage_of(row.key)
        yield from ("", f"### {words.say(answer.title, READER)}", "")
        steps = [(step.kind, words.say(step.key, READER, **_amounts(step.amounts))) for step in answer.steps]
        for kind, head in (("do", "Do"), ("measure", "Measure")):
            yield f"- {head}: {' '.join(text for of_step, text in steps if of_step == kind)}"
        yield f"- May be: {' '.join(words.say(cause.key, READER) for cause in answer.likely)}"
        yield f"- Never: {' '.join(words.say(key, READER) for key in answer.never)}"
        yield f"- Known: {SHORT.get(row.text('mark'), 'practice')}; sources: {row.text('source')}"


def _amounts(found: tuple[Amount, ...]) -> dict[str, str]:
    return {one.name: words.amount(one, READER) for one in found}


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8", newline="\n")
