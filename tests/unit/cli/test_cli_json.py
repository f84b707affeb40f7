"""`--json`: answers for scripts keep to the schema that is published, and say what the lines say."""

import json
from pathlib import Path

import jsonschema
import pytest

from aquacalc.cli import command

SCHEMA = json.loads((Path(__file__).resolve().parents[3] / "docs" / "answers.schema.json").read_text("utf-8"))
ASKED = {
    "check": [["check", f"demo:{name}"] for name in ("yard", "greenhouse", "classroom", "southern")],
    "reading": [
        ["reading", "tan=2", "ph=7.6", "temp=26C", "nitrite=<0.3"],
        ["reading", "demo:yard", "signs=gasping"],
    ],
    "log": [["log", f"demo:{name}"] for name in ("yard", "southern")],
}


@pytest.mark.parametrize(("what", "argv"), [(what, argv) for what, all_ in ASKED.items() for argv in all_])
def test_an_answer_keeps_to_its_schema(
    what: str,
    argv: list[str],
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
):
    monkeypatch.chdir(tmp_path)
    assert command.main([*argv, "--json"]) == command.DONE
    found = json.loads(capsys.readouterr().out)
    jsonschema.validate(found, SCHEMA)
    assert found["answer"] == what
    # Asking for a script writes nothing beside a garden.
    assert list(tmp_path.iterdir()) == []


def test_what_does_not_keep_to_it_is_found():
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"aquacalc": "0", "answer": "reading", "level": "splendid"}, SCHEMA)


def test_it_says_what_the_lines_say(capsys: pytest.CaptureFixture[str]):
    argv = ["reading", "tan=4 N", "ph=8.2", "temp=26C", "fish=warm"]
    command.main([*argv, "--json"])
    found = json.loads(capsys.readouterr().out)
    command.main(argv)
    lines = " ".join(capsys.readouterr().out.split()).replace("\N{NO-BREAK SPACE}", " ")
    for text in (*found["now"], *found["then"], *found["not_to_do"]):
        assert " ".join(text.split()).replace("\N{NO-BREAK SPACE}", " ") in lines
    assert found["level"] == "emergency"


def test_many_gardens_are_told_in_lines_only(capsys: pytest.CaptureFixture[str]):
    assert command.main(["check", "demo:yard", "demo:southern", "--json"]) == command.BAD_INPUT
    assert "--json" in capsys.readouterr().err
