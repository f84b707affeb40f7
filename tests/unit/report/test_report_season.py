"""One real run of the season plan: its folder, its page, its prints."""

import json
import re
import sys
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path

import nbformat
import plans
import pypdfium2
import pytest

from aquacalc.cli import command
from aquacalc.errors import InputError
from aquacalc.garden import places
from aquacalc.pages import style
from aquacalc.pages.style import SIZES, Paper
from aquacalc.report import bookmarks, contents, notebook, pdf
from aquacalc.report import season as report
from aquacalc.report.given import RUN_FILE
from aquacalc.season import result
from aquacalc.words import Reader

MADE = "2027-02-20"
DATA = ("season-days.csv", "season-tasks.csv", "season-tasks.ics", "season.npz")
MEMBERS = 20
MOST_PAGES_IN_THE_FOLDER = 10
MOST_SHEETS_ON_THE_WALL = 10
"""Beside those of the months."""
WALL_TITLES = (
    "Emergency",
    "Looking after the garden",
    "Clean hands, clean food",
    "Ammonia: what the reading means",
    "Tests: when, and from where to act",
    "Doses for this garden",
    "Supplements: test first, then give",
    "Topping up",
    "28 days",
    "Weekly tests",
)
pytestmark = pytest.mark.slow
"""A whole run, printed twice; the quick tests run the season's notebook without printing."""


@pytest.fixture(scope="module")
def told() -> list[str]:
    return []


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory, told: list[str]) -> report.SeasonPlan:
    out = tmp_path_factory.mktemp("run") / "season-plan"
    return report.season("demo:yard", out, MEMBERS, 1, "both", "", told.append, made=MADE)


@pytest.fixture(scope="module")
def prints(plan: report.SeasonPlan) -> Iterator[dict[str, pypdfium2.PdfDocument]]:
    opened = {path.stem.rpartition("-")[2]: pypdfium2.PdfDocument(path) for path in plan.pdfs}
    yield opened
    for document in opened.values():
        document.close()


def text(page: pypdfium2.PdfPage) -> str:
    # Ligatures and no-break spaces come out as their plain letters.
    return unicodedata.normalize("NFKC", page.get_textpage().get_text_bounded())


def wall_titles(plan: report.SeasonPlan) -> list[str]:
    """The titles of all sheets for the wall, in their order."""
    return re.findall(r'<section class="sheet[^>]*>.*?<h1[^>]*>(.*?)</h1>', plan.html.read_text("utf-8"))


def squeezed(printed: str) -> str:
    return "".join(printed.split())


def test_the_folder_holds_page_prints_notebook_and_run_file_and_nothing_else(plan: report.SeasonPlan):
    names = [
        "season-plan-a4.pdf",
        "season-plan-letter.pdf",
        "season-plan.html",
        "season-plan.ipynb",
        *DATA,
        RUN_FILE,
    ]
    assert sorted(one.name for one in plan.folder.iterdir()) == sorted(names)
    assert [one.name for one in plan.folder.parent.iterdir()] == ["season-plan"]


def test_the_steps_are_told(plan: report.SeasonPlan, told: list[str]):
    shares = [f"{percent}\u00a0% of the season is done." for percent in (25, 50, 75)]
    assert told[3:6] == shares
    assert len(told) == 7
    assert told[0].startswith("Working out the plan of ")
    assert told[1].startswith("The season begins on March 1, 2027 with what was noted")
    assert told[2] == "Following the season day by day, 20 times ..."


def test_what_the_notebook_tells_is_on_no_page(plan: report.SeasonPlan):
    assert "day by day, 20 times" in plan.notebook.read_text("utf-8")
    assert "day by day, 20 times" not in plan.html.read_text("utf-8")


def test_the_data_are_those_of_the_same_run_anywhere(plan: report.SeasonPlan, tmp_path: Path):
    notebook.save(notebook.run("demo:yard", MEMBERS, 1, made=MADE), str(tmp_path))
    assert [path.name for path in plan.data] == ["season-days.csv", "season-tasks.csv", "season-tasks.ics"]
    for name in DATA:
        assert (plan.folder / name).read_bytes() == (tmp_path / name).read_bytes(), name


def test_the_season_comes_back_from_its_file(plan: report.SeasonPlan):
    season = result.load(plan.folder / "season.npz")
    record = json.loads(plan.run_file.read_text("utf-8"))
    assert record["season"]["file"] == "season.npz"
    assert record["season"]["first"] == season.first.isoformat() == "2027-03-01"
    assert record["season"]["last"] == "2028-02-28"
    assert record["season"]["from_log"]["water"]["ph"] == 7.8
    assert (season.members, season.seed, season.digest) == (MEMBERS, 1, record["garden_digest"])
    assert season.days == 365


def test_the_page_needs_nothing_from_outside(plan: report.SeasonPlan):
    page = plan.html.read_text("utf-8")
    assert not re.findall(r"\bsrc=|\bhref=(?!\"#)|@import|<link|<iframe|<img|<script", page)
    assert all(found.startswith(("data:font/ttf", "#")) for found in re.findall(r"url\(([^)]{0,20})", page))
    assert set(re.findall(r"https?://[\w./]+", page)) <= {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
    }


def test_the_page_shows_results_and_no_code(plan: report.SeasonPlan):
    page = plan.html.read_text("utf-8")
    assert "<title>Season plan: " in page
    assert '<html lang="en">' in page
    assert "notebook.folder" not in page
    assert "letters of a page" not in page
    assert page.count("<h1") == 1 + len(wall_titles(plan))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_have_the_size_of_their_paper(prints: dict[str, pypdfium2.PdfDocument], paper: str):
    size = SIZES[paper]  # type: ignore[index]
    for page in prints[paper]:
        points = (size.width_mm * pdf.POINTS_PER_MM, size.height_mm * pdf.POINTS_PER_MM)
        assert page.get_size() == pytest.approx(points, abs=1.0)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_sheet_for_the_wall_is_one_page_and_the_folder_at_most_ten(
    plan: report.SeasonPlan, prints: dict[str, pypdfium2.PdfDocument], paper: str
):
    document, titles = prints[paper], wall_titles(plan)
    assert tuple(titles[: len(WALL_TITLES)]) == WALL_TITLES
    assert len(WALL_TITLES) <= MOST_SHEETS_ON_THE_WALL
    assert all("feed" in title for title in titles[len(WALL_TITLES) :])
    card, *behind = titles
    for page, title in zip([document[0], *list(document)[-len(behind) :]], [card, *behind], strict=True):
        # Between the title of a month and the next line there is a break only.
        assert squeezed(title) in squeezed(text(page))
    assert 1 <= len(document) - len(titles) <= MOST_PAGES_IN_THE_FOLDER
    assert text(document[1]).startswith("Season plan: ")


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["yard", "greenhouse", "classroom", "southern"])
def test_all_demo_gardens_keep_to_their_pages(tmp_path: Path, name: str, paper: Paper):
    plan = plans.of_season(name)
    folder, wall = plans.printed(plan)
    count, months = (wall.count(f'<section class="sheet{kind}') for kind in ("", " month"))
    assert count - months <= MOST_SHEETS_ON_THE_WALL
    for part, least, most in ((folder, 1, MOST_PAGES_IN_THE_FOLDER), (wall, count, count)):
        rules = f"<style>{style.style()}{style.paper_rules(paper, plan.name())}</style>"
        assert pdf.write(f"{rules}<main>{part}</main>", tmp_path / "x.pdf", paper)
        document = pypdfium2.PdfDocument(tmp_path / "x.pdf")
        assert least <= len(document) <= most
        assert [index for page in document for index in cut(page)] == []
        # The last heading of a month stands on its sheet: nothing above it ran out of it.
        last = plan.say("month-did")
        assert part is folder or sum(last in text(page) for page in document) == months
        document.close()


def test_the_page_begins_with_links_to_all_sheets_the_emergency_card_first(plan: report.SeasonPlan):
    page = plan.html.read_text("utf-8")
    links, anchors = re.findall(r'href="#([^"]+)"', page), re.findall(r' id="([^"]+)"', page)
    assert set(links) <= set(anchors)
    assert len(anchors) == len(set(anchors))
    assert links[0] == "wall-emergency"
    assert page.index("<nav") < page.index("<section")
    assert len(wall_titles(plan)) == sum(one.wall for one in contents.entries(page))


def printed_part(page: str) -> str:
    """The page without what stands on a screen only."""
    return re.sub(
        r'<section class="folder on-screen">.*?(?=<section class="(?:folder|sheet))',
        "",
        page,
        flags=re.DOTALL,
    )


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_bookmarks_lead_to_the_pages_of_the_sheets(
    plan: report.SeasonPlan, prints: dict[str, pypdfium2.PdfDocument], paper: str
):
    document = prints[paper]
    marks = list(document.get_toc())
    groups = [mark.get_title() for mark in marks if mark.level == 0]
    assert groups == ["For the wall", "For the folder"]
    sheets = [mark for mark in marks if mark.level == 1]
    assert [mark.get_title() for mark in sheets] == [
        one.title for one in contents.entries(printed_part(plan.html.read_text("utf-8")))
    ]
    for mark in sheets:
        assert squeezed(mark.get_title()) in squeezed(text(document[mark.get_dest().get_index()]))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_page_has_its_number_and_whose_it_is(prints: dict[str, pypdfium2.PdfDocument], paper: str):
    count = len(prints[paper])
    for number, page in enumerate(prints[paper], 1):
        printed = text(page)
        assert f"{number} / {count}" in printed
        assert "made February 20, 2027 - aquacalc" in printed


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_is_cut_at_the_edges(prints: dict[str, pypdfium2.PdfDocument], paper: str):
    for page in prints[paper]:
        assert list(cut(page)) == []


def cut(page: pypdfium2.PdfPage) -> Iterator[int]:
    """Letters that stand out over the margins: 10 mm at the sides and above, the foot in the 14 mm below."""
    width, height = page.get_size()
    printed = page.get_textpage()
    margin = 10.0 * pdf.POINTS_PER_MM - 1.0
    for index in range(printed.count_chars()):
        left, bottom, right, top = printed.get_charbox(index)
        inside = left >= margin and right <= width - margin and top <= height - margin
        if not (inside and bottom >= 4.0 * pdf.POINTS_PER_MM):
            yield index


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_type_on_the_wall_is_large(
    plan: report.SeasonPlan, prints: dict[str, pypdfium2.PdfDocument], paper: str
):
    """14 pt and more; 12 on the folded card, whose figure has 36 or more; 9 only in the foot of the page."""
    foot = 14.0 * pdf.POINTS_PER_MM
    card, *others = prints[paper]
    wall = [card, *others[1 - len(wall_titles(plan)) :]]
    for page, least in zip(wall, (12.0, *[14.0] * (len(wall) - 1)), strict=True):
        sizes = dict.fromkeys(type_sizes(page, foot))
        assert min(sizes) >= least - 0.05
    assert max(type_sizes(wall[0], foot)) >= 36.0


def type_sizes(page: pypdfium2.PdfPage, above: float) -> Iterator[float]:
    printed = page.get_textpage()
    for index in range(printed.count_chars()):
        generated = pypdfium2.raw.FPDFText_IsGenerated(printed, index) == 1
        if not generated and printed.get_charbox(index)[1] > above:
            matrix = pypdfium2.raw.FS_MATRIX()
            pypdfium2.raw.FPDFText_GetMatrix(printed, index, matrix)
            scale = max(abs(matrix.a), abs(matrix.b))
            yield scale * pypdfium2.raw.FPDFText_GetFontSize(printed, index)


def test_fonts_travel_with_the_print(plan: report.SeasonPlan):
    for path in plan.pdfs:
        raw = path.read_bytes()
        assert b"FontFile" in raw
        assert b"NotoSansSemiCondensed" in raw


def test_the_run_file_tells_how_the_plan_was_made(plan: report.SeasonPlan):
    record = json.loads(plan.run_file.read_text("utf-8"))
    assert record["made"] == MADE
    assert (record["members"], record["seed"]) == (MEMBERS, 1)
    assert record["garden"]["tanks"][0]["volume_l"] == pytest.approx(1135.6, abs=0.1)
    assert len(record["garden_digest"]) == 64
    assert [found["level"] for found in record["levels"]] == list(plan.levels)
    # A good garden has nothing urgent, and something to watch.
    assert "watch" in plan.levels
    assert "emergency" not in plan.levels


def test_the_notebook_keeps_its_parameters_and_outputs(plan: report.SeasonPlan):
    notebook = nbformat.read(plan.notebook, as_version=4)
    given_ = next(cell for cell in notebook.cells if "injected-parameters" in cell.metadata.get("tags", []))
    assert 'garden = "demo:yard"' in given_.source
    assert any(cell.get("outputs") for cell in notebook.cells)


def test_a_parameter_that_the_notebook_does_not_have_is_refused(tmp_path: Path):
    with pytest.raises(InputError) as caught:
        report.run_notebook(places.workbook() / report.NOTEBOOK, tmp_path / "x.ipynb", {"gardn": "demo:yard"})
    assert caught.value.problems[0].found == "gardn"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("options", "key"),
    [
        ({"garden_name": "demo:yurd"}, "problem-unknown-name"),
        ({"garden_name": "no-such-file.toml"}, "problem-file-missing"),
        ({"paper": "a5"}, "problem-choice"),
        ({"units": "imperial"}, "problem-choice"),
        ({"start": "1 March"}, "problem-date"),
        ({"start": "2028-02-20"}, "problem-start-late"),
        ({"start": "2026-08-01"}, "problem-log-begins-later"),
        ({"made": "yesterday"}, "problem-date"),
        ({"out": Path()}, "problem-out-kept"),
    ],
)
def test_bad_input_is_refused_before_anything_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options: dict[str, object], key: str
):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError) as caught:
        report.season(**{"garden_name": "demo:yard", **options})  # type: ignore[arg-type]
    assert [problem.key for problem in caught.value.problems] == [key]
    assert list(tmp_path.iterdir()) == []


def broken(folder: Path, change: Callable[[str], str]) -> Path:
    """A folder with the season notebook, in which the cell that works out the plan is changed."""
    copy = nbformat.read(places.workbook() / report.NOTEBOOK, as_version=4)
    place = next(n for n, cell in enumerate(copy.cells) if "notebook.run" in cell.source)
    copy.cells[place].source = change(copy.cells[place].source)
    folder.mkdir()
    nbformat.write(copy, folder / report.NOTEBOOK)
    return folder


FAILING_SEASON = """\
print("so far")
from aquacalc.season import run as season_run

def simulate(*arguments, **options):
    raise ArithmeticError("the water ran out")

season_run.simulate = simulate
"""


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (lambda source: "print('so far')\n1 / 0", "division by zero"),
        (lambda source: FAILING_SEASON + source, "the water ran out"),
    ],
    ids=["a cell", "the season"],
)
def test_a_run_that_breaks_off_makes_no_page_and_keeps_the_notebook(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Callable[[str], str], reason: str
):
    workbook = broken(tmp_path / "workbook", change)
    monkeypatch.setattr(places, "workbook", lambda: workbook)
    out = tmp_path / "season-plan"
    with pytest.raises(report.RunFailed) as caught:
        report.season("demo:yard", out, MEMBERS, made=MADE)
    assert "Working out the plan" in str(caught.value)
    assert reason in str(caught.value)
    assert not out.exists()
    kept = caught.value.notebook
    assert kept is not None
    assert sorted(one.name for one in kept.parent.iterdir()) == ["season-plan.ipynb", RUN_FILE]
    assert "so far" in kept.read_text("utf-8")


def test_pages_that_fail_after_the_data_leave_no_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    workbook = broken(tmp_path / "workbook", lambda source: f"{source}\n1 / 0")
    monkeypatch.setattr(places, "workbook", lambda: workbook)
    assert command.main(["season", "demo:yard", "--out", str(tmp_path / "plan"), "--members", "2"]) == 3
    assert not (tmp_path / "plan").exists()
    kept = [one.name for one in (tmp_path / "plan.failed").iterdir()]
    assert not [name for name in kept if name.endswith((".html", ".pdf"))]
    assert {"season-plan.ipynb", "season-days.csv", RUN_FILE} <= set(kept)


def test_a_garden_is_named_by_the_same_place_in_every_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    assert report.absolute("demo:yard") == "demo:yard"
    assert report.absolute("garden.toml") == str(tmp_path / "garden.toml")


def test_without_a_printing_library_or_browser_nothing_is_printed_and_nothing_breaks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setitem(sys.modules, "plutoprint", None)
    monkeypatch.setattr(pdf, "browser", lambda: None)
    assert pdf.write("<p>x</p>", tmp_path / "x.pdf", "a4") is False
    assert list(tmp_path.iterdir()) == []


@pytest.mark.browser
@pytest.mark.skipif(pdf.browser() is None, reason="no browser on this machine")
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_an_installed_browser_prints_the_same_pages(
    plan: report.SeasonPlan,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    paper: Paper,
):
    monkeypatch.setitem(sys.modules, "plutoprint", None)
    run = nbformat.read(plan.notebook, as_version=4)
    html = report.page(run, "title", "foot", paper, Reader())
    assert pdf.write(html, tmp_path / "x.pdf", paper)
    document = pypdfium2.PdfDocument(tmp_path / "x.pdf")
    titles = wall_titles(plan)
    card, *others = document
    for page, title in zip([card, *others[1 - len(titles) :]], titles, strict=True):
        # On the turned card a browser writes each letter on a line of its own.
        assert squeezed(title) in squeezed(text(page))
    document.close()
    entries = contents.entries(printed_part(html))
    bookmarks.write(tmp_path / "x.pdf", entries, Reader())
    marked = pypdfium2.PdfDocument(tmp_path / "x.pdf")
    assert [mark.get_title() for mark in marked.get_toc() if mark.level] == [one.title for one in entries]
    marked.close()
