"""What was done today? A feeding, a count, a death, a harvest, as a row of the log."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from aquacalc import crops, words
from aquacalc.errors import InputError, Problem
from aquacalc.garden.model import Garden
from aquacalc.logbook.keep import Entry
from aquacalc.pages import html
from aquacalc.panels.frame.dates import DateField
from aquacalc.panels.frame.desk import Desk
from aquacalc.panels.frame.fields import GRAMS, ChoiceField, Field, NumberField
from aquacalc.panels.frame.keeping import Keeping
from aquacalc.panels.frame.panel import Panel, Values, answer

FISH = ("dead", "taken", "count")
"""Numbers of fish, by the parameters of the log."""
MOST_FISH, MOST_G, MOST_L = 1e6, 1e6, 1e6
MAIN = ("day", "feed", "dead", "count", "picked")


@dataclass(frozen=True)
class Day:
    """What is to be kept of a day."""

    day: date
    entries: tuple[Entry, ...]


def controls(garden: Garden, today: date) -> dict[str, Field]:
    """Boxes for what a day brings; those for fish or crops only where the garden has them."""
    reader, say = garden.reader, words.say

    def number(key: str, kind: str, most: float) -> NumberField:
        shown_in = GRAMS if kind == "mass" else None
        return NumberField(
            say(f"day-{key}", reader), kind, None, reader, 0.0, most, optional=True, shown_in=shown_in
        )

    fields: dict[str, Field] = {
        "day": DateField(say("day-day", reader), today, reader, today, latest=today),
        "feed": number("feed", "mass", MOST_G),
    }
    if len(garden.fish) > 1:
        options = [(batch.name, batch.name) for batch in garden.fish]
        fields["batch"] = ChoiceField(say("day-batch", reader), options, garden.fish[0].name, reader)
    if garden.fish:
        fields |= {key: number(key, "", MOST_FISH) for key in FISH}
        fields["weight"] = number("weight", "mass", MOST_G)
    planted = sorted({crop.crop for crop in garden.crops})
    if planted:
        options = [(crops.crop(key).name, key) for key in planted]
        fields["crop"] = ChoiceField(say("day-crop", reader), options, planted[0], reader)
        fields["picked"] = number("picked", "mass", MOST_G)
    fields["top_up"] = number("top-up", "volume", MOST_L)
    return fields


def compute(garden: Garden, values: Values) -> Day:
    """The entries of the boxes that are filled. Raises `InputError` for half a fish."""
    batch = values.get("batch") or (garden.fish[0].name if garden.fish else "")
    subjects = dict.fromkeys((*FISH, "weight"), batch) | {"picked": values.get("crop", "")}
    found = []
    for name in ("feed", *FISH, "weight", "picked", "top_up"):
        value = values.get(name)
        if value is None:
            continue
        if name in FISH and value != int(value):
            raise InputError(
                Problem("problem-not-whole", words.say(f"day-{name}", garden.reader), f"{value:g}")
            )
        found.append(Entry(name, value, subject=subjects.get(name, "")))
    return Day(values["day"], tuple(found))


def draw(garden: Garden, found: Day) -> html.Html:
    """What would be kept."""
    reader = garden.reader
    day = words.date(found.day, reader)
    names = [words.say(f"day-{one.parameter.replace('_', '-')}", reader) for one in found.entries]
    title = (
        words.say("day-answer", reader, day=day, names=words.listed(names, reader))
        if names
        else words.say("day-nothing", reader, day=day)
    )
    return answer(title, [words.say("day-readings", reader)])


def panel(desk: Desk, then: Callable[[], None] = lambda: None, today: date | None = None) -> Panel:
    """The form. then: called after the log has changed."""
    today = today or date.today()
    keeping = Keeping(
        desk,
        lambda: compute(desk.garden, made.values).entries,
        lambda: made.values["day"] or today,
        then,
    )
    made = Panel(
        "log-day",
        controls(desk.garden, today),
        lambda values: compute(desk.garden, values),
        lambda found: draw(desk.garden, found),
        desk.reader,
        below=(keeping,),
        main=MAIN,
    )
    return made
