"""Grams as a household measures them: level spoons in quarters, and how to come by what no scale shows."""

import math

from aquacalc import words
from aquacalc.words import Reader

LEAST_WEIGHED_G = 0.5
"""Less is weighed too roughly: a pocket scale shows tenths of a gram. Common practice, no source."""

MOST_QUARTERS = 24
"""More spoons than that nobody counts right. Common practice, no source."""

ONE_SPOON = 1.125
"""Up to here it is a spoon or a part of one: spoons are counted in quarters."""

QUARTERS = {0: "", 1: "¼", 2: "½", 3: "¾"}


def counted(spoons: float) -> str:
    """Spoons to the quarter, as they are read.

    >>> [counted(spoons) for spoons in (2.5, 0.25, 12.0, 0.0)]
    ['2½', '¼', '12', '0']
    """
    quarters = round(4.0 * spoons)
    return f"{quarters // 4 or ''}{QUARTERS[quarters % 4]}" or "0"


def level(grams: float, spoon_g: float | None) -> str:
    """Level spoons in quarters; empty where none was weighed, and where it is better weighed: less than an
    eighth, or more than anybody counts right.

    >>> level(7.5, 5.0), level(0.4, 5.0)
    ('1½', '')
    """
    if spoon_g is None or math.isnan(spoon_g) or spoon_g <= 0.0:
        return ""
    return counted(grams / spoon_g) if 0 < round(4.0 * grams / spoon_g) <= MOST_QUARTERS else ""


def weighed(grams: float, spoon_g: float | None, reader: Reader) -> str:
    """Grams, and level spoons to the nearest quarter where a spoon of the product was weighed."""
    text, spoons = words.quantity(grams, "dose", reader), level(grams, spoon_g)
    if not spoons or spoon_g is None:
        return text
    key = "dose-spoon" if grams <= spoon_g * ONE_SPOON else "dose-spoons"
    return words.say(key, reader, grams=text, spoons=spoons)


def little(grams: float, reader: Reader) -> str:
    """How to come by what is too little for a scale: by a solution of one gram in a litre; else empty."""
    if not 0.0 < grams < LEAST_WEIGHED_G:
        return ""
    return words.say("weigh-little", reader, millilitres=words.number(1000.0 * grams))


def fed(spoons: float, reader: Reader) -> str:
    """Feed in level spoons, or that it is weighed."""
    if not spoons > 0.0:
        return words.say("task-scales", reader)
    return words.say("task-spoons", reader, spoons=counted(spoons), n=1 if spoons <= 1.0 else 2)
