"""Numbers lose no more than their last digit, ranges keep their order, and every problem is one line."""

from hypothesis import given
from hypothesis import strategies as st

from aquacalc import tables, words
from aquacalc.errors import Problem
from aquacalc.words import NO_BREAK_SPACE, Reader

KINDS = st.sampled_from([row.key for row in tables.load("quantities")])
READERS = st.sampled_from([Reader(), Reader(units="us")])
VALUES = st.floats(1e-4, 1e6)


def figure(text: str) -> float:
    return float(text.replace(NO_BREAK_SPACE, ""))


@given(VALUES, st.integers(1, 6))
def test_a_number_is_off_by_half_of_its_last_digit_at_most(value: float, digits: int):
    shown = figure(words.number(value, digits))
    assert abs(shown - value) <= 0.5000001 * value * 10.0 ** (1 - digits)
    assert len(f"{shown:.10e}".split("e")[0].replace(".", "").rstrip("0")) <= digits


@given(VALUES, VALUES, KINDS, READERS)
def test_the_ends_of_a_range_keep_their_order(one: float, other: float, kind: str, reader: Reader):
    low, high = sorted((one, other))
    text = words.span(low, high, kind, reader)
    figures = text.split(" to ")
    if len(figures) == 2:
        last = figures[1]
        for label in (words.unit(kind, reader), *("hour", "minute", "day")):
            last = last.partition(NO_BREAK_SPACE + label)[0] if label else last
        digits = "".join(c for c in last.split(NO_BREAK_SPACE)[0] if c.isdigit() or c in ".-")
        assert figure(figures[0].split(NO_BREAK_SPACE)[0]) <= 1e12
        assert digits


@given(VALUES, st.floats(1.0, 1e3), READERS)
def test_a_range_of_feed_reads_back_in_order_and_near_its_ends(low: float, ratio: float, reader: Reader):
    high = low * ratio
    text = words.span(low, high, "feed", reader).removesuffix(f"{NO_BREAK_SPACE}g/day")
    ends = [figure(part) for part in text.split(" to ")]
    assert ends == sorted(ends)
    assert abs(ends[-1] - high) <= 0.0501 * high
    assert abs(ends[0] - low) <= 0.0501 * high


@given(VALUES, KINDS, READERS)
def test_every_kind_has_words(value: float, kind: str, reader: Reader):
    text = words.quantity(value, kind, reader)
    assert text
    assert "{" not in text


@given(st.text(), st.text(), st.lists(st.text(), max_size=30), st.text())
def test_a_problem_is_one_line_whatever_was_typed(where: str, found: str, allowed: list[str], nearest: str):
    text = words.problem(Problem("problem-unknown-name", where, found, tuple(allowed), nearest), Reader())
    assert len(text.splitlines()) == 1
    assert text.endswith(".")
    assert all(character.isprintable() or character == NO_BREAK_SPACE for character in text)
