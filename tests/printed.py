"""How a printed page is read: its words, its numbers, its tables."""

import html
import re
from collections.abc import Sequence

import icalendar

from aquacalc import words
from aquacalc.pages.plan import Plan
from aquacalc.panels.harvest.season_runs import Decided

Amounts = dict[str, dict[str, str]]
"""By key, what each sheet prints for it."""
Rows = Sequence[dict[str, str]]
"""Of `season-tasks.csv`."""
Events = Sequence[icalendar.Event]


def number(text: str) -> str:
    """The first number of a text; 0 where it tells that there is none."""
    found = re.search(r"[0-9]+(?:\u00a0[0-9]{3})*(?:\.[0-9]+)?", text)
    return found[0] if found else "0"


def read(page: str) -> str:
    """The words of a page, those of its pictures left out."""
    without = re.sub(r"<svg.*?</svg>|<[^>]+>", " ", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(without).replace(words.NO_BREAK_SPACE, " "))


def table_rows(page: str) -> list[list[str]]:
    """The cells of a page's first table, row by row, without its head."""
    body = re.findall(r"<tbody>(.*?)</tbody>", page, flags=re.DOTALL)[0]
    return [
        [read(cell).strip() for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, flags=re.DOTALL)]
        for row in re.findall(r"<tr>(.*?)</tr>", body, flags=re.DOTALL)
    ]


def decided(plan: Plan) -> Decided:
    """The season of a plan as panels show it."""
    assert plan.season is not None
    assert plan.agenda is not None
    return Decided(plan.season, plan.garden, plan.findings, plan.agenda)
