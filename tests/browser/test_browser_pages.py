"""The workbook as pages: each runs by itself, offline, in the width of a laptop and of a phone."""

import re
import shutil
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import psutil
import pytest
from axe_playwright_python.sync_playwright import Axe
from lab import TOKEN, Notebook, workbook
from playwright.sync_api import Browser

from aquacalc.garden import places
from aquacalc.garden.file import GardenFile
from aquacalc.serve import notebooks

pytestmark = pytest.mark.browser

PAGES = [page.file.removesuffix(".ipynb") for page in notebooks.pages(places.workbook())]
END_KERNEL = """address => fetch(
    address, {method: "POST", headers: {"X-XSRFToken": document.cookie.split("_xsrf=")[1]}})"""
MOST_SCREENS = 12
LONG_PARTS = """async most => {
    const found = [];
    for (const link of document.querySelectorAll("#questions a")) {
        if (link.hash === "#all") continue;
        link.click();
        await new Promise(done => setTimeout(done, 100));
        const page = document.documentElement;
        if (page.scrollHeight > most || page.scrollWidth > innerWidth) {
            found.push([link.textContent, page.scrollHeight, page.scrollWidth]);
        }
    }
    return found;
}"""
PHONE = {"width": 390, "height": 844}
ZOOMED = {"width": 640, "height": 400}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one garden and no notebooks."""
    made = tmp_path_factory.mktemp("own")
    shutil.copy(places.starter(), made / places.GARDEN)
    return made


@pytest.fixture(scope="module")
def served(folder: Path, tmp_path_factory: pytest.TempPathFactory, browser: Browser) -> Iterator[str]:
    with workbook(folder, tmp_path_factory.mktemp("home")) as running:
        yield running


@pytest.fixture
def opened(browser: Browser, served: str) -> Iterator[Callable[..., Notebook]]:
    pages: list[Notebook] = []

    def open_one(name: str = "", **size: Any) -> Notebook:
        pages.append(Notebook.open(browser, served, name, **size))
        return pages[-1]

    yield open_one
    for one in pages:
        one.page.close()


def grave(one: Notebook) -> list[str]:
    """What the accessibility library finds on a page that keeps people out."""
    found = Axe().run(one.page).response["violations"]
    return [
        f"{each['id']}: {each['nodes'][0]['html']}"
        for each in found
        if each["impact"] in ("serious", "critical")
    ]


@pytest.mark.parametrize("name", PAGES)
def test_a_page_runs_by_itself_and_fits_a_phone(opened: Callable[..., Notebook], name: str):
    one = opened(name)
    one.page.wait_for_selector(".aq-answer", state="attached")
    assert "My garden" in one.text("header")
    assert one.page.evaluate("document.documentElement.lang") == "en"
    assert one.page.locator("h1").first.inner_text()
    assert "import " not in one.page.locator("main").inner_text()
    assert grave(one) == []
    # At 200 % a laptop is as wide as a small tablet.
    for size in (ZOOMED, PHONE):
        one.page.set_viewport_size(size)
        one.page.wait_for_timeout(300)
        assert one.page.evaluate("document.documentElement.scrollWidth") == size["width"]
    # One question at a time, none of them longer than twelve screens.
    long = one.page.evaluate(LONG_PARTS, MOST_SCREENS * PHONE["height"])
    assert long == []
    assert one.console == []
    assert one.left_the_machine() == []


def test_the_list_leads_to_one_question_of_a_page(opened: Callable[..., Notebook]):
    one = opened(**PHONE)
    assert grave(one) == []
    assert one.page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    one.page.get_by_role("link", name="Water leaks").click()
    one.page.locator("#loading").wait_for(state="detached", timeout=60_000)
    one.page.wait_for_selector(".aq-leak .aq-answer")
    box = one.page.get_by_role("heading", name="Water leaks").bounding_box()
    assert box is not None
    assert 0 <= box["y"] < PHONE["height"]
    assert one.page.locator(".aq-power-cut").is_hidden()
    one.page.locator("#questions").get_by_role("link", name="The power is out").click()
    one.page.locator(".aq-power-cut").wait_for(state="visible")
    assert one.page.locator(".aq-leak").is_hidden()


def test_another_garden_is_chosen_for_all_pages(opened: Callable[..., Notebook]):
    one = opened()
    one.page.select_option("#garden", "demo:southern")
    one.page.get_by_role("button", name="Show this one").click()
    one.page.get_by_role("link", name="Start here").click()
    one.page.locator("#loading").wait_for(state="detached", timeout=60_000)
    assert "Tuffbrook garden" in one.text("header")
    one.page.goto(one.page.url.split("/voila")[0] + "/?garden=/etc/passwd")
    assert one.page.locator("#garden").input_value() == "demo:southern"


def test_the_season_plan_is_made_by_a_button_and_its_files_can_be_taken(
    opened: Callable[..., Notebook], folder: Path, served: str
):
    one = opened()
    one.page.goto(f"{served}/voila/render/season_plan.ipynb")
    one.page.get_by_role("button", name="Make the plan").click()
    one.page.wait_for_selector("text=On its way")
    link = one.page.get_by_role("link", name="season-plan.pdf")
    link.wait_for(timeout=150_000)
    assert (folder / "season-plan" / "season-plan.pdf").is_file()
    sent = one.page.request.get(f"{served}/plan/files/season-plan.pdf")
    assert sent.body().startswith(b"%PDF")
    assert one.page.request.get(f"{served}/plan/files/../garden.toml").status == 404
    assert grave(one) == []


def test_an_address_without_its_key_is_told_so(served: str):
    for path in ("/", "/voila/render/01_size_the_garden.ipynb", "/?token=wrong"):
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(served + path)
        assert refused.value.code == 403
        assert "lacks its key" in refused.value.read().decode()


@pytest.mark.parametrize("path", ["garden.toml", ".aquacalc-00000000.json", "01_size_the_garden.ipynb"])
def test_files_are_not_served(opened: Callable[..., Notebook], served: str, path: str):
    one = opened()
    for place in ("voila/files", "files", "voila/tree", "voila/api/contents"):
        assert one.page.request.get(f"{served}/{place}/{path}?token={TOKEN}").status in (403, 404)


def kernel_of(one: Notebook) -> str:
    return str(
        one.page.evaluate("JSON.parse(document.getElementById('jupyter-config-data').textContent).kernelId")
    )


def test_what_computes_ends_when_its_page_is_left(opened: Callable[..., Notebook], served: str):
    one = opened("00_start_here")
    address = f"{served}/api/kernels/{kernel_of(one)}?token={TOKEN}"
    assert one.page.request.get(address).status == 200
    one.page.goto(served)
    end = time.monotonic() + 20
    while one.page.request.get(address).status == 200 and time.monotonic() < end:
        one.page.wait_for_timeout(200)
    assert one.page.request.get(address).status == 404


def test_a_page_whose_kernel_ended_says_so_and_offers_to_reload(opened: Callable[..., Notebook], served: str):
    one = opened("00_start_here")
    gone = one.page.locator("#gone")
    assert not gone.is_visible()
    one.page.evaluate(END_KERNEL, f"/voila/api/shutdown/{kernel_of(one)}?token={TOKEN}")
    one.page.wait_for_timeout(1500)
    one.page.evaluate("window.dispatchEvent(new Event('pageshow'))")
    gone.wait_for(state="visible")
    gone.get_by_role("button").click()
    one.page.locator("#loading").wait_for(state="detached", timeout=60_000)
    one.page.wait_for_selector(".aq-answer", state="attached")
    assert not gone.is_visible()


def test_a_page_whose_kernel_died_says_so(opened: Callable[..., Notebook]):
    one = opened("00_start_here")
    for process in psutil.process_iter(["cmdline"]):
        if any(kernel_of(one) in part for part in process.info["cmdline"] or ()):
            process.kill()
    one.page.wait_for_timeout(1500)
    one.page.evaluate("window.dispatchEvent(new Event('pageshow'))")
    one.page.locator("#gone").wait_for(state="visible")


def test_two_pages_on_one_garden_lose_nothing_of_each_other(opened: Callable[..., Notebook], folder: Path):
    text = (folder / places.GARDEN).read_text("utf-8")
    one, other = (opened("01_size_the_garden", part="Your-garden") for _ in range(2))
    for page, label, typed in ((one, "Name of the garden", "Both"), (other, "Height above the sea", "321")):
        form = page.page.locator(".aq-form").get_by_label(label)
        form.fill(typed)
        form.press("Enter")
    write, again = (re.compile(label) for label in ("Write the garden file", "Read the garden file again"))
    one.page.get_by_role("button", name=write).click()
    one.shows(".aq-form", "Written into")
    other.page.get_by_role("button", name=write).click()
    other.page.get_by_role("button", name=again).click()
    other.shows(".aq-form", "was read again")
    other.page.get_by_role("button", name=write).click()
    other.shows(".aq-form", "Written into")
    made = GardenFile.open(folder).garden
    (folder / places.GARDEN).write_text(text, "utf-8")
    assert made.name == "Both"
    assert made.site.altitude_m == 321.0


def test_the_way_back_is_in_sight_at_both_widths(opened: Callable[..., Notebook]):
    for size in ({"width": 1280, "height": 800}, PHONE):
        one = opened("01_size_the_garden", part="What-if-I-change-something?", **size)
        one.page.wait_for_selector(".aq-size .aq-answer")
        one.type_into(".aq-size", "90")
        back = one.page.get_by_role("button", name="Take back: Number of fish")
        back.wait_for(state="visible")
        one.page.locator(".aq-size figure").last.scroll_into_view_if_needed()
        box = back.bounding_box()
        assert box is not None
        assert 0 <= box["y"] <= size["height"] - box["height"]
        back.click()
        back.wait_for(state="hidden")


def test_what_was_typed_is_there_after_a_reload(opened: Callable[..., Notebook]):
    one = opened("01_size_the_garden")
    one.page.wait_for_selector(".aq-size .aq-answer")
    one.type_into(".aq-size", "7")
    one.page.wait_for_timeout(1000)
    shown = one.text(".aq-size .aq-answer")
    one.page.reload()
    one.page.locator("#loading").wait_for(state="detached", timeout=60_000)
    one.page.wait_for_selector(".aq-size .aq-answer")
    assert one.page.locator(".aq-size input").first.input_value() == "7"
    assert one.text(".aq-size .aq-answer") == shown


STOP = """() => {
    const at = document.activeElement, look = getComputedStyle(at);
    const labels = at.labels ? [...at.labels].map(one => one.innerText).join(" ") : "";
    return {
        where: at.className.baseVal ?? at.className,
        panel: Boolean(at.closest(".aq-size")),
        name: [at.getAttribute("aria-label"), labels, at.title, at.innerText].find(Boolean) || "",
        seen: look.outlineStyle !== "none" && parseFloat(look.outlineWidth) >= 2,
    };
}"""
MOST_TABS = 60


def test_with_the_keyboard_alone_one_comes_from_the_top_to_the_answer(opened: Callable[..., Notebook]):
    one = opened("01_size_the_garden", part="What-if-I-change-something?")
    one.page.wait_for_selector(".aq-size .aq-answer")
    before = one.text(".aq-size .aq-answer")
    stops = []
    for _ in range(MOST_TABS):
        one.page.keyboard.press("Tab")
        stops.append(one.page.evaluate(STOP))
        if stops[-1]["panel"] and "noUi-handle" in stops[-1]["where"]:
            break
    assert "noUi-handle" in stops[-1]["where"]
    assert [stop for stop in stops if not stop["seen"] or not stop["name"]] == []
    for _ in range(5):
        one.page.keyboard.press("ArrowLeft")
    one.page.wait_for_function(
        "before => document.querySelector('.aq-size .aq-answer').textContent !== before", arg=before
    )
