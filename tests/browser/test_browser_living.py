"""The page that answers without the workbook: a browser without a network says what the package says."""

import html
import re
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import plans
import pytest
from playwright.sync_api import Browser, Page

from aquacalc.advice.reading import actions, given
from aquacalc.pages.kit import scale_of
from aquacalc.pages.wall import ammonia_table
from aquacalc.pages.workshop import living as page_
from aquacalc.pages.workshop.kit import Kit
from aquacalc.report import workshop
from aquacalc.sizing import power_cut, vary
from aquacalc.sizing.balance import balance
from aquacalc.sizing.power_cut import Now
from aquacalc.workshop import living

pytestmark = pytest.mark.browser

EVERY = """name => {
  const sliders = [...document.querySelectorAll(`#question-${name} input`)];
  const said = {};
  const turn = depth => {
    if (depth === sliders.length) {
      sliders[0].dispatchEvent(new Event("input", {bubbles: true}));
      const answer = document.querySelector(`#question-${name} .answer`).cloneNode(true);
      answer.querySelectorAll(".at").forEach(at => at.textContent = "");
      said[sliders.map(one => one.value).join("-")] = answer.innerHTML;
      return;
    }
    for (let n = 0; n <= Number(sliders[depth].max); n++) { sliders[depth].value = n; turn(depth + 1); }
  };
  turn(0);
  return said;
}"""
"""What stands above the sliders in each of their places."""


@pytest.fixture(scope="module")
def made() -> Kit:
    return workshop.kit_of(plans.of_yard(), "adults", 16, 1)


@pytest.fixture(scope="module")
def file(made: Kit, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("living") / "my-garden.html"
    path.write_text(page_.page(made), "utf-8")
    return path


@pytest.fixture
def opened(browser: Browser, file: Path) -> Iterator[SimpleNamespace]:
    found = SimpleNamespace(asked=[], faults=[], pages=[])

    def show(today: str) -> Page:
        context = browser.new_context(viewport={"width": 390, "height": 844}, offline=True)
        page = context.new_page()
        page.on("request", lambda request: found.asked.append(request.url))
        page.on("pageerror", lambda fault: found.faults.append(str(fault)))
        page.add_init_script(f"Date.now = () => Date.parse('{today}')")
        page.goto(file.as_uri())
        found.pages.append(context)
        return page

    found.show = show
    yield found
    for context in found.pages:
        context.close()


def plain(markup: str) -> str:
    return " ".join(html.unescape(re.sub("<[^>]*>", " ", markup)).replace("\u00a0", " ").split())


def place(text: str) -> tuple[int, ...]:
    return tuple(map(int, text.split("-")))


def test_every_reading_is_judged_as_the_command_judges_it(opened: SimpleNamespace, made: Kit):
    said = opened.show("2027-03-01").evaluate(EVERY, "reading")
    garden = made.plan.garden
    tan, ph = (ammonia_table.tan_axis(scale_of(garden, "tan")), ammonia_table.ph_axis(scale_of(garden, "ph")))
    warmth = living.temperatures_c(made.plan.balance)
    assert len(said) == len(tan.shown) * len(ph.shown) * len(warmth)
    for key, markup in said.items():
        n, m, k = place(key)
        typed = [f"tan={tan.shown[n]:g}", f"ph={ph.shown[m]:g}", f"temp={warmth[k]:g}C"]
        answer = actions.answer(given.read(typed, garden))
        assert plain(markup) == plain(page_.judged(made, answer)), typed
        assert answer.judgement.level in plain(markup)


def test_every_clock_is_that_of_the_package(opened: SimpleNamespace, made: Kit):
    said = opened.show("2027-03-01").evaluate(EVERY, "clock")
    reserve = made.plan.balance.outage.reserve
    assert len(said) == len(living.OXYGEN_MG_L) * len(living.FED_H)
    for key, markup in said.items():
        n, m = place(key)
        now = Now(living.OXYGEN_MG_L[n], living.FED_H[m])
        clock = power_cut.clock(reserve, now, reserve.critical_mg_l)
        assert plain(markup) == plain(page_.ticking(made.plan, clock))


def test_balances_are_those_of_the_package(opened: SimpleNamespace, made: Kit):
    said = opened.show("2027-03-01").evaluate(EVERY, "balance")
    garden, own = made.plan.garden, made.plan.balance
    now = vary.knobs(garden, own)
    axes = living.FISH_SHARES, *[living.OTHER_SHARES] * 3
    assert len(said) == 5 * 3 * 3 * 3
    for key, markup in list(said.items())[::9]:
        fish, air, flow, bed = (steps[n] for steps, n in zip(axes, place(key), strict=True))
        wanted = vary.Knobs(
            round(now.fish_count * fish),
            now.final_weight_g,
            now.bed_m2 * bed,
            now.flow_l_h * flow,
            now.air_l_min * air,
            now.biofilter_l,
            now.backup,
        )
        turned = vary.turned(garden, now, wanted, 0.0)
        assert plain(markup) == plain(page_.balanced(made.plan, balance(turned, own.members, own.seed)))
    mine = said["2-1-1-1"]
    assert plain(mine) == plain(page_.balanced(made.plan, own))


def test_it_asks_nobody_fits_a_phone_and_fails_nowhere(opened: SimpleNamespace, file: Path):
    page = opened.show("2027-03-01")
    assert opened.asked == [file.as_uri()]
    assert opened.faults == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert file.stat().st_size < 3e6


def test_after_ninety_days_it_says_so_before_each_answer(opened: SimpleNamespace):
    fresh, old = opened.show("2027-05-20"), opened.show("2027-05-23")
    assert fresh.locator(".old:visible").count() == 0
    assert old.locator("body > :first-child").inner_text().startswith("This page is more than 90 days old")
    for answer in old.locator(".answer").all():
        assert answer.inner_text().startswith("This page is more than 90 days old")


def test_printed_the_sliders_stand_at_the_gardens_own_values(opened: SimpleNamespace):
    page = opened.show("2027-03-01")
    before = page.locator("#question-balance .answer").inner_text()
    page.evaluate(EVERY, "balance")
    assert page.locator("#question-balance .answer").inner_text() != before
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert page.locator("#question-balance .answer").inner_text() == before
