"""Limits on the kit's own card after its check, and what pages say of that check. All scales are invented."""

from dataclasses import replace
from datetime import date

from aquacalc.garden.model import KitScale
from aquacalc.pages import kit
from aquacalc.pages.wall import ammonia_table
from aquacalc.words import NO_BREAK_SPACE, Reader

TAN = KitScale("tan", "N", (0.0, 0.3, 0.6, 1.2, 2.5, 6.0))
DAY = date(2027, 2, 3)
HIGH = replace(TAN, offset=0.4, standard=1.0, checked=DAY)
SPOILED = replace(TAN, offset=2.0, standard=1.0, checked=DAY)


def plain(text: str) -> str:
    return text.replace(NO_BREAK_SPACE, " ")


def test_a_limit_stands_higher_on_a_kit_that_reads_too_high():
    assert plain(kit.limit(1.0, TAN, Reader())) == "1.2 N"
    assert plain(kit.limit(1.0, HIGH, Reader())) == "2.5 N"
    drops = KitScale("alkalinity", "dkh", (), 1.0)
    assert plain(kit.limit(20.0, drops, Reader())) == "2 dKH"
    assert plain(kit.limit(20.0, replace(drops, offset=1.0, standard=4.0), Reader())) == "3 dKH"


def test_a_spoiled_kit_shows_no_limit_of_its_own():
    assert plain(kit.limit(1.0, SPOILED, Reader())) == "1 mg/L as N"
    assert not ammonia_table.tan_axis(SPOILED).ends


def test_the_ammonia_table_reads_the_corrected_water_beside_the_steps():
    axis = ammonia_table.tan_axis(HIGH)
    assert axis.shown == TAN.steps[1:]
    assert [round(one, 3) for one in axis.inside] == [0.0, 0.2, 0.8, 2.1, 5.6]


def test_only_what_is_corrected_or_spoiled_is_told():
    fits = replace(TAN, standard=1.0, checked=DAY)
    assert kit.corrections([TAN, fits], Reader()) == []
    said = [plain(one) for one in kit.corrections([HIGH, SPOILED], Reader())]
    assert "corrected by -0.4 N since the check of" in said[0]
    assert "do not use" in said[1]
    assert "fits a standard" in kit.check(fits, Reader())
