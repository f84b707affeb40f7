"""`aquacalc compare` as it is typed."""

from dataclasses import replace

import pytest

from aquacalc.cli import command, compare
from aquacalc.compare import side_by_side


@pytest.fixture
def short(monkeypatch):
    """Six weeks of few tries: what is compared is not asked here."""

    def compared(garden, read, members, seed):
        season = replace(garden.season, end=garden.season.start.replace(month=garden.season.start.month + 1))
        return side_by_side.compared(replace(garden, season=season), read, 4, seed)

    monkeypatch.setattr(compare, "compared", compared)


def run(capsys, *argv: str) -> tuple[int, str, str]:
    status = command.main(["compare", *argv])
    said = capsys.readouterr()
    return status, said.out.replace("\N{NO-BREAK SPACE}", " "), said.err


def test_a_garden_beside_itself_has_the_same_columns(short, capsys):
    status, out, _ = run(capsys, "demo:classroom", "demo:classroom")
    assert status == 0
    (row,) = [line for line in out.splitlines() if line.startswith("lowest oxygen")]
    cells = row.removeprefix("lowest oxygen").replace("*", "").split("mg/L")
    assert cells[0].strip() == cells[1].strip()


def test_gardens_of_two_currencies_are_compared_without_money(short, capsys):
    _, out, _ = run(capsys, "demo:yard", "demo:greenhouse")
    assert "Dustwillow yard" in out
    assert "in a year" not in out.split("\n\n")[1]


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["demo:yard"], "GARDEN"),
        (["demo:yard"] * 4, "3"),
        (["demo:yard", "nowhere"], "nowhere"),
    ],
)
def test_what_cannot_be_compared_is_one_sentence(short, capsys, argv, said):
    status, _, err = run(capsys, *argv)
    assert status == 2
    assert said in err
    assert len(err.strip().splitlines()) == 1
