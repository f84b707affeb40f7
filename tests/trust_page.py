"""The counts in docs/trust.md: `python tests/trust_page.py` writes them anew from tests and tables.

A test compares the page with the files, so that neither can change alone.
"""

import csv
import re
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))

import docs_from_values  # noqa: E402
from docs_from_tables import table  # noqa: E402
from test_reachable import WAITING  # noqa: E402

from aquacalc import tables  # noqa: E402  (the script may run without an installed package)

PAGE = ROOT / "docs" / "trust.md"
PUBLISHED = ROOT / "tests" / "published"

KINDS = ("printed", "library", "second copy", "beside")
BLOCK = re.compile(r"(<!-- (counted|known|tried) -->\n).*?(?=<!-- end -->)", re.DOTALL)
USUAL_EXAMPLES = 100
"""What hypothesis tries where a test names no number."""


def rows() -> Iterator[tuple[str, dict[str, str]]]:
    """Every published check with the name of its file."""
    for path in sorted(PUBLISHED.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            yield from ((path.stem, row) for row in csv.DictReader(file))


UNUSED = {
    (module.rpartition(".")[2], name)
    for modules in WAITING.values()
    for module, names in modules.items()
    for name in names.split()
}
"""Formulas that no reader reaches yet, each with its module."""


def waits(call: str) -> bool:
    """Whether a check calls a formula that no reader reaches yet."""
    return bool(UNUSED & set(re.findall(r"(\w+)\.(\w+)", call)))


def counts() -> str:
    """Two tables: checks by subject and kind, and rows by the library that computed them."""
    found = list(rows())
    by_kind = Counter((subject, row["kind"]) for subject, row in found)
    subjects = sorted({subject for subject, _ in found})
    apart = Counter(subject for subject, row in found if waits(row["call"]))
    lines = [
        "",
        "| subject | printed | library | second copy | beside | of these not used yet |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    for subject in subjects:
        numbers = (*(by_kind[subject, kind] for kind in KINDS), apart[subject])
        lines.append(f"| {subject} | " + " | ".join(map(str, numbers)) + " |")
    totals = [sum(by_kind[subject, kind] for subject in subjects) for kind in KINDS]
    lines.append("| **all** | " + " | ".join(f"**{total}**" for total in (*totals, apart.total())) + " |")
    lines += [
        "",
        f"*Not used yet*: {apart.total()} rows check formulas that no page, panel or command calls.",
    ]
    opened = Counter(row["mark"] for _, row in found if row["kind"] == "printed")
    lines += [
        "",
        f"Of the {totals[0]} printed values {opened['read']} were read in the source itself, "
        f"{opened['read-2nd']} in another text that quotes it, {opened['computed']} follow from what it "
        f"prints, and {opened['memory']} are from memory.",
        "",
        "| library or open file | checks |",
        "| --- | --- |",
    ]
    libraries = Counter(
        row["source"].split(";")[0].split(":")[0] for _, row in found if row["kind"] == "library"
    )
    lines += [
        f"| `{key}` | {count} |"
        for key, count in sorted(libraries.items(), key=lambda one: (-one[1], one[0]))
    ]
    return "\n".join([*lines, "", ""])


def known() -> str:
    """How the values of the tables that decide are known: marks of each table, counted."""
    names = (*docs_from_values.DECIDING, "symptoms", "coefficients")
    found = {name: docs_from_values.counts(name) for name in names}
    lines = ["", *table(("table", *tables.MARKS, "marks in all"), _known_rows(found)), ""]
    lines.append(" ".join(_told(name, marks) for name, marks in found.items()))
    return "\n".join([*lines, "", ""])


def _known_rows(found: dict[str, Counter[str]]) -> Iterator[tuple[str, ...]]:
    for name, marks in found.items():
        yield (f"`{name}`", *(str(marks[mark]) for mark in tables.MARKS), str(marks.total()))


def _told(name: str, marks: Counter[str]) -> str:
    opened = f"{marks['read']} are read in a source" if marks["read"] else "none is read in a source"
    return f"Of the {marks.total()} marks of `{name}` {marks['practice']} say practice, and {opened}."


def tried() -> str:
    """How many inputs the property tests try."""
    texts = [path.read_text("utf-8") for path in sorted((ROOT / "tests").rglob("test_*.py"))]
    examples = [int(one) for text in texts for one in re.findall(r"max_examples=(\d+)", text)]
    lowest, highest = min(examples), max(*examples, USUAL_EXAMPLES)
    return (
        f"\nBeside these, property tests try {lowest} to {highest} drawn inputs each "
        f"({USUAL_EXAMPLES} where a test names no number): mass is conserved, more fish never need less "
        "oxygen, a change of units changes no result, a wider range of an input gives no narrower range of "
        "a result, a limit doubled carries doubled feed.\n\n"
    )


BLOCKS = {"counted": counts, "known": known, "tried": tried}


def page() -> str:
    """The page with fresh counts."""
    return BLOCK.sub(lambda found: found[1] + BLOCKS[found[2]](), PAGE.read_text("utf-8"))


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8", newline="\n")
