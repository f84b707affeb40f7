"""What a package owes those who build on it: types, licences, how to cite it, an index of its formulas."""

import tomllib
from pathlib import Path

import docs_from_formulas
import yaml

import aquacalc

ROOT = Path(__file__).resolve().parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def test_the_package_says_that_it_is_typed():
    assert (ROOT / "aquacalc" / "py.typed").read_bytes() == b""
    assert "Typing :: Typed" in PROJECT["classifiers"]


def test_every_licence_is_named_and_there():
    assert set(PROJECT["license-files"]) == {
        str(path.relative_to(ROOT)) for path in ROOT.glob("[ad]*/**/licence.txt") if ".git" not in path.parts
    }
    font = (ROOT / "aquacalc" / "data" / "fonts" / "licence.txt").read_text("utf-8")
    assert "font" in font.lower()


def test_the_citation_is_of_this_version():
    cited = yaml.safe_load((ROOT / "docs" / "citation.cff").read_text("utf-8"))
    assert cited["cff-version"] == "1.2.0"
    assert (cited["version"], cited["license"]) == (aquacalc.__version__, PROJECT["license"])
    assert {"message", "title", "authors", "type"} <= set(cited)


def test_the_index_of_the_formulas_is_of_this_code():
    written = docs_from_formulas.PAGE.read_text("utf-8")
    assert written == docs_from_formulas.page(), (
        "run python tests/docs_from_formulas.py: formulas.md is out of date"
    )
