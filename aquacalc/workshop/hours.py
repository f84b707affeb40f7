"""The minutes of a workshop: two hours for adults, five lessons for a class. Common practice, no source."""

from collections.abc import Iterator
from dataclasses import dataclass

from aquacalc.workshop.audience import CLASSES, Audience

LESSON_MIN = 45
WORKSHOP_MIN = 120


@dataclass(frozen=True)
class Step:
    """What is done for so many minutes; key of its texts."""

    key: str
    minutes: int


@dataclass(frozen=True)
class Meeting:
    """People together in one room, without a break. key: of its title."""

    key: str
    steps: tuple[Step, ...]

    def clock(self) -> Iterator[tuple[int, int, Step]]:
        """Each step with the minute in which it begins and the one in which it ends."""
        begin = 0
        for step in self.steps:
            yield begin, begin + step.minutes, step
            begin += step.minutes


def _meeting(key: str, **minutes: int) -> Meeting:
    return Meeting(key, tuple(Step(f"{key}-{name}", long) for name, long in minutes.items()))


EVENING = _meeting("evening", why=15, loop=15, stations=50, design=25, emergency=10, next=5)
LESSONS = (
    _meeting("litres", open=5, look=10, measure=20, share=10),
    _meeting("nitrogen", open=5, loop=15, test=15, share=10),
    _meeting("feeding", open=5, weigh=15, graph=15, share=10),
    _meeting("energy", open=5, count=15, cut=15, share=10),
    _meeting("choice", open=5, weigh=20, vote=10, share=10),
)


def meetings(audience: Audience) -> tuple[Meeting, ...]:
    """What an audience comes to."""
    return LESSONS if audience in CLASSES else (EVENING,)
