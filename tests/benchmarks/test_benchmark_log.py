"""Ten years of a daily log: read, mended and reported, against pandas parsing the same file.

pandas reads the numbers with their types and nothing else: no units, no steps of kits, no doubts. Target:
four times its time and a second; the second is the time in which a reader waits without wondering. Both are
times of the processor, so that other work on the machine does not fail it.
"""

import random
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pandas as pd
import pytest
from yard import yard

from aquacalc.advice import log as advice
from aquacalc.cli import log as command
from aquacalc.garden.model import Kit, KitScale
from aquacalc.logbook.messy import mend
from aquacalc.words import Reader

pytestmark = pytest.mark.benchmark

DAYS = 3650
TIMES = 3
TARGET, SECOND = 4.0, 1.0

STEPS = (0.0, 0.3, 0.6, 1.2, 2.5, 6.0)
KIT = Kit("drops", None, (KitScale("tan", "N", STEPS), KitScale("ph", "", (6.0, 6.4, 6.8, 7.2, 7.6))))
GARDEN = replace(yard(), kits=(KIT,))
HEAD = (
    "Date;Time;Temp (C);pH;NH3;nitrite (as N);nitrate (as NO3);KH (dKH);EC (uS/cm);Fed (g);spring dead;"
    "Remarks"
)


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log as a careful but human hand writes it: days without a year's order, commas, words, bounds."""
    draw = random.Random(1)
    rows = [HEAD]
    for number in range(DAYS):
        day = date(2018, 1, 1) + timedelta(days=number)
        cells = [
            f"{day.day}/{day.month}/{day.year}",
            draw.choice(("08:00", "8am", "")),
            f"{16.0 + 10.0 * draw.random():.1f}".replace(".", draw.choice(".,")),
            draw.choice(("6.4", "6,8", "7.2", "?")),
            draw.choice(("0", "<0.3", "0.3", "trace", "0,3-0,6", "off the chart")),
            draw.choice(("0", "0.15", "none")),
            draw.choice(("25", "40", "60")),
            draw.choice(("3", "4", "5")),
            str(600 + draw.randrange(40)),
            draw.choice(("40", "40 g", "none")),
            "",
            draw.choice(("", "", "cleaned the filter")),
        ]
        rows.append(";".join(cells))
    path = tmp_path_factory.mktemp("log") / "log.csv"
    path.write_text("\n".join(rows) + "\n", "utf-8")
    return path


def seconds(work: Callable[[], object]) -> float:
    taken = []
    for _ in range(TIMES):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def test_ten_years_are_read_mended_and_reported(log: Path, capsys: pytest.CaptureFixture[str]):
    def reported() -> int:
        found = mend.read(log, GARDEN)
        told = advice.told_by(GARDEN, found.log)
        command.list_rows(found, Reader())
        return len(list(command.lines(GARDEN, found, told, (), Reader())))

    def parsed() -> object:
        return pd.read_csv(log, sep=";", parse_dates=["Date"], dayfirst=True)

    assert len(mend.read(log, GARDEN).log.rows) == DAYS
    assert reported() < 200  # a page, not a row a day
    ours, theirs = seconds(reported), seconds(parsed)
    with capsys.disabled():
        print(
            f"\nten years of a log {ours:.2f} s, parsed by pandas {theirs:.3f} s"
            f" (target {TARGET:g} times that and {SECOND:g} s: {TARGET * theirs + SECOND:.2f} s)"
        )
    assert ours <= TARGET * theirs + SECOND
