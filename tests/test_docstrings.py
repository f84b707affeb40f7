"""Every public formula says from where it is, or that it has no source."""

import ast
import re
from collections.abc import Iterator

import docs_from_formulas
import pytest

from aquacalc import tables

SOURCES = set(tables.load("sources").keys()) - {"OWN", "TRADE"}
NO_SOURCE = re.compile(
    r"common practice, no source|own reckoning|by definition|exact, by \w+|from memory", re.IGNORECASE
)
"""How a formula says that no text stands behind it: a custom, our own work, a law, a value remembered."""
LIKE = re.compile(r"Source: as `(?:(\w+)\.)?(\w+)`")
NUMBER = re.compile(r"\b(?:Numbers|Floats|ArrayLike|NDArray|float|int)\b")

WITHOUT: dict[str, str] = {}
"""Formulas that need not say it, each with the reason."""


def takes_and_gives_a_number(function: ast.FunctionDef) -> bool:
    """Whether an argument and the result may be a number."""
    own = function.args
    given = [one.annotation for one in (*own.posonlyargs, *own.args, *own.kwonlyargs) if one.annotation]
    texts = [ast.unparse(one) for one in given]
    return any(map(NUMBER.search, texts)) and bool(
        function.returns and NUMBER.search(ast.unparse(function.returns))
    )


def formulas() -> Iterator[tuple[str, str]]:
    """Every formula by its dotted name, with its text on one line."""
    for module, tree in docs_from_formulas.modules():
        for one in docs_from_formulas.public(tree):
            if takes_and_gives_a_number(one):
                yield f"{module}.{one.name}", " ".join((ast.get_docstring(one) or "").split())


FORMULAS = dict(formulas())
SHORT = {".".join(name.split(".")[-2:]): name for name in FORMULAS}


def says_from_where(name: str) -> bool:
    """Whether a formula names a source, says that it has none, or leans on one that does."""
    text = FORMULAS[name]
    if set(re.findall(r"\b[A-Z][A-Z0-9]+\b", text)) & SOURCES or NO_SOURCE.search(text):
        return True
    like = LIKE.search(text)
    if not like:
        return False
    module = like[1] or name.split(".")[-2]
    return says_from_where(SHORT[f"{module}.{like[2]}"])


@pytest.mark.parametrize("module", sorted({name.rpartition(".")[0] for name in FORMULAS}))
def test_each_formula_says_from_where_it_is(module: str):
    silent = {
        name for name in FORMULAS if name.rpartition(".")[0] == module and not says_from_where(name)
    } - set(WITHOUT)
    assert silent == set(), "name a key of sources.csv and how it is known, or say that there is no source"


def test_formulas_are_found():
    assert len(FORMULAS) > 250
    assert "water.oxygen.saturation_mg_l" in FORMULAS


def test_few_need_not_say_it_and_they_are_there():
    assert len(WITHOUT) <= 12
    assert set(WITHOUT) <= set(FORMULAS)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Oxygen that water holds, mg/L. Source: BENKRA84, eq. 32 (read-2nd).", True),
        ("Tank volumes in an hour. By definition.", True),
        ("Source: as `water.oxygen.missing`.", False),
        ("Total hardness, mg/L CaCO3, at a pH.", False),
    ],
)
def test_a_capital_word_alone_is_no_source(monkeypatch: pytest.MonkeyPatch, text: str, says: bool):
    monkeypatch.setitem(FORMULAS, "water.oxygen.one", text)
    assert says_from_where("water.oxygen.one") is says
