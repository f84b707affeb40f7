"""The command as a grower meets it: statuses, one line a problem, odd terminals, nothing overwritten."""

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import hand_made
import pytest

from aquacalc import words
from aquacalc.cli import check, command, terminal
from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.report import season
from aquacalc.uncertainty import MEMBERS, SEED
from aquacalc.words import Reader

ROOT = Path(__file__).resolve().parents[3]
VERBS = ("new", "open", "check", "log", "reading", "season")


def aquacalc(*arguments: str, **options: object) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **options.pop("environment", {})}
    words_ = [sys.executable, "-m", "aquacalc", *arguments]
    return subprocess.run(words_, env=environment, capture_output=True, **options)


# --- the command line --------------------------------------------------------------------------------------


@pytest.mark.parametrize("arguments", [(), *((verb,) for verb in VERBS)], ids=" ".join)
def test_help_ends_with_an_example_that_is_read(
    arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]
):
    assert command.main([*arguments, "--help"]) == command.DONE
    last = capsys.readouterr().out.rstrip().splitlines()[-1]
    assert last.startswith("Example: aquacalc ")
    command.parser().parse_args(last.removeprefix("Example: aquacalc ").split())


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["grow"],
        ["check"],
        ["check", "demo:yard", "--units", "feet"],
        ["new"],
        ["check", "a", "--jobs", "2", "--cluster", "b"],
    ],
    ids=str,
)
def test_a_wrong_command_line_gives_one_line_and_status_2(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
):
    assert command.main(arguments) == command.BAD_INPUT
    said = capsys.readouterr()
    assert said.out == ""
    (line,) = said.err.splitlines()
    assert line.startswith("aquacalc")
    assert line.endswith("--help")


def test_the_version_is_the_packages(capsys: pytest.CaptureFixture[str]):
    from aquacalc import __version__

    assert command.main(["--version"]) == command.DONE
    assert capsys.readouterr().out == f"aquacalc {__version__}\n"


# --- check -------------------------------------------------------------------------------------------------


def test_check_prints_balance_findings_and_what_was_assumed(capsys: pytest.CaptureFixture[str]):
    assert command.main(["check", "demo:yard"]) == command.DONE
    said = capsys.readouterr()
    assert said.err == ""
    garden = GardenFile.open("demo:yard").garden
    assert said.out.startswith(garden.name)
    reader = garden.reader
    keys = [
        "check-invented",
        "check-must",
        "check-better",
        "check-changes",
        "check-findings",
        "check-assumed",
    ]
    for key in keys:
        assert words.say(key, reader) in said.out
    for assumed in garden.assumed:
        assert assumed.key in said.out


def test_units_of_the_option_win_over_the_files(capsys: pytest.CaptureFixture[str]):
    assert GardenFile.open("demo:yard").garden.reader.units == "us"
    command.main(["check", "demo:yard", "--units", "metric"])
    assert "°C" in capsys.readouterr().out
    command.main(["check", "demo:yard"])
    assert "°F" in capsys.readouterr().out


def test_the_table_shows_each_month_once_and_marks_what_is_exceeded():
    balance = hand_made.balance()
    whole = check.months_table(balance, range(12), Reader())
    halves = [check.months_table(balance, part, Reader()) for part in (range(6), range(6, 12))]
    assert whole[0].split() == [words.month(month, Reader(), short=True) for month in range(1, 13)]
    assert [row[0].split() for row in halves] == [whole[0].split()[:6], whole[0].split()[6:]]
    (oxygen,) = (row for row in whole if row.strip().startswith("oxygen"))
    wants = balance.demand.feed_g_day.middle
    carries = balance.limit("oxygen").feed_g_day.middle
    assert [cell.endswith("*") for cell in oxygen.split()[1:]] == list(wants > carries)


def test_a_limit_that_is_not_counted_is_not_marked():
    balance = hand_made.balance()
    backed = tuple(replace(one, counts=one.key != "power_cut") for one in balance.limits)
    rows = check.months_table(replace(balance, limits=backed), range(12), Reader())
    (row,) = (row for row in rows if "power cut" in row)
    assert "*" not in row
    assert words.say("check-not-counted", Reader(), name="power cut") in row


def test_the_table_fits_the_terminal(monkeypatch: pytest.MonkeyPatch):
    for columns in (60, 80, 100, 200):
        monkeypatch.setenv("COLUMNS", str(columns))
        assert max(map(len, check.months_tables(hand_made.balance(), Reader()))) < columns


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", 1),
        ("format = 1\n[[tank]]\nvolume = '-3 L'\n[[bed]]\nkind = 'sand'\n", 2),
        ("format = 1\nname = 'x", 1),
    ],
    ids=["empty", "several", "half-written"],
)
def test_problems_of_a_file_come_one_a_line_with_status_2(
    text: str, lines: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    path = tmp_path / "garden.toml"
    path.write_text(text, "utf-8")
    assert command.main(["check", str(path)]) == command.BAD_INPUT
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) >= lines
    assert all(line.endswith(".") for line in said.err.splitlines())
    assert "Traceback" not in said.err


@pytest.mark.parametrize("verb", ["check", "season"])
def test_fish_that_cannot_live_here_are_said_in_one_line(
    verb: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.chdir(tmp_path)
    text = places.garden_path("demo:yard").read_text("utf-8")
    text = re.sub("air_max_f = .*", f"air_max_c = {[36] * 12}", text)
    text = re.sub("air_min_f = .*", f"air_min_c = {[30] * 12}", text)
    Path("garden.toml").write_text(text.replace('"channel_catfish"', '"rainbow_trout"'), "utf-8")
    assert command.main([verb, "garden.toml"]) == command.BAD_INPUT
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("fish 1 species: this species lives in water of 0 to 25")
    assert len(said.err.splitlines()) == 1
    assert [one.name for one in tmp_path.iterdir()] == ["garden.toml"]


@pytest.mark.parametrize("name", ["nowhere.toml", "demo:yrd", "demo:", "", "no\nsuch"], ids=repr)
def test_a_garden_that_is_not_there_is_said_in_one_line(name: str, capsys: pytest.CaptureFixture[str]):
    assert command.main(["check", name]) == command.BAD_INPUT
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_the_nearest_demo_garden_is_offered(capsys: pytest.CaptureFixture[str]):
    command.main(["check", "demo:yrd"])
    assert "demo:yard" in capsys.readouterr().err


def test_an_emergency_changes_the_status_only_when_asked(monkeypatch: pytest.MonkeyPatch):
    from aquacalc.advice import findings
    from aquacalc.advice.finding import Finding

    levels = ["watch"]
    found = lambda *_: [Finding("finding-people-open-tank", "pond", level) for level in levels]  # noqa: E731
    monkeypatch.setattr(findings, "of_both", found)
    assert command.main(["check", "demo:yard", "--strict"]) == command.DONE
    levels.append("emergency")
    assert command.main(["check", "demo:yard"]) == command.DONE
    assert command.main(["check", "demo:yard", "--strict"]) == command.EMERGENCY


# --- odd terminals -----------------------------------------------------------------------------------------


@pytest.fixture
def named(tmp_path: Path) -> Path:
    """A garden whose name holds what terminals choke on."""
    path = tmp_path / "garden.toml"
    text = places.starter().read_text("utf-8")
    odd = 'name = "Fish <b>\\"tank\\"</b> 🐟"'
    path.write_text(re.sub(r"^name = .*$", lambda _: odd, text, count=1, flags=re.MULTILINE), "utf-8")
    return path


@pytest.mark.parametrize(
    "encoding", ["cp1252", *(pytest.param(one, marks=pytest.mark.slow) for one in ("ascii", "utf-8"))]
)
def test_a_terminal_shows_what_it_can(named: Path, encoding: str):
    done = aquacalc("check", str(named), environment={"PYTHONIOENCODING": encoding})
    assert done.returncode == 0, done.stderr
    text = done.stdout.decode(encoding)
    assert '<b>"tank"</b>' in text.splitlines()[0]
    assert ("🐟" in text) == (encoding == "utf-8")


def test_a_reader_who_stops_listening_is_no_error():
    child = subprocess.Popen(
        [sys.executable, "-m", "aquacalc", "check", "demo:yard"],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    child.stdout.close()
    assert child.stderr.read() == b""
    assert child.wait() == command.DONE


def test_a_closed_standard_output_is_no_error(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys, "stdout", None)  # what Python makes of a closed descriptor
    assert command.main(["check", "demo:yard"]) == command.DONE


def test_wrapping_keeps_a_number_with_its_unit(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("COLUMNS", "60")
    text = " ".join(["word"] * 11 + ["12\u00a0mg/L"])
    assert terminal.paragraph(text).splitlines()[-1].split(" ")[-1] == "12\u00a0mg/L"


# --- new ---------------------------------------------------------------------------------------------------


def test_new_makes_a_garden_that_check_reads(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    folder = tmp_path / "my garden"
    assert command.main(["new", str(folder)]) == command.DONE
    made = {path.name for path in folder.iterdir()}
    beside = {"garden.toml", "log.csv", "garden-file.html", "garden.schema.json"}
    assert made == beside | {path.name for path in places.workbook().glob("*.ipynb")}
    said = capsys.readouterr().out
    assert all(name in said for name in made)
    assert command.main(["check", str(folder)]) == command.DONE


def test_new_overwrites_nothing_and_says_what_it_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    mine = tmp_path / "garden.toml"
    mine.write_text("mine", "utf-8")
    assert command.main(["new", str(tmp_path)]) == command.DONE
    assert mine.read_text("utf-8") == "mine"
    kept = words.say("new-kept", Reader(), files="garden.toml")
    assert kept in capsys.readouterr().out


def test_new_refuses_a_file_as_its_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    place = tmp_path / "taken"
    place.write_text("", "utf-8")
    assert command.main(["new", str(place)]) == command.BAD_INPUT
    assert command.main(["new", str(place / "under")]) == command.BAD_INPUT
    assert len(capsys.readouterr().err.splitlines()) == 2


# --- open --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("how", [[], ["--lab"]])
def test_open_wants_a_folder(how: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    assert command.main(["open", *how, str(tmp_path / "missing")]) == command.BAD_INPUT
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_jupyterlab_wants_notebooks_in_the_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    assert command.main(["open", "--lab", str(tmp_path)]) == command.BAD_INPUT
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_open_hands_options_on_and_shows_the_first_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    from jupyterlab.labapp import LabApp

    seen: list[str] = []
    monkeypatch.setattr(LabApp, "launch_instance", lambda argv: seen.extend(argv))
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", "theirs")
    for name in ("00_start_here.ipynb", "01_size_the_garden.ipynb"):
        (tmp_path / name).write_text("{}", "utf-8")
    typed = ["open", "--lab", str(tmp_path), "--no-browser", "--", "--ServerApp.port=9999"]
    assert command.main(typed) == command.DONE
    assert f"--ServerApp.root_dir={tmp_path.resolve()}" in seen
    assert "--LabApp.default_url=/lab/tree/00_start_here.ipynb" in seen
    assert seen[-2:] == ["--no-browser", "--ServerApp.port=9999"]
    ours, theirs = os.environ["JUPYTER_CONFIG_PATH"].split(os.pathsep)
    assert (Path(ours) / "labconfig" / "page_config.json").is_file()
    assert theirs == "theirs"


# --- season ------------------------------------------------------------------------------------------------


@pytest.fixture
def called(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> dict[str, object]:
    """What the command hands to the report; no notebook is run."""
    page = tmp_path / "season-plan.html"
    seen: dict[str, object] = {"levels": ("watch",), "page": page}

    def instead(garden: str, out: Path | None, **options: object) -> season.SeasonPlan:
        seen.update(options, garden=garden, out=out)
        if "fails" in seen:
            raise season.RunFailed("it broke off", None)
        return season.SeasonPlan(tmp_path, page, (), tmp_path, tmp_path, seen["levels"])

    monkeypatch.setattr(season, "season", instead)
    return seen


def test_season_hands_its_options_on(called: dict[str, object], capsys: pytest.CaptureFixture[str]):
    options = "--out x --members 20 --seed 0 --paper both --units us --from 2027-03-01"
    assert command.main(["season", "demo:yard", *options.split()]) == command.DONE
    assert (called["garden"], called["out"]) == ("demo:yard", Path("x"))
    assert (called["members"], called["seed"]) == (20, 0)
    assert (called["paper"], called["units"], called["start"]) == ("both", "us", "2027-03-01")
    said = capsys.readouterr().out
    assert "season-plan.html" in said
    # Nothing printed it, so the reader is told how to.
    assert words.say("season-print-yourself", Reader(), page=str(called["page"])) in said


def test_season_has_defaults(called: dict[str, object]):
    command.main(["season", "demo:yard"])
    assert (called["members"], called["seed"]) == (MEMBERS, SEED)
    assert (called["out"], called["paper"], called["units"], called["start"]) == (None, "", "", "")


@pytest.mark.parametrize(
    "option",
    ["--members=few", "--members=1", "--members=1e9", "--members=2.5", "--seed=-1", "--seed=nan"],
)
def test_season_refuses_numbers_that_cannot_be(
    option: str, called: dict[str, object], capsys: pytest.CaptureFixture[str]
):
    assert command.main(["season", "demo:yard", option]) == command.BAD_INPUT
    assert "garden" not in called
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(option.split("=")[0])


def test_a_run_that_breaks_off_has_status_3(called: dict[str, object], capsys: pytest.CaptureFixture[str]):
    called["fails"] = True
    assert command.main(["season", "demo:yard"]) == command.RUN_FAILED
    assert capsys.readouterr().err == "it broke off\n"


def test_season_is_strict_only_when_asked(called: dict[str, object]):
    called["levels"] = ("watch", "emergency")
    assert command.main(["season", "demo:yard"]) == command.DONE
    assert command.main(["season", "demo:yard", "--strict"]) == command.EMERGENCY


def test_check_says_what_each_answer_rests_on_where_it_is_asked(capsys: pytest.CaptureFixture[str]):
    assert command.main(["check", "demo:yard"]) == command.DONE
    plain = capsys.readouterr().out
    assert command.main(["check", "demo:yard", "--sources"]) == command.DONE
    asked = capsys.readouterr().out
    assert "Sources: " not in plain
    # The balance and each finding, then the texts behind all keys.
    assert asked.count("Sources: ") == 1 + len(re.findall(r"^\[", asked, re.MULTILINE))
    texts = set(re.findall(r"^- (\w+): ", asked.partition("The texts:")[2], re.MULTILINE))
    named = set(re.findall(r"\b[A-Z]+[A-Z0-9]*\d+\b(?=[:,. (])", asked.partition("The texts:")[0]))
    assert {"FAO589", "BENKRA84"} <= named & texts
