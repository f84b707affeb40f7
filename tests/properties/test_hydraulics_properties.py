"""What holds for any pump, pipe and bed."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc.hydraulics import beds, flood, pipes, pump, shapes, turnover
from aquacalc.hydraulics.pump import Line
from aquacalc.sizing import levels

flows = st.floats(50.0, 8000.0)
bores = st.floats(12.0, 75.0)
lengths = st.floats(0.0, 30.0)
losses = st.floats(0.0, 20.0)
roughness = st.floats(0.0, 1.0)


@given(flows, bores, st.floats(0.1, 30.0), losses, roughness, st.floats(1.05, 2.0))
def test_loss_rises_with_flow_length_and_roughness_and_falls_with_bore(
    flow: float, bore: float, length: float, fittings: float, rough: float, factor: float
):
    now = pipes.head_loss_m(flow, bore, length, fittings, rough)
    assert pipes.head_loss_m(flow * factor, bore, length, fittings, rough) > now
    assert pipes.head_loss_m(flow, bore, length * factor, fittings, rough) > now
    assert pipes.head_loss_m(flow, bore * factor, length, fittings, rough) < now
    assert pipes.head_loss_m(flow, bore, length, fittings, rough + 0.5) >= now


@given(
    st.floats(500.0, 10000.0),
    st.floats(1.0, 6.0),
    st.floats(0.0, 7.0),
    lengths,
    bores,
    losses,
    st.floats(1.0, 2.0),
)
def test_the_duty_point_lies_on_both_curves(
    box_flow: float,
    box_head: float,
    lift: float,
    length: float,
    bore: float,
    fittings: float,
    exponent: float,
):
    line = Line(length, bore, fittings)
    flow = pump.curve_flow_l_h(pump.Box(box_flow, box_head, exponent), lift, (line,))
    assert 0.0 <= flow <= box_flow
    if lift >= box_head:
        assert flow == 0.0
    elif flow < 0.999 * box_flow:
        head = pump.box_curve_head_m(flow, box_flow, box_head, exponent)
        assert head == pytest.approx(lift + line.head_m(flow), rel=1e-6, abs=1e-6)


@pytest.mark.slow
@given(st.floats(1000.0, 6000.0), st.floats(2.0, 5.0), st.floats(0.2, 1.5), st.floats(0.2, 1.5))
def test_branches_share_one_head_and_the_higher_gets_less(
    box_flow: float, box_head: float, one: float, other: float
):
    line = Line(3.0, 20.0, 3.0)
    riser = Line(2.0, 32.0, 2.0)
    first, second = pump.branch_flows_l_h(pump.Box(box_flow, box_head), riser, ((one, line), (other, line)))
    node = pump.box_curve_head_m(first + second, box_flow, box_head) - riser.head_m(first + second)
    assert (first - second) * (one - other) <= 1e-6
    for lift, flow in ((one, first), (other, second)):
        if flow > 1.0:
            assert lift + line.head_m(flow) == pytest.approx(node, rel=1e-4, abs=1e-4)


@given(st.floats(0.01, 5.0), st.floats(0.0, 40.0), st.floats(0.0, 40.0))
def test_mixing_for_two_spans_is_mixing_for_both(turnovers: float, one: float, other: float):
    left = (1.0 - turnover.replaced_share(turnovers, one)) * (1.0 - turnover.replaced_share(turnovers, other))
    assert turnover.replaced_share(turnovers, one + other) == pytest.approx(1.0 - left, abs=1e-12)


@given(st.floats(15.0, 50.0), st.floats(0.3, 3.0), st.floats(0.1, 0.3), st.floats(0.0, 0.9))
def test_a_drain_lets_out_what_was_in_and_what_came_in(bore: float, area: float, top: float, share: float):
    siphon = beds.Siphon(bore, 0.4)
    inflow = share * float(siphon.flow_l_h(0.02))
    time = beds.siphon_drain_s(siphon, area, 0.4, top, 0.02, inflow)
    water = beds.bed_water_l(area, top - 0.02, 0.4) + inflow * time / 3600.0
    # The outflow runs between its largest and its smallest.
    assert siphon.flow_l_h(0.02) * time / 3600.0 <= water * (1 + 1e-9)
    assert siphon.flow_l_h(top) * time / 3600.0 >= water * (1 - 1e-9)


@given(st.lists(st.floats(0.05, 1.0), min_size=2, max_size=6), st.floats(0.0, 1.0))
def test_a_pump_table_never_leaves_its_points(falls: list[float], along: float):
    heads = np.cumsum(falls)[::-1]
    points = np.arange(heads.size) * 500.0
    if heads.size < 3:
        heads, points = np.append(heads, 0.0), np.append(points, points[-1] + 500.0)
    head = pump.table_curve_head_m(along * points[-1], points, heads)
    assert heads.min() - 1e-12 <= head <= heads.max() + 1e-12


sides = st.floats(0.1, 5.0)
depths = st.floats(0.02, 2.0)


@given(sides, sides, depths, st.floats(1.01, 2.0))
def test_litres_grow_with_the_water_line(long: float, wide: float, depth: float, factor: float):
    higher = depth * factor
    short, longer = sorted((long, wide))
    assert shapes.round_l(long, higher) > shapes.round_l(long, depth)
    assert shapes.oval_l(long, wide, higher) > shapes.oval_l(long, wide, depth)
    assert shapes.trough_l(longer, short, higher) > shapes.trough_l(longer, short, depth)
    assert shapes.tapered_l(long, wide, long, wide, higher) > shapes.tapered_l(long, wide, long, wide, depth)
    assert shapes.cone_bottom_l(long, 0.5, higher) > shapes.cone_bottom_l(long, 0.5, depth)
    assert shapes.lying_cylinder_l(long, wide, higher) >= shapes.lying_cylinder_l(long, wide, depth)


@given(sides, sides, st.floats(1.0, 1.6), depths, st.floats(0.05, 0.95))
def test_a_leaning_vessel_is_the_sum_of_two_parts(
    long: float, wide: float, lean: float, height: float, share: float
):
    line = height * share
    middle = [shapes.at_line_m(side, side * lean, height, line) for side in (long, wide)]
    below = shapes.tapered_l(long, wide, *middle, line)
    above = shapes.tapered_l(*middle, long * lean, wide * lean, height - line)
    assert below + above == pytest.approx(shapes.tapered_l(long, wide, long * lean, wide * lean, height))


@given(sides, sides)
def test_a_lying_barrel_mirrors_its_empty_part(diameter: float, length: float):
    low = shapes.lying_cylinder_l(diameter, length, 0.2 * diameter)
    high = shapes.lying_cylinder_l(diameter, length, 0.8 * diameter)
    assert low + high == pytest.approx(shapes.round_l(diameter, length))


@given(sides, sides, depths)
def test_an_oval_lies_between_its_trough_and_nothing(long: float, wide: float, depth: float):
    short, longer = sorted((long, wide))
    inside = shapes.oval_l(longer, short, depth)
    assert inside <= shapes.trough_l(longer, short, depth) * (1.0 + 1e-9)
    assert shapes.trough_l(longer, short, depth) <= shapes.box_l(longer, short, depth) * (1.0 + 1e-9)


drained_beds = st.builds(
    flood.Drained,
    surface_m2=st.floats(0.1, 1.0),
    top_m=st.floats(0.15, 0.3),
    lowest_m=st.floats(0.01, 0.05),
    siphon=st.one_of(st.none(), st.builds(beds.Siphon, st.floats(18.0, 40.0), st.floats(0.1, 1.0))),
    hole_mm=st.floats(4.0, 20.0),
    starts=st.booleans(),
    stops=st.booleans(),
)


@settings(max_examples=25)
@given(drained_beds, st.floats(20.0, 3000.0))
def test_no_water_is_made_or_lost_in_a_bed(bed: flood.Drained, inflow_l_h: float):
    water, out = flood.run(bed, np.full(1200, inflow_l_h))
    assert water.min() >= 0.0
    assert water.max() <= bed.swing_l + 1e-9
    assert water[-1] - water[0] == pytest.approx(1200 * inflow_l_h / 3600.0 - out.sum(), abs=1e-6)


amounts = st.floats(0.0, 500.0)
sumps = st.builds(
    levels.Sump,
    running_l=st.floats(0.0, 1000.0),
    rim_l=st.floats(10.0, 2000.0),
    footprint_m2=st.floats(0.1, 3.0),
    beds_l=amounts,
    at_once=st.floats(0.2, 1.0),
    tanks_l=amounts,
    pipes_l=st.floats(0.0, 50.0),
    back_l=amounts,
    losses_l=amounts,
    cover_m=st.floats(0.0, 0.3),
    free_share=st.floats(0.0, 0.3),
)


@given(sumps)
def test_both_worst_cases_of_a_sump_hold_the_same_water(sump: levels.Sump):
    found = levels.levels(sump)
    assert found.stopped_l - sump.drains_l == pytest.approx(sump.running_l)
    assert found.lowest_l == pytest.approx(sump.running_l - sump.losses_l)
    # A sump of the smallest size, filled so that the pump just stays covered, just holds.
    filled = replace(sump, rim_l=max(found.rim_l, 1.0) + 1e-6, running_l=sump.cover_l + sump.losses_l + 1e-7)
    assert levels.levels(filled).holds


@given(sumps, st.integers(2, 6))
def test_beds_in_turn_never_ask_for_a_larger_sump(sump: levels.Sump, count: int):
    whole = replace(sump, at_once=1.0)
    assert levels.levels(levels.in_turn(whole, count)).rim_l <= levels.levels(whole).rim_l


@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0), st.floats(1000.0, 6000.0))
def test_more_head_never_gives_more_flow(one: float, other: float, box_flow: float):
    flows = [
        float(pump.curve_flow_l_h(pump.Box(box_flow, 3.0), head, (Line(4.0, 25.0, 4.0),)))
        for head in sorted((one, other))
    ]
    assert flows[0] >= flows[1] - 1e-6
