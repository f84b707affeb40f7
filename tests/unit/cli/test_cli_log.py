"""The command `aquacalc log`: repairs, doubts, findings, trends, and where the clean log lies."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from yard import yard

from aquacalc import words
from aquacalc.cli import command
from aquacalc.garden import places
from aquacalc.logbook import mended
from aquacalc.logbook.mended import Doubt, Repair
from aquacalc.logbook.messy import mend
from aquacalc.sentences import log as log_sentences
from aquacalc.words import Reader

MESSY = "date;pH;KH\n03.05.2027;7,2;5\n17.05.2027;68;4\n18.05.2027;6,9;4\n"


@pytest.fixture
def garden(tmp_path: Path) -> Callable[[str], Path]:
    def made(text: str) -> Path:
        folder = tmp_path / "garden"
        folder.mkdir()
        shutil.copy(places.garden_path("demo:yard"), folder / "garden.toml")
        (folder / "log.csv").write_text(text, "utf-8")
        return folder

    return made


@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_a_demo_log_needs_nothing_and_nothing_is_written(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    monkeypatch.chdir(tmp_path)
    assert command.main(["log", f"demo:{name}"]) == command.DONE
    said = capsys.readouterr()
    assert said.err == ""
    for key in ("log-no-repairs", "log-no-doubts"):
        assert words.say(key, Reader()) in said.out
    assert list(tmp_path.iterdir()) == []


def test_a_messy_log_is_told_and_a_clean_one_lies_beside_it(
    garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
):
    folder = garden(MESSY)
    assert command.main(["log", str(folder)]) == command.DONE
    said = " ".join(capsys.readouterr().out.split())
    assert "row 2, pH: “7,2” is 7.2. The same in row 4." in said
    assert "row 3, pH: “68” is outside of what can be; it was left out. Is it 6.8?" in said
    assert str(folder / mended.CLEAN) in said
    assert (folder / mended.CLEAN).is_file()
    assert (folder / "log.csv").read_text("utf-8") == MESSY


def test_an_old_clean_log_does_not_outlive_the_mess(garden: Callable[[str], Path]):
    folder = garden(MESSY)
    command.main(["log", str(folder)])
    (folder / "log.csv").write_text("date,pH\n2027-05-03,6.4\n", "utf-8")
    assert command.main(["log", str(folder)]) == command.DONE
    assert (folder / mended.CLEAN).read_text("utf-8") == "date,pH\n2027-05-03,6.4\n"


def test_a_log_whose_columns_were_left_out_is_not_called_calm(
    garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
):
    assert command.main(["log", str(garden("date,pH,Gewicht\n2027-05-03,6.8,3\n"))]) == command.DONE
    said = capsys.readouterr().out
    assert words.say("log-no-findings-doubts", Reader()) in " ".join(said.split())
    assert words.say("log-no-findings", Reader()) not in " ".join(said.split())


def test_a_log_without_a_day_that_can_be_used(
    garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
):
    assert command.main(["log", str(garden("date,pH\nsoon,7\n"))]) == command.DONE
    assert "the log holds no day that can be used" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("text", ["", "pH,nitrate\n7,20\n"])
def test_what_cannot_be_read_is_one_sentence_and_status_2(
    text: str, garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
):
    folder = garden(text)
    assert command.main(["log", str(folder)]) == command.BAD_INPUT
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) == 1
    assert not (folder / mended.CLEAN).exists()


def test_readings_that_are_not_judged_are_named(
    garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
):
    folder = garden("date,NO3,KH\n2026-05-03,20,4\n")  # before any kit of the garden file
    assert command.main(["log", str(folder)]) == command.DONE
    said = " ".join(capsys.readouterr().out.split())
    assert "Nobody says what the numbers count" in said
    assert "have no trend: nitrate and alkalinity (KH)" in said
    assert words.say("log-no-findings", Reader()) not in said
    assert "nitrate (mg/L as NO3)" in said


def test_each_reading_of_a_row_is_judged_and_strict_follows(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    head = "date,water temperature (C),ammonia (as N),nitrate (as N),chlorine,oxygen"
    shutil.copy(places.garden_path("demo:greenhouse"), tmp_path / "garden.toml")
    (tmp_path / "log.csv").write_text(f"{head}\n2027-11-15,26,8,600,1.5,8\n", "utf-8")
    assert command.main(["log", str(tmp_path), "--strict"]) == command.EMERGENCY
    said = " ".join(capsys.readouterr().out.split())
    for name in ("chlorine", "ammonia (TAN)", "nitrate", "water temperature"):
        assert re.search(rf"{re.escape(name)} [^#]*? emergency", said)
    unread = "nitrite, pH, alkalinity (KH) and carbon dioxide"
    assert f"Not judged, because not read in these weeks: {unread}." in said
    assert "Next test: in 30 minutes at the latest" in said
    assert words.say("log-no-findings", Reader()) not in said


def test_strict_tells_an_emergency(garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]):
    folder = garden("date,pH,spring catfish dead\n2027-05-03,5.2,\n")
    assert command.main(["log", str(folder), "--strict"]) == command.EMERGENCY
    assert command.main(["log", str(folder)]) == command.DONE


def test_every_repair_and_doubt_can_be_said(tmp_path: Path):
    keys = [key for key in words._sources("en") if key.startswith(("log-repair-", "log-doubt-"))]
    assert len(keys) > 45
    for key in keys:
        one = (
            Repair(3, "pH", key, "a", "b")
            if key.startswith("log-repair")
            else Doubt(3, "pH", key, "a", ("b", "c"))
        )
        assert log_sentences.sentence(one, Reader()).startswith("row 3, pH: ")
    assert log_sentences.sentence(Repair(0, "", "log-repair-mark", ""), Reader()).startswith("the file: ")
    found = mend.read(_file(tmp_path), yard())
    assert log_sentences.sentence(found.doubts[0], Reader()).startswith("row 3, pH: ")


def _file(folder: Path) -> Path:
    path = folder / "log.csv"
    path.write_text(MESSY, "utf-8")
    return path


def test_a_log_says_what_it_rests_on_where_it_is_asked(
    garden: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
):
    where = str(garden("date;pH;KH\n2027-05-03;7.2;5\n2027-05-17;6.8;4\n"))
    assert command.main(["log", where]) == command.DONE
    assert "Sources: " not in capsys.readouterr().out
    assert command.main(["log", where, "--sources"]) == command.DONE
    out = capsys.readouterr().out
    assert "Sources: " in out
    assert "\n- SRAC464: Wurts and Durborow 1992. " in out
