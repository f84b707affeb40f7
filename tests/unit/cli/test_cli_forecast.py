"""`aquacalc forecast`: the water of the days that are foretold."""

import pytest

from aquacalc.cli import command

Said = pytest.CaptureFixture[str]


def test_hot_days_of_the_yard(capsys: Said):
    typed = ["forecast", "demo:yard", "104/80", "106/82", "108/84", "--water", "81", "--bottles", "6"]
    assert command.main(typed) == command.DONE
    said = capsys.readouterr().out
    assert "The water peaks at" in said
    assert "emergency" in said
    assert "beds at rest all days" in said
    assert "the frozen bottles" in said
    assert command.main([*typed, "--strict"]) == command.EMERGENCY


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (["104"], "as 34/22"),
        (["104/x"], "x"),
        (["400/80"], "400"),
        (["104/80", "--bottles", "9999"], "9999"),
        (["104/80"] * 6, "6"),
    ],
)
def test_what_cannot_be_is_refused_with_one_sentence(capsys: Said, typed: list[str], said: str):
    assert command.main(["forecast", "demo:yard", *typed]) == command.BAD_INPUT
    told = capsys.readouterr()
    assert told.out == ""
    assert said in told.err
    assert len(told.err.splitlines()) == 1


def test_parts_are_listed_and_written_for_a_spreadsheet(capsys: Said, tmp_path):
    assert command.main(["parts", "demo:yard"]) == command.DONE
    assert "standpipe" in capsys.readouterr().out
    target = tmp_path / "parts.csv"
    assert command.main(["parts", "demo:yard", "--csv", str(target)]) == command.DONE
    assert target.read_text().startswith("Part,Need,One pack,Buy\n")
