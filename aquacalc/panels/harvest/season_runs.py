"""Seasons that panels show: the middle run at once and kept, the band when asked for."""

from collections.abc import Callable
from functools import lru_cache

import ipywidgets as widgets

from aquacalc import words
from aquacalc.charts.axes import round_up
from aquacalc.garden.model import Garden
from aquacalc.logbook.log import Log
from aquacalc.pages import html
from aquacalc.season import from_log, plan
from aquacalc.season.result import SeasonRun
from aquacalc.season.start import Start
from aquacalc.uncertainty import MEMBERS

ROOM = 1.6
"""The feed axis reaches this many times beyond the middle run, and then stays while controls move."""
KEPT = 8


@lru_cache(maxsize=KEPT)
def middle(garden: Garden, log: Log | None = None) -> SeasonRun:
    """The middle run of a garden, begun with what its log says of the first day."""
    return plan.middle(garden, begun(garden, log))


def begun(garden: Garden, log: Log | None) -> Start:
    """What the log beside the garden gives to the season's first day."""
    return from_log.start(garden, log, from_log.standing(garden, log))


def top_g_day(run: SeasonRun) -> float:
    """A roomy upper end of the feed axis."""
    return round_up(ROOM * float(run.band("feed_g").high.max()))


class BandButton(widgets.VBox):  # type: ignore[misc]
    """A button that works out the band of the garden at hand, with a line that tells how far it is.

    garden: tells the garden at hand; log: the one beside it; shown: is called when the band is there.
    """

    def __init__(
        self,
        garden: Callable[[], Garden],
        log: Log | None,
        shown: Callable[[], None],
        reader: words.Reader,
    ) -> None:
        self.garden, self.logbook, self.shown, self.reader = garden, log, shown, reader
        self.runs: dict[Garden, SeasonRun] = {}
        tries = words.say("panel-band-show", reader, tries=str(MEMBERS))
        self.button = widgets.Button(description=tries, layout=widgets.Layout(width="auto"))
        self.button.on_click(self.pressed)
        self.line = widgets.HTML()
        super().__init__([self.button, self.line])

    def run(self) -> SeasonRun:
        """The season to be shown: with its band where that was worked out, else the middle run alone."""
        garden = self.garden()
        found = self.runs.get(garden)
        self.button.disabled = found is not None
        self.line.value = ""
        return middle(garden, self.logbook) if found is None else found

    def pressed(self, _button: object = None) -> None:
        """Work out the band, and show it."""
        garden = self.garden()
        self.button.disabled = True
        self.tell(0.0)
        # One band at a time: an older one is soon worked out again.
        start = begun(garden, self.logbook)
        self.runs = {garden: plan.of_garden(garden, start=start, progress=self.tell)}
        self.shown()

    def tell(self, share: float) -> None:
        """Say how much of the work is done."""
        done = words.say(
            "panel-band-progress", self.reader, share=words.quantity(share, "share", self.reader)
        )
        self.line.value = html.element("p", done, role="status")
