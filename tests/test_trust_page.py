"""docs/trust.md counts the published checks as they are, and every one of them is run."""

import re
from collections import Counter

import pytest
import trust_page

from aquacalc import tables


def test_the_page_counts_what_there_is():
    assert trust_page.PAGE.read_text("utf-8") == trust_page.page(), "run python tests/trust_page.py"


def test_the_counts_add_up_to_the_rows():
    total = re.search(r"\| \*\*all\*\* \|(.*)\|", trust_page.counts())
    *kinds, waiting = map(int, re.findall(r"\d+", total[1]))
    assert sum(kinds) == len(list(trust_page.rows()))
    assert 0 < waiting < sum(kinds)


def test_a_check_of_a_formula_that_nothing_uses_is_counted_apart():
    assert trust_page.waits("turnover.rise_mg_l(0.25, 1000.0)")
    assert not trust_page.waits("turnover.replaced_share(2.0, 0.5)")


def test_each_row_says_its_kind_its_mark_and_a_known_source():
    known = set(tables.load("sources").keys())
    for subject, row in trust_page.rows():
        assert row["kind"] in trust_page.KINDS, row
        assert row["mark"] in tables.MARKS, row
        sources = [cell.split(":")[0].strip() for cell in row["source"].split(";")]
        assert sources, f"{subject}: {row}"
        assert set(sources) <= known, f"{subject}: {row}"


def test_no_two_checks_have_the_same_id():
    ids = Counter(f"{subject}:{row['id']}" for subject, row in trust_page.rows())
    assert [one for one, count in ids.items() if count > 1] == []


@pytest.mark.parametrize("subject", sorted({subject for subject, _ in trust_page.rows()}))
def test_every_file_of_checks_is_run(subject: str):
    runners = "\n".join(path.read_text("utf-8") for path in trust_page.PUBLISHED.glob("test_*.py"))
    assert re.search(rf'"{subject}(\.csv)?"', runners)
