"""What nothing for the young may name: caustic, acid or ammonia that is dosed or weighed, and killing.

Titles of sources, which fold, are no instructions.
"""

import html
import re

from aquacalc import tables

BURNS = {"caustic", "acid"}
NAMED = [
    row.text("name").split(",")[0]
    for row in tables.load("chemicals")
    if set(row.text("caution").split("; ")) & BURNS or row.text("kind") == "ammonia"
]
FORBIDDEN = re.compile(
    r"hydroxide|\blye\b|quicklime|\blime\b|caustic|\bacids?\b|ammonium|ammonia solution|bleach|peroxide"
    r"|killing|slaughter|euthan|\bstun|\bkill (them|the fish|it)|" + "|".join(map(re.escape, NAMED)),
    re.IGNORECASE,
)
CITED = re.compile(r"<details.*?</details>|<style.*?</style>", re.DOTALL)


def forbidden(markup: str) -> list[str]:
    """Each such word with what stands around it."""
    plain = re.sub(r"<[^>]*>", " ", html.unescape(CITED.sub("", markup)))
    return [plain[max(0, found.start() - 40) : found.end() + 40] for found in FORBIDDEN.finditer(plain)]
