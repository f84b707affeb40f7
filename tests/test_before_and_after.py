"""The page of the demo gardens before and after their plans is not stale."""

import before_and_after
import pytest


def test_each_garden_of_before_is_told_with_its_pictures():
    text = before_and_after.PAGE.read_text("utf-8")
    assert before_and_after.told()
    for name in before_and_after.told():
        assert f"demo:{name}" in text
        for when in ("before", "now"):
            assert before_and_after.picture(name, when).name in text
            assert before_and_after.picture(name, when).read_text("utf-8").startswith("<svg")


@pytest.mark.slow
def test_its_numbers_are_those_of_today():
    assert before_and_after.PAGE.read_text("utf-8") == before_and_after.page(), (
        "run python tests/before_and_after.py: docs/before-and-after.md is older than the gardens"
    )
