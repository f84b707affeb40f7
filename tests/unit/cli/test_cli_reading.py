"""`aquacalc reading` as a grower meets it: lines, statuses, one sentence a problem, nothing heavy loaded."""

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from aquacalc import words
from aquacalc.advice.reading import actions, given
from aquacalc.cli import command, reading
from aquacalc.garden.file import GardenFile
from aquacalc.garden.model import Product
from aquacalc.words import Reader

ROOT = Path(__file__).resolve().parents[3]
TROUBLE = (
    *("tan=20 N", "nitrite=6 NO2", "nitrate=>400 N", "ph=5.2", "temp=25C", "oxygen=2", "kh=0.5 dKH"),
    *("gh=1 dGH", "chlorine=0.4", "chloride=10", "ec=900"),
)

Said = pytest.CaptureFixture[str]


def run(*typed: str) -> int:
    return command.main(["reading", *typed])


def test_a_reading_without_a_garden(capsys: Said):
    assert run("tan=2", "ph=7.6", "temp=26") == command.DONE
    said = capsys.readouterr()
    assert said.err == ""
    assert said.out.startswith("Status: act today, by un-ionised ammonia and ammonia (TAN)")
    for key in ("reading-why", "reading-do", "reading-not", "reading-assumed"):
        assert f"\n{words.say(key, Reader())}\n" in said.out
    assert "0.047" in said.out
    assert "Test again in 6 hours" in said.out


def test_the_parts_stand_in_their_order(capsys: Said):
    assert run(*TROUBLE, "litres=1000", "fish=warm") == command.DONE
    out = capsys.readouterr().out
    keys = ("reading-why", "reading-do", "reading-not", "reading-ask")
    places = [out.index(f"\n{words.say(key, Reader())}\n") for key in keys]
    assert places == sorted(places)
    assert "1. Air now" in out


@pytest.mark.parametrize("garden", ["yard", "greenhouse", "classroom", "southern"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_demo_garden_answers_in_both_systems(garden: str, units: str, capsys: Said):
    assert run(f"demo:{garden}", *TROUBLE, "--units", units) == command.DONE
    out = capsys.readouterr().out
    assert not {"nan", "inf", "{"} & set(out.split())
    assert ("US gal" in out) == (units == "us")


def test_grams_come_with_spoons_of_the_gardens_product(capsys: Said):
    assert run("demo:classroom", "tan=0", "ph=6.2", "kh=1", "temp=20") == command.DONE
    out = " ".join(capsys.readouterr().out.split())
    assert "Potassium bicarbonate: 4.3 g (1 spoon)." in out
    assert "Expect after it: pH 6.4" in out


# Together these ask for every action there is, but for a portion that is refused.
EVERY_ACTION = (
    ("oxygen=2", "chlorine=0.4", "tan=3 N", "ph=8.6", "temp=25", "fish=warm"),
    ("oxygen=4.5", "fish=warm", "ph=8"),
    ("tan=20 N", "ph=6.8", "kh=100 mg/L CaCO3", "temp=25", "fish=warm", "litres=1000"),
    ("tan=20 N", "ph=5.8", "kh=10 mg/L CaCO3", "temp=25", "fish=warm"),
    ("nitrite=0.5 N", "chloride=50", "fish=warm"),
    ("nitrite=2 N", "chloride=50", "fish=warm"),
    ("nitrite=2 N", "fish=bluegill"),
    ("demo:yard", "nitrite=3 NO2"),
    ("temp=21", "fish=rainbow_trout"),
    ("temp=15", "fish=nile_tilapia"),
    ("tan=0 N", "ph=6", "kh=2 dKH", "temp=25", "fish=warm"),
    ("ph=6", "kh=1 dKH"),
    ("tan=0 N", "ph=6"),
    ("tan=0 N", "ph=6.2", "kh=0 dKH"),
    ("nitrate=3 N", "tan=0.1"),
    ("nitrate=60 N",),
    ("nitrate=300 N",),
    ("tan=0.1",),
)


@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_action_can_be_said(units: str):
    reader = Reader(units="us" if units == "us" else "metric")
    said: set[str] = set()
    salt = replace(GardenFile.open("demo:yard").garden, products=(Product("Salt", "sodium_chloride", 100.0),))
    answers = [actions.answer(given.read(["nitrite=6 N"], salt))]
    for typed in EVERY_ACTION:
        name, pairs = reading.parted(typed)
        garden = GardenFile.open(name).garden if name else None
        answers.append(actions.answer(given.read(pairs, garden)))
    for answer in answers:
        said |= {action.key for action in answer.actions}
        assert not {"nan", "inf", "{"} & set(" ".join(reading.lines(answer, reader)).split())
    held = {key.removeprefix("reading-do-") for key in words._sources("en") if key.startswith("reading-do-")}
    assert said == held - {"base-refused"}


def test_an_emergency_is_status_1_only_when_strict():
    assert run("oxygen=2") == command.DONE
    assert run("oxygen=2", "--strict") == command.EMERGENCY
    assert run("oxygen=9", "--strict") == command.DONE


def test_bad_input_is_status_2_with_one_sentence_a_line(capsys: Said):
    assert run("tan=500", "ph=14", "temp=79") == command.BAD_INPUT
    said = capsys.readouterr()
    assert said.out == ""
    lines = said.err.splitlines()
    assert [line.partition(":")[0] for line in lines] == ["tan", "ph", "temp"]
    assert lines[2].endswith("write 79F.")


@pytest.mark.parametrize(
    "typed", [(), ("fish=warm",), ("demo:yard",), ("demo:nowhere", "tan=1"), ("tan=1", "x")]
)
def test_nothing_to_judge_and_unknown_gardens(typed: tuple[str, ...], capsys: Said):
    assert run(*typed) == command.BAD_INPUT
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_quiet_water_has_nothing_to_do(capsys: Said):
    assert (
        run("tan=0.1 N", "nitrite=0", "nitrate=30 N", "ph=7", "temp=25", "fish=nile_tilapia") == command.DONE
    )
    out = capsys.readouterr().out
    assert out.startswith("Status: fine\n")
    assert words.say("reading-do", Reader()) not in out
    assert "Nothing to do. Test again in 7 days" in " ".join(out.split())


@pytest.mark.parametrize(("kh", "key"), [("12 dKH", "much-alkalinity"), ("0.5 dKH", "alkalinity")])
def test_much_alkalinity_is_another_matter_than_little(kh: str, key: str, capsys: Said):
    assert run(f"kh={kh}", "fish=warm") == command.DONE
    said = " ".join(capsys.readouterr().out.split())
    for one in ("much-alkalinity", "alkalinity"):
        assert (words.say(f"reading-why-{one}", Reader()) in said) == (one == key)


def test_garden_and_pairs_are_told_apart():
    assert reading.parted(["my=garden", "tan=2"]) == ("", ["my=garden", "tan=2"])
    assert reading.parted([]) == ("", [])


def test_it_loads_neither_charts_nor_tables_of_days():
    code = (
        "import sys; from aquacalc.cli import command; "
        "command.main(['reading', 'demo:yard', 'tan=2', 'ph=7.4']); "
        "print(*(name for name in ('pandas', 'matplotlib', 'scipy', 'IPython') if name in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.splitlines()[-1] == ""
