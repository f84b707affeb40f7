"""From a moved slider to the painted answer, against a plain slider with as much HTML, in one run."""

import json
import shutil
import statistics
from collections.abc import Iterator

import pytest
from lab import WORKBOOK, Notebook, workbook
from playwright.sync_api import Browser

# Not beside other browsers: it measures time.
pytestmark = [pytest.mark.browser, pytest.mark.benchmark]

STEPS = 30
MOST = 3.0
PLAIN = """import ipywidgets
slider, shown = ipywidgets.FloatSlider(max=1000.0, step=1.0), ipywidgets.HTML()
filler = "<p>" + "x" * 100 + "</p>"
def moved(_=None):
    shown.value = f'<div class="aq-result"><p class="aq-answer">{slider.value}</p>{filler * 400}</div>'
slider.observe(moved, "value")
moved()
panel = ipywidgets.VBox([slider, shown])
panel.add_class("aq-plain")
panel"""

# From a key to the first frame after the answer has changed.
WATCH = """panel => {
    window.took = [];
    let pressed = 0;
    document.addEventListener("keydown", event => { pressed = performance.now(); }, true);
    new MutationObserver(() => {
        const since = pressed;
        pressed = 0;
        const done = () => window.took.push(performance.now() - since);
        if (since) requestAnimationFrame(() => setTimeout(done, 0));
    }).observe(
        document.querySelector(`${panel} .aq-result`).closest(".widget-html"),
        {childList: true, subtree: true});
}"""
LETTERS = "panel => document.querySelector(`${panel} .aq-result`).outerHTML.length"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory, browser: Browser) -> Iterator[str]:
    """Pages of a folder with a notebook of the test's own among ours."""
    folder = tmp_path_factory.mktemp("own")
    for name in ("01_size_the_garden", "03_keep_the_water_right"):
        shutil.copy(WORKBOOK / f"{name}.ipynb", folder)
    plain = json.loads((WORKBOOK / "00_start_here.ipynb").read_text("utf-8"))
    cell = {"cell_type": "code", "execution_count": None, "id": "1", "metadata": {}, "outputs": []}
    plain["cells"] = [plain["cells"][0], cell | {"source": PLAIN}]
    (folder / "plain.ipynb").write_text(json.dumps(plain), "utf-8")
    with workbook(folder, tmp_path_factory.mktemp("home")) as running:
        yield running


def took_ms(one: Notebook, panel: str) -> list[float]:
    """Milliseconds from key to picture, for each step of the panel's first slider."""
    one.page.wait_for_selector(f"{panel} .aq-answer")
    one.page.wait_for_timeout(1500)
    one.page.evaluate(WATCH, panel)
    one.page.locator(f"{panel} .noUi-handle").first.focus()
    for step in range(STEPS):
        one.page.keyboard.press("ArrowRight" if step % 6 < 3 else "ArrowLeft")
        one.page.wait_for_function(f"() => window.took.length > {step}", timeout=5000)
        one.page.wait_for_timeout(30)
    return list(one.page.evaluate("() => window.took"))


@pytest.mark.parametrize(
    ("name", "panel"), [("01_size_the_garden", ".aq-size"), ("03_keep_the_water_right", ".aq-what-if")]
)
def test_a_slider_answers_nearly_as_fast_as_a_plain_one(browser: Browser, served: str, name: str, panel: str):
    plain, ours = (Notebook.open(browser, served, page) for page in ("plain", name))
    usual, took = took_ms(plain, ".aq-plain"), took_ms(ours, panel)
    letters = [one.page.evaluate(LETTERS, which) for one, which in ((plain, ".aq-plain"), (ours, panel))]
    for one in (plain, ours):
        one.page.close()
    ratio = statistics.median(took) / statistics.median(usual)
    print(
        f"{name}: median {statistics.median(took):.0f} ms, worst {max(took):.0f}; plain slider"
        f" {statistics.median(usual):.0f} ms, worst {max(usual):.0f}; ratio {ratio:.2f}; letters {letters}"
    )
    assert ratio <= MOST
