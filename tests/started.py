"""Start-ups for tests: worked out once, with few tries."""

from functools import cache

import plans

from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.logbook.messy import mend
from aquacalc.pages.startup import Made
from aquacalc.startup import plan
from aquacalc.startup.plan import StartUp

TRIES = 60


@cache
def southern() -> tuple[Garden, Log]:
    """The demo that is starting up, and its log."""
    opened = GardenFile.open("demo:southern")
    mended = mend.beside(opened.path, opened.garden)
    assert mended is not None
    return opened.garden, mended.log


@cache
def planned() -> StartUp:
    """Its start-up without a reading."""
    return plan.of_garden(southern()[0], members=TRIES)


@cache
def read() -> StartUp:
    """Its start-up with its log."""
    return plan.of_garden(*southern(), members=TRIES)


@cache
def made() -> Made:
    """What pages are made from."""
    garden = southern()[0]
    carried = plan.carried_kg(plans.of_demo("southern").balance)
    return Made(garden, read(), garden.reader, plan.first_of(read(), garden, carried))
