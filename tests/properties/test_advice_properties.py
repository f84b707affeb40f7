"""Whatever the garden and its balance, each finding is known to the catalogue and can be said whole."""

from dataclasses import replace
from datetime import date

import numpy as np
from hand_made_calm import KEYS, YEAR, balance, band, limit
from hand_made_garden import garden
from hypothesis import given, settings
from hypothesis import strategies as st

from aquacalc import tables, words
from aquacalc.advice import findings
from aquacalc.advice.finding import TOPICS
from aquacalc.garden.model import Away, Bed, CropPlan, Feed, FishBatch, Garden, Kit, KitScale, Product
from aquacalc.judge.levels import URGENCY
from aquacalc.sizing.result import Balance
from aquacalc.uncertainty import Band
from aquacalc.words import Reader

NAMES = st.text(min_size=1, max_size=20)
YES_OR_NO = st.booleans()


def one_of_table(name: str, **wanted: str) -> st.SearchStrategy[str]:
    rows = [
        row for row in tables.load(name) if all(row.text(column) == cell for column, cell in wanted.items())
    ]
    return st.sampled_from([row.key for row in rows])


def amounts(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


def months(values: st.SearchStrategy[float]) -> st.SearchStrategy[np.ndarray]:
    return st.lists(values, min_size=12, max_size=12).map(np.array)


@st.composite
def gardens(draw: st.DrawFn) -> Garden:
    before = garden()
    beds = tuple(
        Bed(name, kind, draw(amounts(0.2, 20.0)), 0.3, 0.25, medium=draw(one_of_table("media", use="media")))
        for name, kind in (("A", "media"), ("B", "raft"), ("C", "channel"))
        if draw(YES_OR_NO)
    )
    fish = tuple(
        FishBatch(
            draw(NAMES),
            draw(one_of_table("species")),
            draw(st.integers(1, 200)),
            draw(amounts(1.0, 500.0)),
            date(2026, draw(st.integers(1, 12)), 1),
            600.0,
            "Pool",
            until=draw(st.none() | st.dates(date(2027, 1, 1), date(2028, 6, 1))),
            eaten=draw(YES_OR_NO),
        )
        for _ in range(draw(st.integers(0, 2)))
    )
    start = draw(st.dates(date(2027, 1, 1), date(2027, 12, 1)))
    return replace(
        before,
        site=replace(
            before.site,
            altitude_m=draw(amounts(0.0, 3000.0)),
            upper_floor=draw(YES_OR_NO),
            children=draw(YES_OR_NO),
            setting=draw(st.sampled_from(["home", "school", "community"])),
        ),
        beds=beds,
        fish=fish,
        crops=(CropPlan(draw(one_of_table("crops")), "A", 1.0),),
        sump=draw(st.none() | st.just(before.sump)),
        biofilter=draw(st.none() | st.just(before.biofilter)),
        power=replace(
            before.power,
            backup=draw(st.sampled_from(["none", "battery air", "generator", "oxygen"])),
            backup_hours=draw(amounts(0.0, 24.0)),
            starts_by_itself=draw(YES_OR_NO),
            alarm=draw(YES_OR_NO),
        ),
        top_up=replace(
            before.top_up,
            disinfectant=draw(st.sampled_from(["none", "chlorine", "chloramine", "not known"])),
            chlorine_max_mg_l=draw(amounts(0.0, 5.0)),
            alkalinity_mg_l=draw(st.none() | amounts(0.0, 500.0)),
            hardness_mg_l=draw(st.none() | amounts(0.0, 500.0)),
            chloride_mg_l=draw(st.none() | amounts(0.0, 100.0)),
            float_valve=draw(YES_OR_NO),
        ),
        feeds=(Feed(draw(NAMES), draw(amounts(10.0, 60.0))),),
        kits=draw(st.sampled_from([(), (Kit("Kit", None, (KitScale("tan"), KitScale("nitrite", "NO2"))),)])),
        products=draw(st.sampled_from([(), (Product("Base", "potassium_hydroxide", 85.0),)])),
        measured=draw(st.sampled_from([(), before.measured])),
        away=draw(st.sampled_from([(), (Away(start, date(2027, 12, 31)),)])),
        start_up=replace(before.start_up, state=draw(st.sampled_from(["running", "new"]))),
    )


@st.composite
def balances(draw: st.DrawFn) -> Balance:
    before = balance()
    water = draw(months(amounts(-1.0, 42.0)))
    feed = draw(months(st.just(0.0) | amounts(0.0, 500.0)))
    carried = st.just(0.0) | amounts(1.0, 900.0) | st.just(np.inf) | st.just(np.nan)
    assert before.outage is not None
    assert before.biofilter is not None
    return replace(
        before,
        water_c=Band(water - 2.0, water, water + 2.0),
        saturation_mg_l=band(draw(months(amounts(4.0, 14.0))), 0.01),
        demand=replace(before.demand, feed_g_day=band(feed)),
        limits=tuple(replace(limit(key, draw(months(carried))), counts=draw(YES_OR_NO)) for key in KEYS),
        outage=draw(
            st.none()
            | st.builds(
                lambda hours, backed: replace(before.outage, response_h=hours, backed=backed),
                amounts(0.05, 9.0) | st.just(np.inf),
                YES_OR_NO,
            )
        ),
        biofilter=draw(
            st.none()
            | st.sampled_from([True, False]).map(lambda one: replace(before.biofilter, nitrite_raised=one))
        ),
        plants=replace(
            before.plants,
            drift_mg_n_l_day=band(draw(amounts(-3.0, 3.0)) * YEAR),
            uptake_g_n_day=band(draw(st.just(0.0) | amounts(0.0, 3.0)) * YEAR),
        ),
        turnover_1_h=band(draw(amounts(0.0, 8.0))),
    )


@settings(max_examples=40)
@given(gardens(), balances(), st.sampled_from(["metric", "us"]))
def test_every_finding_can_be_said_whole(one: Garden, year: Balance, units: str):
    held = set(tables.load("sources").keys())
    reader = Reader(units="us" if units == "us" else "metric")
    for finding in findings.of_both(one, year):
        spoken = words.finding(finding, reader)
        texts = (spoken.title, spoken.why, spoken.action, spoken.avoid)
        assert all(texts)
        assert not any(mark in text for text in texts for mark in ("???", "{ $"))
        assert {tables.source_key(source) for source in finding.sources} <= held
        assert finding.sources


@settings(max_examples=40)
@given(gardens(), balances())
def test_findings_come_the_most_urgent_first(one: Garden, year: Balance):
    some = findings.of_both(one, year)
    ranks = [
        (
            URGENCY.index(finding.level),
            TOPICS.index(finding.topic) if finding.topic in TOPICS else len(TOPICS),
        )
        for finding in some
    ]
    assert ranks == sorted(ranks)


@settings(max_examples=40)
@given(gardens(), balances())
def test_spans_of_one_finding_do_not_touch(one: Garden, year: Balance):
    by_key: dict[tuple[str, str, str], list[int]] = {}
    for finding in findings.of_balance(one, year):
        positions = [year.months.index(month) for month in finding.months]
        assert positions == list(range(positions[0], positions[0] + len(positions))) if positions else True
        by_key.setdefault((finding.key, finding.subject, finding.level), []).extend(positions)
    if len({batch.name for batch in one.fish}) == len(one.fish):
        for positions in by_key.values():
            assert len(positions) == len(set(positions))
