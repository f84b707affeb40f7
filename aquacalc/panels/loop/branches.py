"""How does one pump share its water out to several beds? Each has its height, its pipe and its bends."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from aquacalc import words
from aquacalc.errors import InputError, Problem
from aquacalc.garden.fields import bounds
from aquacalc.pages import html
from aquacalc.panels.frame.desk import Desk, reader_of
from aquacalc.panels.frame.fields import Field
from aquacalc.panels.frame.panel import Panel, Values, answer, wide
from aquacalc.panels.frame.rows import Column, RowsField
from aquacalc.panels.loop.writing import number
from aquacalc.sizing import delivery
from aquacalc.sizing.delivery import Branch, PressureLine, Pumped
from aquacalc.uncertainty import Floats

BRANCHES = (("bed 1", 1.2, 2.0, 20.0, 2.0), ("bed 2", 1.4, 5.0, 20.0, 3.0))
EVEN_SHARE = 0.8
"""The least branch against the mean from which they count as even. Common practice, no source."""
BRANCH_VALVES = 1.0


@dataclass(frozen=True)
class Shared:
    """Each branch with its flow, L/h."""

    branches: tuple[Branch, ...]
    flows_l_h: Floats

    @property
    def even(self) -> bool:
        """Whether no branch gets much less than its share."""
        return float(self.flows_l_h.min()) >= EVEN_SHARE * float(self.flows_l_h.mean())


def controls(reader: words.Reader) -> dict[str, Field]:
    """The pump, the riser, a row for each branch."""
    of = partial(number, reader=reader)
    flow, head = bounds("pump_box_flow"), bounds("pump_box_head")
    lift, bore, length = bounds("static_head"), bounds("pipe_bore"), bounds("pipe_length")
    columns = [
        Column(words.say("panel-branch-name", reader), "text"),
        Column(words.say("panel-branch-lift", reader), "length", lift.low, lift.high),
        Column(words.say("panel-branch-length", reader), "length", length.low, length.high),
        Column(words.say("panel-branch-bore", reader), "bore", bore.low, bore.high),
        Column(words.say("panel-branch-elbows", reader), "", 0.0, 60.0),
    ]
    return {
        "flow": of("panel-delivery-box-flow", "flow", 3000.0, flow.low, flow.high),
        "head": of("panel-delivery-box-head", "length", 3.0, head.low, head.high),
        "length": of("panel-branch-riser", "length", 2.0, length.low, length.high),
        "bore": of("panel-branch-riser-bore", "bore", 25.0, bore.low, bore.high),
        "branches": RowsField(words.say("panel-branch-rows", reader), columns, BRANCHES, reader, 8),
    }


def compute(points: tuple[tuple[float, float], ...], values: Values) -> Shared:
    """The flow of each branch; points: the pump's table, where the garden holds one."""
    rows = values["branches"]
    if not rows:
        raise InputError(Problem("problem-rows-none", ""))
    branches = tuple(
        Branch(name, lift, PressureLine(length, bore, "fouled", elbows, BRANCH_VALVES))
        for name, lift, length, bore, elbows in rows
    )
    riser = PressureLine(values["length"], values["bore"], "fouled", 1.0, 0.0)
    pump = Pumped(values["flow"], values["head"], 0.0, points, line=riser)
    return Shared(branches, delivery.branched(pump, branches))


def draw(reader: words.Reader, found: Shared) -> html.Html:
    """Who gets how much, and how to even it out."""
    said = partial(words.quantity, reader=reader)
    whole = float(found.flows_l_h.sum())
    order = np.argsort(found.flows_l_h)
    least, most = found.branches[order[0]].name, found.branches[order[-1]].name
    if found.even or len(found.branches) == 1:
        title = words.say("panel-branch-even", reader, flow=said(whole, "flow"))
    else:
        title = words.say(
            "panel-branch-uneven",
            reader,
            least=least,
            most=most,
            low=said(float(found.flows_l_h[order[0]]), "flow"),
            high=said(float(found.flows_l_h[order[-1]]), "flow"),
        )
    head = [words.say(f"panel-branch-head-{one}", reader) for one in ("name", "flow", "share")]
    rows = [
        (one.name, said(float(flow), "flow"), said(float(flow) / whole if whole else 0.0, "share"))
        for one, flow in zip(found.branches, found.flows_l_h, strict=True)
    ]
    lines = [words.say("panel-branch-why", reader)]
    if not found.even:
        lines.append(words.say("panel-branch-do", reader, most=most))
    return answer(
        title, lines, wide(html.table(head, rows)), html.paragraph(words.say("panel-branch-bench", reader))
    )


def known(desk: Desk) -> Mapping[str, object]:
    """The pump of the garden and, in a row each, the beds that it has."""
    garden = desk.garden
    pump = garden.pumps[0]
    bore = max((pipe.bore_mm for pipe in garden.pipes), default=20.0)
    rows = [(bed.name, pump.lift_m, 2.0, bore, 2.0) for bed in garden.beds[:8]]
    return {"flow": pump.box_flow_l_h, "head": pump.box_head_m, "bore": bore, "branches": rows}


def panel(desk: Desk | None = None) -> Panel:
    """The panel, filled from the garden where there is one."""
    reader = reader_of(desk)

    def computed(values: Values) -> Shared:
        return compute(desk.garden.pumps[0].curve if desk is not None else (), values)

    made = Panel("branches", controls(reader), computed, partial(draw, reader), reader)
    if desk is not None:
        desk.fill(made, known)
    return made
