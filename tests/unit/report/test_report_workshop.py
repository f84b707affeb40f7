"""The folder of a workshop's pack: its files, its prints, and what it never replaces."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import plans
import pypdfium2
import pytest
import small_garden

from aquacalc.cli import command
from aquacalc.errors import InputError
from aquacalc.garden.file import GardenFile
from aquacalc.report import notebook, pdf, workshop
from aquacalc.workshop.audience import Audience

LEAST_PT = 11.0


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """The season of a demo as it was run once for all tests, and a living page without answers."""
    monkeypatch.setattr(
        notebook, "run_opened", lambda *given, **more: SimpleNamespace(plan=plans.of_season("classroom"))
    )
    # Its tables take seconds; tests of their own look at them.
    monkeypatch.setattr(workshop.living, "page", lambda kit: "<!doctype html>")


def make(out: Path, audience: Audience = "adults", paper: str = "a4") -> workshop.Pack:
    return workshop.write("demo:classroom", out, audience, 20, 1, paper)


def sizes(page: pypdfium2.PdfPage) -> Iterator[float]:
    printed = page.get_textpage()
    for index in range(printed.count_chars()):
        if pypdfium2.raw.FPDFText_IsGenerated(printed, index) != 1:
            matrix = pypdfium2.raw.FS_MATRIX()
            pypdfium2.raw.FPDFText_GetMatrix(printed, index, matrix)
            scale = max(abs(matrix.a), abs(matrix.b))
            yield scale * pypdfium2.raw.FPDFText_GetFontSize(printed, index)


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize(("audience", "paper"), [("8-11", "a4"), ("adults", "letter")])
def test_type_is_eleven_points_and_more_and_stays_on_the_sheet(
    tmp_path: Path, audience: Audience, paper: str
):
    pack = make(tmp_path / "pack", audience, paper)
    assert len(pack.pages) == len(workshop.PARTS) + 1
    assert len(pack.pdfs) == len(workshop.PARTS) - 1
    for path in pack.pdfs:
        document = pypdfium2.PdfDocument(path)
        for number, page in enumerate(document, 1):
            assert min(sizes(page)) >= LEAST_PT - 0.05, (path.name, number)
            width, height = page.get_size()
            printed = page.get_textpage()
            boxes = [printed.get_charbox(index) for index in range(printed.count_chars())]
            assert min(left for left, *_ in boxes) > 9.0 * pdf.POINTS_PER_MM
            assert max(right for _, _, right, _ in boxes) < width - 9.0 * pdf.POINTS_PER_MM
            assert max(top for *_, top in boxes) < height - 9.0 * pdf.POINTS_PER_MM
        document.close()


@pytest.mark.usefixtures("quick")
def test_own_hand_outs_are_one_sheet_each(tmp_path: Path):
    pack = make(tmp_path / "pack", "8-11", "both")
    handed = [path for path in pack.pdfs if path.name.startswith("hand-outs")]
    counts = [len(pypdfium2.PdfDocument(path)) for path in handed]
    sheets = (tmp_path / "pack" / "hand-outs.html").read_text("utf-8").count('<section class="sheet')
    assert counts == [sheets, sheets]


@pytest.mark.usefixtures("quick")
def test_only_an_older_pack_is_replaced_and_it_is_kept(tmp_path: Path):
    out = tmp_path / "pack"
    make(out)
    make(out, "16")
    assert json.loads((out / workshop.RUN_FILE).read_text("utf-8"))["audience"] == "16"
    kept = json.loads((tmp_path / "pack.old" / workshop.RUN_FILE).read_text("utf-8"))
    assert kept["audience"] == "adults"
    (out / "my notes.txt").write_text("mine", "utf-8")
    with pytest.raises(InputError):
        make(out)
    assert (out / "my notes.txt").read_text("utf-8") == "mine"


@pytest.mark.usefixtures("quick")
def test_a_season_plan_is_not_taken_for_a_pack(tmp_path: Path):
    out = tmp_path / "season-plan"
    out.mkdir()
    (out / "season-plan.json").write_text('{"files": {}}', "utf-8")
    with pytest.raises(InputError):
        make(out)


@pytest.mark.usefixtures("quick")
def test_the_command_writes_the_pack(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    out = tmp_path / "pack"
    asked = ["workshop", "demo:classroom", str(out), "--audience", "12-15", "--people", "40", "--paper", "a4"]
    assert command.main(asked) == command.DONE
    assert "hand-outs.pdf" in capsys.readouterr().out
    assert "40 people in 10 groups" in (out / "leader.html").read_text("utf-8")


def test_the_command_refuses_a_class_of_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    asked = ["workshop", "demo:classroom", str(tmp_path / "pack"), "--people", "0"]
    assert command.main(asked) == command.BAD_INPUT
    assert "--people" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("sections", "lacking"),
    [(["fish"], ("fish",)), (["bed", "crop"], ("bed",)), (["fish", "bed", "crop"], ("fish", "bed"))],
)
def test_a_garden_without_fish_or_beds_gets_an_example(
    tmp_path: Path, sections: list[str], lacking: tuple[str, ...]
):
    file = tmp_path / "garden.toml"
    file.write_text(without(small_garden.TEXT, sections), "utf-8")
    with pytest.raises(InputError):
        GardenFile.open(file)
    read, lacks = workshop._opened(str(file), "")
    assert lacks == lacking
    assert read.garden.fish
    assert read.garden.beds
    assert read.garden.name == "Small garden"
    drawn = workshop.kit_of(plans.plan(read.garden), "adults", 20, 1, lacks).exercises
    assert len(drawn) > 10


def without(text: str, sections: list[str]) -> str:
    for section in sections:
        text = re.sub(rf"\[\[{section}\]\]\n(?:(?!\[).*\n)*", "", text)
    return text


def test_a_garden_with_other_troubles_is_refused(tmp_path: Path):
    file = tmp_path / "garden.toml"
    file.write_text(without(small_garden.TEXT, ["fish"]).replace("2 m2", "2 furlongs"), "utf-8")
    with pytest.raises(InputError, match="area"):
        workshop._opened(str(file), "")
