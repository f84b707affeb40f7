"""Whom a workshop is for."""

from typing import Literal

Audience = Literal["8-11", "12-15", "16", "adults"]
AUDIENCES: tuple[Audience, ...] = ("8-11", "12-15", "16", "adults")
YOUNG: tuple[Audience, ...] = ("8-11", "12-15")
"""They get nothing that doses what burns, and nothing that kills."""
CLASSES: tuple[Audience, ...] = ("8-11", "12-15", "16")
"""They come in lessons."""
IN_A_GROUP = 4
"""People who share a table, a bucket and a kit. Common practice, no source."""
STATIONS = 4
"""Tables with a task of their own, between which groups change."""
PEOPLE: dict[Audience, int] = {"8-11": 28, "12-15": 28, "16": 24, "adults": 16}
"""Where nobody says how many will come. Common practice, no source."""
MOST_PEOPLE = 200


def groups(people: int) -> int:
    """How many groups they make.

    >>> groups(16), groups(40)
    (4, 10)
    """
    return -(-people // IN_A_GROUP)


def each_station(people: int) -> int:
    """How many times each station is laid out, so that no more than one group stands at it.

    >>> each_station(16), each_station(40)
    (1, 3)
    """
    return -(-groups(people) // STATIONS)
