"""The counts in docs/trust.md: `python tests/trust_page.py` writes them anew from tests/published/*.csv.

A test compares the page with the files, so that neither can change alone.
"""

import csv
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "docs" / "trust.md"
PUBLISHED = ROOT / "tests" / "published"

KINDS = ("printed", "library", "second copy", "beside")
COUNTED = re.compile(r"(?<=<!-- counted -->\n).*?(?=<!-- end -->)", re.DOTALL)


def rows() -> Iterator[tuple[str, dict[str, str]]]:
    """Every published check with the name of its file."""
    for path in sorted(PUBLISHED.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            yield from ((path.stem, row) for row in csv.DictReader(file))


def counts() -> str:
    """Two tables: checks by subject and kind, and rows by the library that computed them."""
    found = list(rows())
    by_kind = Counter((subject, row["kind"]) for subject, row in found)
    subjects = sorted({subject for subject, _ in found})
    lines = ["", "| subject | printed | library | second copy | beside |", "| --- | --- | --- | --- | --- |"]
    for subject in subjects:
        lines.append(f"| {subject} | " + " | ".join(str(by_kind[subject, kind]) for kind in KINDS) + " |")
    totals = [sum(by_kind[subject, kind] for subject in subjects) for kind in KINDS]
    lines.append("| **all** | " + " | ".join(f"**{total}**" for total in totals) + " |")
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


def page() -> str:
    """The page with fresh counts."""
    return COUNTED.sub(lambda _: counts(), PAGE.read_text("utf-8"))


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8", newline="\n")
