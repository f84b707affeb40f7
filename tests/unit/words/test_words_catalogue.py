"""The catalogue holds every text that the code asks for, with the amounts that it gives, and no other."""

import ast
import re
from functools import cache
from pathlib import Path

import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl
from fluent.syntax.visitor import Visitor

from aquacalc import tables, words
from aquacalc.errors import Problem
from aquacalc.garden.sections import PARAMETERS
from aquacalc.sizing.result import LimitKey
from aquacalc.words import PARTS, Reader

PACKAGE = Path(words.__file__).parent
READER = Reader()

FINDING = re.compile(r"finding(-[a-z]+)+")
PROBLEM = re.compile(r"problem(-[a-z]+)+")
PROBLEM_FRAME = {"problem-at", "problem-nearest"}
PROBLEM_AMOUNTS = {"found", "allowed", "low", "high", "measure"}

# Levels are said by their own words. Those of kit cards and all that sounds like a permission stay out.
NOT_SAID = re.compile(
    r"\b(ideal|safe|safely|stress|stressed|caution|danger|dangerous|alert|toxic|harmful|allowed|permitted|okay)\b",
    re.IGNORECASE,
)


class Names(Visitor):
    def __init__(self) -> None:
        self.found: set[str] = set()

    def visit_VariableReference(self, node: ftl.VariableReference) -> None:
        self.found.add(node.id.name)


def variables(pattern: ftl.BaseNode | None) -> set[str]:
    names = Names()
    if pattern is not None:
        names.visit(pattern)
    return names.found


def asked_for(pattern: ftl.BaseNode | None) -> set[str]:
    """The amounts that the code has to give; what a text tells by itself comes from a table."""
    return {name for name in variables(pattern) if not name.startswith("told-")}


def parsed(language: str) -> ftl.Resource:
    return FluentParser().parse((tables.DATA / f"words.{language}.ftl").read_text("utf-8"))


def messages(language: str) -> dict[str, ftl.Message]:
    return {entry.id.name: entry for entry in parsed(language).body if isinstance(entry, ftl.Message)}


ENGLISH = messages("en")


@cache
def trees() -> list[tuple[Path, ast.Module]]:
    return [(path, ast.parse(path.read_text("utf-8"))) for path in sorted(PACKAGE.rglob("*.py"))]


def calls(name: str) -> list[tuple[Path, ast.Call]]:
    """Calls of a function by its name, also as an attribute of a module."""
    found = []
    for path, tree in trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call):
                called = (
                    node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                )
                if called == name:
                    found.append((path, node))
    return found


def literal(node: ast.expr) -> str:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


@cache
def constants() -> frozenset[str]:
    """Every text that stands in the code as it is."""
    return frozenset(
        node.value
        for _, tree in trees()
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


@cache
def built() -> tuple[re.Pattern[str], ...]:
    """Keys that the code puts together, as patterns: `f"tick-{name}"` stands for all that begin so."""
    made = [node for _, tree in trees() for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]
    texts = ["".join(re.escape(literal(part)) or ".+" for part in node.values) for node in made]
    return tuple(re.compile(text) for text in texts if re.match(r"[a-z]+\\-", text))


def problem_keys() -> set[str]:
    """Keys of problems in the code, in a call or in a variable that goes into one."""
    found = {text for text in constants() if PROBLEM.fullmatch(text)} - PROBLEM_FRAME
    assert {literal(call.args[0]) for _, call in calls("Problem") if call.args} - {""} <= found
    return found


def finding_keys() -> set[str]:
    return {
        node.value
        for path, tree in trees()
        if "advice" in path.parts
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and FINDING.fullmatch(node.value)
    }


@pytest.mark.parametrize("language", words.languages())
def test_the_catalogue_can_be_read_whole_and_holds_no_key_twice(language: str):
    entries = parsed(language).body
    assert [entry.content for entry in entries if isinstance(entry, ftl.Junk)] == []
    keys = [entry.id.name for entry in entries if isinstance(entry, ftl.Message)]
    assert sorted({key for key in keys if keys.count(key) > 1}) == []


@pytest.mark.parametrize("language", words.languages())
def test_messages_do_not_refer_to_each_other(language: str):
    # They are parsed one by one, when they are said.
    class References(Visitor):
        def visit_MessageReference(self, node: ftl.MessageReference) -> None:
            raise AssertionError(node.id.name)

        def visit_TermReference(self, node: ftl.TermReference) -> None:
            raise AssertionError(node.id.name)

    References().visit(parsed(language))


@pytest.mark.parametrize("language", words.languages())
def test_every_message_is_found_by_its_key(language: str):
    assert set(words._sources(language)) == set(messages(language))


@pytest.mark.parametrize("language", words.languages())
def test_every_language_has_the_same_keys_and_amounts(language: str):
    other = messages(language)
    assert set(other) == set(ENGLISH)
    for key, message in ENGLISH.items():
        assert variables(other[key]) == variables(message), key
        assert [one.id.name for one in other[key].attributes] == [
            one.id.name for one in message.attributes
        ], key


def test_every_problem_that_the_code_raises_has_its_sentence():
    asked = problem_keys()
    assert "problem-unknown-name" in asked
    assert asked - set(ENGLISH) == set()
    for key in asked:
        assert asked_for(ENGLISH[key]) <= PROBLEM_AMOUNTS, key


def test_no_text_is_left_over():
    from_tables = {row.text("words_key") for row in tables.load("cautions")}
    stems = tuple(f"{text}-" for text in constants() if re.fullmatch(r"[a-z]+(-[a-z]+)+", text))

    def asked_for(key: str) -> bool:
        by_name = key in constants() or key in from_tables or key.startswith(stems)
        return by_name or any(one.fullmatch(key) for one in built())

    assert [key for key in ENGLISH if not key.startswith("unit-") and not asked_for(key)] == []


def test_every_finding_of_the_code_has_its_four_texts_and_none_is_left_over():
    held = {key for key, message in ENGLISH.items() if key.startswith("finding-") and message.attributes}
    assert finding_keys() == held
    for key in held:
        assert tuple(one.id.name for one in ENGLISH[key].attributes) == PARTS, key
        assert ENGLISH[key].value is None, key


def test_texts_that_the_code_asks_for_get_exactly_their_amounts():
    asked = [(path.name, literal(call.args[0]), call) for path, call in calls("say") if call.args]
    asked = [(name, key, call) for name, key, call in asked if key]
    assert [f"{name}: {key}" for name, key, _ in asked if key not in ENGLISH] == []
    differing = []
    for name, key, call in asked:
        given = {keyword.arg for keyword in call.keywords}
        # Amounts that come as a whole mapping cannot be seen here.
        if None not in given and asked_for(ENGLISH[key].value) != given:
            differing.append(f"{name}: {key} is given {sorted(map(str, given))}")
    assert differing == []
    assert len(asked) > 50


def test_every_label_of_a_unit_is_used():
    shown = set()
    for row in tables.load("quantities"):
        for reader in (READER, Reader(units="us")):
            for small in ("", "_small"):
                unit = row.text(f"{reader.units}{small}")
                parts = ("unit", row.key, unit, row.text(f"{reader.units}_per"))
                shown.add("-".join(part for part in parts if part).replace("_", "-") if unit else "")
    assert {key for key in ENGLISH if key.startswith("unit-")} == shown - {""}


def test_names_built_from_lists_are_all_there():
    keys = [f"limit-{key.replace('_', '-')}" for key in LimitKey.__args__]  # type: ignore[attr-defined]
    keys += [row.text("words_key") for row in tables.load("cautions")]
    keys += [f"word-{row.text('parameter')}" for row in tables.load("test_kinds")]
    keys += [f"word-{parameter}" for parameter in PARAMETERS]
    keys += [f"month-{n}" for n in range(1, 13)] + [f"month-short-{n}" for n in range(1, 13)]
    assert [key for key in keys if key not in ENGLISH] == []


def test_no_text_uses_a_word_of_kit_cards_or_gives_a_permission():
    lines = (tables.DATA / "words.en.ftl").read_text("utf-8").splitlines()
    texts = [re.sub(r"\{[^}]*\}", "", line.partition("=")[2]) for line in lines if not line.startswith("#")]
    assert [text for text in texts if NOT_SAID.search(text)] == []


def test_every_english_text_can_be_shown_by_a_western_terminal():
    (tables.DATA / "words.en.ftl").read_text("utf-8").encode("cp1252")


def test_a_missing_key_or_amount_is_loud():
    with pytest.raises(KeyError, match="no-such-text"):
        words.say("no-such-text", READER)
    with pytest.raises(KeyError, match="low"):
        words.say("range", READER, high="3")
    with pytest.raises(KeyError, match="text of its own"):
        words.say("finding-kit-none", READER)


def test_a_problem_is_one_sentence_with_place_choices_and_nearest_name():
    problem = Problem(
        "problem-unknown-name", "bed.1.medium", "gravle", ("gravel", "tuff", "pumice"), "gravel"
    )
    said = words.problem(problem, READER)
    choices = "known are gravel, tuff or pumice"
    assert said == f"bed.1.medium: “gravle” is not known; {choices}; the nearest known name is “gravel”."


def test_a_problem_without_a_place_or_a_nearest_name():
    assert words.problem(Problem("problem-too-large", found="1e300"), READER).startswith("1e300 is too large")


def test_long_lists_of_choices_are_cut():
    choices = tuple(f"crop{n}" for n in range(40))
    text = words.problem(Problem("problem-unknown-name", "crop", "x", choices), READER)
    assert "crop11 and 28 more." in text
    assert "crop12" not in text


@pytest.mark.parametrize(
    "found", ["a\nb", "\x00\x01\x02", "x" * 100000, "<b>&</b>", "🐟", "{ $nearest }", "\u2028"]
)
def test_odd_input_stays_one_short_line(found: str):
    text = words.problem(Problem("problem-not-a-number", "tank.0.volume", found), READER)
    assert len(text.splitlines()) == 1
    assert len(text) < 200


def test_importing_words_does_not_load_fluent():
    import subprocess
    import sys

    code = "import sys, aquacalc.words; print('fluent' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=PACKAGE.parent
    )
    assert done.stdout.strip() == "False"
