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
    status = "Status: act today, by un-ionised ammonia and ammonia (TAN)"
    assert said.out.splitlines()[1].strip("| ") == status
    for key in ("reading-why", "reading-do", "reading-not", "reading-assumed"):
        assert f"\n{words.say(key, Reader())}\n" in said.out
    assert "0.047" in said.out
    assert "Test again in 6 hours" in said.out


def test_the_parts_stand_in_their_order(capsys: Said):
    assert run(*TROUBLE, "litres=1000", "fish=warm") == command.DONE
    out = capsys.readouterr().out
    keys = ("reading-do", "reading-then", "reading-not", "reading-why", "reading-ask", "reading-assumed")
    places = [out.index(f"\n{words.say(key, Reader())}\n") for key in keys]
    assert places == sorted(places)
    assert "1. Air now" in out


def test_a_grower_in_a_hurry_reads_what_to_do_first(capsys: Said):
    assert run("demo:yard", "tan=4", "ph=8", "no2=1") == command.DONE
    lines = capsys.readouterr().out.splitlines()
    assert "emergency" in lines[1]
    # Status, fish, what was assumed: then at once the first thing to do, within a dozen lines.
    assert any(line.startswith("1. No feed") for line in lines[:9])
    assert any(line.startswith("Assumed, at its severest: 76") for line in lines[:6])
    text = "\n".join(lines)
    assert text.count("Test again in 6 hours") == 1
    # What holds for every bad day takes one line, not an entry each.
    assert "a filter washed whole" in text
    assert "Rinse a part of the coarse solids" not in text


def test_steps_are_numbered_through(capsys: Said):
    assert run("demo:yard", "tan=4", "ph=8", "no2=1") == command.DONE
    found = [line.split(".")[0] for line in capsys.readouterr().out.splitlines() if line[:1].isdigit()]
    assert found == [str(number) for number in range(1, len(found) + 1)]
    assert len(found) > 4


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
    assert "Expect after it: pH 6.2 to 6.8 on your kit (6.4)" in out
    assert "alkalinity (KH) 1.5 dKH on your kit (20 mg/L CaCO3)" in out


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
    ("signs=gasping,brown gills",),
    ("tan=4 N", "ph=8", "temp=25", "fish=warm", "signs=jumping"),
    ("tan=2 N", "ph=8.6", "temp=28", "fish=warm"),
    ("tan=4 N", "ph=6.6", "temp=25", "fish=warm", "kh=5 mg/L CaCO3"),
    ("tan=0.8 N", "ph=8.6", "temp=25", "fish=warm", "new-water=chloramine 4"),
    ("tan=25 N", "ph=5.8", "kh=10 mg/L CaCO3", "temp=25", "fish=warm", "new-water=none, ph 8, kh 250"),
    ("tan=4 N", "nitrite=0.4 N", "ph=8", "temp=25", "fish=warm", "new-water=none, chloride 44"),
    ("salt=0.6", "nitrate=300 N"),
    ("salt=0.4",),
    ("nitrite=2 N", "tan=0 N", "ph=6.2", "kh=18 mg/L CaCO3", "temp=25", "fish=warm"),
    ("ph=6.8", "kh=100 mg/L CaCO3", "temp=25", "fish=warm"),
    ("tan=4 N", "ph=8", "temp=25", "fish=warm", "oxygen=4.5"),
    ("chlorine=1", "tan=5 N", "ph=6.8", "kh=40 mg/L CaCO3", "temp=25", "fish=warm"),
    ("tan=2 N", "ph=6.6", "kh=60 mg/L CaCO3", "temp=21", "fish=rainbow_trout"),
    ("tan=0 N", "ph=7.0", "kh=250 mg/L CaCO3", "temp=25", "fish=cold"),
    ("tan=1.8 N", "ph=8", "kh=60 mg/L CaCO3", "temp=14.5", "fish=nile_tilapia"),
    ("tan=2 N", "ph=7.6", "temp=26", "fish=warm"),
    ("nitrite=0.3 N", "fish=warm"),
    ("temp=19", "fish=rainbow_trout"),
    ("nitrite=2 N", "ph=7.4", "kh=20 mg/L CaCO3", "temp=25", "fish=warm", "new-water=none, ph 8.4, kh 400"),
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
    assert out.startswith("Status: fine\n------------\n")
    assert words.say("reading-do", Reader()) not in out
    assert "Nothing to do. Test again in 7 days" in " ".join(out.split())


@pytest.mark.parametrize(("kh", "key"), [("12 dKH", "much-alkalinity"), ("0.5 dKH", "alkalinity")])
def test_much_alkalinity_is_another_matter_than_little(kh: str, key: str, capsys: Said):
    assert run(f"kh={kh}", "fish=warm") == command.DONE
    said = " ".join(capsys.readouterr().out.split())
    for one in ("much-alkalinity", "alkalinity"):
        assert (words.say(f"reading-why-{one}", Reader()) in said) == (one == key)


def test_names_and_values_that_cannot_be_are_all_told(capsys: Said):
    assert run("ph=17", "foo=3", "tan=-1") == command.BAD_INPUT
    said = capsys.readouterr().err.splitlines()
    assert len(said) == 3
    for line, part in zip(said, ("ph: 17", "“foo”", "tan: -1"), strict=True):
        assert line.startswith(part)


def test_a_garden_that_cannot_be_read_hides_no_other_slip(capsys: Said):
    # Degrees may be right in the units of that garden, so nothing is said of them.
    assert run("demo:nowhere", "foo=3", "tan=-1", "temp=79") == command.BAD_INPUT
    said = capsys.readouterr().err.splitlines()
    assert ["nowhere" in said[0], "“foo”" in said[1], "tan: -1" in said[2]] == [True] * 3
    assert len(said) == 3


LEVELS: dict[str, tuple[str, ...]] = {
    "fine": ("ph=7", "fish=warm"),
    "watch": ("ph=7.5", "fish=warm"),
    "act today": ("ph=8.2", "fish=warm"),
    "emergency": ("signs=gasping", "fish=warm"),
    "not known": ("tan=0.1", "ph=7", "fish=warm"),
}


def test_each_level_has_a_frame_of_its_own(capsys: Said):
    frames = {}
    for level, typed in LEVELS.items():
        assert run(*typed) == command.DONE
        out = capsys.readouterr().out
        assert f"Status: {level}" in out
        frames[level] = out.split("Status", 1)[0] + out.splitlines()[1 if level == "fine" else 2][:4]
    assert len(set(frames.values())) == len(LEVELS)
    "".join(frames.values()).encode("ascii")


def test_a_long_status_stays_in_its_frame(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("COLUMNS", "60")
    lines = reading.framed("Status: emergency, by " + "much that is wrong and " * 6, "emergency")
    assert len({len(line) for line in lines}) == 1
    assert len(lines) > 4
    assert max(map(len, lines)) <= 60


@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_sign_and_salt_can_be_said(units: str, capsys: Said):
    typed = ("signs=gasping,bottom,jumping,brown gills", "salt=0.6", "nitrite=<0.1 N", "tan=>4 NH4")
    for garden in ("", "demo:yard", "demo:classroom"):
        assert run(*filter(None, (garden,)), *typed, "--units", units) == command.DONE
        out = capsys.readouterr().out
        assert "gasping, lying on the bottom, jumping and brown gills" in out
        assert "0.6 g/L" in " ".join(out.split()).replace("\xa0", " ")
        assert not {"nan", "inf", "{"} & set(out.split())


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


def test_sources_are_said_for_each_level_where_they_are_asked(capsys: Said):
    assert run("tan=2 N", "ph=7.6", "temp=26C", "fish=warm") == command.DONE
    assert "Sources: " not in capsys.readouterr().out
    assert run("tan=2 N", "ph=7.6", "temp=26C", "fish=warm", "--sources") == command.DONE
    rests, texts = capsys.readouterr().out.partition("What this rests on")[2].split("The texts:")
    assert "\n- un-ionised ammonia. Sources: EMER75 (read second hand); common practice" in rests
    assert "\n- EMER75: Emerson and others 1975. " in texts
