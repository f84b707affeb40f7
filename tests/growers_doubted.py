"""How many invented logs of a start-up are doubted, by what befell them.

python tests/growers_doubted.py        15 logs of each kind without trouble, 5 of each trouble; minutes
"""

from dataclasses import dataclass

import growers

from aquacalc.startup import doubts

PLAIN, TROUBLES = ("plain", "watered"), ("basis", "stuck", "chlorine", "acid", "soft", "cold")


@dataclass(frozen=True)
class Count:
    """Logs of a kind; those that are doubted; those whose own cause is named first."""

    logs: int
    doubted: int
    first: int


def count(kind: str, logs: int) -> Count:
    found = []
    for grower in range(logs):
        log = growers.log(kind, grower)
        found.append(doubts.doubts_of(growers.USUAL, log.readings, log.events, log.today))
    doubted = [one for one in found if one]
    return Count(logs, len(doubted), sum(one[0].key == kind for one in doubted))


def counted(plain: int, troubled: int) -> dict[str, Count]:
    """So many logs of each kind."""
    return {kind: count(kind, plain) for kind in PLAIN} | {kind: count(kind, troubled) for kind in TROUBLES}


def share(counts: dict[str, Count], kinds: tuple[str, ...]) -> float:
    """Part of the logs of some kinds that is doubted."""
    return sum(counts[kind].doubted for kind in kinds) / sum(counts[kind].logs for kind in kinds)


if __name__ == "__main__":
    for kind, one in counted(plain=15, troubled=5).items():
        print(f"{kind:10s}{one.doubted:3d} of {one.logs:2d} doubted, its own cause first {one.first:2d}")
