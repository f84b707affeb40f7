"""What is to be done on which day, as keys and amounts; sentences are made elsewhere."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

TaskKey = Literal[
    "stock",
    "ration",
    "fast",
    "take",
    "feed_stop",
    "feed_again",
    "filter_food",
    "sow",
    "plant",
    "pick_from",
    "pick_to",
    "clear",
    "test",
    "garden_day",
]
"""stock: fish arrive; ration: the week's feed; fast: last feed before fish are taken; take: fish for the
kitchen; feed_stop, feed_again: water leaves or enters the temperatures at which fish are fed; filter_food:
ammonia for a filter without fish, after a test; sow, plant, pick_from, pick_to, clear: a batch of a crop;
test: the weekly readings; garden_day: the day of the week for all that can wait for it."""


@dataclass(frozen=True)
class Task:
    """One task.

    subject: batch of fish or crop, as the grower named it or by its key; place: tank or bed;
    count: fish, seeds or plants, NaN where none; grams: feed a day, NaN where none;
    moved_from: the day on which it would have fallen, where an absence moved it; away: who looks after the
    garden on the day, None where the grower is there, empty where nobody is.
    """

    day: date
    key: TaskKey
    subject: str = ""
    place: str = ""
    count: float = float("nan")
    grams: float = float("nan")
    moved_from: date | None = None
    away: str | None = None
