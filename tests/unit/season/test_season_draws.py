"""What a season draws and what it leaves typical, and that its page of documentation says so."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from yard import yard

from aquacalc import nitrogen, tables, uncertainty
from aquacalc.season import setting
from aquacalc.sizing import balance

ROOT = Path(__file__).resolve().parents[3]
PACKAGE = ROOT / "aquacalc"

DRAWN_BY_RATIO = (
    *("growth_ammonia_oxidisers_per_d", "growth_nitrite_oxidisers_per_d", "decay_nitrifiers_per_d"),
    *("half_saturation_tan_mg_l", "half_saturation_nitrite_mg_l", "half_saturation_alkalinity_mg_l"),
    *("areal_capacity_g_m2_d", "nitrite_capacity_ratio", "film_transfer_factor", "nitrite_transfer_share"),
)
DRAWN_PLAINLY = (
    *("theta_decay", "theta_areal_capacity", "ph_half_low"),
    *("root_surface_m2_m2", "wetted_share", "film_share_unsettled"),
    *("start_nitrate_mg_l", "start_potassium_mg_l", "start_phosphorus_mg_l", "start_iron_mg_l"),
)
ROOMS = ("season", "schedule", "film.py", "nitrogen.py", "fish.py", "crops.py", "solids.py", "aeration.py")
"""What a season's own reckoning stands in; a value that is asked there for its middle is not drawn."""


@pytest.mark.parametrize("name", [*DRAWN_BY_RATIO, *DRAWN_PLAINLY])
def test_what_is_uncertain_of_films_and_of_the_first_day_is_drawn(name: str):
    triangle = setting.triangles(yard())[name]
    assert triangle.low < triangle.typical < triangle.high
    assert triangle.logarithmic == (name in DRAWN_BY_RATIO)


def test_a_draw_keeps_the_rank_correlations():
    garden = yard()
    drawn = uncertainty.draw(setting.triangles(garden), 400, 1, balance.correlations(garden))
    for (one, other), wanted in nitrogen.CORRELATIONS.items():
        found = spearman(drawn[one], drawn[other])
        assert found == pytest.approx(wanted, abs=0.1), (one, other)


def spearman(one: uncertainty.Floats, other: uncertainty.Floats) -> float:
    ranks = [values.argsort().argsort() for values in (one, other)]
    return float(np.corrcoef(*ranks)[0, 1])


def not_drawn() -> set[str]:
    """Values that the table gives a range and a season takes at their middle."""
    garden = yard()
    unanalysed = replace(garden, top_up=replace(garden.top_up, chloride_mg_l=None))
    held = setting.triangles(unanalysed)
    rows = {row.key for row in tables.load("coefficients") if row.number("low") < row.number("high")}
    fixed = {name for name, one in held.items() if name in rows and one.low == one.high}
    sources = [
        path for room in ROOMS for path in (PACKAGE / room, *(PACKAGE / room).rglob("*.py")) if path.is_file()
    ]
    text = "".join(path.read_text("utf-8") for path in sources)
    asked = set(re.findall(r'coefficient\("(\w+)"\)\.typical', text))
    each = {name for name in rows if re.fullmatch(r"film_transfer_\w+_m_d", name)}
    return fixed | each | {name for name in asked & rows if name not in held}


def test_the_page_names_all_that_is_not_drawn():
    text = (ROOT / "docs" / "season.md").read_text("utf-8")
    part = text.split("## What is not drawn")[1].split("\n## ")[0]
    named = set(re.findall(r"`(\w+)`", part))
    assert named == not_drawn()
