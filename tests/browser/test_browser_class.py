"""A workshop: three visitors at once, each with a garden of their own; one page a visitor; who is in."""

import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from lab import Notebook, free_port, settings
from playwright.sync_api import Browser

from aquacalc.garden import places
from aquacalc.serve.visitors import YOUNG_PAGES
from aquacalc.workshop.audience import YOUNG

pytestmark = pytest.mark.browser
NAMES = ("Ada", "Bo", "<i>Cy</i>")


Room = tuple[str, str, Path]
FORBIDDEN = re.compile(
    r"hydroxide|\blye\b|caustic|\bacids?\b|ammonium|ammonia solution|bleach|killing|slaughter", re.IGNORECASE
)
SHOWN = """() => {
    const all = document.body.cloneNode(true);
    all.querySelectorAll("script, style, details").forEach(one => one.remove());
    return all.textContent;
}"""


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory, browser: Browser) -> Iterator[Room]:
    """Addresses of the pages and of the facilitator's page, and the folder that was opened."""
    with opened_for("12-15", tmp_path_factory) as running:
        yield running


@contextmanager
def opened_for(audience: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Room]:
    folder, home = tmp_path_factory.mktemp("opened"), tmp_path_factory.mktemp("home")
    shutil.copy(places.starter(), folder / places.GARDEN)
    command = [sys.executable, "-m", "aquacalc", "serve", str(folder), "--lan", "--audience", audience]
    options = ["--", f"--port={free_port()}", "--Voila.port_retries=0"]
    environment = settings(home) | {"PYTHONUNBUFFERED": "1"}
    server = subprocess.Popen([*command, *options], env=environment, stdout=subprocess.PIPE, text=True)
    assert server.stdout is not None
    said = [server.stdout.readline() for _ in range(2)]
    pages, facilitator = (re.sub(r"http://[\d.]+", "http://127.0.0.1", line.split()[-1]) for line in said)
    try:
        yield pages, facilitator, folder
    finally:
        server.send_signal(signal.SIGTERM)
        server.wait(timeout=30)


def walked(browser: Browser, begin: str) -> set[str]:
    """Addresses that a visitor reaches from the index by links; none shows what is forbidden."""
    one = Notebook.watched(browser.new_context(), 1280, 800)
    one.page.goto(begin)
    one.page.get_by_label("What shall we call you?").fill("Ann")
    one.page.get_by_role("button", name="Come in").click()
    one.page.locator("#garden").wait_for()
    origin = one.page.url.split("?")[0]
    seen: set[str] = set()
    left = {origin}
    while left:
        address = left.pop()
        seen.add(address)
        if "/mine/" in address:
            assert FORBIDDEN.search(one.page.request.get(address).text()) is None, address
            continue
        one.page.goto(address)
        if ".ipynb" in address:
            one.page.locator("#loading").wait_for(state="detached", timeout=120_000)
            one.page.wait_for_selector(".aq-answer", state="attached")
        found = FORBIDDEN.search(one.page.evaluate(SHOWN))
        assert found is None, (address, found)
        links = one.page.locator("a").evaluate_all("all => all.map(one => one.href.split('#')[0])")
        left |= {link for link in links if link.startswith(origin)} - seen
    one.page.context.close()
    return seen


@pytest.mark.parametrize("audience", YOUNG)
def test_nothing_that_burns_or_kills_can_be_reached_by_the_young(
    browser: Browser, audience: str, tmp_path_factory: pytest.TempPathFactory
):
    with opened_for(audience, tmp_path_factory) as (pages, _, _):
        seen = {address.rsplit("/", 1)[1] for address in walked(browser, pages)}
    assert set(YOUNG_PAGES) <= seen
    assert {name for name in seen if name.endswith(".ipynb")} == set(YOUNG_PAGES)
    assert "plan" not in seen


def test_three_visitors_have_a_garden_each_and_the_facilitator_sees_them(browser: Browser, room: Room):
    pages, facilitator, folder = room
    before = (folder / places.GARDEN).read_bytes()
    guests = []
    for name in NAMES:
        one = Notebook.watched(browser.new_context(), 1280, 800)
        one.page.goto(pages)
        one.page.get_by_label("What shall we call you?").fill(name)
        one.page.get_by_role("button", name="Come in").click()
        one.page.get_by_role("heading", name=f"You are {name}").wait_for()
        assert one.page.get_by_role("link", name="When it goes wrong").count() == 0
        guests.append(one)
    for one in guests:
        one.page.get_by_role("link", name="Size the garden").first.click(no_wait_after=True)
    for k, one in enumerate(guests):
        one.page.locator("#loading").wait_for(state="detached", timeout=120_000)
        form = one.page.locator(".aq-form")
        form.get_by_label("Name of the garden").fill(f"Garden {k}")
        form.get_by_label("Name of the garden").press("Enter")
        one.page.get_by_role("button", name=re.compile("Write")).first.click()
        one.page.wait_for_timeout(1000)
    for k, one in enumerate(guests):
        one.page.goto(pages)
        assert one.page.locator("#garden option").first.inner_text() == f"Garden {k}"
        sent = one.page.request.get(pages.split("?")[0] + "mine/garden.toml")
        assert f"Garden {k}" in sent.text()
        assert one.left_the_machine() == []
    assert (folder / places.GARDEN).read_bytes() == before
    assert (folder / "workshop-address.svg").is_file()

    host = Notebook.watched(browser.new_context(), 1280, 800)
    host.page.goto(facilitator)
    assert host.page.locator("tbody tr").count() == len(NAMES)
    host.page.get_by_role("button", name="Give Bo the garden as it was").click()
    guests[1].page.reload()
    assert guests[1].page.locator("#garden option").first.inner_text() == "My garden"
    # Who has not the facilitator's key does not see who is in.
    assert guests[0].page.request.get(pages.split("?")[0] + "class?key=guess").status == 403
    for one in (*guests, host):
        one.page.context.close()


def test_numbers_kept_under_a_name_by_one_are_opened_by_another(browser: Browser, room: Room):
    pages = []
    for name in ("Flo", "Gus"):
        one = Notebook.watched(browser.new_context(), 1280, 800)
        one.page.goto(room[0])
        one.page.get_by_label("What shall we call you?").fill(name)
        one.page.get_by_role("button", name="Come in").click()
        one.page.goto(
            f"{room[0].split('?')[0]}voila/render/01_size_the_garden.ipynb#What-if-I-change-something?"
        )
        one.page.wait_for_selector(".aq-size .aq-answer", timeout=120_000)
        pages.append(one)
    flo, gus = pages
    fold = re.compile("Keep these numbers")
    flo.type_into(".aq-size", "77")
    size = flo.page.locator(".aq-size")
    size.get_by_role("button", name=fold).click()
    size.get_by_label("A name for these numbers").fill("Seventy-seven")
    size.get_by_label("A name for these numbers").press("Tab")
    size.get_by_role("button", name="Keep them under this name").click()
    flo.shows(".aq-size", "Kept as")
    other = gus.page.locator(".aq-size")
    other.get_by_role("button", name=fold).click()
    other.get_by_label("Kept here, by you or others").select_option(label="Seventy-seven")
    other.get_by_role("button", name="Show these numbers").click()
    gus.shows(".aq-size", "These are the numbers of")
    assert gus.page.locator(".aq-size input").first.input_value() == "77"
    for one in pages:
        one.page.context.close()


def test_a_page_that_is_not_for_this_audience_is_not_shown(browser: Browser, room: Room):
    one = Notebook.watched(browser.new_context(), 390, 844)
    one.page.goto(room[0])
    one.page.get_by_label("What shall we call you?").fill("Di")
    one.page.get_by_role("button", name="Come in").click()
    for name in ("03_keep_the_water_right", "07_when_it_goes_wrong", "season_plan"):
        address = f"{room[0].split('?')[0]}voila/render/{name}.ipynb"
        assert one.page.request.get(address).status == 404
    for path in ("plan", "plan/files/season-plan.pdf"):
        assert one.page.request.get(f"{room[0].split('?')[0]}{path}").status == 404
    one.page.get_by_role("button", name="Somebody else sits here now").click()
    one.page.get_by_label("What shall we call you?").wait_for()
    one.page.context.close()


def test_a_visitors_newest_page_ends_the_one_before(browser: Browser, room: Room):
    context = browser.new_context()
    first = Notebook.watched(context, 1280, 800)
    first.page.goto(room[0])
    first.page.get_by_label("What shall we call you?").fill("Eve")
    first.page.get_by_role("button", name="Come in").click()
    address = f"{room[0].split('?')[0]}voila/render/00_start_here.ipynb"
    first.page.goto(address)
    first.page.locator("#loading").wait_for(state="detached", timeout=60_000)
    first.page.wait_for_timeout(500)
    second = Notebook.watched(context, 1280, 800)
    second.page.goto(address)
    second.page.locator("#loading").wait_for(state="detached", timeout=60_000)
    end = time.monotonic() + 20
    while not first.page.locator("#gone").is_visible() and time.monotonic() < end:
        first.page.evaluate("window.dispatchEvent(new Event('pageshow'))")
        first.page.wait_for_timeout(300)
    assert first.page.locator("#gone").is_visible()
    assert not second.page.locator("#gone").is_visible()
    context.close()
