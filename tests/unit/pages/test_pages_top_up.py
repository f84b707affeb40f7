"""The sheet about topping up: the garden's own product, proof, litres by month, the rain barrel."""

import re
from dataclasses import replace

import plans

from aquacalc.garden import file
from aquacalc.garden.model import Rain
from aquacalc.pages import sheets
from aquacalc.pages.wall import top_up
from aquacalc.words import NO_BREAK_SPACE

YARD = plans.of_yard()


def text(html: str) -> str:
    plain = re.sub(r"<[^>]+>", " ", html).replace(NO_BREAK_SPACE, " ")
    return re.sub(r"\s+", " ", plain)


def test_the_dose_stands_first_with_the_garden_s_own_amount_of_water():
    page = text(sheets.wall(YARD, "topping_up"))
    assert "Into 100 L of new water first" in page
    assert "treated as chloramine" in page
    assert "a clear one is proof for" in page
    assert (
        page.index("of new water first") < page.index("fall through the air, a hand") < page.index("January")
    )


def test_every_month_has_its_litres():
    page = top_up.page(YARD)
    assert len(re.findall(r"\d to \d", text(page.split("On a day")[-1]))) >= 12


def test_water_without_chlorine_needs_nothing_and_still_an_air_gap():
    well = replace(YARD.garden.top_up, disinfectant="none", chlorine_max_mg_l=0.0)
    page = text(top_up.page(plans.changed(YARD, top_up=well)))
    assert "nothing is added to this water" in page
    assert "of new water first" not in page
    assert "fall through the air, a hand" in page


def test_a_barrel_is_told_where_there_is_one_and_rain_is_known():
    assert "The rain barrel" not in text(top_up.page(YARD))
    southern = file.find("demo:southern").garden
    site = replace(
        YARD.garden.site, climate=replace(YARD.garden.site.climate, rain_mm=southern.site.climate.rain_mm)
    )
    page = text(top_up.page(plans.changed(YARD, site=site, rain=Rain(4.0, 200.0, "galvanised"))))
    assert "The barrel runs dry at times" in page
    assert "Zinc and galvanised sheet" in page
