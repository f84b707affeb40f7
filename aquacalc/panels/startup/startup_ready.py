"""Is it ready? The 24-hour challenge: what the filter carries now, the first fish, and their feed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import words
from aquacalc.garden import litres
from aquacalc.pages import html
from aquacalc.pages.startup import Made
from aquacalc.pages.wall import startup_sheet
from aquacalc.panels.frame.desk import Desk, in_round_numbers
from aquacalc.panels.frame.fields import Field, NumberField
from aquacalc.panels.frame.panel import Panel, Values, answer
from aquacalc.panels.startup.startup import StartUpPanel
from aquacalc.panels.startup.startup_fields import label
from aquacalc.panels.startup.startup_today import scale_of
from aquacalc.startup import first_feed, plan
from aquacalc.startup.first_feed import Challenge, Shown
from aquacalc.startup.plan import First

READINGS = ("tan_0", "tan_1", "nitrite_0", "nitrite_1")


@dataclass(frozen=True, eq=False)
class Ready:
    """A challenge, and what it lets in; first: None where nothing is proven."""

    challenge: Challenge
    first: First | None


def controls(desk: Desk) -> dict[str, Field]:
    """Four readings, in the kit's own numbers, and the hours between them."""
    reader = desk.reader
    fields: dict[str, Field] = {}
    for name in READINGS:
        parameter, when = name.split("_")
        text = words.say(f"panel-startup-when-{when}", reader, reading=label(desk, parameter))
        fields[name] = NumberField(text, "", None, reader, 0.0, 500.0, optional=True)
    fields["hours"] = NumberField(words.say("panel-startup-hours", reader), "time", 24.0, reader, 1.0, 240.0)
    fields["volume"] = NumberField(words.say("panel-whole-water", reader), "volume", 1000.0, reader, 1.0, 1e6)
    fields["protein"] = NumberField(
        words.say("panel-startup-protein", reader), "share", 0.32, reader, 0.1, 0.7
    )
    return fields


def compute(desk: Desk, panel: StartUpPanel, values: Values) -> Ready | None:
    """What the readings prove, and what may follow from it; None before all four are there."""
    if any(values[name] is None for name in READINGS):
        return None

    def shown(name: str) -> Shown:
        return Shown(values[name], scale_of(desk.garden, name.split("_", maxsplit=1)[0]))

    found = first_feed.challenge(
        shown("tan_0"),
        shown("tan_1"),
        shown("nitrite_0"),
        shown("nitrite_1"),
        values["volume"],
        values["protein"],
        values["hours"],
    )
    # The low end is what the kit's steps leave of the reading at the least.
    proven = found.feed_g_day[0]
    if panel.start is None or not proven > 0.0:
        return Ready(found, None)
    carried = plan.carried_kg(desk.balance)
    return Ready(found, plan.first_of(panel.start, desk.garden, carried, proven))


def draw(desk: Desk, panel: StartUpPanel, found: Ready | None) -> html.Html:
    """What is proven, whether it is a pass, the first fish and the feed day by day."""
    reader = desk.reader
    say = words.say
    if found is None:
        dose = words.quantity(first_feed.CHALLENGE_TAN_MG_L, "nitrogen", reader)
        return answer(
            say("panel-startup-ready-empty", reader), [say("panel-startup-ready-why", reader, dose=dose)]
        )
    proof = found.challenge
    feed = words.span(*proof.feed_g_day, "feed", reader)
    rate = words.span(*proof.rate_mg_l_d, "nitrogen", reader)
    if proof.cleared:
        title = say("panel-startup-proof-cleared", reader, feed=feed)
    else:
        title = say("panel-startup-proof", reader, feed=feed)
    lines = [
        say("panel-startup-rate", reader, rate=rate),
        say(f"panel-startup-{proof.passed.replace(' ', '-')}", reader),
    ]
    if proof.slower_step == "nitrite":
        lines.append(say("panel-startup-slower-nitrite", reader))
    first = found.first
    if first is None or panel.start is None:
        return answer(title, [*lines, say("panel-startup-no-fish", reader)])
    made = Made(desk.garden, panel.start, reader, first)
    batch = first.batch
    parts = [html.paragraph(say("panel-startup-first-head", reader)), html.listing(startup_sheet.fish(made))]
    if batch is not None and first.fish is not None:
        full = float(np.nanmax(desk.balance.demand.feed_g_day.middle))
        if full > first.first_g_day:
            ramp = first_feed.ramp_g_day(first.proven_g_day, full)
            days = words.quantity(float(ramp.size - 1), "days", reader)
            most = words.quantity(full, "feed", reader)
            parts.append(html.paragraph(say("panel-startup-ramp", reader, days=days, most=most)))
    return answer(title, lines, *parts)


def known(desk: Desk) -> dict[str, object]:
    """Litres and feed of the garden; the readings are the reader's own."""
    return {
        "volume": in_round_numbers(litres.litres_of(desk.garden).whole, "volume", desk.reader),
        "protein": desk.garden.protein_fraction(),
    }


def panel(desk: Desk, start: StartUpPanel) -> Panel:
    """The panel, filled from the garden; it follows the panel of the start-up."""
    made = Panel(
        "start-up-ready",
        controls(desk),
        partial(compute, desk, start),
        partial(draw, desk, start),
        desk.reader,
    )
    desk.fill(made, known)
    return made
